"""Yarn as an answer: the shape of the data to the letter, and the Kittiwake cap against the table worked by hand.

The table (tests/yarn) rests on one maker's invented lengths of single stitches.
"""

import json
from math import ceil
from pathlib import Path
from typing import Any

import msgspec
import pytest

from roundhand.workshop import Reading, breakdown, encode, open_pattern, reckon, sureness, understand, yarn
from roundhand.yarn import to_buy
from tests.workshop.test_measure_faults import opened

ROOT = Path(__file__).resolve().parents[2]
KITTIWAKE = (ROOT / "patterns/kittiwake-cap.txt").read_text(encoding="utf-8")
BY_HAND = {
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


def loaded(answer: msgspec.Struct) -> Any:
    return json.loads(encode(answer))


@pytest.fixture
def measured(tmp_path: Path) -> Reading:
    """The cap with the maker's lengths beside it."""
    return opened(KITTIWAKE, tmp_path)


def test_every_number_of_the_table_from_a_file_beside_the_pattern(measured: Reading) -> None:
    answer = loaded(yarn(measured))
    assert list(answer) == ["schema", "yarns"]
    assert answer["schema"] == "roundhand.yarn/1"
    assert [one["label"] for one in answer["yarns"]] == ["A", "B"]
    for one in answer["yarns"]:
        wanted = BY_HAND[one["label"]]
        assert [size["size"] for size in one["sizes"]] == ["Baby", "Toddler", "Child", "Adult S", "Adult L"]
        assert [list(size) for size in one["sizes"]] == [["size", "length_m", "low_m", "high_m", "mass_g", "balls"]] * 5
        assert [round(size["length_m"] / 0.0254, 1) for size in one["sizes"]] == wanted["in"]
        assert [round(size["length_m"] / 0.9144, 2) for size in one["sizes"]] == wanted["yd"]
        assert [round(size["length_m"], 2) for size in one["sizes"]] == wanted["m"]
        assert [round(size["mass_g"], 2) for size in one["sizes"]] == wanted["g"]
        assert [to_buy(size["length_m"]) for size in one["sizes"]] == wanted["buy"]


@pytest.mark.parametrize("size", range(5))
def test_one_size_alone_is_the_column_of_that_size(size: int, measured: Reading) -> None:
    whole, alone = loaded(yarn(measured)), loaded(yarn(measured, size))
    assert [one["sizes"] for one in alone["yarns"]] == [[one["sizes"][size]] for one in whole["yarns"]]


@pytest.mark.parametrize("name", ["kittiwake", "saltmarsh"])
def test_a_breakdown_adds_up_to_what_it_breaks_down(name: str) -> None:
    found = reckon(open_pattern(ROOT / "patterns" / f"{name}-cap.txt"))
    for need in found.needs:
        assert sum(entry.mm for entry in breakdown(found, need)) / 1000 == pytest.approx(need.length_m)
        assert need.low_m < need.length_m < need.high_m
        # A ball of each cap's yarn is 100 g.
        assert need.mass_g is not None and need.balls == ceil(need.mass_g * 1.1 / 100)


def test_what_an_estimate_rests_on(measured: Reading) -> None:
    plain = sureness(reckon(understand(KITTIWAKE)))
    assert (plain.rests_on, plain.percent, plain.with_one) == ("formulas", 20, 6)
    weighed = sureness(reckon(open_pattern(ROOT / "patterns/saltmarsh-cap.txt")))
    assert (weighed.rests_on, weighed.swatches, weighed.percent) == ("swatches", 1, 6)
    assert sureness(reckon(measured)).rests_on == "lengths"


def test_one_weighed_swatch_brings_the_range_to_what_was_said() -> None:
    swatch = "Swatch: A, sc, 15 sts x 20 rows, 4 x 4 in, 9 g\n"
    before, after = understand(KITTIWAKE), understand(KITTIWAKE.replace("Hook: 5 mm\n", f"Hook: 5 mm\n{swatch}"))
    said = sureness(reckon(before)).with_one
    assert sureness(reckon(after)).percent == said
    need = reckon(after).of("A", "Adult S")
    assert need is not None
    assert (need.high_m / need.length_m - 1) * 100 == pytest.approx(said, abs=1)


def test_a_yarn_without_a_length_for_a_mass_has_no_grams_and_no_balls() -> None:
    reading = understand(
        "Cap\n\nMATERIALS\nYarn A: worsted, grey\n\nCAP\nWith A, ch 9.\nRow 1: Sc in 2nd ch and in each ch."
    )
    [one] = loaded(yarn(reading))["yarns"]
    assert one["label"] == "A"
    assert one["sizes"][0]["length_m"] > 0
    assert (one["sizes"][0]["mass_g"], one["sizes"][0]["balls"]) == (None, None)


def test_a_colour_without_a_name_has_an_empty_label() -> None:
    [one] = loaded(yarn(understand("Cap\n\nRnd 1: 6 sc in a magic ring. (6)")))["yarns"]
    assert one["label"] == ""


def test_a_page_without_rows_takes_no_yarn() -> None:
    assert loaded(yarn(understand("Dear diary")))["yarns"] == []
