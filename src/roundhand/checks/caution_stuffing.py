"""A stuffed toy says nothing of how close the fabric and the seams must be.

Stuffing that shows between the stitches is pulled out and put into the mouth, and a limb that comes off sets free all
of it. The usual care is a fabric without gaps, and seams that are sewn twice and pulled at before the toy is given
away.

Bad:
    OTTER DOLL
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
    Rnd 3: Sc in each st around. (12)
    Stuff with fibrefill.

Good:
    OTTER DOLL
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
    Rnd 3: Sc in each st around. (12)
    Stuff with fibrefill. There must be no gaps between the stitches, and every seam must hold when it is pulled.
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.care import is_toy, remark, shown
from roundhand.checks.edit import Sheet
from roundhand.findings import Finding

GROUP = "care"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One reminder for a stuffed toy whose page does not speak of gaps and seams."""
    if not sheet.pattern.parts or not is_toy(sheet):
        return
    place = shown(sheet, "stuffing")
    if place is None:
        return
    yield remark(
        "caution-stuffing",
        "stuffing",
        "nothing is said of gaps and seams",
        place,
        "stuffing that shows between stitches, or a seam that gives way, ends in a small mouth",
        "say that the fabric must show no gaps and that seams are sewn securely",
        sheet.pattern.sizes,
        "held in by what?",
    )
