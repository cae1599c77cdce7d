"""A body between two sizes fits neither of them.

Whoever measures between the end of one size and the beginning of the next has to guess; often the range of one size is
only mistyped, or a cap can be worked a row longer.

Bad:
    Sizes: Baby (Child, Adult S, Adult L)
    To fit head: 14-15 (16-17, 18-19, 21-22) in
    GAUGE
    16 sts and 20 rnds = 4 in in single crochet
    CAP
    Ch 56 (64, 72, 84), join with sl st in first ch, being careful not to twist.
    Rnd 1: Ch 1, sc in each ch around, join. (56 (64, 72, 84))
    CARE
    Take the cap off a baby for sleep and indoors.

Good:
    Sizes: Baby (Child, Adult S, Adult L)
    To fit head: 14-15 (16-17, 18-19, 20-21) in
    GAUGE
    16 sts and 20 rnds = 4 in in single crochet
    CAP
    Ch 56 (64, 72, 80), join with sl st in first ch, being careful not to twist.
    Rnd 1: Ch 1, sc in each ch around, join. (56 (64, 72, 80))
    CARE
    Take the cap off a baby for sleep and indoors.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from fractions import Fraction

from roundhand.checks.edit import Sheet
from roundhand.checks.measure_differs import say
from roundhand.findings import Finding, Span
from roundhand.measures import read_number
from roundhand.notation.tree import Fact
from roundhand.shape import Measure

GROUP = "sizes"

_N = r"\d+(?:\.\d+)?(?:\s+\d+/\d+|\s*[\u00bc-\u00be\u2150-\u215e])?"
_RANGE = re.compile(rf"({_N})\s*(?:-|\u2013|\u2014|to)\s*({_N})")
# Two gaps show nothing of what is usual on a page.
_FEWEST = 4
# Nobody measures a head closer than this.
_TOLERANCE = Fraction(1)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for a list of ranges with one gap wider than the others, and one for heads that no band fits."""
    for fact in sheet.pattern.facts:
        if re.search(r"\bfits?\b", fact.key, re.IGNORECASE):
            yield from _between_ranges(sheet, fact)
    for piece in sheet.measures.pieces:
        low, high = piece.of("fits a head from"), piece.of("fits a head up to")
        if low is not None and high is not None:
            yield from _between_heads(sheet, low, high)


def _between_ranges(sheet: Sheet, fact: Fact) -> Iterator[Finding]:
    names = sheet.pattern.sizes
    found = list(_RANGE.finditer(sheet.text, fact.span.start, fact.span.end))
    if len(found) != len(names) or len(names) < _FEWEST:
        return
    ranges = [(_value(sheet.text, one.start(1)), _value(sheet.text, one.start(2))) for one in found]
    gaps = [after[0] - before[1] for before, after in itertools.pairwise(ranges)]
    widest = max(range(len(gaps)), key=gaps.__getitem__)
    others = [gap for at, gap in enumerate(gaps) if at != widest]
    if gaps[widest] <= 0 or gaps[widest] < 2 * max(others) or len(set(others)) > 1:
        return
    end, begin = f"{float(ranges[widest][1]):g}", f"{float(ranges[widest + 1][0]):g}"
    usual = f"{float(others[0]):g}"
    yield Finding(
        "size-gap",
        "advice",
        f"between {end} and {begin} no size fits",
        Span(found[widest].start(), found[widest + 1].end()),
        names[widest : widest + 2],
        because=f"all the other sizes begin {usual} after the one before ends",
        help="look whether the end of one of the two ranges is mistyped, or a size is missing",
        facts={"from": end, "to": begin, "usual": usual},
        label="a gap",
    )


def _value(text: str, at: int) -> Fraction:
    found = read_number(text, at)
    return found[0] if found is not None else Fraction(0)


def _between_heads(sheet: Sheet, low: Measure, high: Measure) -> Iterator[Finding]:
    names, unit = sheet.pattern.sizes, sheet.measures.unit
    gaps: list[tuple[int, str]] = []
    for size in range(len(names) - 1):
        end, begin = high.mm[size], low.mm[size + 1]
        if end is not None and begin is not None and begin > end + _TOLERANCE:
            gaps.append((size, f"{say(end, unit)} to {say(begin, unit)}"))
    if not gaps:
        return
    head = next((fact.span for fact in sheet.pattern.facts if "head" in fact.key.lower() and fact.lengths), None)
    told = " and ".join(words for _, words in gaps)
    yield Finding(
        "size-gap",
        "advice",
        f"heads of {told} fit no size",
        head or sheet.pattern.sizes_span or Span(0, 0),
        tuple(dict.fromkeys(names[at] for size, _ in gaps for at in (size, size + 1))),
        because="a ridged band worked sideways fits a head of 1.2 to 1.3 times its relaxed length (common practice)",
        help="two rows more in the band of the smaller size, or a word on which size such a head takes",
        facts={"gaps": tuple(words for _, words in gaps)},
        label="no size between",
    )
