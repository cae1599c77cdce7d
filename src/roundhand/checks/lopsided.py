"""A row is shaped otherwise at one side than at the other, and the rows around it are shaped alike at both.

The count comes out, since what one side has too much the other has too little; the piece leans, and its edges do not
meet.

Bad:
    Ch 21.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (20)
    Row 2: Ch 1, sc in next 2 sts, 2 sc in next st, sc in next 14 sts, 2 sc in next st, sc in next 2 sts, turn. (22)
    Row 3: Ch 1, sc in next 2 sts, 2 sc in next st, sc in next 16 sts, 2 sc in next st, sc in next 2 sts, turn. (24)
    Row 4: Ch 1, sc in next 2 sts, 2 sc in next st, sc in next 2 sts, 2 sc in next st, sc in next 18 sts, turn. (26)
    Row 5: Ch 1, sc in next 2 sts, 2 sc in next st, sc in next 20 sts, 2 sc in next st, sc in next 2 sts, turn. (28)

Good:
    Ch 21.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (20)
    Row 2: Ch 1, sc in next 2 sts, 2 sc in next st, sc in next 14 sts, 2 sc in next st, sc in next 2 sts, turn. (22)
    Row 3: Ch 1, sc in next 2 sts, 2 sc in next st, sc in next 16 sts, 2 sc in next st, sc in next 2 sts, turn. (24)
    Row 4: Ch 1, sc in next 2 sts, 2 sc in next st, sc in next 18 sts, 2 sc in next st, sc in next 2 sts, turn. (26)
    Row 5: Ch 1, sc in next 2 sts, 2 sc in next st, sc in next 20 sts, 2 sc in next st, sc in next 2 sts, turn. (28)
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Mark, Span
from roundhand.measures import say_count
from roundhand.tally.across import Across

GROUP = "shaping"

# So many rows of a section are shaped alike on both sides before one that is not is odd.
_FEWEST = 3
# An odd number of stitches has no middle between two, so the sides may differ by one.
_OFF = 2


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every row that alone in its section is not its own mirror image."""
    told: dict[Span, tuple[Across, Across, int, list[int]]] = {}
    for at, piece in enumerate(sheet.tally.pieces):
        if len(piece.rows) <= _FEWEST:
            continue
        for size in range(len(sheet.pattern.sizes)):
            for row, like, others in leaning(sheet.across(at, size)):
                told.setdefault(row.row.line.span, (row, like, others, []))[3].append(size)
    for row, like, others, sizes in told.values():
        label = row.row.label_in(sizes[0])
        ends = f"{_end(row, 0)} at one side and {_end(row, -1)} at the other"
        yield Finding(
            "lopsided",
            "warning",
            f"{label} is not shaped alike at both sides",
            Span(row.features[0].span.start, row.features[0].span.end)
            if not row.turned
            else Span(row.features[-1].span.start, row.features[-1].span.end),
            tuple(sheet.pattern.sizes[size] for size in dict.fromkeys(sizes)),
            row=label,
            because=f"it has {ends}; the other {others} shaped rows of this section are the same from both sides",
            help="write it as the rows around, or say that it is meant to lean",
            facts={"plain": row.raw, "shaping": tuple(row.kinds), "others": others},
            see=(Mark(like.row.line.label.span, "alike at both sides"),),
            label="leans",
        )


def _end(row: Across, at: int) -> str:
    kind = row.kinds[at].split()[0]
    return f"{say_count(row.gaps[at], 'st')} before the {kind}"


def leaning(across: Sequence[Across]) -> Iterator[tuple[Across, Across, int]]:
    """Rows that alone in their section lean, each with a row that does not, and how many others there are."""
    rows = [
        row for row in across if row.features and not row.row.copied and all(feature.shapes for feature in row.features)
    ]
    for _, part in groupby((row for row in rows if row.row.kind == "row"), key=lambda row: row.row.part):
        own = list(part)
        odd = [at for at, row in enumerate(own) if not row.is_even]
        if len(odd) != 1 or len(own) - 1 < _FEWEST:
            continue
        at = odd[0]
        row = own[at]
        like = own[at - 1] if at else own[1]
        if len(row.features) < 2 or len(row.features) != len(like.features) or not _leans(row):
            continue
        if _shares(own, row):
            yield row, like, len(own) - 1


def _leans(row: Across) -> bool:
    if row.kinds != row.kinds[::-1]:
        return True
    return any(abs(one - other) >= _OFF for one, other in zip(row.gaps, row.gaps[::-1], strict=True))


def _shares(rows: Sequence[Across], row: Across) -> bool:
    """Whether the row belongs with the others: they begin with the same plain stitches, as shaping at an edge does."""
    edges = {min(other.gaps[0], other.gaps[-1]) for other in rows if other is not row}
    return len(edges) == 1 and bool(edges & {row.gaps[0], row.gaps[-1]})
