"""A child's garment or hat has a cord, a drawstring or ties, and nothing is said of them.

A cord at the neck can tighten, and one that hangs down can be caught. The usual care is to have none at the head and
neck of a child, and short, stitched ones elsewhere. What may be sold is a matter of local rules, which go before
this.

Bad:
    CHILD'S HOOD
    Ch 21.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (20)
    Row 2: Ch 1, sc in each st across. (20)
    Fasten off. Make two ties and sew them to the neck.

Good:
    CHILD'S HOOD
    Ch 21.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (20)
    Row 2: Ch 1, sc in each st across. (20)
    Fasten off. Make a tab and sew it to the neck.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.care import child_sizes, remark, shown
from roundhand.checks.edit import Sheet
from roundhand.findings import Finding

GROUP = "care"

_NOT_WORN = re.compile(r"\b(?:bags?|totes?|curtains?|bunting|baskets?|rugs?)\b", re.IGNORECASE)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One reminder for a thing in a child's size with cords that nothing is said of."""
    small = child_sizes(sheet)
    if not small or not sheet.pattern.parts or _NOT_WORN.search(sheet.pattern.title):
        return
    place = shown(sheet, "cords")
    if place is None:
        return
    word = place.of(sheet.text).lower()
    yield remark(
        "caution-cords",
        "cords",
        f"nothing is said of the {word} on a child's piece",
        place,
        "what is tied or hangs at a child's neck can tighten or be caught",
        f"say how long the {word} may be and that it is for older children, or close it with a tab",
        small,
        "can be caught",
    )
