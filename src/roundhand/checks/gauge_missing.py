"""The pattern states sizes or finished measurements and no gauge that they could be made by.

Without a gauge nobody can come out at the size that she chose, and the yarn can only be guessed.

Bad:
    Finished circumference: 18 in
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

from roundhand.checks.edit import Sheet
from roundhand.checks.unit_missing import gauges_without_unit
from roundhand.findings import Finding, Span
from roundhand.measures import unit_words
from roundhand.notation.tree import Gauge

GROUP = "gauge"

_MEASURE = re.compile(r"\b(?:finished|circumference|length|width|height|depth)\b", re.IGNORECASE)
_YARN = re.compile(r"\b(?:yarn|yardage|tail|hook|skeins?|balls?)\b", re.IGNORECASE)
_LENGTH = re.compile(
    rf"[1-9]\d*\s*(?:\d/\d|[\u00bc-\u00be])?\s*-?(?:{'|'.join(re.escape(word) for word in unit_words())})(?!\w)",
    re.IGNORECASE,
)
_EXAMPLE = "such as “14 sts and 10 rnds = 4 in in half double crochet”"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding where nothing says how large a stitch is, and one for every gauge with a zero in it."""
    if not any(sheet.tally.rows()):
        return
    for gauge in sheet.pattern.gauges:
        if _zero(gauge):
            yield _finding("the gauge has a zero in it", gauge.span, "no stitch and no row can be of that size")
    if sheet.pattern.gauges or _of_a_motif(sheet) or sheet.paper.gauge_waived or any(gauges_without_unit(sheet)):
        return
    place = _wants_one(sheet)
    if place is not None:
        because = "the counts alone do not say how large this comes out"
        yield _finding("no gauge is given", place, because)


def _of_a_motif(sheet: Sheet) -> bool:
    """Whether the gauge is told by the size of a piece: "Gauge: one square = 4 in", "Rnds 1-3 = 3 in across"."""
    return any(
        fact.key.lower().startswith(("gauge", "tension")) and _LENGTH.search(fact.text) for fact in sheet.pattern.facts
    )


def _zero(gauge: Gauge) -> bool:
    return gauge.stitches == 0 or gauge.rows == 0 or (gauge.over is not None and not gauge.over.mm)


def _wants_one(sheet: Sheet) -> Span | None:
    """What cannot be without a gauge: a finished measurement, or sizes of something that has its yarn named."""
    for fact in sheet.pattern.facts:
        if fact.lengths and _MEASURE.search(fact.key) and not _YARN.search(fact.key):
            return fact.span
    if len(sheet.pattern.sizes) < 2 or not sheet.pattern.yarns:
        return None
    return next((fact.span for fact in sheet.pattern.facts if fact.key.lower().startswith("size")), None)


def _finding(headline: str, span: Span, because: str) -> Finding:
    return Finding(
        "gauge-missing",
        "warning",
        headline,
        span,
        because=because,
        help=f"write how many stitches and rows make a length, {_EXAMPLE}",
        facts={"gauge": None},
        label="made by which gauge?",
    )
