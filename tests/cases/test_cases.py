"""What makers, designers and editors run into: each case of the index worked, with the verdict that was worked by hand.

`index.csv` lists every case that was collected, with the place where it is answered or the reason why it is not.
"""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from tests.notation.survey_cases import judge, pages, variants
from tests.notation.test_forms import Case, tables

FOLDER = Path(__file__).parent
CASES = tables(FOLDER)
ALL = [(case, variant) for case in CASES for variant in variants(case)]


def index() -> list[dict[str, str]]:
    """The rows of the index."""
    with (FOLDER / "index.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize(("case", "variant"), ALL, ids=[f"{case.name} [{variant}]" for case, variant in ALL])
def test_case(case: Case, variant: int) -> None:
    """Each case has the verdict of the index, as written and, where the arithmetic allows, with other numbers."""
    results = dict(case.results)
    assert results["verdict"] in ("right", "wrong", "doubtful", "ambiguous", "undecidable")
    made, values, stitch = pages(case, variant)
    assert made, f"{case.name} has no pattern"
    for _, page in made:
        wrong = judge(case, page, values, stitch)
        assert not wrong, f"{page}\n{wrong}"


def test_every_case_of_the_index_is_answered_or_says_why_not() -> None:
    """A case stands in a file of its number, or is owed by a part of the work, or has its reason."""
    files = {int(file.name[:3]) for file in FOLDER.glob("[0-9]*.md")}
    rows = index()
    numbers = [int(row["number"]) for row in rows]
    assert numbers == sorted(set(numbers))
    assert files <= set(numbers)
    for row in rows:
        assert row["title"] and row["kind"], row["number"]
        assert row["answered"] or row["why not"], f"case {row['number']} is neither answered nor explained"
        assert (row["answered"] == "here") == (int(row["number"]) in files), row["number"]
