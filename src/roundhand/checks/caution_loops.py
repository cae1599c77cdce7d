"""A thing for a baby hangs or has a loop to hang it by, and nothing is said of where.

What hangs within reach of a cot can be pulled down or tighten round a neck or a finger. The usual care is to hang it
out of reach, and to take it away when the child begins to sit up.

Bad:
    BABY MOBILE
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
    Fasten off, leaving a hanging loop.

Good:
    BABY MOBILE
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
    Fasten off, leaving a hanging loop.
    CARE
    Hang it out of reach of the cot.
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.care import baby_sizes, is_toy, remark, shown
from roundhand.checks.edit import Sheet
from roundhand.findings import Finding

GROUP = "care"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One reminder for a toy or a baby's thing that hangs."""
    small = baby_sizes(sheet)
    if not sheet.pattern.parts or not (small or is_toy(sheet)):
        return
    place = shown(sheet, "loops")
    if place is None:
        return
    yield remark(
        "caution-loops",
        "loops",
        "nothing is said of where it hangs",
        place,
        "what hangs within reach of a small child can be pulled down or tighten",
        "say to hang it out of reach of the cot",
        small or sheet.pattern.sizes,
        "within reach?",
    )
