"""Remarks on what a page says beside its rows, case by case (`pages/*.md`): each is found under its words and by its
own check alone, with numbers and words exchanged, and the page as it should be is clean.

A case is a page with what is said of it, `severity | headline | words`, or `nothing` for a page that only looks wrong.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from roundhand.checks import pages
from tests.checks.test_handbook import remarks
from tests.notation.place_words import Values, filled, trials

_FILES = sorted((Path(__file__).parent / "pages").glob("*.md"))
_CASE = re.compile(
    r"^## (?P<title>[^\n]+)\n(?:with: (?P<numbers>[^\n]+)\n)?```page\n(?P<page>.*?)```\n(?P<said>[^\n]+)\n"
    r"(?:```clean\n(?P<clean>.*?)```)?",
    re.DOTALL | re.MULTILINE,
)
CASES = [
    (path.stem, found["title"], found["page"], found["said"], found["clean"], values)
    for path in _FILES
    for found in _CASE.finditer(path.read_text(encoding="utf-8"))
    for values in (trials(found["numbers"]) if found["numbers"] else [{}])
]


def _asked(name: str) -> tuple[str, ...]:
    return (name,) if pages()[name].when_asked else ()


@pytest.mark.parametrize("path", _FILES, ids=lambda path: path.stem)
def test_every_file_is_read_whole_and_named_after_a_check(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert path.stem in pages()
    assert len(_CASE.findall(text)) == text.count("\n## ")


@pytest.mark.parametrize(
    ("name", "title", "page", "said", "clean", "values"),
    CASES,
    ids=[f"{case[0]} {case[1]} {case[5]}" for case in CASES],
)
def test_what_is_said_of_a_page(name: str, title: str, page: str, said: str, clean: str | None, values: Values) -> None:
    text = filled(page, values)
    found = remarks(text, *_asked(name))
    if said == "nothing":
        assert [(one.name, one.headline) for one in found] == []
    else:
        severity, headline, words = (part.strip() for part in filled(said, values).split(" | "))
        told = [(one.name, one.severity, one.headline, one.span.of(text)) for one in found]
        assert told == [(name, severity, headline, words)]
    if clean is not None:
        assert [(one.name, one.headline) for one in remarks(filled(clean, values), *_asked(name))] == []
