"""The JSON answers: their shape to the letter, their places, and the two shipped caps in full."""

import json
from pathlib import Path
from typing import Any

import msgspec
import pytest

from roundhand.findings import Edit, Finding, Mark, Span
from roundhand.workshop import check, concerning, counts, encode, open_pattern, understand

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
GOLDEN = sorted(HERE.glob("golden/*.txt"))


def loaded(answer: msgspec.Struct) -> Any:
    return json.loads(encode(answer))


@pytest.mark.parametrize("path", GOLDEN, ids=lambda path: path.stem)
@pytest.mark.parametrize("verb", ["counts", "check"])
def test_answers_are_as_they_were(path: Path, verb: str) -> None:
    reading = open_pattern(path)
    answer = loaded(counts(reading) if verb == "counts" else check(reading))
    wanted = json.loads(path.with_suffix(f".{verb}.json").read_text(encoding="utf-8"))
    # The dumps compare the order of the keys too.
    assert json.dumps(answer, indent=1, ensure_ascii=False) == json.dumps(wanted, indent=1, ensure_ascii=False)


@pytest.mark.parametrize("name", ["saltmarsh-cap", "kittiwake-cap"])
def test_both_caps_come_to_what_was_worked_by_hand(name: str) -> None:
    answer = loaded(counts(open_pattern(ROOT / "patterns" / f"{name}.txt")))
    wanted = json.loads((ROOT / "tests" / "patterns_expected" / f"{name}.json").read_text(encoding="utf-8"))
    assert answer["sizes"] == wanted["sizes"]
    for piece in answer["pieces"]:
        for row in piece["rows"]:
            assert row.pop("line") > 0
    assert answer["pieces"] == wanted["pieces"]


@pytest.mark.parametrize("name", ["saltmarsh-cap", "kittiwake-cap"])
def test_one_size_alone_is_the_column_of_that_size(name: str) -> None:
    reading = open_pattern(ROOT / "patterns" / f"{name}.txt")
    whole = loaded(counts(reading))
    for size, asked in enumerate(reading.sizes):
        alone = loaded(counts(reading, size))
        assert alone["sizes"] == [asked]
        for piece, own in zip(whole["pieces"], alone["pieces"], strict=True):
            rows = [row for row in piece["rows"] if row["labels"][size] is not None]
            assert [row["label"] for row in own["rows"]] == [row["labels"][size] for row in rows]
            assert [row["worked"] for row in own["rows"]] == [[row["worked"][size]] for row in rows]
            assert [row["stated"] for row in own["rows"]] == [[row["stated"][size]] for row in rows]


def test_the_line_of_a_row_is_the_line_of_its_label() -> None:
    path = ROOT / "patterns" / "saltmarsh-cap.txt"
    lines = path.read_text(encoding="utf-8").splitlines()
    for piece in loaded(counts(open_pattern(path)))["pieces"]:
        for row in piece["rows"]:
            assert "Rnd" in lines[row["line"] - 1]


def test_a_path_is_told_only_where_it_is_given() -> None:
    reading = understand("Cap\nRnd 1: 6 sc in a magic ring. (6)")
    assert "path" not in loaded(counts(reading))
    assert loaded(counts(reading, None, "caps/one.txt"))["path"] == "caps/one.txt"
    assert list(loaded(check(reading, None, "caps/one.txt"))) == ["schema", "path", "findings", "summary"]


def planted() -> Any:
    """A reading with queries of every kind, whatever the checks of the day find."""
    reading = understand("Cap\r\nSizes: S (M)\r\nRnd 1: 6 sc in ring. (7)\r\nRnd 2: 2 sc in each st around. (14)")
    text = reading.source.text
    seven, fourteen = text.index("7"), text.index("14")
    cause = Finding(
        "count-differs",
        "error",
        "7 written, 6 worked",
        Span(seven, seven + 1),
        ("S",),
        row="Rnd 1",
        help="write 6",
        facts={"stated": 7, "worked": (6, None)},
        edits=(Edit(Span(seven, seven + 1), "6", "ask"),),
        see=(Mark(Span(text.index("6 sc"), text.index("6 sc") + 4), "6"),),
    )
    follower = Finding(
        "count-differs", "error", "14 written", Span(fourteen, fourteen + 2), follows="count-differs 3:23"
    )
    style = Finding("caution", "advice", "say where", Span(0, 3), ("M",))
    return msgspec.structs.replace(reading, findings=(style, cause, follower))


def test_a_query_is_told_in_full() -> None:
    answer = loaded(check(planted()))
    assert answer["findings"][1] == {
        "name": "count-differs",
        "severity": "error",
        "headline": "7 written, 6 worked",
        "line": 3,
        "column": 23,
        "end_line": 3,
        "end_column": 24,
        "sizes": ["S"],
        "facts": {"stated": 7, "worked": [6, None]},
        "help": "write 6",
        "edits": [{"start": 41, "end": 42, "text": "6", "certainty": "ask"}],
        "see": [{"start": 26, "end": 30, "label": "6"}],
        "follows": None,
    }
    assert answer["findings"][2]["follows"] == "count-differs 3:23"


def test_the_summary_counts_causes_alone() -> None:
    assert loaded(check(planted()))["summary"] == {"errors": 1, "warnings": 0, "advice": 1}


def test_one_size_gets_what_concerns_it() -> None:
    reading = planted()
    assert [finding.headline for finding in concerning(reading, 0)] == ["7 written, 6 worked", "14 written"]
    assert [finding.headline for finding in concerning(reading, 1)] == ["say where", "14 written"]
    assert loaded(check(reading, 1))["summary"] == {"errors": 0, "warnings": 0, "advice": 1}


def test_places_are_code_points_of_the_text_without_its_mark(tmp_path: Path) -> None:
    path = tmp_path / "cap.txt"
    path.write_bytes("\ufeffMöwe 🧶\r\nRnd 1: 6 sc in a magic ring. (7)\r\n".encode())
    [query] = [one for one in loaded(check(open_pattern(path)))["findings"] if one["name"] == "count-differs"]
    assert (query["line"], query["column"], query["end_column"]) == (2, 31, 32)


def test_text_that_json_must_escape_comes_back_as_it_was() -> None:
    reading = understand('Cap "A" \x1b[31m\u2028\nSizes: S\\M (L"X)\nRnd 1: 6 sc in a magic ring. (6)')
    assert loaded(counts(reading))["sizes"] == list(reading.sizes)
