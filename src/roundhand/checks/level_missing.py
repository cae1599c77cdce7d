"""The page does not say how hard the project is.

Makers choose by it, and so do shops and magazines. It rates the project and not the person.

Bad:
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

Good:
    Level: easy
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

import re
from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding

GROUP = "structure"
WHEN_ASKED = True

_LEVEL = re.compile(
    r"\b(?:level|skills?|difficulty)\b|\b(?:beginners?|easy|intermediate|advanced|experienced|basic|complex)\b",
    re.IGNORECASE,
)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for a whole pattern without a level."""
    page = sheet.paper
    told = (line for line in page.lines if line.section in ("head", "notes", "sizes", "materials"))
    if not page.whole or any(_LEVEL.search(page.words(line)) for line in told):
        return
    yield Finding(
        "level-missing",
        "advice",
        "no level is named",
        page.title_span,
        because="makers look for how hard a project is before they buy it",
        help="add a line such as \u201cLevel: easy\u201d; basic, easy, intermediate and complex are the usual steps",
        facts={"level": None},
        label="how hard?",
    )
