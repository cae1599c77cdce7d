"""The words that a page offers while somebody types: stitches with what they are, and the trade's other words, keys and
headings."""

from __future__ import annotations

from functools import cache

import msgspec

from roundhand.notation.explain import explain
from roundhand.stitches import dictionary
from roundhand.terms import languages, vocabulary
from roundhand.workshop.use import UseError

# Where a pattern has these lines they are read; the order is that of a usual page.
_KEYS = (
    "Sizes", "To fit", "Finished circumference", "Finished length", "Terms", "Yarn", "Yarn A", "Yarn B", "Hook",
    "Notions", "Gauge", "Swatch", "Editor",
)  # fmt: skip
_HEADINGS = (
    "MATERIALS", "GAUGE", "ABBREVIATIONS", "SPECIAL STITCHES", "NOTES", "SAFETY", "FINISHING", "CARE",
)  # fmt: skip
# The turns of phrase that patterns are made of; a language that has another word gets its own below.
_PHRASES = (
    "in each st around", "in each st across", "in next st", "in same st", "in last st", "in ring", "in next ch-sp",
    "rep from * around", "rep from * across", "rep from * to last st", "make a magic ring", "join with sl st in first",
    "turn", "do not turn", "fasten off", "weave in ends", "change to", "with", "around", "across", "all sizes",
)  # fmt: skip
_ACROSS = {"gauge": "tension", "skip": "miss", "sk": "miss"}


class StitchWord(msgspec.Struct, frozen=True):
    """A stitch: its usual short word, its full name (empty where it has none), and how it is worked, in words."""

    word: str
    name: str
    says: str


class Wording(msgspec.Struct, frozen=True):
    """What can be offered in the terms of one language."""

    terms: str
    stitches: tuple[StitchWord, ...]
    words: tuple[str, ...]
    keys: tuple[str, ...]
    headings: tuple[str, ...]


@cache
def wording(terms: str) -> Wording:
    """The words in the terms of a language, stitches in the order of their height; raises `UseError` for one that is
    not there.

    >>> found = wording("UK")
    >>> next(one.word for one in found.stitches if one.name == "treble crochet"), "TENSION" in found.headings
    ('tr', True)
    """
    if terms not in languages():
        raise UseError(f"There are no terms called “{terms}”; there are {' and '.join(languages())}.")
    words = vocabulary(terms)
    stitches = sorted(dictionary().values(), key=lambda stitch: (stitch.height, len(stitch.id), stitch.id))
    found: dict[str, StitchWord] = {}
    for stitch in stitches:
        short = words.short(stitch.id)
        says = explain(stitch.recipe, terms) if stitch.recipe else ""
        found.setdefault(short, StitchWord(short, words.full_names.get(stitch.id, ""), says))

    def own(word: str) -> str:
        other = _ACROSS.get(word.lower(), word) if terms == "UK" else word
        return other.upper() if word.isupper() else other.capitalize() if word.istitle() else other

    return Wording(
        terms,
        tuple(found.values()),
        (*_PHRASES, own("skip")),
        tuple(own(key) for key in _KEYS),
        tuple(own(heading) for heading in _HEADINGS),
    )
