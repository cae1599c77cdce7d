"""Stripes are worked in a spiral, where every change of colour leaves a step.

A spiral round ends one row higher than it began, so that the end of a stripe stands beside the beginning of the next. A
maker who is not told takes it for her own fault.

Bad:
    MATERIALS
    Yarn A: worsted, slate
    Yarn B: worsted, samphire
    CAP
    Work in a continuous spiral; do not join.
    Rnd 1: With A, 6 sc in a magic ring. (6)
    Rnd 2: Inc in each st around. (12)
    Rnds 3-4: With B, sc in each st around. (12)
    Rnds 5-6: With A, sc in each st around. (12)
    Rnds 7-8: With B, sc in each st around. (12)
    Fasten off A and B.

Good:
    MATERIALS
    Yarn A: worsted, slate
    Yarn B: worsted, samphire
    CAP
    Work in a continuous spiral; do not join. The stripes step where the colour changes; keep that at the back.
    Rnd 1: With A, 6 sc in a magic ring. (6)
    Rnd 2: Inc in each st around. (12)
    Rnds 3-4: With B, sc in each st around. (12)
    Rnds 5-6: With A, sc in each st around. (12)
    Rnds 7-8: With B, sc in each st around. (12)
    Fasten off A and B.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding
from roundhand.notation.tree import Chain, Join, Node, Times, Turn, Work
from roundhand.tally import PieceTally, RowTally

GROUP = "colours"

_TOLD = re.compile(r"\b(?:jog|jogs|jogless|jog-less|steps?\b(?!\s*\d)|stair|travelling|seamless(?:ly)?)", re.IGNORECASE)
# That the page means a spiral must be said; rounds whose join is not written may be joined all the same.
_SPIRAL = re.compile(r"\bspiral|\bcontinuous(?:ly)?\b|\bunjoined\b|\b(?:do not|don't|without|no)\s+join", re.IGNORECASE)
# Fewer changes make no stripes.
_FEWEST = 3


def check(sheet: Sheet) -> Iterator[Finding]:
    """One piece of advice for every piece striped in a spiral on a page that does not speak of the step."""
    if _TOLD.search(sheet.text) or not _SPIRAL.search(sheet.text):
        return
    for piece in sheet.tally.pieces:
        changes = _changes(piece)
        if len(changes) < _FEWEST:
            continue
        row = changes[0]
        yield Finding(
            "jog-in-spiral",
            "advice",
            "stripes in a spiral leave a step at every change",
            row.line.label.span,
            row=row.label,
            because=f"{len(changes)} rounds begin in another colour than the round before ended in, and none is joined",
            help="say so, with where the step should lie; or begin each stripe with a slip stitch, or join the rounds",
            facts={"changes": len(changes)},
            label="the first step",
        )


def _changes(piece: PieceTally) -> list[RowTally]:
    """The rounds of a spiral that begin in another colour than the one before; none where any round is joined."""
    found: list[RowTally] = []
    before = ""
    for row in piece.rows:
        result = row.results[0]
        if row.kind != "round" or any(isinstance(node, Join | Turn) for node in _all(row.line.nodes)):
            return []
        if result is None or not result.colours:
            continue
        opens = next((node for node in row.line.nodes if isinstance(node, Chain | Work | Times)), None)
        if isinstance(opens, Chain):
            return []
        if before and result.colours[0] != before and len(result.colours) == 1:
            found.append(row)
        before = result.colours[-1]
    return found


def _all(nodes: tuple[Node, ...]) -> Iterator[Node]:
    for node in nodes:
        yield node
        if isinstance(node, Times):
            yield from _all(node.body)
