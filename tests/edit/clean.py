"""The texts that are right: what the technical edit must be silent on, and what faults are planted in.

They are the shipped patterns, the mended halves of `tests/faults/`, the replays of published patterns, the cases of
practice whose verdict is right, pages made from rules with drawn numbers (`made.py`), and copies of all these that were
altered consistently (`altered.py`).
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache, cached_property, partial
from pathlib import Path

from roundhand.workshop import Reading, understand
from tests.edit.altered import WAYS
from tests.edit.fabric import fabric
from tests.edit.made import made
from tests.notation.survey_cases import pages, variants
from tests.notation.test_forms import tables

TESTS = Path(__file__).resolve().parents[1]
_BLOCK = re.compile(r"^```(\w+)\n(.*?)^```", re.DOTALL | re.MULTILINE)
# Ordinary runs and long ones alike take so many pages of each rule.
_MADE = 3


class Clean:
    """A right text: the group that it belongs to, its name, and its words; empty where a text has no such copy.

    Copies are made when they are asked for, and each text is understood once.
    """

    def __init__(self, group: str, name: str, make: Callable[[], str]) -> None:
        self.group = group
        self.name = name
        self._make = make

    @cached_property
    def text(self) -> str:
        """The words."""
        return self._make()

    @cached_property
    def reading(self) -> Reading:
        """The text understood."""
        return understand(self.text)

    @cached_property
    def fabric(self) -> object:
        """What it makes and says."""
        return fabric(self.reading)


def standing(group: str, name: str, text: str) -> Clean:
    """A text that is there already."""
    return Clean(group, name, lambda: text)


@cache
def originals() -> tuple[Clean, ...]:
    """The texts that stand somewhere in this repository, each as it stands."""
    return (*_shipped(), *_mended(), *_replays(), *_cases())


@cache
def cleans() -> tuple[Clean, ...]:
    """All right texts, and the places of copies that may turn out empty."""
    first = (*originals(), *(Clean("made", name, make) for name, make in made(_MADE)))
    copies = [
        Clean("altered", f"{one.name}, {way}", partial(_altered, one, way))
        for one in first
        if one.group != "cases"
        for way in WAYS
    ]
    return (*first, *copies)


def _altered(one: Clean, way: str) -> str:
    return WAYS[way](one.reading)


def _shipped() -> tuple[Clean, ...]:
    folder = TESTS.parent / "patterns"
    return tuple(standing("shipped", file.stem, _text(file)) for file in sorted(folder.glob("*.txt")))


def _mended() -> tuple[Clean, ...]:
    files = [file for file in sorted((TESTS / "faults").glob("*.md")) if file.name != "README.md"]
    return tuple(standing("faults", file.stem, dict(_BLOCK.findall(_text(file)))["clean"]) for file in files)


def _replays() -> tuple[Clean, ...]:
    folder = TESTS / "sources" / "replays"
    return tuple(standing("replays", file.stem, _text(file)) for file in sorted(folder.glob("*.txt")))


def _cases() -> tuple[Clean, ...]:
    """The right cases, as they stand and with other numbers and another stitch."""
    found = []
    for case in tables(TESTS / "cases"):
        results = dict(case.results)
        if results.get("verdict") != "right" or results.get("findings"):
            continue
        for variant in variants(case):
            for at, (_, page) in enumerate(pages(case, variant)[0]):
                found.append(standing("cases", f"{case.name} [{variant}.{at}]", page + "\n"))
    return tuple(found)


def _text(file: Path) -> str:
    return file.read_text(encoding="utf-8")
