"""The page names no yarn.

A maker cannot buy it, and cannot choose another that is like it.

Bad:
    Finished size: 2 in across
    Terms: US
    MATERIALS
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
    """One finding for a whole pattern that does not say which yarn is used."""
    page = sheet.paper
    if not page.whole or "yarn" in page.parts:
        return
    yield Finding(
        "yarn-missing",
        "advice",
        "no yarn is named",
        page.place_of("materials", "gauge"),
        because="the page names its hook or its gauge, and not the yarn that they go with",
        help="add a line such as \u201cYarn: worsted, 100 g = 200 m, 2 balls\u201d",
        facts={"yarn": None},
        label="which yarn?",
    )
