"""The instructions use something that the materials do not name.

A maker sits down with everything on the list, and at the last row has no marker, no needle, no stuffing.

Bad:
    MATERIALS
    Yarn: worsted
    Hook: 5 mm
    BALL
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
    Rnd 3: Sc in each st around. (12)
    Stuff the ball firmly.

Good:
    MATERIALS
    Yarn: worsted
    Hook: 5 mm
    Notions: fibrefill
    BALL
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
    Rnd 3: Sc in each st around. (12)
    Stuff the ball firmly.
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.tools import Tool, asked_for, named_at, tools
from roundhand.findings import Finding, Mark, Span

GROUP = "materials"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for all that is used and not on the list of materials, if there is such a list."""
    page = sheet.paper
    listed = any(line.section == "materials" and line.kind != "heading" for line in page.lines)
    if not listed or "hook" not in page.parts:
        return
    # Where any small thing is listed the list means to be whole; else needle and marker may be taken for granted.
    meant = page.whole and any(named_at(tool, page) is not None for tool in tools())
    wanting: list[tuple[Tool, Span]] = []
    for tool in tools():
        place = asked_for(tool, page) if meant or not tool.always else None
        if place is not None and named_at(tool, page) is None:
            wanting.append((tool, place))
    if wanting:
        yield _finding(wanting)


def _finding(wanting: list[tuple[Tool, Span]]) -> Finding:
    names = [tool.name for tool, _ in wanting]
    together = names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
    return Finding(
        "tool-missing",
        "advice",
        f"{together} {'is' if len(names) == 1 and not names[0].endswith('s') else 'are'} not among the materials",
        wanting[0][1],
        because="the instructions ask for it" if len(names) == 1 else "the instructions ask for them",
        help=f"add {together} to the materials",
        facts={"tools": tuple(names)},
        see=tuple(Mark(place, tool.name) for tool, place in wanting[1:]),
        label="with what?",
    )
