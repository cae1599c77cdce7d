"""The words of a page for its stitches: those that its rows use, and those that its list of abbreviations explains."""

from __future__ import annotations

import re
from collections.abc import Iterator

import msgspec

from roundhand.checks.paper import Paper
from roundhand.findings import Span
from roundhand.notation.special import find_definitions
from roundhand.terms import WORDS, vocabulary

# What is left of an abbreviation without the number that it joins has no vowel, but for these.
_SHORT = frozenset(
    ("inc", "dec", "esc", "exsc", "edc", "exdc", "etr", "ehdc", "exhdc", "edtr", "ehtr", "blo", "flo", "beg", "foll")
)
_VOWEL = re.compile(r"[aeiouy]")
_JOINED = re.compile(r"\s*\d+\s*tog$|\d+")
# Concepts beside stitches whose short words a beginner looks up.
_CONCEPTS = frozenset(("increase", "decrease", "back_loop", "front_loop"))


class Spoken(msgspec.Struct, frozen=True):
    """A short word for a stitch as a row has it: in small letters without spaces, dots and hyphens."""

    form: str
    stitch: str
    span: Span


class Entry(msgspec.Struct, frozen=True):
    """One entry of a list of abbreviations: what it explains, and its place."""

    names: tuple[str, ...]
    span: Span


def bare(word: str) -> str:
    """A short word without what houses differ in: capitals, spaces, hyphens, dots.

    >>> bare("Sl. St"), bare("Sc2tog")
    ('slst', 'sc2tog')
    """
    return re.sub(r"[\s.\u2010-\u2014-]+", "", word.lower())


def is_short(word: str) -> bool:
    """Whether a word is an abbreviation and no name.

    >>> [is_short(word) for word in ("hdc", "sc2tog", "inc", "shell", "half double")]
    [True, True, True, False, False]
    """
    stem = _JOINED.sub("", word.lower())
    return bare(stem) in _SHORT or not _VOWEL.search(stem)


def spoken(paper: Paper) -> Iterator[Spoken]:
    """Every abbreviation of a stitch in rows and steps, in the order of the page."""
    words = vocabulary(paper.pattern.language)
    for line in paper.lines:
        if line.kind not in ("row", "step") or line.section != "work":
            continue
        cut = list(WORDS.finditer(paper.text, line.start, line.end))
        low = [found[0].lower() for found in cut]
        at = 0
        while at < len(low):
            meaning = words.find(low, at)
            length = meaning.length if meaning is not None else 1
            span = Span(cut[at].start(), cut[at + length - 1].end())
            written = span.of(paper.text)
            meant = meaning is not None and (meaning.kind == "stitch" or meaning.value in _CONCEPTS)
            if meaning is not None and meant and is_short(written):
                yield Spoken(bare(written), meaning.value, span)
            at += length


def entries(paper: Paper) -> list[Entry]:
    """What the page's list of abbreviations explains; empty where it has none."""
    found, _ = find_definitions(paper.text, paper.lines)
    return [Entry(one.names, one.span) for one in found if one.where == "list"]
