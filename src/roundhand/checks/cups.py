"""A circle that should lie flat gains too few stitches and turns up into a bowl.

How many stitches a flat circle gains in a round follows from how high and how wide a stitch is. A number that is right
for another stitch, or another gauge, makes a bowl of a coaster; every count is right, and no blocking helps.

Bad:
    Terms: US
    NOTES
    The circle should lie flat on the table.
    GAUGE
    14 sts and 8 rnds = 4 in in double crochet
    CIRCLE
    Rnd 1: 6 dc in a magic ring. (6)
    Rnd 2: 2 dc in each st around. (12)
    Rnd 3: *Dc in next st, 2 dc in next st; rep from * around. (18)
    Rnd 4: *Dc in next 2 sts, 2 dc in next st; rep from * around. (24)
    Rnd 5: *Dc in next 3 sts, 2 dc in next st; rep from * around. (30)

Good:
    Terms: US
    NOTES
    The circle should lie flat on the table.
    GAUGE
    14 sts and 8 rnds = 4 in in double crochet
    CIRCLE
    Rnd 1: 11 dc in a magic ring. (11)
    Rnd 2: 2 dc in each st around. (22)
    Rnd 3: *Dc in next st, 2 dc in next st; rep from * around. (33)
    Rnd 4: *Dc in next 2 sts, 2 dc in next st; rep from * around. (44)
    Rnd 5: *Dc in next 3 sts, 2 dc in next st; rep from * around. (55)
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding
from roundhand.shape.flatness import FLAT, Growth, growth
from roundhand.sizing import gauge_book

GROUP = "flatness"

# A claim, and not how to dry or to measure it.
_LIES = re.compile(
    r"\b(?:should|will|must|to|that\s+it|so\s+it|circle|disc|disk|piece|work|crown|base|motif)\s+(?:\w+\s+)?"
    r"(?:lies?|lay|stays?|remains?)\s+(?:\w+ly\s+|quite\s+)?flat\b(?!\s+(?:to|for|and|until|when)\s+(?:\w+\s+)?dry)"
    r"|\bflat\s+(?:circle|disc|disk)\b",
    re.IGNORECASE,
)
_DENIED = re.compile(r"\b(?:not|n't|never|won\W?t)\s+(?:\w+\s+){0,2}(?:lie|lay|stay)\s+flat\b", re.IGNORECASE)
_FLAT_THINGS = re.compile(
    r"\b(?:coasters?|placemats?|trivets?|rugs?|mats?|doil(?:y|ies)|mandalas?|potholders?|hot\s?pads?|tablecloths?)\b",
    re.IGNORECASE,
)
_NOT_FLAT = re.compile(r"\b(?:bowl|basket|bag|hat|cap|beanie|ruffl|wav[ey]|scrubb)", re.IGNORECASE)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every circle that is claimed to be flat and gains under 0.85 of what lies flat."""
    for one, sizes in grown(sheet, cups=True):
        yield remark(sheet, "cups", one, sizes)


def grown(sheet: Sheet, cups: bool) -> Iterator[tuple[Growth, list[int]]]:
    """Circles that are claimed to be flat and grow too slowly (`cups`) or too fast, with the sizes."""
    title = sheet.pattern.title
    claimed = _LIES.search(sheet.text) and not _DENIED.search(sheet.text)
    if not claimed and (_NOT_FLAT.search(title) or not _FLAT_THINGS.search(title)):
        return
    book = gauge_book(sheet.pattern)
    for piece in sheet.tally.pieces:
        found: list[tuple[Growth, int]] = []
        for size in range(len(sheet.pattern.sizes)):
            one = growth(piece, size, book)
            if one is not None and (one.ratio < FLAT[0] if cups else one.ratio > FLAT[1]):
                found.append((one, size))
        if found:
            yield found[0][0], [size for _, size in found]


def remark(sheet: Sheet, name: str, one: Growth, sizes: list[int]) -> Finding:
    """The remark on a circle that does not lie flat."""
    each, wanted = one.gained / one.rounds, float(one.flat / one.rounds)
    size = sizes[0]
    grows = f"{each:.3g} sts a round"
    few = "few" if name == "cups" else "many"
    return Finding(
        name,
        "warning",
        f"the circle {name}: it grows by {grows}, flat would be {wanted:.1f}",
        one.last.line.label.span,
        tuple(sheet.pattern.sizes[at] for at in sizes),
        row=one.last.label_in(size),
        because=f"by the gauge a round further out needs {wanted:.1f} sts more to lie flat; {grows} are too {few}",
        help=f"begin with {round(wanted)} sts and increase by as many in every round; or look at the gauge",
        facts={"grows": round(float(each), 2), "flat": round(wanted, 2), "ratio": round(float(one.ratio), 3)},
        label=f"too {few} increases up to here",
    )
