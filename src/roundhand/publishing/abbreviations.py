"""Abbreviations written out in a pattern's own terms: `dc` is one stitch in one country and another in the next.

Names of stitches are written out from the room of terms; what a pattern lists or defines for itself comes first.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from functools import cache
from importlib import resources
from typing import Any

import msgspec

from roundhand.notation.tree import Pattern
from roundhand.terms import WORDS, Vocabulary, vocabulary

_TOGETHER = re.compile(r"(?P<stem>.+)_(?P<number>\d+)_together")
_NUMBERS = {"2": "two", "3": "three", "4": "four", "5": "five"}


class Abbreviation(msgspec.Struct, frozen=True, order=True):
    """A short word as a list shows it, in the singular, and what it stands for."""

    short: str
    meaning: str


class Found(msgspec.Struct, frozen=True):
    """An abbreviation in a text, from `start` to `end`: what it stands for there, and its line in a list."""

    start: int
    end: int
    meaning: str
    entry: Abbreviation


class _Known(msgspec.Struct, frozen=True):
    """What some words mean: `length` words together, nothing short if `meaning` is empty."""

    length: int
    meaning: str = ""
    short: str = ""
    singular: str = ""


class Speller:
    """What the short words of one pattern stand for; `own` is what its own list of abbreviations says of them.

    >>> from roundhand.notation import read
    >>> pattern, _ = read("Cap\\nTerms: UK\\nRnd 1: 6 dc in a magic ring. (6 sts)")
    >>> [(one.meaning, one.entry.short) for one in Speller(pattern).find("Rnd 1: 6 dc in ring. (6 sts)")]
    [('round', 'rnd'), ('double crochet', 'dc'), ('stitches', 'st')]
    """

    def __init__(self, pattern: Pattern, own: Mapping[str, str] | None = None) -> None:
        self._terms = vocabulary(pattern.language)
        self._american = self._terms.side == "US"
        self._said: dict[str, list[tuple[tuple[str, ...], str]]] = {}
        for short, meaning in (*(own or {}).items(), *_definitions(pattern, self._terms)):
            words = tuple(found[0] for found in WORDS.finditer(short.lower()))
            if words:
                self._said.setdefault(words[0], []).append((words, meaning))
        for forms in self._said.values():
            forms.sort(key=lambda form: -len(form[0]))

    def find(self, text: str, instruction: bool = True) -> Iterator[Found]:
        """The abbreviations of a text in order; `instruction` is false for a sentence to the maker, in which a few
        short words are ordinary ones."""
        tokens = list(WORDS.finditer(text))
        words = [token[0].lower() for token in tokens]
        at = 0
        while at < len(words):
            known = self._known(words, at, instruction)
            if known.meaning:
                entry = Abbreviation(_shown(known.short), self._spelled(known.singular or known.meaning))
                meaning = self._spelled(known.meaning)
                yield Found(tokens[at].start(), tokens[at + known.length - 1].end(), meaning, entry)
            at += known.length

    def _known(self, words: list[str], at: int, instruction: bool) -> _Known:
        for form, meaning in self._said.get(words[at], ()):
            if tuple(words[at : at + len(form)]) == form:
                return _Known(len(form), meaning, " ".join(form))
        found = self._terms.find(words, at)
        if found is not None and found.kind == "stitch":
            used = " ".join(words[at : at + found.length])
            long = _written(self._terms, found.value, used)
            singular = used[:-1] if used.endswith("s") and self._is(used[:-1], found.value) else used
            # A name in whole words, or one that the trade has no longer form of, is no abbreviation.
            if long in (used, singular) or all(word in _whole_words(self._terms.language) for word in singular.split()):
                return _Known(found.length)
            return _Known(found.length, long, singular)
        length = found.length if found is not None else 1
        short = _tables()["plural"].get(words[at], words[at])
        if short not in _tables()["written_out"] or length > 1:
            return _Known(length)
        if not instruction and short in _tables()["instructions_only"]["words"]:
            return _Known(length)
        return _Known(1, _word_written(words[at]), short, _word_written(short))

    def _is(self, used: str, stitch: str) -> bool:
        words = used.split()
        found = self._terms.find(words, 0) if words else None
        return found is not None and found.value == stitch and found.length == len(words)

    def _spelled(self, meaning: str) -> str:
        """Spelling follows the terms."""
        return meaning.replace("colour", "color") if self._american else meaning


def _definitions(pattern: Pattern, terms: Vocabulary) -> Iterator[tuple[str, str]]:
    """The short names of stitches that the pattern defines, with what they stand for; full names need nothing."""
    names: dict[int, list[str]] = {}
    for name, definition in pattern.definitions.items():
        if definition.stitch is None or name != definition.stitch.id:
            names.setdefault(definition.span.start, []).append(name)
    for aliases in names.values():
        singulars = [name for name in aliases if not (name.endswith("s") and name[:-1] in aliases)]
        longest = max(singulars or aliases, key=len)
        for name in singulars:
            # `fphdc (front post half double crochet)` says itself what it stands for.
            meaning = longest if len(name) * 2 < len(longest) else _each_written(name, terms)
            if meaning != name:
                yield name, meaning
                yield name + "s", meaning


def _each_written(name: str, terms: Vocabulary) -> str:
    """`long sc` word by word; a word that is nothing short stays."""
    words = name.split()
    written = []
    for at, word in enumerate(words):
        found = terms.find(words, at)
        stitch = found is not None and found.kind == "stitch" and found.length == 1
        written.append(_written(terms, found.value, word) if found is not None and stitch else _word_written(word))
    return " ".join(written)


def _written(terms: Vocabulary, stitch: str, used: str) -> str:
    """A stitch's name written out, near the words used: `long sc` does not become a `spike single crochet`."""
    names = terms.full_names
    together = _TOGETHER.fullmatch(stitch)
    if together is not None:
        stem = names.get(together["stem"], together["stem"].replace("_", " "))
        return f"{stem} {_NUMBERS.get(together['number'], together['number'])} together"
    words = used.split()
    if len(words) > 1 and stitch.startswith("long_"):
        return f"{words[0]} {names.get(stitch.removeprefix('long_'), 'stitch')}"
    return names.get(stitch, used)


@cache
def _whole_words(language: str) -> frozenset[str]:
    """The words that names of stitches written out are made of."""
    return frozenset(word for name in vocabulary(language).full_names.values() for word in name.split())


def _word_written(word: str) -> str:
    """A word of the trade written out, in the plural if it stands in the plural; any other word as it is."""
    tables = _tables()
    singular = tables["plural"].get(word, word)
    long: str = tables["written_out"].get(singular, word)
    if word == singular or long == word:
        return long
    plural: str = tables["plurals_written_out"].get(word, f"{long}s")
    return plural


def _shown(short: str) -> str:
    return short.upper() if short in _tables()["capitals"]["words"] else short


@cache
def _tables() -> dict[str, Any]:
    data = resources.files("roundhand.publishing") / "data" / "abbreviations.toml"
    return tomllib.loads(data.read_text(encoding="utf-8"))
