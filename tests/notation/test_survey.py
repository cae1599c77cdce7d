"""The survey of the trade's notation, line by line: what of it can be read, as written and with other numbers."""

from __future__ import annotations

import pytest

from tests.notation.survey_cases import judge, line_of, pages, survey, variants
from tests.notation.test_forms import Case

CASES = survey()
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
