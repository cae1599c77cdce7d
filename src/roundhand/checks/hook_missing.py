"""The page names no hook.

Without one a maker has nothing to begin her swatch with.

Bad:
    Finished size: 2 in across
    Terms: US
    MATERIALS
    Yarn: worsted, 100 g = 200 m; 1 ball
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
    """One finding for a whole pattern that does not say which hook is used."""
    page = sheet.paper
    if not page.whole or "hook" in page.parts:
        return
    yield Finding(
        "hook-missing",
        "advice",
        "no hook is named",
        page.place_of("materials", "gauge"),
        because="the page names its yarn or its gauge, and not the hook that they were worked with",
        help="add a line such as \u201cHook: 5 mm (H-8), or the size that gives the gauge\u201d",
        facts={"hook": None},
        label="which hook?",
    )
