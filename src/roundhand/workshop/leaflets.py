"""The leaflet of a pattern: her words with the measurements, the yarn and the charts that were worked out."""

from __future__ import annotations

import re
import tempfile
from collections.abc import Iterable, Iterator
from fractions import Fraction
from typing import Literal

import msgspec

from roundhand.measures import Length
from roundhand.publishing import Chart, Leaflet, MeasureLine, Paper, YarnLineNeed, leaflet
from roundhand.shape import Measure, Measures
from roundhand.workshop.charting import Charted, charts_worth_printing, picture
from roundhand.workshop.measuring import measures
from roundhand.workshop.reading import Reading
from roundhand.workshop.reckoning import reckon, sureness
from roundhand.workshop.use import UseError
from roundhand.yarn import YarnEstimate, to_buy

_STATES_YARN = re.compile(r"yarn.*\b(?:need|amount|quantity|used)|yardage|\bamounts?\b", re.IGNORECASE)
# What of the whole item the key of a stated measurement speaks of.
_STATED = {
    "round": re.compile(r"\b(?:circumference|around|round)\b", re.IGNORECASE),
    "length": re.compile(r"\b(?:length|height|depth)\b", re.IGNORECASE),
}
# A leaflet shows the nearest places to stop; the ones beyond them are for the designer.
_FURTHER_STOP = re.compile(r"^length with [2-9] repeats")


def compose(reading: Reading, pictures: bool = True) -> Leaflet:
    """The leaflet of a pattern, without the pictures of its charts as PNG where `pictures` is false.

    Never raises for anything that a text holds; a chart too large to be drawn is left out.
    """
    found = reckon(reading)
    charts = [made for one in charts_worth_printing(reading) if (made := _chart(reading, one, pictures)) is not None]
    needs = () if _keeps_her_own(reading, found) else tuple(_needs(reading, found))
    return leaflet(
        reading.source,
        reading.pattern,
        reading.tally,
        tuple(_measured(reading, measures(reading))),
        needs,
        tuple(charts),
    )


class Preview(msgspec.Struct, frozen=True):
    """A leaflet as it will be printed: its pages as SVG, and all its words as plain text."""

    title: str
    pages: tuple[bytes, ...]
    words: str


def preview(reading: Reading, paper: Paper, large: bool = False) -> Preview:
    """The leaflet of a pattern to be looked at, in ordinary or in large print; raises `UseError` where a page cannot
    be set."""
    from roundhand import publishing
    from roundhand.press import PressError

    made = compose(reading, pictures=False)
    with tempfile.TemporaryDirectory() as root:
        try:
            return Preview(made.title, publishing.pages(made, paper, root, large), publishing.plain_text(made))
        except PressError as problem:
            raise UseError(str(problem)) from None


def keeps_her_own(reading: Reading) -> bool:
    """Whether the leaflet shows the yarn amounts of the designer alone: where she states them and nothing of hers was
    weighed or measured, an estimate that may be a fifth off would only contradict her."""
    return _keeps_her_own(reading, reckon(reading))


def _keeps_her_own(reading: Reading, found: YarnEstimate) -> bool:
    stated = any(_STATES_YARN.search(fact.key) and re.search(r"\d", fact.text) for fact in reading.pattern.facts)
    return stated and sureness(found).rests_on == "formulas"


def _measured(reading: Reading, found: Measures) -> Iterator[MeasureLine]:
    """The item as a whole first, then what its pieces have of their own. What the designer states is not said again,
    since two numbers for one thing would make a maker wonder which to trust."""
    keys = [fact.key for fact in reading.pattern.facts if fact.lengths and "head" not in fact.key.lower()]
    stated = {what for what, words in _STATED.items() if any(words.search(key) for key in keys)}
    whole = [one for one in found.whole.measures if one.what not in stated and not _FURTHER_STOP.search(one.what)]
    yield from _lines(whole, "", found.unit)
    known = {one.mm for one in found.whole.measures}
    for piece in found.pieces:
        own = [one for one in piece.measures if one.mm not in known]
        yield from _lines(own, f"{piece.name}, " if len(found.pieces) > 1 else "", found.unit)


def _lines(found: Iterable[Measure], lead: str, unit: str) -> Iterator[MeasureLine]:
    for one in found:
        if all(value is None for value in one.mm):
            continue
        stretched = tuple(_length(value, unit) for value in one.stretched) if any(one.stretched) else None
        what = f"{lead}{one.what}"
        yield MeasureLine(what[:1].upper() + what[1:], tuple(_length(value, unit) for value in one.mm), stretched)


def _length(mm: Fraction | None, unit: str) -> Length | None:
    return Length(mm, unit) if mm is not None else None


def _needs(reading: Reading, found: YarnEstimate) -> Iterator[YarnLineNeed]:
    unit = next((yarn.length.unit for yarn in reading.pattern.yarns if yarn.length is not None), "yd")
    own: Literal["m", "yd"] = "m" if unit == "m" else "yd"
    about = "about " if sureness(found).rests_on == "formulas" else ""
    for label in dict.fromkeys(need.label for need in found.needs):
        needs = [found.of(label, size) for size in reading.sizes]
        buy = []
        for need in needs:
            if need is None:
                buy.append("–")
                continue
            buy.append(f"{about}{to_buy(need.length_m, own)} {own}")
        yield YarnLineNeed(
            label,
            next((yarn.colour for yarn in reading.pattern.yarns if yarn.label == label), ""),
            tuple(need.length_m if need is not None else None for need in needs),
            tuple(need.mass_g if need is not None else None for need in needs),
            tuple(need.balls if need is not None else None for need in needs),
            tuple(buy),
        )


def _chart(reading: Reading, found: Charted, pictures: bool) -> Chart | None:
    try:
        drawn = picture(found, "svg")
        image = picture(found, "png") if pictures else None
    except UseError:
        return None
    made = found.chart
    # The one piece of a hat is called after its first section, which need not be what is drawn.
    piece = found.piece if len(reading.tally.pieces) > 1 else reading.pattern.title
    return Chart(piece, drawn, made.title, made.description, (*made.key, *made.lines), image)
