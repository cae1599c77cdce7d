"""Measurements as an answer: the shape of the data to the letter, and both caps in five sizes against hand values.

The hand values are those of tests/shape: derived by hand from the patterns' own counts and gauges. Four inches are
10.16 cm.
"""

import json
from pathlib import Path
from typing import Any

import msgspec
import pytest

from roundhand.workshop import Reading, encode, measure, measures, open_pattern, understand

ROOT = Path(__file__).resolve().parents[2]
SIZES = 5


def loaded(answer: msgspec.Struct) -> Any:
    return json.loads(encode(answer))


def cap(name: str) -> Reading:
    return open_pattern(ROOT / "patterns" / f"{name}-cap.txt")


def inches(answer: Any, piece: str, what: str, key: str = "cm") -> list[float]:
    """A measurement of the answer in inches, to the second decimal."""
    [found] = [
        one for part in answer["pieces"] if part["name"] == piece for one in part["measures"] if one["what"] == what
    ]
    return [round(value / 2.54, 2) for value in found[key]]


BY_HAND = [
    ("kittiwake", "Band", "length round", [12.63, 13.89, 15.16, 16.42, 17.68]),
    ("kittiwake", "Band", "depth", [1.5, 1.75, 2.0, 2.25, 2.5]),
    ("kittiwake", "Band", "fits a head from", [15.16, 16.67, 18.19, 19.71, 21.22]),
    ("kittiwake", "Band", "fits a head up to", [16.42, 18.06, 19.71, 21.35, 22.99]),
    ("kittiwake", "Body", "round", [14.4, 16.0, 17.6, 19.2, 20.8]),
    ("kittiwake", "Body", "width laid flat", [7.2, 8.0, 8.8, 9.6, 10.4]),
    ("kittiwake", "KITTIWAKE CAP", "round", [14.4, 16.0, 17.6, 19.2, 20.8]),
    ("kittiwake", "KITTIWAKE CAP", "length", [6.8, 7.05, 8.5, 8.75, 9.0]),
    ("kittiwake", "KITTIWAKE CAP", "ease", [-1.6, -1.5, -1.4, -1.3, -1.2]),
    ("saltmarsh", "Saltmarsh Cap", "round", [16.0, 18.29, 19.43, 20.57, 22.86]),
    ("saltmarsh", "Saltmarsh Cap", "length", [7.47, 8.27, 9.0, 9.8, 10.2]),
]


@pytest.mark.parametrize(("name", "piece", "what", "wanted"), BY_HAND)
def test_a_measurement_of_a_cap_in_five_sizes(name: str, piece: str, what: str, wanted: list[float]) -> None:
    assert inches(loaded(measure(cap(name))), piece, what) == wanted


def test_the_band_stretched_as_its_gauge_says() -> None:
    answer = loaded(measure(cap("kittiwake")))
    assert inches(answer, "Band", "length round", "stretched_cm") == [15.79, 17.37, 18.95, 20.53, 22.11]


def test_the_last_piece_is_the_whole_and_every_list_has_a_value_for_each_size() -> None:
    for name in ("kittiwake", "saltmarsh"):
        reading = cap(name)
        answer = loaded(measure(reading))
        assert list(answer) == ["schema", "pieces"]
        assert answer["schema"] == "roundhand.measure/1"
        assert answer["pieces"][-1]["name"] == reading.pattern.title
        assert [piece["name"] for piece in answer["pieces"][:-1]] == [piece.name for piece in reading.tally.pieces]
        for piece in answer["pieces"]:
            assert list(piece) == ["name", "measures", "rows"]
            for one in piece["measures"]:
                assert list(one) == ["what", "cm", "stretched_cm"]
                assert len(one["cm"]) == len(one["stretched_cm"]) == SIZES


def test_rows_have_the_height_of_their_stitch_and_none_where_a_size_has_no_such_row() -> None:
    crown = loaded(measure(cap("saltmarsh")))["pieces"][0]
    heights = {tuple(row["labels"]): row["cm"] for row in crown["rows"]}
    # A round of half double crochet is a tenth of 4 in, one of single crochet a fifteenth, one of the band a twelfth.
    assert heights[(None, "Rnd 8", "Rnd 8", "Rnd 8", "Rnd 8")] == [None, 1.016, 1.016, 1.016, 1.016]
    assert heights[("Rnd 16", "Rnd 18", "Rnd 19", "Rnd 21", "Rnd 22")] == [0.6773] * SIZES
    assert heights[("Rnd 19", "Rnd 21", "Rnd 22", "Rnd 24", "Rnd 25")] == [0.8467] * SIZES


@pytest.mark.parametrize("size", range(SIZES))
def test_one_size_alone_is_the_column_of_that_size(size: int) -> None:
    whole, alone = loaded(measure(cap("kittiwake"))), loaded(measure(cap("kittiwake"), size))
    for piece, own in zip(whole["pieces"], alone["pieces"], strict=True):
        assert [one["cm"] for one in own["measures"]] == [[one["cm"][size]] for one in piece["measures"]]
        rows = [row for row in piece["rows"] if row["labels"][size] is not None]
        assert [row["label"] for row in own["rows"]] == [row["labels"][size] for row in rows]


def test_without_a_gauge_there_are_no_measurements_and_nothing_else_is_missing() -> None:
    reading = understand("Cap\n\nCAP\nRnd 1: 6 sc in a magic ring. (6)\nRnd 2: inc around. (12)")
    answer = loaded(measure(reading))
    assert [piece["measures"] for piece in answer["pieces"]] == [[], []]
    assert [row["cm"] for row in answer["pieces"][0]["rows"]] == [[None], [None]]
    assert measures(reading).lacks == ("Cap",)


@pytest.mark.parametrize(
    "gauge", ["0 sts and 10 rnds = 4 in", "14 sts and 0 rnds = 4 in", "14 sts and 10 rnds = 0 in", "14 sts = 4", "-"]
)
def test_a_gauge_that_is_none_breaks_nothing(gauge: str) -> None:
    reading = understand(f"Cap\nGauge: {gauge}\nFinished circumference: 6 in\n\nCAP\nRnd 1: 6 sc in a magic ring. (6)")
    assert loaded(measure(reading))["pieces"]
    assert {"gauge-missing", "unit-missing"} & {finding.name for finding in reading.findings}


def test_a_loop_that_is_drawn_up_gathers_no_hat() -> None:
    assert cap("saltmarsh").source.text.count("draw up a loop")
    assert measures(cap("saltmarsh")).pieces[0].of("gathered opening") is None
    assert measures(cap("kittiwake")).pieces[1].of("gathered opening") is not None


def test_a_path_is_told_only_where_it_is_given() -> None:
    reading = cap("kittiwake")
    assert "path" not in loaded(measure(reading))
    assert loaded(measure(reading, None, "caps/one.txt"))["path"] == "caps/one.txt"
