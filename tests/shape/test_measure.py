"""The finished measurements of the Kittiwake cap, worked out by hand from its gauge and counts in all five sizes.

Source of the numbers: derived by hand from the pattern's own gauge (15 sts and 20 rnds, 16 sts and 19 rows to 4 in);
the factor 1.20 to 1.30 of a ridged band is common practice with no source, the worn depth is ours.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from roundhand.notation import read
from roundhand.shape import Measures, measure
from roundhand.tally import count

_PATTERNS = Path(__file__).parent.parent.parent / "patterns"
_INCH = Fraction(254, 10)


def _measured(name: str) -> Measures:
    text = (_PATTERNS / name).read_text(encoding="utf-8")
    pattern, _ = read(text)
    tally, _ = count(pattern)
    return measure(tally, text)


def _inches(values: tuple[Fraction | None, ...]) -> list[float]:
    return [round(float(value / _INCH), 2) for value in values if value is not None]


BAND = {
    "length round": [12.63, 13.89, 15.16, 16.42, 17.68],
    "depth": [1.5, 1.75, 2.0, 2.25, 2.5],
    "fits a head from": [15.16, 16.67, 18.19, 19.71, 21.22],
    "fits a head up to": [16.42, 18.06, 19.71, 21.35, 22.99],
}
WHOLE = {
    "round": [14.4, 16.0, 17.6, 19.2, 20.8],
    "length": [6.8, 7.05, 8.5, 8.75, 9.0],
    "ease": [-1.6, -1.5, -1.4, -1.3, -1.2],
    "length with 2 repeats fewer": [4.4, 4.65, 6.1, 6.35, 6.6],
    "length with 1 repeat fewer": [5.6, 5.85, 7.3, 7.55, 7.8],
    "length with 1 repeat more": [8.0, 8.25, 9.7, 9.95, 10.2],
}


@pytest.mark.parametrize("what", BAND)
def test_the_band(what: str) -> None:
    found = _measured("kittiwake-cap.txt").pieces[0].of(what)
    assert found is not None and _inches(found.mm) == BAND[what]


def test_the_band_stretches_by_what_the_gauge_says() -> None:
    found = _measured("kittiwake-cap.txt").pieces[0].of("length round")
    assert found is not None and _inches(found.stretched) == [15.79, 17.37, 18.95, 20.53, 22.11]


@pytest.mark.parametrize("what", WHOLE)
def test_the_cap(what: str) -> None:
    found = _measured("kittiwake-cap.txt").whole.of(what)
    assert found is not None and _inches(found.mm) == WHOLE[what]


def test_the_body_laid_flat_and_its_opening() -> None:
    body = _measured("kittiwake-cap.txt").pieces[1]
    flat, opening = body.of("width laid flat"), body.of("gathered opening")
    assert flat is not None and _inches(flat.mm) == [7.2, 8.0, 8.8, 9.6, 10.4]
    assert opening is not None and [round(float(one)) for one in opening.mm if one is not None] == [24, 27, 29, 32, 35]


def test_worn_depth_of_two_sizes_that_does_not_grow() -> None:
    found = _measured("kittiwake-cap.txt").whole.of("worn depth")
    assert found is not None and _inches(found.mm)[:2] == [4.51, 4.5]


def test_several_gauges_in_one_pattern() -> None:
    found = _measured("saltmarsh-cap.txt").whole.of("length")
    assert found is not None and _inches(found.mm) == [7.47, 8.27, 9.0, 9.8, 10.2]


def test_a_pattern_without_a_gauge_says_what_could_not_be_measured() -> None:
    text = "Samphire Cap\n\nCAP\nRnd 1: 6 sc in a magic ring. (6)"
    pattern, _ = read(text)
    tally, _ = count(pattern)
    found = measure(tally, text)
    assert found.lacks == ("Cap",) and found.whole.measures == ()
