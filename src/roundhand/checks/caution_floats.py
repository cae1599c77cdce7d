"""A colour is carried loose inside a mitten, a sock or a baby's piece, and nothing is said of the strands.

Fingers and toes catch in them, and a thread round a small finger can go unseen. The usual care is to work over the
resting colour, or to catch it every few stitches.

Bad:
    MITTEN
    Rnd 1: 8 sc in a magic ring. (8)
    Rnd 2: 2 sc in each st around. (16)
    Rnd 3: Sc in each st around. Carry the resting yarn loosely across the back. (16)

Good:
    MITTEN
    Rnd 1: 8 sc in a magic ring. (8)
    Rnd 2: 2 sc in each st around. (16)
    Rnd 3: Sc in each st around, working over the resting yarn. (16)
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.care import baby_sizes, remark, shown
from roundhand.checks.edit import Sheet
from roundhand.findings import Finding

GROUP = "care"

_INSIDE = re.compile(
    r"\b(?:mitt(?:en)?s?|gloves?|socks?|stockings?|slippers?|booties|bootees?|thumb|leg ?warmers?)\b", re.IGNORECASE
)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One reminder for strands inside of what hands and feet go into, and of what babies wear."""
    names = (sheet.pattern.title, *(part.name for part in sheet.pattern.parts))
    worn = any(_INSIDE.search(name) for name in names)
    if not sheet.pattern.parts or not (worn or baby_sizes(sheet)):
        return
    place = shown(sheet, "floats")
    if place is None:
        return
    yield remark(
        "caution-floats",
        "floats",
        "nothing is said of the strands inside",
        place,
        "fingers and toes catch in loose strands",
        "say to work over the resting colour, or to catch it every 3 to 5 stitches, as is common practice",
        baby_sizes(sheet) or sheet.pattern.sizes,
        "loose inside",
    )
