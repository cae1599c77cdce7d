"""Planted faults are found: errors and warnings stand on the row of the fault or the next.

Ordinary runs plant twenty of each kind that has a goal, the same ones every time; long runs two hundred. What was
missed last time stands in `docs/checks/recall.md`.
"""

from __future__ import annotations

import re
from functools import cache

import pytest

from tests.edit import table
from tests.edit.judging import GOALS, WITHOUT_GOAL, Judged, judge

FEW, MANY = 20, 200
KIND_GOAL, WHOLE_GOAL = 0.97, 0.99


@cache
def _judged(name: str, number: int) -> tuple[Judged, ...]:
    return tuple(judge(name, trial) for trial in range(number))


@pytest.mark.parametrize("name", GOALS)
def test_faults_of_each_kind_are_found(name: str, long_run: bool) -> None:
    """Of twenty one may be missed, which is as near to the goal as twenty can come."""
    number = MANY if long_run else FEW
    found = _judged(name, number)
    missed = [one for one in found if not one.hit]
    allowed = number * (1 - KIND_GOAL) if long_run else 1
    assert len(missed) <= allowed + 1e-9, table.missed({name: list(found)})


def test_nearly_all_faults_are_found(long_run: bool) -> None:
    """Over all kinds with a goal."""
    if not long_run:
        pytest.skip("the goal over all kinds is that of the full numbers")
    found = {name: list(_judged(name, MANY)) for name in GOALS}
    every = [one for all_ in found.values() for one in all_]
    assert sum(one.hit for one in every) >= WHOLE_GOAL * len(every), table.missed(found)


@pytest.mark.parametrize("name", [*GOALS, *WITHOUT_GOAL])
def test_a_trial_draws_the_same_plant_again(name: str) -> None:
    """A failing plant can be had back by its kind and number, and it is a fault: the fabric or a fact is another."""
    one, again = judge(name, 0), judge(name, 0)
    assert one.plant.reading.source.text == again.plant.reading.source.text
    assert one.plant.reading.source.text != one.plant.clean.text


def test_the_page_of_the_handbook_has_every_kind_and_lists_what_is_missed() -> None:
    """It is made by the command, from the full numbers."""
    page = table.PAGE.read_text(encoding="utf-8")
    rows = dict(re.findall(r"^\| ([^|]+) \| (\d+ \| \d+) \|", page, re.MULTILINE))
    listed = dict(re.findall(r"^### (.+)\n\n((?:- .*\n)+)", page + "\n", re.MULTILINE))
    assert table.HEADING in page
    for name in (*GOALS, *WITHOUT_GOAL):
        planted, found = map(int, rows[name].split(" | "))
        assert planted >= MANY
        missed = listed.get(name[:1].upper() + name[1:], "").count("\n")
        assert planted - found == missed, name
