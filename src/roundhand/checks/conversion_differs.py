"""A length or a weight stands in two units that do not agree.

One maker goes by the inches and another by the centimetres, and their pieces come out different.

Bad:
    Finished circumference: 18 in (40 cm)
    GAUGE
    16 sts and 20 rnds = 4 in in single crochet
    CAP
    Ch 72, join with sl st in first ch, being careful not to twist.
    Rnd 1: Ch 1, sc in each ch around, join. (72)
    Rnd 2: Ch 1, sc in each st around, join. (72)

Good:
    Finished circumference: 18 in (46 cm)
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

import msgspec

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Mark, Span
from roundhand.measures import Length, length_unit, read_number, say_number

GROUP = "gauge"

# Of two units the second may differ by so much, or by half of the last figure that it is printed with.
_TOLERANCE = Fraction(2, 100)
_GRAMS = {"g": Fraction(1), "oz": Fraction("28.349523125")}  # The avoirdupois ounce, exactly (1959 agreement).
_N = r"\d+(?:[.,]\d+)?(?:[ -]\d+/\d+|/\d+|\s?[\u00bc-\u00be\u2150-\u215e])?|[\u00bc-\u00be\u2150-\u215e]"
_LIST = rf"(?:{_N})(?:\s*[(\[]\s*(?:{_N})(?:\s*[,;:/]\s*(?:{_N}))*\s*[)\]])?"
_UNIT = (
    r"inches|inch|ins?|\"|\u201d|\u2033|cms?|centimet(?:re|er)s?|mm|metres?|meters?|m|yards?|yds?"
    r"|grams?|gr|g|ounces?|oz"
)
_ONE = rf"(?P<{{0}}>{_LIST})\s*-?\s*(?P<{{1}}>{_UNIT})(?![^\W\d_])"
_PAIR = re.compile(
    rf"(?<![\w./,])(?:{_ONE.format('a', 'u')})\.?\s*(?:[(\[/=]|\bor\b)\s*(?:approx\.?|about|c\.)?\s*"
    rf"(?:{_ONE.format('b', 'v')})(?!\s*[x\u00d7])",
    re.IGNORECASE,
)
_METRIC = frozenset(("mm", "cm", "m", "g"))
# A put-up tells mass and length of one thing: two measures and no conversion.
_MASS = frozenset(("g", "oz"))


class _Value(msgspec.Struct, frozen=True):
    number: Fraction
    span: Span
    step: Fraction


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every length or weight whose two units differ by more than rounding."""
    for found in _PAIR.finditer(sheet.text):
        first, second = _unit(found["u"]), _unit(found["v"])
        if not first or not second or (first in _METRIC) == (second in _METRIC):
            continue
        if (first in _MASS) != (second in _MASS):
            continue
        ours = list(_values(sheet.text, found.start("a"), found.end("a")))
        theirs = list(_values(sheet.text, found.start("b"), found.end("b")))
        if len(ours) != len(theirs):
            continue
        for one, other in zip(ours, theirs, strict=True):
            should = _in(one.number, first, second)
            if _apart(other, should):
                yield _finding(sheet, one, other, first, second, should)
                break


def _unit(word: str) -> str:
    lower = word.lower()
    if lower.startswith(("oz", "ounce")):
        return "oz"
    if lower in ("g", "gr", "gram", "grams"):
        return "g"
    return length_unit(word) or ""


def _values(text: str, start: int, end: int) -> Iterator[_Value]:
    for found in re.finditer(_N, text[start:end]):
        words = found[0].replace(",", ".")
        number = read_number(words)
        if number is None:
            continue
        decimals = len(words.partition(".")[2]) if "." in words else 0
        fraction = re.search(r"/(\d+)", words)
        step = Fraction(1, int(fraction[1])) if fraction and int(fraction[1]) else Fraction(1, 10**decimals)
        yield _Value(number[0], Span(start + found.start(), start + found.end()), step)


def _in(number: Fraction, unit: str, other: str) -> Fraction:
    if unit in _MASS:
        return number * _GRAMS[unit] / _GRAMS[other]
    return Length.of(number, unit).to(other)


def _apart(other: _Value, should: Fraction) -> bool:
    """Whether the second value differs by more than 2 %, and by more than half of its last figure."""
    off = abs(other.number - should)
    return off > should * _TOLERANCE and off > other.step / 2


def _finding(sheet: Sheet, one: _Value, other: _Value, first: str, second: str, should: Fraction) -> Finding:
    said = f"{say_number(one.number)} {first}"
    exact = f"{float(should):.1f}".removesuffix(".0")
    return Finding(
        "conversion-differs",
        "warning",
        f"{said} is {exact} {second}, and {other.span.of(sheet.text).strip()} {second} is written",
        one.span.to(other.span),
        because="the two say different sizes, and makers go by the one that they know",
        help=f"write {exact} {second}, or look whether {said} is meant",
        facts={"first": float(one.number), "unit": first, "second": float(other.number), "other_unit": second},
        see=(Mark(other.span, f"{exact} {second}"),),
        label=f"{said} is {exact} {second}",
    )
