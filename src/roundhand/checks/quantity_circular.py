"""A named count is reckoned from itself, or two are reckoned from each other.

Neither has a beginning, so no value can be worked out.

Bad:
    Sizes: Child (Adult)
    SIZING
    body: {half} * 2
    half: {body} / 2
    CAP
    Ch 64, join with sl st in first ch, being careful not to twist.
    Rnd 1: Ch 1, sc in each ch around, join. (64)

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
    """One finding for each circle."""
    yield from remarked(sheet, "quantity-circular")
