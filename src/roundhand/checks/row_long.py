"""A row is so long that a maker loses her place in it.

She looks from the page to her hands and back at every comma. Shorter rows, or a repeat in brackets, are found again
at a glance, and a voice that reads the pattern out can be stopped between them.

Bad:
    MAT
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
    Rnd 3: 2 sc in first st, sc in next st, 2 sc in next st, sc in next st, 2 sc in next st, sc in next st,
    2 sc in next st, sc in next st, 2 sc in next st, sc in next st, 2 sc in next st, sc in last st. (18)
    Rnd 4: Sc in first st, sc in next st, 2 sc in next st, sc in next st, sc in next st, 2 sc in next st, sc in next st,
    sc in next st, 2 sc in next st, sc in next st, sc in next st, 2 sc in next st, sc in next st, sc in next st,
    2 sc in next st, sc in next st, sc in next st, 2 sc in last st. Look at the mat from above now and then: its six
    corners run straight out from the middle, and none of them leans to one side or to the other. (24)

Good:
    MAT
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
    Rnd 3: *2 sc in next st, sc in next st; rep from * around. (18)
    Rnd 4: *Sc in next 2 sts, 2 sc in next st; rep from * around. (24)
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding
from roundhand.notation.tree import RowLine

GROUP = "reading"

# Signs of one row. The number is ours: three or four lines of a printed page.
MOST = 400


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every row of more than 400 signs."""
    for part in sheet.pattern.parts:
        for line in part.lines:
            words = " ".join(line.span.of(sheet.text).split())
            if not isinstance(line, RowLine) or len(words) <= MOST:
                continue
            yield Finding(
                "row-long",
                "advice",
                f"this row is {len(words)} signs long",
                line.label.span,
                because=f"a row of more than {MOST} signs is hard to find again after every look at the work",
                help="write what repeats once, with how often, and put what is explained into a note above the row",
                facts={"signs": len(words), "most": MOST},
                label="long",
            )
