"""Slips of measures and yarn planted in a shipped cap, found through a file with stitch lengths beside it."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from roundhand.findings import Finding
from roundhand.workshop import Reading, open_pattern

_ROOT = Path(__file__).resolve().parents[2]
_DATA: dict[str, Any] = tomllib.loads((_ROOT / "tests/faults/kittiwake-measures.toml").read_text(encoding="utf-8"))
_TEXT = (_ROOT / "patterns" / _DATA["pattern"]).read_text(encoding="utf-8")


def opened(text: str, folder: Path, lengths: str = _DATA["lengths"]) -> Reading:
    """A pattern opened from a folder that holds a maker's stitch lengths."""
    (folder / "cap.txt").write_text(text, encoding="utf-8")
    if lengths:
        (folder / "stitch_lengths.csv").write_text(lengths.lstrip(), encoding="utf-8")
    return open_pattern(folder / "cap.txt")


def causes(reading: Reading) -> list[Finding]:
    """What is said of slips, without what follows from something else and what is true of the cap as it is."""
    kept = (one for one in reading.findings if not one.follows)
    return [finding for finding in kept if finding.name not in ("caution", "size-gap", "depth-not-growing")]


@pytest.mark.parametrize("fault", [*_DATA["fault"], *_DATA["with_lengths"]], ids=lambda fault: fault["name"])
def test_a_slip_is_found_under_its_words(fault: dict[str, Any], tmp_path: Path) -> None:
    text = _TEXT
    for edit in fault["edits"]:
        assert edit["old"] in text
        text = text.replace(edit["old"], edit["new"])
    (finding,) = causes(opened(text, tmp_path))
    assert (finding.name, finding.severity) == (fault["finding"], fault["severity"])
    assert list(finding.sizes) == fault["sizes"]
    assert finding.span.of(text) == fault["words"][0]
    line = text[text.rfind("\n", 0, finding.span.start) + 1 :]
    assert line.startswith(fault["line_starts"])


def test_the_facts_of_a_slip_are_told_in_numbers(tmp_path: Path) -> None:
    fault = _DATA["with_lengths"][0]["edits"][0]
    (finding,) = causes(opened(_TEXT.replace(fault["old"], fault["new"]), tmp_path))
    assert "53.21 yd needed" in finding.headline and "50 yd" in finding.headline


def test_the_cap_is_clean_with_and_without_the_lengths(tmp_path: Path) -> None:
    assert causes(opened(_TEXT, tmp_path, "")) == []
    assert causes(opened(_TEXT, tmp_path)) == []
