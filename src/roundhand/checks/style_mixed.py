"""The same thing is written in two ways: Rnd and Round, rep and repeat, colour and color.

Either is right. A page that keeps to one of them looks as if somebody had read it once more, and a maker does not stop
to ask whether two words mean two things.

Bad:
    MAT
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
    Round 3: *Sc in next st, 2 sc in next st; rep from * around. (18)

Good:
    MAT
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
    Rnd 3: *Sc in next st, 2 sc in next st; rep from * around. (18)
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from functools import cache
from importlib.resources import files

import msgspec

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Span

GROUP = "words"
WHEN_ASKED = True


class _Choice(msgspec.Struct, frozen=True):
    name: str
    ways: tuple[tuple[str, re.Pattern[str]], ...]


@cache
def _choices() -> tuple[_Choice, ...]:
    text = (files("roundhand.checks") / "data" / "house_style.toml").read_text(encoding="utf-8")
    return tuple(
        _Choice(
            row["name"],
            tuple(
                (way, re.compile(said, re.MULTILINE | (0 if way == "MR" else re.I)))
                for way, said in row["ways"].items()
            ),
        )
        for row in tomllib.loads(text)["choice"]
    )


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for everything that rows and steps write in two ways, at the rarer of them."""
    told = [line.whole for line in sheet.paper.lines if line.kind in ("row", "step") and line.section == "work"]
    for choice in _choices():
        spans = [(line.whole if choice.name == "the spelling" else None) for line in sheet.paper.lines]
        where = [span for span in spans if span is not None] or told
        found = {
            way: [
                Span(one.start(), one.end())
                for span in where
                for one in said.finditer(sheet.text, span.start, span.end)
            ]
            for way, said in choice.ways
        }
        used = sorted(((way, places) for way, places in found.items() if places), key=lambda one: -len(one[1]))
        if len(used) < 2:
            continue
        (usual, often), (other, seldom) = used[0], used[-1]
        yield Finding(
            "style-mixed",
            "advice",
            f"{choice.name}: \u201c{usual}\u201d {len(often)} times and \u201c{other}\u201d {len(seldom)} times",
            seldom[0],
            because="both are right, and a page reads more easily that keeps to one",
            help=f"write \u201c{usual}\u201d throughout, or \u201c{other}\u201d",
            facts={"usual": usual, "times": len(often), "other": other, "other_times": len(seldom)},
            label=f"elsewhere \u201c{usual}\u201d",
        )
