"""A finished measurement as stated differs from what the counts and the gauge come to.

The number on the first page is the one a maker chooses her size by.

Bad:
    Finished circumference: 19 1/2 in
    GAUGE
    16 sts and 20 rnds = 4 in in single crochet
    CAP
    Ch 72, join with sl st in first ch, being careful not to twist.
    Rnd 1: Ch 1, sc in each ch around, join. (72)
    Rnd 2: Ch 1, sc in each st around, join. (72)

Good:
    Finished circumference: 18 in
    GAUGE
    16 sts and 20 rnds = 4 in in single crochet
    CAP
    Ch 72, join with sl st in first ch, being careful not to twist.
    Rnd 1: Ch 1, sc in each ch around, join. (72)
    Rnd 2: Ch 1, sc in each st around, join. (72)
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from itertools import groupby

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Span
from roundhand.measures import Length
from roundhand.notation.tree import Fact
from roundhand.shape import Measure, Measures
from roundhand.sizing import gauge_book

GROUP = "gauge"

_NUMBER = re.compile(r"\d+(?:\.\d+)?(?:\s+\d+/\d+|/\d+|\s*[\u00bc-\u00be\u2150-\u215e])?|[\u00bc-\u00be\u2150-\u215e]")
_TOLERANCE = Fraction(3, 100)
# A measurement of one of these says nothing of the whole.
_PART = re.compile(
    r"\b(?:sleeves?|armholes?|yoke|inseam|thumbs?|straps?|handles?|hood|collar|legs?|foot|wrists?|arms?|ears?|wings?)\b"
)
# So many rounds of one count are a place where a maker may measure round.
_HELD = 3


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every stated measurement off by more than 3 %, or half its printed step if that is more."""
    for fact in sheet.pattern.facts:
        found = _derived(fact, sheet.measures)
        if found is None or not fact.lengths:
            continue
        wrong: dict[int, tuple[Length, Fraction]] = {}
        for size, derived in enumerate(found.mm):
            stated = fact.lengths[size] if len(fact.lengths) > 1 else fact.lengths[0]
            if stated is None or derived is None:
                continue
            if all(_is_off(fact, stated, one) for one in (derived, *_held(sheet, found, size))):
                wrong[size] = (stated, derived)
        if wrong:
            yield _finding(sheet, fact, found, wrong)


def _is_off(fact: Fact, stated: Length, derived: Fraction) -> bool:
    return abs(stated.mm - derived) > max(_TOLERANCE * derived, _half_step(fact, stated))


def _held(sheet: Sheet, found: Measure, size: int) -> Iterator[Fraction]:
    """Other rounds that a circumference may mean: counts that some rounds in a row keep, below and above a gusset."""
    if found.what != "round":
        return
    book = gauge_book(sheet.pattern)
    for piece in sheet.tally.pieces:
        worked = [(row, result) for row in piece.rows if (result := row.results[size]) is not None]
        for count, same in groupby(worked, key=lambda one: one[1].count):
            rows = list(same)
            width = book.width(rows[0][0].part, rows[0][1].offer.main)
            if len(rows) >= _HELD and rows[0][0].kind == "round" and width is not None:
                yield width * count


def _derived(fact: Fact, measures: Measures) -> Measure | None:
    """The measurement that a key of the head states; None for a key that states another thing, such as a body's."""
    key = fact.key.lower()
    if any(word in key for word in ("head", "fit", "hook", "yarn", "swatch", "tail")):
        return None
    part = _PART.search(key)
    if part is not None:
        return _of_part(key, part[0], measures)
    if any(word in key for word in ("circumference", "around", "round")):
        for piece in measures.pieces:
            if (
                any(word in key for word in ("band", "brim", "cuff", "ribbing"))
                and piece.of("length round") is not None
            ):
                return piece.of("length round")
        return measures.whole.of("round")
    if any(word in key for word in ("length", "height", "depth")):
        whole = measures.whole.of("length")
        if whole is not None:
            return whole
        return measures.pieces[0].of("length") if len(measures.pieces) == 1 else None
    if "width" in key and len(measures.pieces) == 1:
        return measures.pieces[0].of("width")
    return None


def _of_part(key: str, part: str, measures: Measures) -> Measure | None:
    """A measurement of one part, where just one piece is called by its name."""
    pieces = [piece for piece in measures.pieces if part.rstrip("s") in piece.name.lower()]
    if len(pieces) != 1:
        return None
    (piece,) = pieces
    if "circumference" in key or "around" in key:
        return piece.of("round")
    if any(word in key for word in ("length", "height", "depth")):
        return piece.of("length") or (piece.of("depth") if piece.of("round") is not None else None)
    return piece.of("width") if "width" in key else None


def _half_step(fact: Fact, stated: Length) -> Fraction:
    """Half the step in which the values are printed: a quarter of an inch, a centimetre."""
    steps = [Fraction(1, value.denominator) for value in fact.numbers if value is not None]
    return Length.of(min(steps, default=Fraction(1)) / 2, stated.unit).mm


def _finding(sheet: Sheet, fact: Fact, found: Measure, wrong: dict[int, tuple[Length, Fraction]]) -> Finding:
    size = min(wrong)
    stated, derived = wrong[size]
    unit = stated.unit
    names = tuple(sheet.pattern.sizes[at] for at in wrong)
    every = len(wrong) == sum(one is not None for one in found.mm)
    return Finding(
        "measure-differs",
        "error",
        f"{say(stated.mm, unit)} stated, {say(derived, unit)} by the counts and gauge",
        _words(sheet.text, fact, size, every),
        names,
        because=f"in {sheet.pattern.sizes[size]} the {found.what} comes to {say(derived, unit)}",
        help="write what the counts make, or look at the gauge, the rows or the counts",
        facts={
            "what": found.what,
            "stated_mm": tuple(str(round(float(one.mm), 1)) for one, _ in wrong.values()),
            "derived_mm": tuple(str(round(float(one), 1)) for _, one in wrong.values()),
        },
        label=f"comes to {say(derived, unit)}",
    )


def say(mm: Fraction, unit: str) -> str:
    """A length in a unit, to the second decimal at the most.

    >>> say(Fraction(1016, 10), "in"), say(Fraction(1), "cm")
    ('4 in', '0.1 cm')
    """
    return f"{float(Length(mm).to(unit)):.2f}".rstrip("0").rstrip(".") + f" {unit}"


def _words(text: str, fact: Fact, size: int, every: bool) -> Span:
    """The number of one size, or all of them."""
    spans = [Span(found.start(), found.end()) for found in _NUMBER.finditer(text, fact.span.start, fact.span.end)]
    spans = spans[: len(fact.numbers)]
    if not spans:
        return fact.span
    if len(spans) == len(fact.numbers) and not (every and len(spans) > 1):
        return spans[size if len(spans) > 1 else 0]
    end = spans[-1].end
    while end < fact.span.end and text[end] in ")]":
        end += 1
    return Span(spans[0].start, end)
