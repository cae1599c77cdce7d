"""The survey of the trade's notation, line by line: what of it can be read, as written and with other numbers."""

from __future__ import annotations

import csv

import pytest

from tests.notation.survey_cases import SURVEY, group_of, judge, line_of, pages, survey, variants
from tests.notation.survey_table import GROUPS, known_lost
from tests.notation.test_forms import Case

CASES = survey()
# So many lines are held, in so many wordings; raised whenever more are, and never lowered.
HELD = 205
WORDINGS = 1000
# The lines that the survey marks as open to more than one reading.
OPEN = frozenset((14, 18, 21, 35, 37, 39, 41, 45, 58, 87, 96, 109, 120, 136, 143, 158, 167, 170))
ALL = [(case, variant) for case in CASES for variant in variants(case)]


@pytest.mark.parametrize(("case", "variant"), ALL, ids=[f"{case.name} [{variant}]" for case, variant in ALL])
def test_line(case: Case, variant: int) -> None:
    """Each wording of a line of the survey comes to what its case says."""
    assert case.wordings or case.patterns, f"{case.name} has no wording"
    assert case.results, f"{case.name} has no result"
    made, values, stitch = pages(case, variant)
    for _, page in made:
        wrong = judge(case, page, values, stitch)
        assert not wrong, f"{page}\n{wrong}"


def test_the_lines_are_those_of_the_survey() -> None:
    """Every case bears the number of a line, and lines stand in their order."""
    lines = [line_of(case) for case in CASES]
    assert lines == sorted(lines)
    assert set(lines) <= set(range(1, 211))
    for case in CASES:
        first, last = GROUPS[group_of(case)]
        assert first <= line_of(case) <= last, f"{case.name} stands in another group"


def test_what_is_not_held_is_told() -> None:
    """Every line of the survey has a case or stands among those that are not held, with a reason, and their number does
    not grow: a line once held is never given up."""
    lost = known_lost()
    assert all(one.what and one.reason for one in lost)
    missing = set(range(1, 211)) - {line_of(case) for case in CASES}
    assert missing <= {one.line for one in lost}, "lines without a case and without a reason"
    held = 210 - len({one.line for one in lost} | missing)
    assert held >= HELD
    assert sum(len(case.wordings) or len(case.patterns) for case in CASES) >= WORDINGS


def test_every_reading_of_an_open_line_has_a_case() -> None:
    """A line with several readings has a case for each, or one that names all of them."""
    with (SURVEY / "readings.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    cases = {(line_of(case), case.name.partition(": ")[2].partition(" ")[2]) for case in CASES}
    for row in rows:
        assert (int(row["line"]), row["case"]) in cases, f"{row['line']}: there is no case for {row['reading']!r}"
    told = {int(row["line"]) for row in rows} | {
        line_of(case) for case in CASES if any(key == "readings" for key, _ in case.results)
    }
    assert OPEN - {one.line for one in known_lost()} <= told
