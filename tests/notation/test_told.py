"""Rows that are told and not written, row by row: `told/*.md`."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.notation.survey_cases import judge, pages, survey, variants
from tests.notation.test_forms import Case

CASES = survey(Path(__file__).parent / "told")
ALL = [(case, variant) for case in CASES for variant in variants(case)]


@pytest.mark.parametrize(("case", "variant"), ALL, ids=[f"{case.name} [{variant}]" for case, variant in ALL])
def test_told(case: Case, variant: int) -> None:
    """Each wording comes to the rows that its case gives, with its own numbers and with others."""
    assert case.wordings or case.patterns, f"{case.name} has no wording"
    assert case.results, f"{case.name} has no result"
    made, values, stitch = pages(case, variant)
    for _, page in made:
        wrong = judge(case, page, values, stitch)
        assert not wrong, f"{page}\n{wrong}"
