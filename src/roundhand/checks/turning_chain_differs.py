"""One row begins with another turning chain than all the other rows of its stitch.

A chain that is one too short pulls the edge in; and where chains count, a maker asks herself whether this one does.

Bad:
    Ch 22.
    Row 1: Dc in 4th ch from hook (3 skipped ch count as dc) and in each ch across, turn. (20)
    Row 2: Ch 3 (counts as dc throughout), skip first st, dc in each st across, turn. (20)
    Row 3: Ch 3, skip first st, dc in each st across, turn. (20)
    Row 4: Ch 2 (counts as dc), skip first st, dc in each st across, turn. (20)
    Row 5: Ch 3, skip first st, dc in each st across, turn. (20)
    Row 6: Ch 3, skip first st, dc in each st across, turn. (20)

Good:
    Ch 22.
    Row 1: Dc in 4th ch from hook (3 skipped ch count as dc) and in each ch across, turn. (20)
    Row 2: Ch 3 (counts as dc throughout), skip first st, dc in each st across, turn. (20)
    Row 3: Ch 3, skip first st, dc in each st across, turn. (20)
    Row 4: Ch 3, skip first st, dc in each st across, turn. (20)
    Row 5: Ch 3, skip first st, dc in each st across, turn. (20)
    Row 6: Ch 3, skip first st, dc in each st across, turn. (20)
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Mark
from roundhand.notation.tree import Chain, Copy, Skip, Times, Work
from roundhand.tally import PieceTally, RowTally
from roundhand.terms import vocabulary

GROUP = "turning"

# So many lines of one stitch agree before one that does not is odd.
_FEWEST = 4
# Stitches whose row may well begin with a chain that is not of its height.
_PLAIN = ("single", "half_double", "double", "treble")


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every row that alone of its piece and stitch begins with a chain of another length."""
    for piece in sheet.tally.pieces:
        for stitch in _PLAIN:
            lines = list(_openings(piece, stitch))
            often = Counter(length for _, length, _ in lines)
            if len(often) != 2 or len(lines) - 1 < _FEWEST:
                continue
            (usual, _), (other, times) = often.most_common(2)
            if times != 1:
                continue
            at = next(at for at, (_, length, _) in enumerate(lines) if length == other)
            row, _, chain = lines[at]
            # The first row stands on a chain, and the last may be finished in its own way.
            if 0 < at < len(lines) - 1:
                yield _finding(sheet, row, chain, usual, other, stitch, lines[at - 1][2])


def _openings(piece: PieceTally, stitch: str) -> Iterator[tuple[RowTally, int, Chain]]:
    """The lines of a piece whose rows are of one stitch throughout, with the length of the chain they begin with."""
    seen: set[int] = set()
    for row in piece.rows:
        if id(row.line) in seen or row.copied or any(isinstance(node, Copy) for node in row.line.nodes):
            continue
        seen.add(id(row.line))
        nodes = [node for node in row.line.nodes if isinstance(node, Chain | Work | Times | Skip)]
        if not nodes or not isinstance(nodes[0], Chain):
            continue
        first = next((node for node in nodes if isinstance(node, Work | Times)), None)
        if isinstance(first, Times):
            continue
        result = next((one for one in row.results if one is not None), None)
        length = nodes[0].amount.values[0]
        if first is None or result is None or result.offer.main != stitch or not length or result.offer.layout:
            continue
        if len(first.group) == 1 and first.group[0].stitch in ("", stitch) and nodes[0].space is None:
            yield row, length, nodes[0]


def _finding(sheet: Sheet, row: RowTally, chain: Chain, usual: int, other: int, stitch: str, like: Chain) -> Finding:
    short = vocabulary(sheet.pattern.language).short(stitch)
    return Finding(
        "turning-chain-differs",
        "advice",
        f"ch {other} begins this {short} row, ch {usual} the others",
        chain.amount.span,
        tuple(name for name, label in zip(sheet.pattern.sizes, row.labels, strict=True) if label is not None),
        row=row.label,
        because=f"all the other rows that begin with {short} in this section turn with ch {usual}",
        help=f"write ch {usual} here too, or say why this one is of another height",
        facts={"here": other, "usual": usual, "stitch": stitch},
        see=(Mark(like.amount.span, f"ch {usual}"),),
        label="another height",
    )
