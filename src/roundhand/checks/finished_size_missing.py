"""Nothing says how large the finished piece is.

A maker chooses by it, checks her gauge by it in the end, and knows from it how much room it takes.

Bad:
    Terms: US
    MATERIALS
    Yarn: worsted, 100 g = 200 m; 1 ball
    Hook: 5 mm
    Notions: yarn needle
    GAUGE
    16 sts and 18 rnds = 4 in in single crochet
    MAT
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
    Rnd 3: *Sc in next st, 2 sc in next st; rep from * around. (18)
    Fasten off. Weave in ends.

Good:
    Finished size: 2 in across
    Terms: US
    MATERIALS
    Yarn: worsted, 100 g = 200 m; 1 ball
    Hook: 5 mm
    Notions: yarn needle
    GAUGE
    16 sts and 18 rnds = 4 in in single crochet
    MAT
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
    Rnd 3: *Sc in next st, 2 sc in next st; rep from * around. (18)
    Fasten off. Weave in ends.
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding

GROUP = "structure"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for a whole pattern without a size and without a finished measurement."""
    page = sheet.paper
    if not page.whole or "size" in page.parts:
        return
    yield Finding(
        "finished-size-missing",
        "advice",
        "nothing says how large it comes out",
        page.title_span,
        because="the page has neither a size nor a finished measurement",
        help="add a line such as \u201cFinished size: 18 in around\u201d; `measure` works it out from counts and gauge",
        facts={"size": None},
        label="how large?",
    )
