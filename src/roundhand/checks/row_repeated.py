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
from roundhand.checks.numbering import finding, kind_word, remarks
from roundhand.findings import Finding

GROUP = "rows"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every label that stands twice in one section."""
    for row, sizes, slip in remarks(sheet, "row-repeated"):
        word = kind_word(row)
        yield finding(
            sheet,
            "row-repeated",
            "warning",
            row,
            sizes,
            slip,
            f"{word} {slip.number} comes twice",
            f"after the row before it {word} {slip.expected[0]} would follow",
            f"renumber from here, or leave one of the two {word.lower()}s out",
        )
