"""Slips that a careful editor pencils in, in whole patterns that are right as they stand (`penciled.toml`)."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from tests.checks.test_handbook import remarks

_DATA = tomllib.loads(Path(__file__).with_name("penciled.toml").read_text(encoding="utf-8"))
_PATTERNS: list[dict[str, Any]] = _DATA["pattern"]
_SLIPS = [(one["text"], slip) for one in _PATTERNS for slip in one["slip"]]


def _title(text: str) -> str:
    return text.strip().splitlines()[0]


@pytest.mark.parametrize("pattern", _PATTERNS, ids=lambda one: _title(one["text"]))
def test_a_pattern_that_is_right_is_left_alone(pattern: dict[str, Any]) -> None:
    assert [(one.name, one.headline) for one in remarks(pattern["text"]) if one.severity != "advice"] == []


@pytest.mark.parametrize(
    ("text", "slip"), _SLIPS, ids=[f"{_title(text)}: {slip['finding']} {at}" for at, (text, slip) in enumerate(_SLIPS)]
)
def test_a_slip_is_pencilled_in(text: str, slip: dict[str, str]) -> None:
    assert slip["old"] in text
    before = {(one.name, one.headline) for one in remarks(text)}
    found = [one for one in remarks(text.replace(slip["old"], slip["new"])) if (one.name, one.headline) not in before]
    assert slip["finding"] in [one.name for one in found]
    assert len([one for one in found if one.severity != "advice"]) <= 2
