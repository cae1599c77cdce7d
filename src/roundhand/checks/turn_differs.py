"""One row is turned where none of the others is, or is not turned where all the others are.

The side changes under the maker's hands: what should lie in front lies behind from there on, and a round worked back
leans the other way.

Bad:
    Rnd 1: Ch 1, 6 sc in a magic ring, join with sl st in first sc. (6)
    Rnd 2: Ch 1, 2 sc in each st around, join. (12)
    Rnd 3: Ch 1, *sc in next st, 2 sc in next st; rep from * around, join, turn. (18)
    Rnd 4: Ch 1, *sc in next 2 sts, 2 sc in next st; rep from * around, join. (24)
    Rnd 5: Ch 1, *sc in next 3 sts, 2 sc in next st; rep from * around, join. (30)
    Rnd 6: Ch 1, *sc in next 4 sts, 2 sc in next st; rep from * around, join. (36)

Good:
    Rnd 1: Ch 1, 6 sc in a magic ring, join with sl st in first sc. (6)
    Rnd 2: Ch 1, 2 sc in each st around, join. (12)
    Rnd 3: Ch 1, *sc in next st, 2 sc in next st; rep from * around, join. (18)
    Rnd 4: Ch 1, *sc in next 2 sts, 2 sc in next st; rep from * around, join. (24)
    Rnd 5: Ch 1, *sc in next 3 sts, 2 sc in next st; rep from * around, join. (30)
    Rnd 6: Ch 1, *sc in next 4 sts, 2 sc in next st; rep from * around, join. (36)
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding
from roundhand.notation.tree import Copy, Node, RowLine, Times, Turn, Work
from roundhand.tally import PieceTally, RowTally

GROUP = "turning"

# So many other lines of a section agree before one that does not is odd.
_FEWEST = 4
# Words that tell of a side, or that take the work up anew: then the turn is meant.
_MEANT = re.compile(
    r"\b(?:RS|WS|right\s+side|wrong\s+side|facing|fasten|cut|rejoin|join\s+(?:new\s+)?(?:yarn|[A-Z]\b)|short\s+row|"
    r"leave|unworked|inside\s+out|other\s+side|opposite)\b"
)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every line that alone in its section is turned, or is not."""
    for piece in sheet.tally.pieces:
        for kind in ("row", "round"):
            for rows in _sections(piece, kind):
                turned = [_is_turned(row.line) for row in rows]
                # The last line may end the piece, and the first may be worked on from either end.
                odd = [at for at in range(1, len(rows) - 1) if turned.count(turned[at]) == 1]
                if len(odd) != 1 or len(rows) - 1 < _FEWEST or turned.count(not turned[odd[0]]) != len(rows) - 1:
                    continue
                row = rows[odd[0]]
                around = sheet.text[row.line.span.start : rows[odd[0] + 1].line.span.end]
                if _MEANT.search(around) or (row.rejoined and any(row.rejoined)):
                    continue
                yield _finding(sheet, row, turned[odd[0]], len(rows) - 1)


def _sections(piece: PieceTally, kind: str) -> Iterator[list[RowTally]]:
    """The first row of every line of each section whose lines are all of one kind; those that copy others left out."""
    parts: dict[str, dict[int, RowTally]] = {}
    mixed: set[str] = set()
    for row in piece.rows:
        if row.kind != kind:
            mixed.add(row.part)
        elif not any(isinstance(node, Copy) for node in row.line.nodes) and _has_stitches(row.line.nodes):
            parts.setdefault(row.part, {}).setdefault(id(row.line), row)
    for part, lines in parts.items():
        if part not in mixed:
            yield list(lines.values())


def _has_stitches(nodes: tuple[Node, ...]) -> bool:
    return any(isinstance(node, Work | Times) for node in nodes)


def _is_turned(line: RowLine) -> bool:
    return any(isinstance(node, Turn) and node.made for node in line.nodes)


def _finding(sheet: Sheet, row: RowTally, turned: bool, others: int) -> Finding:
    label = row.label
    turn = next((node.span for node in row.line.nodes if isinstance(node, Turn)), row.line.label.span)
    lines = "lines" if others > 1 else "line"
    return Finding(
        "turn-differs",
        "warning",
        f"{label} is turned, the other {others} are not"
        if turned
        else f"{label} is not turned, the other {others} are",
        turn,
        tuple(name for name, mine in zip(sheet.pattern.sizes, row.labels, strict=True) if mine is not None),
        row=label,
        because=f"none of the other {others} {lines} of this section turns"
        if turned
        else f"all the other {others} {lines} of this section turn",
        help="leave the turn out, or say that the other side faces from here on"
        if turned
        else f"write “turn” at the end of {label}, or say that it is not turned",
        facts={"others": others, "turned": turned},
        label="turned here" if turned else "no turn",
    )
