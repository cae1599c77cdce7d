"""Yarn as the rows of a table: what a colour takes in every size, between what and what, its weight, what to buy."""

from __future__ import annotations

from collections.abc import Sequence

from roundhand.workshop.figures import NONE, say, units
from roundhand.workshop.measure_rows import FigureRow, FigureTable
from roundhand.workshop.reading import Reading
from roundhand.workshop.reckoning import sureness
from roundhand.workshop.spelling import spelt
from roundhand.yarn import YarnEstimate, YarnNeed, to_buy

YARN_MARGIN = (
    "“to buy” is what it takes and a tenth more, up to the next five; of three makers two come out within “between”."
)
# Below so many metres or yards a whole number says too little.
_FEW = 10


def yarn_figures(reading: Reading, found: YarnEstimate, sizes: Sequence[int]) -> tuple[FigureTable, ...]:
    """What some sizes take of every yarn.

    >>> from roundhand.workshop.reading import understand
    >>> from roundhand.workshop.reckoning import reckon
    >>> reading = understand("Cap\\nTerms: US\\n\\nRnd 1: 8 sc in a magic ring. (8)")
    >>> [row.what for row in yarn_figures(reading, reckon(reading), [0])[0].rows if row.what]
    ['takes', 'between', 'to buy']
    """
    tables = []
    for label in yarn_labels(found):
        needs = [found.of(label, reading.sizes[size]) for size in sizes]
        if any(needs):
            tables.append(FigureTable(yarn_name(reading, label), tuple(_rows(reading, needs))))
    return tuple(tables)


def yarn_sureness(found: YarnEstimate) -> str:
    """How sure the amounts are, where something of the maker's was measured or weighed; else empty."""
    sure = sureness(found)
    if sure.rests_on == "lengths":
        return f"By your own lengths of single stitches; give or take {sure.percent} %."
    if sure.rests_on == "swatches":
        weighed = "one weighed swatch" if sure.swatches == 1 else f"{sure.swatches} weighed swatches"
        return f"By {weighed}; give or take {sure.percent} %."
    return ""


def yarn_lacks(reading: Reading, found: YarnEstimate) -> tuple[str, ...]:
    """What was guessed, what the pattern does not say, and how to be surer; spelt as the pattern is."""
    said = [*_held(reading), *_guesses(reading, found)]
    sure = sureness(found)
    if sure.rests_on == "formulas":
        said.append(
            f"No swatch has been weighed, so this is good to about {sure.percent} % either way. One weighed swatch "
            f"brings that to about {sure.with_one} %; add yours to the materials, such as: "
            "Swatch: A, sc, 15 sts x 20 rows, 10 x 10 cm, 9 g"
        )
    return tuple(spelt(sentence, reading.pattern.language) for sentence in said)


def long_units(reading: Reading) -> tuple[str, str]:
    """Yards or metres first, as the pattern gives the length of its yarn, else by the unit of its gauge."""
    own = next((yarn.length.unit for yarn in reading.pattern.yarns if yarn.length is not None), "")
    gauge = next((gauge.over.unit for gauge in reading.pattern.gauges if gauge.over is not None), "cm")
    return units(own or gauge, long=True)


def yarn_labels(found: YarnEstimate) -> list[str]:
    """The labels of the yarns, each once."""
    return list(dict.fromkeys(need.label for need in found.needs))


def yarn_name(reading: Reading, label: str) -> str:
    """`A, harbour grey`, with what of it is known."""
    if not label and len(reading.pattern.yarns) > 1:
        return spelt("no colour named", reading.pattern.language)
    colour = next((yarn.colour for yarn in reading.pattern.yarns if yarn.label == label), "")
    return ", ".join(words for words in (label, colour) if words) or "Yarn"


def _rows(reading: Reading, needs: Sequence[YarnNeed | None]) -> list[FigureRow]:
    own, other = long_units(reading)

    def lengths(unit: str) -> tuple[str, ...]:
        return tuple(say(need.length_m * 1000, unit) if need is not None else NONE for need in needs)

    rows = [FigureRow("takes", own, lengths(own)), FigureRow("", other, lengths(other))]
    rows.append(FigureRow("between", own, tuple(_range(need, own) for need in needs)))
    rows.append(FigureRow("", other, tuple(_range(need, other) for need in needs)))
    if any(need is not None and need.mass_g is not None for need in needs):
        rows.append(FigureRow("weighs", "g", tuple(_or_none(need, "mass_g") for need in needs)))
    for what, unit in (("to buy", own), ("", other)):
        buy = tuple(str(to_buy(need.length_m, unit)) if need is not None else NONE for need in needs)
        rows.append(FigureRow(what, unit, buy))
    if any(need is not None and need.balls is not None for need in needs):
        rows.append(FigureRow("", "balls", tuple(_or_none(need, "balls") for need in needs)))
    return rows


def _held(reading: Reading) -> list[str]:
    """What the amounts take in where a note holds several strands together."""
    said = []
    for note in reading.pattern.held:
        where = f" of {note.part}" if note.part else ""
        number = note.strands.count("+") + 1
        line, words = reading.source.place(note.span.start)[0], note.span.of(reading.source.text)
        said.append(f"Line {line} says \u201c{words}\u201d: every stitch{where} is reckoned with {number} strands.")
    return said


def _guesses(reading: Reading, found: YarnEstimate) -> list[str]:
    said = [f"There is {guess}." for guess in found.guessed]
    without = [need.label for need in found.needs if need.mass_g is None]
    labels = [label for label in dict.fromkeys(without) if label]
    if labels:
        said.append(
            f"The pattern does not say how long a ball of {' and '.join(labels)} is, so grams and balls are missing, "
            "and 200 m to 100 g is reckoned with; write it as: worsted, 100 g = 210 m"
        )
    elif without and len(yarn_labels(found)) == 1:
        said.append(
            "The pattern does not say how long a ball is, so grams and balls are missing, and 200 m to 100 g is "
            "reckoned with; write it as: Yarn A: worsted, 100 g = 210 m"
        )
    if "" in yarn_labels(found) and (len(yarn_labels(found)) > 1 or len(reading.pattern.yarns) > 1):
        said.append(
            "Some stitches are in a colour that the pattern does not name there; they are those in no colour named."
        )
    return said


def _or_none(need: YarnNeed | None, what: str) -> str:
    value = getattr(need, what) if need is not None else None
    if value is None:
        return NONE
    return f"{value:.2f}" if isinstance(value, float) else str(value)


def _range(need: YarnNeed | None, unit: str) -> str:
    if need is None:
        return NONE
    low, high = (float(say(one * 1000, unit)) for one in (need.low_m, need.high_m))
    decimals = 0 if high >= _FEW else 1
    return f"{low:.{decimals}f}-{high:.{decimals}f}"
