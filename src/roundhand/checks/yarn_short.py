"""The yarn stated is less than the pattern takes.

A maker runs out in the last rounds, and the dye lot is gone.

Bad:
    Yarn needed: A 20 yd
    MATERIALS
    Yarn A: worsted, 100 g = 200 yd, slate
    Swatch: A, sc, 15 sts x 15 rows, 10 x 10 cm, 7 g
    GAUGE
    15 sts and 15 rnds = 10 cm in single crochet
    CAP
    With A, ch 70, join with sl st in first ch, being careful not to twist.
    Rnd 1: Ch 1, sc in each ch around, join. (70)
    Rnds 2-30: Ch 1, sc in each st around, join. (70)
    Fasten off.

Good:
    Yarn needed: A 140 yd
    MATERIALS
    Yarn A: worsted, 100 g = 200 yd, slate
    Swatch: A, sc, 15 sts x 15 rows, 10 x 10 cm, 7 g
    GAUGE
    15 sts and 15 rnds = 10 cm in single crochet
    CAP
    With A, ch 70, join with sl st in first ch, being careful not to twist.
    Rnd 1: Ch 1, sc in each ch around, join. (70)
    Rnds 2-30: Ch 1, sc in each st around, join. (70)
    Fasten off.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Span
from roundhand.measures import Length, length_unit, read_number
from roundhand.yarn import YarnEstimate, YarnNeed

GROUP = "yarn"

_NUMBER = r"\d+(?:\.\d+)?(?:\s+\d+/\d+)?"
_AMOUNT = re.compile(rf"({_NUMBER})\s*(?:[(\[]([^)\]]*)[)\]])?\s*-?\s*(m|metres?|meters?|yds?|yards?)\b", re.IGNORECASE)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every colour and size whose stated yarn is under the low end of what it takes."""
    for fact in sheet.pattern.facts:
        key = fact.key.lower()
        if not ("yarn" in key or "yardage" in key) or not any(
            word in key for word in ("need", "amount", "yardage", "quantity", "used")
        ):
            continue
        for label, values in _stated(sheet.text, fact.span, tuple(yarn.label for yarn in sheet.pattern.yarns)):
            short = {}
            for size, (length, span) in enumerate(values):
                need = sheet.yarn.of(label, sheet.pattern.sizes[size]) if size < len(sheet.pattern.sizes) else None
                if need is not None and length is not None and float(length.to("m")) < _least(need, sheet.yarn):
                    short[size] = (length, span, need)
            if short:
                yield _finding(sheet, label, short)


def _least(need: YarnNeed, estimate: YarnEstimate) -> float:
    """The low end of what a colour takes; a maker's own stitch lengths are taken at their word."""
    return need.length_m if estimate.measured else need.low_m


def _stated(text: str, span: Span, labels: tuple[str, ...]) -> Iterator[tuple[str, list[tuple[Length | None, Span]]]]:
    """The amounts of every colour with the place of every number: `A 65 (75, 95) yd, B 40 (45, 50) yd`."""
    for found in _AMOUNT.finditer(text, span.start, span.end):
        unit = length_unit(found[3])
        before = text[span.start : found.start()]
        named = [label for label in labels if label and re.search(rf"(?<!\w){re.escape(label)}(?!\w)\W*$", before)]
        label = named[0] if named else (labels[0] if len(labels) == 1 else "")
        if unit is None or (not label and len(labels) > 1):
            continue
        values: list[tuple[Length | None, Span]] = []
        places = [(found.start(1), found.end(1))]
        if found[2] is not None:
            places += [
                (found.start(2) + one.start(), found.start(2) + one.end()) for one in re.finditer(_NUMBER, found[2])
            ]
        for start, end in places:
            number = read_number(text, start)
            values.append((Length.of(number[0], unit) if number is not None else None, Span(start, end)))
        yield label, values


def _finding(sheet: Sheet, label: str, short: dict[int, tuple[Length, Span, YarnNeed]]) -> Finding:
    size = min(short)
    length, span, need = short[size]
    unit = length.unit
    needed = float(Length.of(Fraction(need.length_m).limit_denominator(10**6), "m").to(unit))
    for _, other, _ in short.values():
        span = span.to(other)
    name = label or "yarn"
    return Finding(
        "yarn-short",
        "error" if sheet.yarn.measured or sheet.yarn.calibration.swatches else "warning",
        f"{float(length.to(unit)):g} {unit} of {name} stated, {needed:.2f} {unit} needed",
        span,
        tuple(sheet.pattern.sizes[at] for at in short),
        because=f"{sheet.pattern.sizes[size]} takes {needed:.2f} {unit} of {name}"
        + ("" if sheet.yarn.measured else f", between {_in(need.low_m, unit)} and {_in(need.high_m, unit)}"),
        help="state what it takes with a margin of a tenth",
        facts={"colour": label, "stated_m": float(length.to("m")), "needed_m": round(need.length_m, 2)},
        label=f"needs {needed:.2f}",
    )


def _in(metres: float, unit: str) -> str:
    return f"{float(Length.of(Fraction(metres).limit_denominator(10**6), 'm').to(unit)):.0f}"
