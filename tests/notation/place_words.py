"""The wordings of every kind of place (`places.md`), and how their numbers, stitches and terms are exchanged."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

Values = dict[str, int | str]

_CASE = re.compile(
    r"^## (?P<place>[^\n]+)\nwith: (?P<numbers>[^\n]+)\n```page\n(?P<page>.*?)```\n(?P<wordings>(?:- [^\n]+\n)+)"
    r"made: (?P<made>[^\n]+)$",
    re.DOTALL | re.MULTILINE,
)
# One step of names from the single crochet up; common practice.
_UK = {"sc": "dc", "hdc": "htr", "dc": "tr", "tr": "dtr", "dtr": "trtr", "skip": "miss", "skipped": "missed"}
_WORD = re.compile(
    r"(?<![a-z])(?P<side>[fb]p)?(?P<word>hdc|sc|dtr|dc|tr|skipped|skip)(?P<loop>blo|flo)?(?![a-z])", re.IGNORECASE
)


@dataclass(frozen=True)
class Wording:
    """One kind of place: what lies below, and the ways to say that the hook goes there."""

    place: str
    numbers: str
    page: str
    wordings: tuple[str, ...]
    made: str


TEXT = Path(__file__).with_name("places.md").read_text(encoding="utf-8")
WORDINGS = [
    Wording(
        found["place"],
        found["numbers"],
        found["page"],
        tuple(line[2:] for line in found["wordings"].splitlines()),
        found["made"],
    )
    for found in _CASE.finditer(TEXT)
]


def trials(numbers: str) -> list[Values]:
    """The values of every trial by name: numbers, and words such as a stitch."""
    named = [part.split() for part in numbers.split(";")]
    most = max(len(values) for _, *values in named)
    return [{name: _value(values[trial % len(values)]) for name, *values in named} for trial in range(most)]


def _value(said: str) -> int | str:
    return int(said) if said.isdigit() else said


def filled(text: str, values: Values) -> str:
    """The text with what stands in braces worked out; a name with a capital is its word with a capital."""
    known = values | {name.capitalize(): str(value).capitalize() for name, value in values.items()}
    return re.sub(r"\{([^}]+)\}", lambda found: str(eval(found[1], {"__builtins__": {}}, dict(known))), text)


def in_uk_terms(text: str) -> str:
    """The text as it is said in UK terms."""

    def word(found: re.Match[str]) -> str:
        said = (found["side"] or "") + _UK[found["word"].lower()] + (found["loop"] or "")
        return said.capitalize() if found[0][0].isupper() else said

    return _WORD.sub(word, text)
