"""The gauge is given twice, and the two do not agree.

A maker swatches by the one she reads first; if it is the wrong one, everything comes out at another size.

Bad:
    Swatch: A, sc, 20 sts x 20 rows, 10 x 10 cm, 7 g
    GAUGE
    16 sts and 20 rnds = 10 cm in single crochet
    CAP
    Ch 72, join with sl st in first ch, being careful not to twist.
    Rnd 1: Ch 1, sc in each ch around, join. (72)

Good:
    Swatch: A, sc, 16 sts x 20 rows, 10 x 10 cm, 7 g
    GAUGE
    16 sts and 20 rnds = 10 cm in single crochet
    CAP
    Ch 72, join with sl st in first ch, being careful not to twist.
    Rnd 1: Ch 1, sc in each ch around, join. (72)
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Mark, Span
from roundhand.notation.tree import Gauge
from roundhand.sizing import gauge_book
from roundhand.yarn.swatches import swatch_of

GROUP = "gauge"

# A swatch is counted to half a stitch in four inches; gauges that say one thing in two units differ by 2 %.
_TOLERANCE = Fraction(5, 100)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every two gauges of one fabric, or a gauge and the swatch, that are more than 5 % apart."""
    book = gauge_book(sheet.pattern)
    said: list[tuple[Gauge, str, str, Fraction]] = []
    for fabric in book.fabrics:
        for what, each in (("sts", fabric.width), ("rows", fabric.height)):
            if each is not None and each > 0:
                said.append((fabric.gauge, fabric.stitch, what, each))
    told: set[Span] = set()
    for at, (gauge, stitch, what, each) in enumerate(said):
        for other, same_stitch, same_what, size in said[:at]:
            if other is gauge or what != same_what or stitch != same_stitch or _apart(gauge, other):
                continue
            if abs(each - size) > _TOLERANCE * max(each, size) and gauge.span not in told:
                told.add(gauge.span)
                yield _finding(sheet, gauge.span, other.span, what, each, size, "another gauge of the same stitch")
    yield from _of_swatch(sheet, said)


def _apart(one: Gauge, other: Gauge) -> bool:
    """Whether two gauges are of fabrics that are told apart: by their sections, or by more than a stitch's name."""
    if (one.of or other.of) and one.of.lower() != other.of.lower():
        return True
    return " ".join(one.fabric.lower().split()) != " ".join(other.fabric.lower().split())


def _of_swatch(sheet: Sheet, said: list[tuple[Gauge, str, str, Fraction]]) -> Iterator[Finding]:
    swatch = swatch_of(sheet.pattern)
    fact = next((one for one in sheet.pattern.facts if one.key.lower().startswith("swatch")), None)
    if swatch is None or fact is None or not swatch.stitches or not swatch.rows:
        return
    sizes = {"sts": swatch.width_mm / swatch.stitches, "rows": swatch.height_mm / swatch.rows}
    for gauge, stitch, what, each in said:
        if stitch != swatch.stitch or gauge.of:
            continue
        size = Fraction(sizes[what]).limit_denominator(1000)
        if abs(each - size) > _TOLERANCE * max(each, size):
            yield _finding(sheet, fact.span, gauge.span, what, size, each, "the gauge")
            return


def _finding(
    sheet: Sheet, span: Span, other: Span, what: str, mine: Fraction, theirs: Fraction, against: str
) -> Finding:
    unit = sheet.measures.unit
    over = Fraction(1016, 10) if unit == "in" else Fraction(100)
    name = "4 in" if unit == "in" else "10 cm"
    here, there = (f"{float(over / each):.3g}" for each in (mine, theirs))
    return Finding(
        "gauge-differs",
        "warning",
        f"{here} {what} in {name} here, {there} by {against}",
        span,
        because=f"over {name} the two are {here} and {there} {what}",
        help="write one gauge; or name what makes the two fabrics different, washed or not, hook or stitch",
        facts={"here": here, "there": there, "what": what, "over": name},
        see=(Mark(other, f"{there} {what} in {name}"),),
        label=f"{here} in {name}",
    )
