"""Planted slips: each is found under its words, in its sizes, and nothing else is said that does not follow from it."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

from roundhand.findings import Finding
from tests.checks.test_handbook import remarks as all_remarks

_HERE = Path(__file__).parent
_FAULTS = _HERE.parent / "faults"
_PATTERNS = _HERE.parent.parent / "patterns"
_BLOCK = re.compile(r"^```(\w+)\n(.*?)^```", re.DOTALL | re.MULTILINE)


# What is true of a cap and no slip: care for small children, heads between two sizes, a depth that hardly grows.
_NO_SLIPS = ("caution", "size-gap", "depth-not-growing")


def remarks(text: str) -> list[Finding]:
    """What is said of slips; the reminder of care that a baby's size gets is no slip of anybody."""
    return [finding for finding in all_remarks(text) if finding.name not in _NO_SLIPS]


def _cases() -> list[Path]:
    return sorted(path for path in _FAULTS.glob("*.md") if path.name != "README.md")


def _planted() -> list[tuple[str, dict[str, Any]]]:
    found = []
    for path in sorted(_FAULTS.glob("*.toml")):
        data = tomllib.loads(path.read_text(encoding="utf-8"))
        found += [(data["pattern"], fault) for fault in data["fault"]]
    return found


@pytest.mark.parametrize("path", _cases(), ids=lambda path: path.stem)
def test_a_small_file_with_one_slip(path: Path) -> None:
    blocks = dict(_BLOCK.findall(path.read_text(encoding="utf-8")))
    text = blocks["pattern"]
    found = remarks(text)
    wanted = [[part.strip() for part in line.split("|")] for line in blocks["findings"].strip().splitlines()]
    assert [finding.name for finding in found] == [want[0] for want in wanted]
    for finding, (_, row, sizes, words, *_facts) in zip(found, wanted, strict=True):
        assert row in ("-", finding.row)
        assert sizes in ("all", ", ".join(finding.sizes), ",".join(finding.sizes))
        assert finding.span.of(text) == words
    assert [finding.name for finding in remarks(blocks["clean"])] == []


@pytest.mark.parametrize(
    ("pattern", "fault"), _planted(), ids=lambda value: value["name"] if isinstance(value, dict) else ""
)
def test_a_slip_planted_in_a_shipped_cap(pattern: str, fault: dict[str, Any]) -> None:
    text = (_PATTERNS / pattern).read_text(encoding="utf-8")
    for edit in fault["edits"]:
        assert edit["old"] in text
        text = text.replace(edit["old"], edit["new"])
    (finding,) = remarks(text)
    assert (finding.name, finding.severity, finding.row) == (
        fault["finding"],
        fault["severity"],
        fault["row"] if fault["row"] != "-" else "",
    )
    assert list(finding.sizes) == fault["sizes"]
    assert finding.span.of(text) == fault["words"][0]
    assert [mark.span.of(text) for mark in finding.see][: len(fault["words"]) - 1] == fault["words"][1:] or len(
        fault["words"]
    ) == 1
    line = Path(pattern).name and text[text.rfind("\n", 0, finding.span.start) + 1 :]
    assert line.startswith(fault["line_starts"])


def test_all_slips_of_the_demo_are_found_and_nothing_else() -> None:
    text = (_PATTERNS / "_faulty" / "saltmarsh-cap-with-slips.txt").read_text(encoding="utf-8")
    data = tomllib.loads((_FAULTS / "saltmarsh.toml").read_text(encoding="utf-8"))
    assert sorted(finding.name for finding in remarks(text)) == sorted(fault["finding"] for fault in data["fault"])


@pytest.mark.parametrize("name", ["kittiwake-cap.txt", "saltmarsh-cap.txt"])
def test_the_shipped_caps_are_clean(name: str) -> None:
    assert remarks((_PATTERNS / name).read_text(encoding="utf-8")) == []


def test_what_is_to_consider_in_the_shipped_caps_is_as_worked_by_hand() -> None:
    found = {
        path.stem: sorted(finding.name for finding in all_remarks(path.read_text(encoding="utf-8")))
        for path in sorted(_PATTERNS.glob("*.txt"))
    }
    assert found == {"kittiwake-cap": ["caution", "depth-not-growing", "size-gap"], "saltmarsh-cap": []}


def test_heads_that_fall_between_two_bands_are_named_as_worked_by_hand() -> None:
    """Heads of 16.42-16.67 in and of 18.06-18.19 in fit no size of the Kittiwake Cap."""
    text = (_PATTERNS / "kittiwake-cap.txt").read_text(encoding="utf-8")
    (gap,) = (finding for finding in all_remarks(text) if finding.name == "size-gap")
    assert gap.facts["gaps"] == ("16.42 in to 16.67 in", "18.06 in to 18.19 in")
    assert gap.severity == "advice"
