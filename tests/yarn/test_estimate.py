"""Yarn of the Kittiwake cap against a table worked out by hand from one maker's (invented) stitch lengths.

The closed formulas are checked against the check values of their method (w 6.7733 mm, d 1.75 mm) and, within the
tolerances named at each, against published measurements: a maker's table of squares and strips in worsted on a 5 mm
hook (WINDCH) and a weighed test of 400 stitches each (INTYARN), both read as public pages, small samples.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from roundhand.notation import read
from roundhand.tally import Tally, count
from roundhand.yarn import (
    YarnEstimate,
    calibrate,
    chance_enough,
    estimate,
    read_measured,
    stitch_length,
    to_buy,
    yarn_diameter,
)

_PATTERNS = Path(__file__).parent.parent.parent / "patterns"
_LENGTHS = """kind,place,length,unit
chain,,0.60,in
slip_stitch,,0.70,in
slip_stitch,layers,0.90,in
single,,1.60,in
half_double,,2.35,in
long_single,,3.20,in
climb,,0.60,in
"""
_SIZES = ("Baby", "Toddler", "Child", "Adult S", "Adult L")
_BY_HAND = {
    "A": {
        "in": [2036.5, 2357.5, 3055.2, 3447.6, 3858.2],
        "yd": [56.57, 65.49, 84.87, 95.77, 107.17],
        "m": [51.73, 59.88, 77.60, 87.57, 98.00],
        "g": [28.28, 32.74, 42.43, 47.88, 53.59],
        "buy": [65, 75, 95, 110, 120],
    },
    "B": {
        "in": [1152.6, 1277.4, 1758.7, 1915.5, 2072.3],
        "yd": [32.02, 35.48, 48.85, 53.21, 57.56],
        "m": [29.28, 32.45, 44.67, 48.65, 52.64],
        "g": [16.01, 17.74, 24.43, 26.60, 28.78],
        "buy": [40, 40, 55, 60, 65],
    },
}


def _tally(name: str) -> Tally:
    pattern, _ = read((_PATTERNS / name).read_text(encoding="utf-8"))
    return count(pattern)[0]


@pytest.fixture(scope="module")
def measured() -> YarnEstimate:
    return estimate(_tally("kittiwake-cap.txt"), read_measured(_LENGTHS)[0])


@pytest.mark.parametrize("label", ["A", "B"])
def test_every_length_mass_and_amount_to_buy(measured: YarnEstimate, label: str) -> None:
    needs = [measured.of(label, size) for size in _SIZES]
    rows = [need for need in needs if need is not None]
    assert [round(need.length_m / 0.0254, 1) for need in rows] == _BY_HAND[label]["in"]
    assert [round(need.length_m / 0.9144, 2) for need in rows] == _BY_HAND[label]["yd"]
    assert [round(need.length_m, 2) for need in rows] == _BY_HAND[label]["m"]
    assert [round(need.mass_g or 0, 2) for need in rows] == _BY_HAND[label]["g"]
    assert [to_buy(need.length_m) for need in rows] == _BY_HAND[label]["buy"]


def test_the_breakdown_of_one_size(measured: YarnEstimate) -> None:
    need = measured.of("A", "Adult S")
    assert need is not None
    lines = {(one.what, one.kind, one.piece): (one.count, round(one.mm / 25.4, 1)) for one in need.entries}
    assert lines[("foundation", "chain", "Band")] == (10, 6.0)
    assert lines[("stitches", "single", "Band")] == (702, 1123.2)
    assert lines[("turning", "chain", "Band")] == (77, 46.2)
    assert lines[("seam", "slip_stitch", "Band")] == (9, 8.1)
    assert lines[("joins", "slip_stitch", "Body")] == (17, 11.9)
    assert lines[("stitches", "long_single", "Body")] == (120, 384.0)
    assert sum(one.count for one in need.entries if one.what == "climbs") == 5
    assert sorted(round(one.mm / 25.4) for one in need.entries if one.what == "tails") == [6, 28]


def test_the_formulas_give_their_check_values() -> None:
    heights = {"chain": 0, "slip_stitch": 0, "single": 6, "half_double": 9, "double": 12, "treble": 17}
    found = {one: round(stitch_length(one, 6.7733, high, 1.75), 1) for one, high in heights.items()}
    assert found == {
        "chain": 31.3,
        "slip_stitch": 36.8,
        "single": 54.0,
        "half_double": 83.8,
        "double": 100.0,
        "treble": 131.0,
    }


def test_lengths_scale_with_everything_twice_as_large() -> None:
    for stitch in ("chain", "single", "half_double", "single_2_together", "front_post_double"):
        small = stitch_length(stitch, 6, 7, 1.5, 3)
        assert stitch_length(stitch, 12, 14, 3.0, 6) == pytest.approx(2 * small, rel=1e-9)


def test_half_double_against_single_as_weighed() -> None:
    """INTYARN weighed 400 stitches of each: 1.47; stitch sizes as measured there (chunky, 6 mm hook)."""
    diameter = 0.25 * 0.3125 * 25.4
    single = stitch_length("single", 0.3125 * 25.4, 0.2875 * 25.4, diameter)
    half_double = stitch_length("half_double", 0.3375 * 25.4, 0.4625 * 25.4, diameter)
    assert half_double / single == pytest.approx(1.47, rel=0.15)


def test_a_square_of_half_doubles_as_worked_out_in_print() -> None:
    """WINDCH: 34 x 34 in of half double crochet take 1,030 yd; uncalibrated within 20 %."""
    width, height = 25.4 / 3.75, 9.0
    stitches = (34 * 25.4 / width) * (34 * 25.4 / height)
    yards = stitches * stitch_length("half_double", width, height, 1.75) / 914.4
    assert yards == pytest.approx(1030, rel=0.20)


@pytest.mark.parametrize(
    ("stitch", "height", "published"), [("single", 6, 31.42), ("half_double", 9, 32.08), ("double", 12, 31.6)]
)
def test_yarn_in_a_square_inch_as_measured(stitch: str, height: float, published: float) -> None:
    """WINDCH: inches of yarn in a square inch of fabric; uncalibrated within 10 %."""
    width = 25.4 / 3.75
    inches = stitch_length(stitch, width, height, 1.75) / 25.4 * (25.4 / width) * (25.4 / height)
    assert inches == pytest.approx(published, rel=0.10)


def test_without_a_swatch_the_range_is_about_a_fifth_either_way() -> None:
    found = estimate(_tally("kittiwake-cap.txt"))
    need = found.of("A", "Adult S")
    assert need is not None
    assert not found.calibration.swatches
    assert 0.15 < 1 - need.low_m / need.length_m < 0.25
    assert 0.15 < need.high_m / need.length_m - 1 < 0.25


def test_a_weighed_swatch_narrows_the_range() -> None:
    found = estimate(_tally("saltmarsh-cap.txt"))
    need = found.of("A", "Adult L")
    assert need is not None
    assert found.calibration.swatches == 1
    assert need.high_m / need.low_m < 1.15


def test_what_a_two_colour_adult_hat_takes_to_buy() -> None:
    """Common practice, no source: 170 to 280 yd for an adult worsted hat with long stitches and a sideways band."""
    found = estimate(_tally("kittiwake-cap.txt"))
    for size in ("Adult S", "Adult L"):
        one, other = found.of("A", size), found.of("B", size)
        assert one is not None and other is not None
        assert 170 <= to_buy(one.length_m) + to_buy(other.length_m) <= 280
        assert one.length_m > other.length_m


def test_calibration_and_chances() -> None:
    one = calibrate([(20.0, 21.5)])
    assert (round(one.mean, 4), round(one.spread, 4), round(one.scale, 2)) == (0.0681, 0.0485, 1.07)
    assert chance_enough(5, 200, 1000, one) == pytest.approx(0.123, abs=0.002)
    assert chance_enough(6, 200, 1000, one) == pytest.approx(0.975, abs=0.002)
    assert calibrate([(0, 5), (5, 0)]).swatches == 0


def test_a_thinner_yarn_has_a_smaller_diameter() -> None:
    assert yarn_diameter(200) == pytest.approx(1.75)
    assert yarn_diameter(800) == pytest.approx(1.75 / 2)


def test_a_file_of_stitch_lengths_that_makes_no_sense_says_which_line() -> None:
    found, wrong = read_measured("kind,place,length,unit\nsingle,,1.6,in\n,,2,in\ndouble,,-1,in\ntreble,,2,furlong\n")
    assert [one.kind for one in found] == ["single"]
    assert [line.split(":")[0] for line in wrong] == ["line 3", "line 4", "line 5"]


@pytest.mark.parametrize("times", [2, 5])
def test_a_piece_made_several_times_takes_as_much_yarn_again(times: int) -> None:
    """Everything of it is made again, the tails too; its rows stay what they are."""
    page = (
        "Cap\n\nYarn A: worsted\n\nLEAF{}\nWith A, ch 11.\n"
        "Row 1: Sc in 2nd ch from hook and in each ch across.\nFasten off.\n"
    )
    once, often = (count(read(page.format(made))[0])[0] for made in ("", f" (make {times})"))
    assert [row.worked for row in once.rows()] == [row.worked for row in often.rows()]
    lengths = []
    for tally in (once, often):
        need = estimate(tally).of("A", "One size")
        assert need is not None
        lengths.append(need.length_m)
    assert lengths[1] == pytest.approx(lengths[0] * times)
