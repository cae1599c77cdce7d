"""Phrases with two readings: each is taken on its evidence, told, asked, or a wrong row, as `readings/*.md` say."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.notation.survey_cases import judge, pages, variants
from tests.notation.test_forms import Case, tables

CASES = tables(Path(__file__).parent / "readings")
ALL = [(case, variant) for case in CASES for variant in variants(case)]


@pytest.mark.parametrize(("case", "variant"), ALL, ids=[f"{case.name} [{variant}]" for case, variant in ALL])
def test_reading(case: Case, variant: int) -> None:
    """Each page is read as its numbers want it, as written and with other numbers and stitches in their place."""
    made, values, stitch = pages(case, variant)
    assert made, f"{case.name} has no page"
    for _, page in made:
        wrong = judge(case, page, values, stitch)
        assert not wrong, f"{page}\n{wrong}"
