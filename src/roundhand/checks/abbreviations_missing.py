"""A whole pattern has no list of its abbreviations.

Some houses print one in every pattern, so that nobody has to look elsewhere. Others name the terms and leave it at
that.

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
    Finished size: 2 in across
    Terms: US
    MATERIALS
    Yarn: worsted, 100 g = 200 m; 1 ball
    Hook: 5 mm
    Notions: yarn needle
    GAUGE
    16 sts and 18 rnds = 4 in in single crochet
    ABBREVIATIONS
    rnd - round
    sc - single crochet
    st - stitch
    MAT
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
    Rnd 3: *Sc in next st, 2 sc in next st; rep from * around. (18)
    Fasten off. Weave in ends.
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.spoken import entries, spoken
from roundhand.findings import Finding

GROUP = "structure"
WHEN_ASKED = True


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for a whole pattern that uses abbreviations and explains none of them."""
    page = sheet.paper
    if not page.whole or entries(page) or any(line.section == "terms" for line in page.lines):
        return
    first = next(spoken(page), None)
    if first is None:
        return
    yield Finding(
        "abbreviations-missing",
        "advice",
        "no abbreviation is explained",
        first.span,
        because="the rows are written in abbreviations, and the page has no list of them",
        help="add a list under \u201cAbbreviations\u201d; `publish` prints one by itself",
        facts={"first": first.form},
        label="short for what?",
    )
