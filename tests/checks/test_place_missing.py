"""Every kind of place with its remark when it is not there, and without one when it is (`place_missing.md`).

The table of all places (`roundhand.notation.place_kinds`) is held against the cases here and the wordings of
`tests/notation/places.md`, so that a place that is added without them is named by a test.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from roundhand.notation.place_kinds import PLACES
from tests.checks.test_handbook import remarks
from tests.notation.place_words import WORDINGS, Values, filled, in_uk_terms, trials

_TEXT = Path(__file__).with_name("place_missing.md").read_text(encoding="utf-8")
_CASE = re.compile(
    r"^## (?P<title>[^\n]+)\nplace: (?P<place>[^\n]+)\nwith: (?P<numbers>[^\n]+)\n```pattern\n(?P<slip>.*?)```\n"
    r"(?P<said>[^\n]+)\n```clean\n(?P<clean>.*?)```",
    re.DOTALL | re.MULTILINE,
)
CASES = [found.groupdict() for found in _CASE.finditer(_TEXT)]
TRIALS = [(case, values, terms) for case in CASES for values in trials(case["numbers"]) for terms in ("US", "UK")]
_NAMES = [f"{case['title']} {values} {terms}" for case, values, terms in TRIALS]


def _said(text: str, terms: str) -> str:
    return in_uk_terms(text) if terms == "UK" else text


def _page(pattern: str, values: Values, terms: str) -> str:
    return f"A Try\nTerms: {terms}\n\n" + _said(filled(pattern, values), terms)


def test_the_file_is_read_whole() -> None:
    assert len(CASES) == _TEXT.count("\n## ")


@pytest.mark.parametrize("place", PLACES)
def test_every_kind_of_place_has_its_wordings_and_its_remark(place: str) -> None:
    said = [words for case in WORDINGS if case.place == place for words in case.wordings]
    assert len(said) >= 2, f"{place}: tests/notation/places.md has {len(said)} wordings of it"
    assert any(case["place"] == place for case in CASES), f"{place}: no case of place_missing.md is without it"


def test_no_case_speaks_of_a_place_that_is_not_in_the_table() -> None:
    assert {case["place"] for case in CASES} | {case.place for case in WORDINGS} <= set(PLACES)


@pytest.mark.parametrize(("case", "values", "terms"), TRIALS, ids=_NAMES)
def test_a_place_that_is_not_there(case: dict[str, str], values: Values, terms: str) -> None:
    text = _page(case["slip"], values, terms)
    how, headline, words = (part.strip() for part in _said(filled(case["said"], values), terms).split(" | "))
    name, _, severity = ("place-missing " + how).rpartition(" ")
    (finding,) = [one for one in remarks(text) if one.severity != "advice"]
    assert (finding.name, finding.severity, finding.headline) == (name.split()[-1], severity, headline)
    assert words in ("*", finding.span.of(text))
    assert finding.because
    assert finding.help
    assert finding.row
    if finding.name == "place-missing":
        assert finding.facts["place"] == case["place"]


@pytest.mark.parametrize(("case", "values", "terms"), TRIALS, ids=_NAMES)
def test_the_same_with_the_place_there(case: dict[str, str], values: Values, terms: str) -> None:
    found = remarks(_page(case["clean"], values, terms))
    assert [one.headline for one in found if one.severity != "advice"] == []
