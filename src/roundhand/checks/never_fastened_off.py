"""A whole pattern never says to cut or fasten off the yarn.

The last words are then those of a row, and a maker turns the page to see what comes next.

Bad:
    Finished size: 2 in across
    Terms: US
    MATERIALS
    Yarn: worsted, 100 g = 200 m; 1 ball
    Hook: 5 mm
    GAUGE
    16 sts and 18 rnds = 4 in in single crochet
    MAT
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
    Rnd 3: *Sc in next st, 2 sc in next st; rep from * around. (18)

Good:
    Finished size: 2 in across
    Terms: US
    MATERIALS
    Yarn: worsted, 100 g = 200 m; 1 ball
    Hook: 5 mm
    GAUGE
    16 sts and 18 rnds = 4 in in single crochet
    MAT
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
    Rnd 3: *Sc in next st, 2 sc in next st; rep from * around. (18)
    Fasten off.
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.paper import ENDED
from roundhand.findings import Finding, Span

GROUP = "structure"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding, on the last row, for a whole pattern whose yarn is never ended."""
    page = sheet.paper
    rows = [line for line in page.lines if line.kind == "row" and line.section == "work"]
    if not page.whole or not rows or ENDED.search(page.text, rows[0].start):
        return
    last = next((row.label for row in reversed(list(sheet.tally.rows()))), "")
    yield Finding(
        "never-fastened-off",
        "advice",
        "nothing says to fasten off",
        Span(rows[-1].start, rows[-1].end),
        row=last,
        because="the page ends with a row, and no words say that the yarn is cut",
        help="say \u201cFasten off\u201d, with the tail to leave for sewing if there is a seam",
        facts={"last_row": last},
        label="and then?",
    )
