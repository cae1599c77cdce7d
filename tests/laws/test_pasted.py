"""A pattern pasted from elsewhere comes to the same rows, counts and remarks as the one that was typed.

The texts are the shipped patterns and the published ones worked anew in `tests/sources/replays`; each goes through
every way of `pastes.py` that changes it.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from roundhand.notation import read
from roundhand.notation.pasted import typed
from roundhand.workshop import understand as edit
from tests.laws.pastes import PASTES, eaten_stars, nothing_that_a_reader_sees

TESTS = Path(__file__).resolve().parents[1]
SHIPPED = sorted((TESTS.parent / "patterns").glob("*.txt"))
REPLAYS = sorted((TESTS / "sources" / "replays").glob("*.txt"))
# An ordinary run takes every so manieth of the published patterns, each way another share of them.
SHARE = 9

WAYS = (*PASTES, ("all at once", nothing_that_a_reader_sees))
Answer = tuple[list[tuple[object, ...]], set[tuple[str, str]]]


@cache
def plain(file: Path) -> str:
    return file.read_text(encoding="utf-8")


def answer(text: str) -> Answer:
    """Rows with their labels and counts in every size, and the errors and warnings, without their places."""
    reading = edit(text)
    rows = [(row.labels, row.worked, row.stated, [one.reading for one in row.chosen]) for row in reading.tally.rows()]
    said = {(one.name, one.headline) for one in reading.findings if one.severity in ("error", "warning")}
    return list(rows), said


@cache
def typed_answer(file: Path) -> Answer:
    return answer(plain(file))


@pytest.mark.parametrize("number", range(len(WAYS)), ids=[name for name, _ in WAYS])
def test_a_paste_comes_to_what_was_typed(number: int, long_run: bool) -> None:
    change = WAYS[number][1]
    tried = 0
    for at, file in enumerate([*SHIPPED, *REPLAYS]):
        if not (long_run or file in SHIPPED or at % SHARE == number % SHARE):
            continue
        pasted = change(plain(file))
        if pasted == plain(file):
            continue
        rows, said = answer(pasted)
        before, said_before = typed_answer(file)
        assert rows == before, f"{file.stem}: other rows"
        assert said <= said_before, f"{file.stem}: other remarks"
        tried += 1
    assert tried or not long_run, "no text was changed by it"


@pytest.mark.parametrize("number", range(len(WAYS)), ids=[name for name, _ in WAYS])
def test_places_are_those_of_the_page(number: int) -> None:
    """What is read is as long as the page, and every row begins where the page has it."""
    pasted = WAYS[number][1](plain(SHIPPED[-1]))
    assert len(typed(pasted)) == len(pasted)
    pattern, _ = read(pasted)
    for part in pattern.parts:
        for line in part.lines:
            assert 0 <= line.span.start < line.span.end <= len(pasted)
            first = pasted[line.span.start : line.span.end].strip()
            assert first[:1].isalnum(), f"{first[:20]!r} is not where a row begins"


@pytest.mark.parametrize("file", SHIPPED, ids=lambda file: file.stem)
def test_lost_stars_are_found_by_the_counts(file: Path) -> None:
    """The stars of a pattern that counts its rows may be lost: what they marked follows from the counts."""
    rows, said = answer(eaten_stars(plain(file)))
    before, said_before = typed_answer(file)
    assert [row[:3] for row in rows] == [row[:3] for row in before]
    assert said <= said_before
