"""One round is not joined, and the rounds before and behind it are.

A maker who does not join goes on in a spiral; the next round then starts one stitch off and its turning chain stands in
the middle of nowhere.

Bad:
    Rnd 1: Ch 1, 6 sc in a magic ring, join with sl st in first sc. (6)
    Rnd 2: Ch 1, 2 sc in each st around, join. (12)
    Rnd 3: Ch 1, *sc in next st, 2 sc in next st; rep from * around. (18)
    Rnd 4: Ch 1, *sc in next 2 sts, 2 sc in next st; rep from * around, join. (24)
    Rnd 5: Ch 1, *sc in next 3 sts, 2 sc in next st; rep from * around, join. (30)

Good:
    Rnd 1: Ch 1, 6 sc in a magic ring, join with sl st in first sc. (6)
    Rnd 2: Ch 1, 2 sc in each st around, join. (12)
    Rnd 3: Ch 1, *sc in next st, 2 sc in next st; rep from * around, join. (18)
    Rnd 4: Ch 1, *sc in next 2 sts, 2 sc in next st; rep from * around, join. (24)
    Rnd 5: Ch 1, *sc in next 3 sts, 2 sc in next st; rep from * around, join. (30)
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Span
from roundhand.notation.tree import Chain, Copy, Join, Node, RowLine, Times, Work
from roundhand.tally import PieceTally, RowTally

GROUP = "turning"

# So many rounds of a piece are joined before the one that is not stands out.
_FEWEST = 4
# Any word of joining in the line, whether or not it was understood as the end of the round.
_JOINS = re.compile(r"\bjoin|\bsl(?:ip)?[\s-]*st|\bss\b|\bclose|\bspiral|\bcontinu|\bturn\b|\bunjoined", re.IGNORECASE)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every round that alone of its piece is not joined, with joined rounds around it."""
    for piece in sheet.tally.pieces:
        lines = _lines(piece)
        joined = [_is_joined(line) for line in lines]
        open_ = [at for at, one in enumerate(joined) if not one]
        if len(open_) != 1 or len(lines) - 1 < _FEWEST:
            continue
        at = open_[0]
        line = lines[at]
        if not 0 < at < len(lines) - 1 or _JOINS.search(line.span.of(sheet.text)) or not _begins_with_chain(line):
            continue
        if not _begins_with_chain(lines[at + 1]):
            continue
        row = next(row for row in piece.rows if row.line is line)
        size = next(size for size, label in enumerate(row.labels) if label is not None)
        yield _finding(sheet, row, line, size, len(lines) - 1)


def _lines(piece: PieceTally) -> list[RowLine]:
    """The lines of a piece that are worked in rounds, those that only copy others left out; none if any is a row."""
    found: dict[int, RowLine] = {}
    for row in piece.rows:
        if row.kind != "round":
            return []
        if not any(isinstance(node, Copy) for node in row.line.nodes) and _stitches(row):
            found[id(row.line)] = row.line
    return list(found.values())


def _stitches(row: RowTally) -> bool:
    return any(isinstance(node, Work | Times) for node in row.line.nodes)


def _is_joined(line: RowLine) -> bool:
    return any(isinstance(node, Join) for node in _all(line.nodes))


def _all(nodes: tuple[Node, ...]) -> Iterator[Node]:
    for node in nodes:
        yield node
        if isinstance(node, Times):
            yield from _all(node.body)


def _begins_with_chain(line: RowLine) -> bool:
    return next((isinstance(node, Chain) for node in line.nodes if isinstance(node, Chain | Work | Times)), False)


def _finding(sheet: Sheet, row: RowTally, line: RowLine, size: int, others: int) -> Finding:
    last = next(node for node in reversed(line.nodes) if isinstance(node, Work | Times))
    label = row.label_in(size)
    return Finding(
        "join-missing",
        "warning",
        f"{label} is not joined; the {others} other rounds are",
        Span(last.span.start, last.span.end),
        tuple(name for name, mine in zip(sheet.pattern.sizes, row.labels, strict=True) if mine is not None),
        row=label,
        because=f"the rounds before and behind {label} end with a join, and the next begins with a chain",
        help=f"write “join” at the end of {label}, or say that it is worked on without one",
        facts={"joined": others},
        label="no join behind it",
    )
