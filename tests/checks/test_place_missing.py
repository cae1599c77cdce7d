"""Every kind of place with its remark when it is not there, and without one when it is (`place_missing.md`)."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.checks.test_handbook import remarks

_TEXT = Path(__file__).with_name("place_missing.md").read_text(encoding="utf-8")
_CASE = re.compile(
    r"^## (?P<title>[^\n]+)\nwith: (?P<numbers>[^\n]+)\n```pattern\n(?P<slip>.*?)```\n(?P<said>[^\n]+)\n"
    r"```clean\n(?P<clean>.*?)```",
    re.DOTALL | re.MULTILINE,
)
CASES = [found.groupdict() for found in _CASE.finditer(_TEXT)]


def _values(numbers: str) -> list[dict[str, int]]:
    """The values of every trial by name."""
    named = [part.split() for part in numbers.split(";")]
    trials = max(len(values) for _, *values in named)
    return [{name: int(values[trial]) for name, *values in named} for trial in range(trials)]


def _filled(text: str, values: dict[str, int]) -> str:
    return re.sub(r"\{([^}]+)\}", lambda found: str(eval(found[1], {"__builtins__": {}}, dict(values))), text)


TRIALS = [(case, values) for case in CASES for values in _values(case["numbers"])]


def test_the_file_is_read_whole() -> None:
    assert len(CASES) == _TEXT.count("\n## ")


@pytest.mark.parametrize(("case", "values"), TRIALS, ids=[f"{case['title']} {values}" for case, values in TRIALS])
def test_a_place_that_is_not_there(case: dict[str, str], values: dict[str, int]) -> None:
    text = "A Try\n\n" + _filled(case["slip"], values)
    severity, headline, words = (part.strip() for part in _filled(case["said"], values).split(" | "))
    (finding,) = [one for one in remarks(text) if one.severity != "advice"]
    assert (finding.name, finding.severity, finding.headline) == ("place-missing", severity, headline)
    assert finding.span.of(text) == words
    assert finding.because
    assert finding.help
    assert finding.row


@pytest.mark.parametrize(("case", "values"), TRIALS, ids=[f"{case['title']} {values}" for case, values in TRIALS])
def test_the_same_with_the_place_there(case: dict[str, str], values: dict[str, int]) -> None:
    assert [one.name for one in remarks("A Try\n\n" + _filled(case["clean"], values)) if one.severity != "advice"] == []
