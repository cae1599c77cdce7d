"""A count that is reckoned from others is no whole number in some size.

Nobody can work half a stitch; which way it is rounded is the designer's to say, by a rule or by another multiple.

Bad:
    Sizes: Child (Adult)
    SIZING
    body: 64 (71)
    half: {body} / 2
    CAP
    Ch 64 (71), join with sl st in first ch, being careful not to twist.
    Rnd 1: Ch 1, sc in each ch around, join. (64 (71))

Good:
    Sizes: Child (Adult)
    SIZING
    body: 64 (72)
    half: {body} / 2
    CAP
    Ch {body}, join with sl st in first ch, being careful not to twist.
    Rnd 1: Ch 1, sc in each ch around, join. ({body})
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.sizing_remarks import remarked
from roundhand.findings import Finding

GROUP = "sizes"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for each count, in the sizing section or in a row, that is not whole."""
    yield from remarked(sheet, "quantity-not-whole")
