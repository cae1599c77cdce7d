"""A row number comes twice.

A maker who keeps her place by the number works one of the two rows only, or both twice.

Bad:
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: Inc in each st around. (12)
    Rnd 2: *Sc in next st, inc; rep from * around. (18)
    Rnd 3: *Sc in next 2 sts, inc; rep from * around. (24)

Good:
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: Inc in each st around. (12)
    Rnd 3: *Sc in next st, inc; rep from * around. (18)
    Rnd 4: *Sc in next 2 sts, inc; rep from * around. (24)
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.numbering import Slip, finding, kind_word, remarks
from roundhand.findings import Finding
from roundhand.tally import RowTally

GROUP = "rows"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every label that stands twice in one section."""
    for row, sizes, slip in remarks(sheet, "row-repeated"):
        word = kind_word(row)
        readings = _two_ways(row, slip, word)
        yield finding(
            sheet,
            "row-repeated",
            "warning",
            row,
            sizes,
            slip,
            f"{word} {slip.number} comes twice",
            f"after the row before it {word} {slip.expected[0]} would follow{readings}",
            f"renumber from here, or leave one of the two {word.lower()}s out",
        )


def _two_ways(row: RowTally, slip: Slip, word: str) -> str:
    """What a range that begins with the number of the row before it may mean: so many rows more, or one fewer."""
    label = row.line.label
    first = label.first.at(slip.size) if label.first is not None else None
    last = label.last.at(slip.size) if label.last is not None else None
    if not label.ranged or first != slip.number or last is None or last <= first or slip.expected[0] != first + 1:
        return ""
    rows = last - first + 1
    return (
        f"; read as {rows} {word.lower()}s, which end with {word} {last + 1}; or as {rows - 1}, {word}s "
        f"{first + 1}-{last}; the first was taken"
    )
