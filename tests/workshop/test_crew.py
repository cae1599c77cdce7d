"""Files looked at by several processes: in order, whatever one of them does."""

import os
from pathlib import Path

import pytest

from roundhand.workshop.crew import Done, Failed, look_at_all

PATHS = [Path(f"{number:02}") for number in range(5)]


def _named(path: Path) -> str:
    return f"seen {path.name}"


def _failing(path: Path) -> str:
    if path.name in ("01", "04"):
        raise ValueError(f"no {path.name}")
    return _named(path)


def _dying(path: Path) -> str:
    if path.name == "02":
        os._exit(9)
    return _named(path)


def _told(answers: list[Done[str]]) -> list[str]:
    return [done.answer.kind if isinstance(done.answer, Failed) else done.answer for done in answers]


@pytest.mark.parametrize("hands", [1, 2])
def test_the_answers_come_in_the_order_of_the_files_and_a_slip_stops_none(hands: int) -> None:
    found = list(look_at_all(_failing, PATHS, hands))
    assert [done.path for done in found] == PATHS
    assert _told(found) == ["ValueError" if path.name in ("01", "04") else _named(path) for path in PATHS]
    assert all("no 0" in done.answer.where for done in found if isinstance(done.answer, Failed))


def test_a_process_that_dies_over_a_file_takes_no_other_with_it() -> None:
    found = list(look_at_all(_dying, PATHS, 2))
    assert [done.path for done in found] == PATHS
    assert _told(found) == ["BrokenProcessPool" if path.name == "02" else _named(path) for path in PATHS]


def test_no_files_make_no_answers() -> None:
    assert list(look_at_all(_named, [])) == []
