"""The gauge is far from what is usual for yarn of this weight.

One of the two is perhaps a slip. A maker who buys the yarn that is named cannot come to this gauge with any hook.

Bad:
    MATERIALS
    Yarn: worsted
    GAUGE
    34 sts and 36 rnds = 4 in in single crochet
    CAP
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)

Good:
    MATERIALS
    Yarn: worsted
    GAUGE
    14 sts and 16 rnds = 4 in in single crochet
    CAP
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from roundhand.checks.edit import Sheet
from roundhand.checks.weights import LOOSE, SEVERAL, TIGHT, YarnWeight, classes_of, gauge_band, widened
from roundhand.findings import Finding
from roundhand.notation.tree import Gauge

GROUP = "gauge"

_FOUR_INCHES = Fraction(1016, 10)
_TO_SPARE = 1
_PLAIN = frozenset(("single crochet", "half double crochet", "double crochet", "sc", "hdc", "dc", "htr", "tr", ""))
_GROUPED = re.compile(
    r"\b(?:repeats?|shells?|clusters?|motifs?|squares?|pattern|patt|spaces?|mesh|blocks?)\b", re.IGNORECASE
)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding where all yarns are of one weight and the gauge is far from what is usual for it."""
    for gauge, over, classes in unlike(sheet):
        yield _finding(sheet, gauge, over, classes)
        return


def unlike(sheet: Sheet) -> Iterator[tuple[Gauge, float, tuple[YarnWeight, ...]]]:
    """The gauges of plain fabric far from the usual, each with its stitches over 4 in and the classes of the yarn."""
    yarns = sheet.pattern.yarns
    said = [classes_of(yarn, yarn.span.of(sheet.text)) for yarn in yarns]
    if not yarns or not all(said) or SEVERAL.search(sheet.text):
        return
    classes = tuple({one.number: one for each in said for one in each}.values())
    least, most = gauge_band(widened(classes, _TO_SPARE))
    for gauge in sheet.pattern.gauges:
        words = gauge.span.of(sheet.text)
        fabric = re.sub(r"\s+(?:and|or|with|after|using|before)\b.*", "", gauge.fabric.lower()).strip()
        if not gauge.stitches or gauge.over is None or not gauge.over.mm or _GROUPED.search(words):
            continue
        if fabric not in _PLAIN:
            continue
        over = float(gauge.stitches * _FOUR_INCHES / gauge.over.mm)
        # Taller stitches are a little wider than the single crochet of the table.
        tight = over > most and not TIGHT.search(sheet.text)
        loose = over < least * 0.8 and not LOOSE.search(sheet.text)
        if tight or loose:
            yield gauge, over, classes


def _finding(sheet: Sheet, gauge: Gauge, over: float, classes: tuple[YarnWeight, ...]) -> Finding:
    weight = sheet.pattern.yarns[0].weight or classes[0].names[0]
    least, most = gauge_band(classes)
    stitch = "double" if any(one.gauge_stitch == "double" for one in classes) else "single"
    uk = sheet.pattern.language == "UK"
    fabric = {"single": ("single crochet", "double crochet"), "double": ("double crochet", "treble")}[stitch][uk]
    return Finding(
        "gauge-unlike-yarn",
        "advice",
        f"{over:.4g} sts over 4 in are {'many' if over > most else 'few'} for {weight}",
        gauge.span,
        because=f"in {weight} {least:g} to {most:g} sts of {fabric} over 4 in are usual (a guideline and no rule)",
        help="count the swatch once more, and look whether the yarn is the one that you used",
        facts={"over_4_in": round(over, 2), "weight": weight, "usual_least": least, "usual_most": most},
        label="from this yarn?",
    )
