"""Flat circles against published rounds (tests/sources/flat_circle.csv) and geometry.

The measured heights and widths are those of the Yarn usage experiment, interweave.com (chunky yarn, 6 mm hook, 20 x 20
stitches): single 0.3125 in wide and 0.2875 in high, half double 0.3375 in wide and 0.4625 in high.
"""

import csv
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roundhand.sizing import disc, flat_increase, flat_rules
from roundhand.stitches import dictionary
from roundhand.stitches.stitch import EVIDENCE

SOURCE = Path(__file__).resolve().parents[1] / "sources" / "flat_circle.csv"
with SOURCE.open(encoding="utf-8", newline="") as file:
    ROUNDS = list(csv.DictReader(file))


@pytest.mark.parametrize("fact", ROUNDS, ids=lambda fact: f"{fact['stitch']} round {fact['round']}")
def test_rounds_of_a_flat_circle(fact: dict[str, str]) -> None:
    rule = flat_rules()[fact["stitch"]]
    assert rule.increases == int(fact["increases_per_round"]), fact["source"]
    found = disc(rule.increases, int(fact["round"]))
    assert found.stitches == int(fact["stitches_in_round"])
    assert found.in_all == int(fact["stitches_in_all"])
    assert found.plain == (int(fact["plain_between_increases"]) if fact["plain_between_increases"] else None)


def test_every_packaged_rule_names_a_stitch_and_a_source() -> None:
    assert flat_rules()
    for stitch, rule in flat_rules().items():
        assert stitch in dictionary()
        assert rule.source
        assert rule.evidence in EVIDENCE


@given(st.integers(1, 40), st.integers(1, 300))
def test_a_circle_is_the_sum_of_its_rounds(increases: int, number: int) -> None:
    assert disc(increases, number).in_all == sum(disc(increases, at).stitches for at in range(1, number + 1))


@given(st.integers(1, 40), st.integers(2, 300))
def test_plain_stitches_and_increases_fill_the_round_below(increases: int, number: int) -> None:
    found = disc(increases, number)
    assert found.plain is not None
    assert increases * (found.plain + 1) == disc(increases, number - 1).stitches
    assert increases * (found.plain + 2) == found.stitches


@pytest.mark.parametrize(
    ("height", "width", "wanted"),
    [("0.2875", "0.3125", 5.78), ("0.4625", "0.3375", 8.61), ("1", "1", 6.28), ("2", "1", 12.57)],
    ids=["single as measured", "half double as measured", "as high as wide", "twice as high"],
)
def test_geometry_of_a_flat_round(height: str, width: str, wanted: float) -> None:
    assert flat_increase(Fraction(height), Fraction(width)) == pytest.approx(wanted, abs=0.005)


def test_the_rule_for_single_crochet_is_the_geometry_of_a_square_stitch() -> None:
    by_geometry = [round(number * flat_increase(Fraction(1), Fraction(1))) for number in range(1, 9)]
    assert by_geometry == [6, 13, 19, 25, 31, 38, 44, 50]
    assert flat_rules()["single"].increases == by_geometry[0]


@given(st.fractions(min_value=Fraction(1, 10), max_value=10), st.fractions(min_value=Fraction(1, 10), max_value=10))
def test_only_the_ratio_counts(height: Fraction, width: Fraction) -> None:
    assert flat_increase(height * 7, width * 7) == pytest.approx(flat_increase(height, width))
    assert flat_increase(height * 2, width) == pytest.approx(2 * flat_increase(height, width))


@pytest.mark.parametrize(("increases", "number"), [(0, 3), (6, 0), (6, -1)])
def test_a_circle_that_cannot_be_is_refused(increases: int, number: int) -> None:
    with pytest.raises(ValueError, match="a circle has rounds from 1"):
        disc(increases, number)


@pytest.mark.parametrize(("height", "width"), [("0", "1"), ("1", "0"), ("-1", "1")])
def test_a_stitch_without_size_is_refused(height: str, width: str) -> None:
    with pytest.raises(ValueError, match="above nothing"):
        flat_increase(Fraction(height), Fraction(width))
