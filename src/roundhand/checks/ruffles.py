"""A circle that should lie flat gains too many stitches, and its edge waves.

How many stitches a flat circle gains in a round follows from how high and how wide a stitch is. What is too many has
no room at the edge and ruffles; every count is right, and the maker blames her tension.

Bad:
    Terms: US
    NOTES
    The circle should lie flat on the table.
    GAUGE
    16 sts and 16 rnds = 4 in in single crochet
    CIRCLE
    Rnd 1: 8 sc in a magic ring. (8)
    Rnd 2: 2 sc in each st around. (16)
    Rnd 3: *Sc in next st, 2 sc in next st; rep from * around. (24)
    Rnd 4: *Sc in next 2 sts, 2 sc in next st; rep from * around. (32)
    Rnd 5: *Sc in next 3 sts, 2 sc in next st; rep from * around. (40)

Good:
    Terms: US
    NOTES
    The circle should lie flat on the table.
    GAUGE
    16 sts and 16 rnds = 4 in in single crochet
    CIRCLE
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
    Rnd 3: *Sc in next st, 2 sc in next st; rep from * around. (18)
    Rnd 4: *Sc in next 2 sts, 2 sc in next st; rep from * around. (24)
    Rnd 5: *Sc in next 3 sts, 2 sc in next st; rep from * around. (30)
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.cups import grown, remark
from roundhand.checks.edit import Sheet
from roundhand.findings import Finding

GROUP = "flatness"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every circle that is claimed to be flat and gains over 1.1 times what lies flat."""
    for one, sizes in grown(sheet, cups=False):
        yield remark(sheet, "ruffles", one, sizes)
