"""Sizes of hooks: what a letter or a number stands for, and where a page says which hook is used.

The table stands in `data/hooks.csv`. Millimetres mean the same everywhere; letters and numbers do not.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from importlib.resources import files

import msgspec

from roundhand.checks.paper import Paper
from roundhand.findings import Span
from roundhand.measures import read_number

_HOOK = re.compile(r"\bhooks?\b", re.IGNORECASE)
_MM = re.compile(r"(\d+(?:[.,]\d+)?(?:\s*\d/\d|\s?[\u00bc-\u00be])?)\s*-?\s*mm\b", re.IGNORECASE)
_LETTER = r"[B-UX](?:/[B-UX])?"
_NUMBER = r"\d{1,2}(?:\s?1/2|[.,]5\d?|\s?\u00bd)?"
_LETTERED = rf"(?<![^\W_])(?P<letter>{_LETTER})\s*[-/\u2010-\u2013 ]?\s*(?P<of>{_NUMBER})(?!\s*mm|[\w.])"
# A letter without its number, where nothing but a hook can be meant.
_ALONE = (
    rf"(?:(?<=[(/=])\s*|(?<=\b[Ss]ize )|(?<=\bSIZE )|(?<=\bUS )|(?<=\bmm )|(?<![\s\S]))(?P<alone>{_LETTER})"
    r"(?=\s*(?:[)/,;(=]|\.?\s*$|(?:crochet\s+)?hook\b))"
)
_US_NUMBER = rf"\b(?:US|U\.S\.?|American)\s*(?:size\s*)?(?:no\.?\s*|#\s*)?(?P<us>{_NUMBER})(?!\s*mm|[\w.])"
_NAMED = re.compile(rf"{_LETTERED}|{_ALONE}|{_US_NUMBER}")
_BARE = re.compile(
    r"(?:(?:sizes?|no\.?|number)\s*|#\s*)?(?P<number>\d{1,2}(?:[.,]\d+)?(?:\s?\d/\d|\s?\u00bd)?)\s*\.?",
    re.IGNORECASE,
)
_BEFORE_HOOK = re.compile(
    r"(?<![\w.])(?:(?:sizes?|no\.?|number|#)\s*)?(?P<number>\d{1,2}(?:[.,]\d+)?)\s*(?:crochet\s+)?hook\b", re.IGNORECASE
)
_BEHIND_HOOK = re.compile(
    r"(?:crochet\s+)?hook\s*(?:sizes?|no\.?|number|#)?\s*:?\s*(?P<number>\d{1,2}(?:[.,]\d+)?)\s*\.?", re.IGNORECASE
)
_BESIDE = re.compile(r"\s*(?:[/,(\[=]|\bor\b)?\s*(?:US\s*)?(?:size\s*)?", re.IGNORECASE)


class HookSize(msgspec.Struct, frozen=True):
    """One line of the table: a size in millimetres and what it is called; names it has not are empty.

    `evidence` is `found` or `memory`; what is only remembered excuses a page and never accuses it.
    """

    mm: Fraction
    kind: str
    letters: tuple[str, ...]
    us_number: str
    uk_number: str
    evidence: str


class Called(msgspec.Struct, frozen=True):
    """A hook as a page calls it: a letter, a US number, or both, with the millimetres beside it if there are any."""

    letter: str
    number: str
    span: Span
    mm: Fraction | None = None
    mm_span: Span | None = None

    @property
    def words(self) -> str:
        """The name as a shop prints it.

        >>> Called("H", "8", Span(0, 3)).words, Called("", "7", Span(0, 4)).words
        ('H-8', 'US 7')
        """
        if self.letter:
            return f"{self.letter}-{self.number}" if self.number else self.letter
        return f"US {self.number}"


@cache
def hook_sizes() -> tuple[HookSize, ...]:
    """The packaged table.

    >>> [float(size.mm) for size in hook_sizes() if "H" in size.letters]
    [5.0]
    """
    text = (files("roundhand.checks") / "data" / "hooks.csv").read_text(encoding="utf-8")
    return tuple(
        HookSize(
            Fraction(row["size"]),
            row["kind"],
            tuple(row["us_letter"].split("/")) if row["us_letter"] else (),
            row["us_number"],
            row["old_uk_number"],
            row["evidence"],
        )
        for row in csv.DictReader(text.splitlines())
    )


def sizes_called(letter: str, number: str) -> tuple[HookSize, ...]:
    """The hooks for yarn that are called so. A letter with a number means that one alone, if there is such a hook.

    >>> [float(size.mm) for size in sizes_called("I", "9")], sizes_called("H", "9")
    ([5.5], ())
    """
    wanted = set(letter.split("/")) if letter else set()
    return tuple(
        size
        for size in hook_sizes()
        if size.kind == "yarn"
        and (not wanted or wanted & set(size.letters))
        and (not number or size.us_number == number)
    )


def hook_places(paper: Paper) -> Iterator[Span]:
    """Where the page says which hook is used: the value of a key, or a line of the materials that names a hook."""
    for line in paper.lines:
        keyed = line.kind == "key" and line.section != "work" and "hook" in line.name.lower()
        listed = line.kind != "key" and line in paper.listed and _HOOK.search(paper.words(line)) is not None
        if keyed or listed:
            yield Span(line.start, line.end)


def millimetres(words: str) -> bool:
    """Whether some words give a size in millimetres.

    >>> millimetres("H-8 (5 mm)"), millimetres("size 7")
    (True, False)
    """
    return _MM.search(words) is not None


def called(paper: Paper, place: Span) -> Iterator[Called]:
    """The hooks that a place of the page calls by letter or US number, each with the millimetres right beside it."""
    taken = {name.upper() for name in paper.pattern.sizes} | {yarn.label for yarn in paper.pattern.yarns}
    for one in named_hooks(place.of(paper.text)):
        if one.number or one.letter not in taken:
            yield _moved(one, place.start)


def _moved(hook: Called, by: int) -> Called:
    beside = hook.mm_span
    return msgspec.structs.replace(
        hook,
        span=Span(hook.span.start + by, hook.span.end + by),
        mm_span=Span(beside.start + by, beside.end + by) if beside is not None else None,
    )


def named_hooks(text: str) -> Iterator[Called]:
    """The hooks that some words call by letter or US number.

    >>> [(one.words, one.mm) for one in named_hooks("5 mm (H-8) and US 7 / 4.5mm")]
    [('H-8', Fraction(5, 1)), ('US 7', Fraction(9, 2))]
    >>> [one.words for one in named_hooks("Size G crochet hook")], list(named_hooks("I used 5 mm"))
    (['G'], [])
    """
    sizes = list(_MM.finditer(text))
    for found in _NAMED.finditer(text):
        before = next((one for one in sizes if _BESIDE.fullmatch(text, one.end(), found.start())), None)
        after = next((one for one in sizes if _BESIDE.fullmatch(text, found.end(), one.start())), None)
        mm = before or after
        letter = found["letter"] or found["alone"] or ""
        number = _plain(found["of"] or found["us"] or "")
        start = found.start("alone") if found["alone"] else found.start()
        span = Span(start, found.end())
        if mm is None:
            yield Called(letter, number, span)
        else:
            value = read_number(mm[1].replace(",", "."))
            yield Called(letter, number, span, value[0] if value else None, Span(mm.start(), mm.end()))


def bare_number(text: str, place: Span) -> tuple[str, Span] | None:
    """The number of a hook that has neither unit nor letter, `Hook: 7`, and its place; None where there is none."""
    found = (
        _BARE.fullmatch(text, place.start, place.end)
        or _BEHIND_HOOK.fullmatch(text, place.start, place.end)
        or _BEFORE_HOOK.search(text, place.start, place.end)
    )
    if found is None or millimetres(place.of(text)):
        return None
    return found["number"].replace(",", "."), Span(found.start("number"), found.end("number"))


def _plain(number: str) -> str:
    """A number of the table from one as written: 10.5 is 10 1/2 there."""
    number = number.replace(",", ".").replace("\u00bd", " 1/2")
    number = re.sub(r"\.50?$", " 1/2", number)
    return re.sub(r"\s+", " ", re.sub(r"(\d)1/2$", r"\1 1/2", number)).strip()
