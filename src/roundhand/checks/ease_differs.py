"""The ease that is claimed is not what the finished size and the body come to.

A maker chooses her size by the ease; a hat said to be worn with negative ease that comes out wider than the head slides
over the eyes.

Bad:
    To fit head: 22 in
    Finished circumference: 24 in
    Ease: 2 in negative
    GAUGE
    16 sts and 20 rnds = 4 in in single crochet
    CAP
    Ch 96, join with sl st in first ch, being careful not to twist.
    Rnd 1: Ch 1, sc in each ch around, join. (96)

Good:
    To fit head: 22 in
    Finished circumference: 20 in
    Ease: 2 in negative
    GAUGE
    16 sts and 20 rnds = 4 in in single crochet
    CAP
    Ch 80, join with sl st in first ch, being careful not to twist.
    Rnd 1: Ch 1, sc in each ch around, join. (80)
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from roundhand.checks.edit import Sheet
from roundhand.checks.measure_differs import say
from roundhand.findings import Finding, Span
from roundhand.measures import Length, length_unit, read_number
from roundhand.notation.tree import Fact

GROUP = "gauge"

_N = r"\d+(?:\.\d+)?(?:\s+\d+/\d+|/\d+|\s*[\u00bc-\u00be\u2150-\u215e])?|[\u00bc-\u00be\u2150-\u215e]"
_UNITS = r"in(?:ch(?:es)?)?\b|\"|\u201d|cm\b"
_EASE = re.compile(
    rf"\bease\s*:?\s*(?:of\s+)?(?:about\s+|approx\w*\.?\s+)?(?P<low1>{_N})(?:\s*(?:-|to|\u2013)\s*(?P<high1>{_N}))?\s*"
    rf"(?P<unit1>{_UNITS})\s*(?:of\s+)?(?P<sign1>negative|positive)"
    rf"|(?P<low2>{_N})(?:\s*(?:-|to|\u2013)\s*(?P<high2>{_N}))?\s*(?P<unit2>{_UNITS})\s*(?:\([^)]*\)\s*)?(?:of\s+)?"
    rf"(?P<sign2>negative|positive)\s+ease",
    re.IGNORECASE,
)
_BODY = re.compile(r"\b(?:fit|fits|head|bust|chest|waist|hips?)\b", re.IGNORECASE)
_FINISHED = re.compile(r"\b(?:finished|actual|garment)\b.*|\bcircumference\b", re.IGNORECASE)
# What lies within half an inch of the ease said is what was meant.
_TOLERANCE = Fraction(127, 10)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for an ease that is of the other sign, or half an inch off, in any size."""
    found = _EASE.search(sheet.text)
    facts = sheet.pattern.facts
    body = [fact for fact in facts if _BODY.search(fact.key) and fact.lengths and not _FINISHED.search(fact.key)]
    finished = [
        fact for fact in facts if _FINISHED.search(fact.key) and fact.lengths and "length" not in fact.key.lower()
    ]
    around = [fact for fact in finished if "circumference" in fact.key.lower() or _BODY.search(fact.key)]
    if found is None or len(body) != 1 or len(around) != 1 or _ranged(body[0]) or _ranged(around[0]):
        return
    low, high = _said(sheet.text, found)
    wrong: dict[int, Fraction] = {}
    for size in range(len(sheet.pattern.sizes)):
        one, other = _of(body[0], size), _of(around[0], size)
        if one is None or other is None:
            continue
        ease = other - one
        if ease < low - _TOLERANCE or ease > high + _TOLERANCE:
            wrong[size] = ease
    if not wrong:
        return
    size = min(wrong)
    unit = sheet.measures.unit
    ease = wrong[size]
    sign = "positive" if ease > 0 else "negative"
    words = f"{say(abs(ease), unit)} {sign}" if ease else "none"
    yield Finding(
        "ease-differs",
        "warning",
        f"ease comes to {words}",
        Span(found.start(), found.end()),
        tuple(sheet.pattern.sizes[at] for at in wrong),
        because=f"in {sheet.pattern.sizes[size]} {around[0].key.lower()} less {body[0].key.lower()} is {words}",
        help="say the ease that the two measurements come to, or look at them",
        facts={"ease_mm": round(float(ease), 1), "said_mm": (str(float(low)), str(float(high)))},
        label=f"is {words}",
    )


def _ranged(fact: Fact) -> bool:
    return re.search(r"\d\s*(?:-|\u2013|to)\s*\d", fact.text) is not None


def _of(fact: Fact, size: int) -> Fraction | None:
    length = (
        fact.lengths[size if len(fact.lengths) > 1 else 0]
        if size < max(len(fact.lengths), 1) or len(fact.lengths) == 1
        else None
    )
    return length.mm if length is not None else None


def _said(text: str, found: re.Match[str]) -> tuple[Fraction, Fraction]:
    """The least and the greatest ease that the words allow, in millimetres, below nought where it is negative."""
    way = "1" if found["low1"] else "2"
    unit = length_unit(found["unit" + way]) or "in"
    values = []
    for name in ("low", "high"):
        if found[name + way]:
            number = read_number(text, found.start(name + way))
            values.append(Length.of(number[0], unit).mm if number is not None else Fraction(0))
    if found["sign" + way].lower() == "negative":
        values = [-value for value in values]
    return min(values), max(values)
