"""A row stands out of the order of its number.

A maker works the rows as they stand on the page, or as they are numbered; both cannot be right.

Bad:
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 3: *Sc in next st, inc; rep from * around. (9)
    Rnd 2: Inc in each st around. (18)
    Rnd 4: *Sc in next 2 sts, inc; rep from * around. (24)

Good:
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: *Sc in next st, inc; rep from * around. (9)
    Rnd 3: Inc in each st around. (18)
    Rnd 4: *Sc in next 2 sts, inc; rep from * around. (24)
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.numbering import finding, kind_word, remarks
from roundhand.findings import Finding

GROUP = "rows"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every row whose number is lower than that of a row above it, and new."""
    for row, sizes, slip in remarks(sheet, "row-out-of-order"):
        word = kind_word(row)
        yield finding(
            sheet,
            "row-out-of-order",
            "warning",
            row,
            sizes,
            slip,
            f"{word} {slip.number} stands where {word} {slip.expected[0]} would follow",
            f"{word} {slip.expected[0] - 1} stands above; the rows were worked as they stand on the page",
            "put the rows in the order of their numbers, or renumber them",
        )
