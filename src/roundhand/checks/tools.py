"""What a maker needs beside yarn and hook, and where a page names it and asks for it. The table is
`data/tools.toml`.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from functools import cache
from importlib.resources import files

import msgspec

from roundhand.checks.paper import Paper
from roundhand.findings import Span

# "No sewing", "do not stuff": what is not done needs nothing.
_NOT = re.compile(
    r"\b(?:no|not|without|instead of|n't|optional(?:ly)?|if (?:you )?(?:like|wish|want|desired))\b", re.IGNORECASE
)


class Tool(msgspec.Struct, frozen=True):
    """One line of the table: its name, how instructions ask for it, how a list names it.

    `bought` is its name in a list where nobody lists it without a use, and `spoken` any word that shows the use.
    """

    name: str
    asked: re.Pattern[str]
    named: re.Pattern[str]
    always: bool
    bought: re.Pattern[str] | None
    spoken: re.Pattern[str] | None


@cache
def tools() -> tuple[Tool, ...]:
    """The packaged table.

    >>> tools()[0].name, bool(tools()[0].asked.search("Place a marker in the first st."))
    ('a stitch marker', True)
    """
    text = (files("roundhand.checks") / "data" / "tools.toml").read_text(encoding="utf-8")
    return tuple(
        Tool(
            row["name"],
            re.compile(row["asked"], re.IGNORECASE),
            re.compile(row["named"], re.IGNORECASE),
            row.get("always", False),
            *(re.compile(row[key], re.IGNORECASE) if key in row else None for key in ("bought", "spoken")),
        )
        for row in tomllib.loads(text)["tool"]
    )


def asked_for(tool: Tool, paper: Paper) -> Span | None:
    """The first words of the instructions that ask for a tool; None where none do."""
    return next(_asked(tool, paper), None)


def _asked(tool: Tool, paper: Paper) -> Iterator[Span]:
    for line in paper.worked:
        for found in tool.asked.finditer(paper.text, line.whole.start, line.whole.end):
            sentence = paper.text[max(line.whole.start, paper.text.rfind(".", 0, found.start()) + 1) : found.end()]
            if not _NOT.search(sentence):
                yield Span(found.start(), found.end())


def named_at(tool: Tool, paper: Paper) -> Span | None:
    """Where the list of materials names a tool; None where it does not."""
    for line in paper.listed:
        found = tool.named.search(paper.text, line.whole.start, line.whole.end)
        if found is not None:
            return Span(found.start(), found.end())
    return None
