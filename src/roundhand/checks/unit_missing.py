"""A gauge or a measurement has no unit.

Four inches and four centimetres make two very different hats.

Bad:
    Finished circumference: 18
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
from collections import Counter
from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Edit, Finding, Span
from roundhand.measures import unit_words
from roundhand.notation.page import cut_page

GROUP = "words"

_NUMBER = r"(?:\d+(?:\.\d+)?(?:\s+\d+/\d+|/\d+|\s?[\u00bc-\u00be\u2150-\u215e])?|[\u00bc-\u00be\u2150-\u215e])"
_UNIT = "|".join(re.escape(word) for word in unit_words())
_WITH_UNIT = re.compile(rf"{_NUMBER}\s*-?\s*(?:{_UNIT})(?![^\W\d_])", re.IGNORECASE)
_GAUGE = "the gauge"
_UNIT_SAID = re.compile(rf"(?<![^\W\d_])(?:{_UNIT})(?![^\W\d_])", re.IGNORECASE)
_MEASURE = re.compile(
    r"\b(?:circumference|length|width|height|depth|diameter|head|bust|chest|waist|hips?|foot)\b", re.IGNORECASE
)
_NO_MEASURE = re.compile(r"\b(?:yarn|yardage|tail|hook|skeins?|balls?|needle|ages?)\b", re.IGNORECASE)
_VALUES = re.compile(rf"\s*{_NUMBER}(?:\s*[(\[,;:/|-]\s*(?:{_NUMBER}|[-\u2013])|\s*[)\]])*\s*\.?\s*")
_COUNTED = rf"{_NUMBER}\s*(?:sts?|stitches|rows?|rnds?|rounds?)\b"
_OVER = re.compile(
    rf"{_COUNTED}[^.;=]*?(?:=|\bover\b|\bto\b|\bper\b|\bmeasures?\b)\s*(?P<length>{_NUMBER}(?:\s*(?:x|\u00d7|by)\s*{_NUMBER})?)",
    re.IGNORECASE,
)
_OVER_NOTHING = re.compile(
    rf"\W*{_COUNTED}(?:\s*(?:and|x|\u00d7|by|,|/)\s*{_COUNTED})?(?:\s+in\s+[^.;=]*)?\W*", re.IGNORECASE
)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every gauge and every measurement without a unit."""
    for span in gauges_without_unit(sheet):
        yield _finding(sheet, span, _GAUGE, "how large a stitch is")
    for fact in sheet.pattern.facts:
        if fact.lengths or not fact.numbers or not _MEASURE.search(fact.key) or _NO_MEASURE.search(fact.key):
            continue
        if _VALUES.fullmatch(fact.text) and not _UNIT_SAID.search(fact.key):
            yield _finding(sheet, fact.span, fact.key.strip(" *_"), "how long this is")


def gauges_without_unit(sheet: Sheet) -> Iterator[Span]:
    """The lengths of gauges that stand without a unit, or the whole gauge where it has no length at all."""
    for line in cut_page(sheet.source, sheet.pattern.sizes):
        named = line.kind == "key" and line.name.lower().startswith(("gauge", "tension"))
        if not named and (line.section != "gauge" or line.kind in ("heading", "row", "step")):
            continue
        words = sheet.text[line.start : line.end]
        if _WITH_UNIT.search(words):
            continue
        over = _OVER.search(words)
        if over is not None:
            yield Span(line.start + over.start("length"), line.start + over.end("length"))
        elif _OVER_NOTHING.fullmatch(words):
            yield Span(line.start, line.start + len(words.rstrip()))


def _finding(sheet: Sheet, span: Span, what: str, unknown: str) -> Finding:
    words = span.of(sheet.text)
    unit = _usual(sheet)
    counted = re.search(_COUNTED, words, re.IGNORECASE) is not None
    if counted:
        headline = f"{what} is over no length"
    else:
        headline = f"{what} is over {words}, without a unit" if what == _GAUGE else f"{what} has no unit"
    said = f"{words} = 4 {unit or 'in'}" if counted else f"{words} {unit or 'in'}"
    return Finding(
        "unit-missing",
        "warning",
        headline,
        span,
        because=f"inches and centimetres are both usual, so nothing says {unknown}",
        help=f"write it as “{said}”" + ("" if unit else " or in cm"),
        facts={"words": words, "unit_elsewhere": unit or None},
        edits=(Edit(Span(span.end, span.end), f" {unit}", "ask"),) if unit and not counted else (),
        label="inches or centimetres?",
    )


def _usual(sheet: Sheet) -> str:
    """Inches or centimetres, as most other lengths of the pattern are written; empty where there are none."""
    units = [gauge.over.unit for gauge in sheet.pattern.gauges if gauge.over is not None]
    units += [length.unit for fact in sheet.pattern.facts for length in fact.lengths[:1] if length is not None]
    counted = Counter(unit for unit in units if unit in ("in", "cm"))
    return max(counted, key=lambda unit: counted[unit], default="")
