"""A text in US terms put into UK terms, and back, word by word: every stitch keeps what it is, and the layout stays.

A page in the words of an older book is put into those of today, and not back.

Stitch words are exchanged wherever they stand, in rows, definitions, notes and gauge; so are the few other words in
which the two sides differ (skip and miss). The line `Terms:` is changed or set below the title. Source of the rule:
common practice, one step of names from the single crochet up; the words stand in the room of terms.
"""

from __future__ import annotations

import re
from typing import Literal

from roundhand.findings import Source
from roundhand.notation.older_terms import IN_PROSE
from roundhand.notation.page import cut_page
from roundhand.notation.read import read_closely
from roundhand.notation.tokens import Lexicon, Token, understand
from roundhand.stitches import dictionary
from roundhand.terms import Vocabulary, vocabulary

Language = Literal["US", "UK"]

_SIDE = r"(?:US|UK|U\.S\.|U\.K\.|American|British|Australian)(?!\w)"
_SAID = re.compile(
    rf"(?im)^(?P<key>[ \t#*>\u2022-]*(?:crochet terms|terms|terminology|language)\b[ \t*]*:[^\n]*?)(?<!\w){_SIDE}"
)
_IN_PROSE = re.compile(rf"(?i)(?<!\w){_SIDE}(?=\s+(?:crochet\s+)?(?:terms|terminology))")
# A heading that names an older vocabulary names nothing else: the whole of it goes.
_SAID_OLDER = re.compile(
    r"(?im)^(?P<key>[ \t#*>\u2022-]*(?:crochet terms|terms|terminology|language)\b[ \t*]*:[ \t*]*)[^\s*][^\n\r]*"
)
# Words beside the stitches in which the two sides differ, US first. Evidence: terms.csv, found in texts.
_OTHERS = (("skip", "miss"), ("sk", "miss"), ("skipping", "missing"), ("gauge", "tension"))


def shift(text: str, to: Language) -> str:
    """The text in the terms of `to`; as it stands where it is in these terms already.

    >>> print(shift("Cap\\nTerms: US\\n\\nRnd 1: Dc2tog, sk 1, FPdc around next dc.", "UK"))
    Cap
    Terms: UK
    <BLANKLINE>
    Rnd 1: Tr2tog, miss 1, FPtr around next tr.
    """
    pattern, _, lexicon = read_closely(text)
    if pattern.language == to:
        return text
    other = vocabulary(to)
    # The names that the pattern gives its own stitches stay.
    own = Lexicon(lexicon.words, None, lexicon.defined, lexicon.colours, lexicon.colour_words)
    out: list[str] = []
    at = 0
    source = Source(text)
    for line in cut_page(source, pattern.sizes):
        if line.kind == "title" or line.whole.start < at:
            continue
        for token in understand(text, line.whole.start, line.whole.end, own):
            new = _shifted(token, own.words, other)
            if new != token.text:
                out += (text[at : token.start], new)
                at = token.end
    of_today = own.words.period is None
    return _declared("".join([*out, text[at:]]), to, bool(pattern.title), of_today)


def _shifted(token: Token, own: Vocabulary, other: Vocabulary) -> str:
    """A word in the other terms, in the letters it was written in."""
    if token.kind == "stitch" and not token.foreign:
        return _stitch(token.text, token.value, own, other)
    if token.kind in ("word", "name"):
        column = 0 if other.side == "UK" else 1
        for pair in _OTHERS:
            if token.text.lower() == pair[column]:
                return _in_case(pair[1 - column], token.text)
    return token.text


def _stitch(text: str, stitch: str, own: Vocabulary, other: Vocabulary) -> str:
    if _means(text, other) == stitch:
        return text
    for old, new in _pairs(stitch, own, other):
        at = text.lower().find(old)
        if at >= 0:
            said = text[:at] + _in_case(new, text[at : at + len(old)]) + text[at + len(old) :]
            if _means(said, other) == stitch:
                return said
    short = other.short(stitch)
    return _in_case(short, text) if _means(short, other) == stitch else text


def _pairs(stitch: str, own: Vocabulary, other: Vocabulary) -> list[tuple[str, str]]:
    """What may be exchanged inside the words of a stitch: the names of the plain stitch it is made of, then its own."""
    pairs: list[tuple[str, str]] = []
    for one in (dictionary()[stitch].family, stitch):
        if one in own.full_names and one in other.full_names:
            pairs.append((own.full_names[one], other.full_names[one]))
        pairs.append((own.short(one), other.short(one)))
    return pairs


def _means(text: str, words: Vocabulary) -> str | None:
    """The stitch that a whole text means in a language, or None."""
    found = understand(text, 0, len(text), Lexicon(words, None, {}, {}, {}))
    return found[0].value if len(found) == 1 and found[0].kind == "stitch" else None


def _in_case(word: str, like: str) -> str:
    """A word in capitals, with a capital, or in small letters, as another is."""
    if len(like) > 1 and like.isupper():
        return word.upper()
    return word[:1].upper() + word[1:] if like[:1].isupper() else word


def _declared(text: str, to: Language, titled: bool, of_today: bool) -> str:
    """The text with what it says of its terms put right, or said below its title."""
    said, number = (_SAID if of_today else _SAID_OLDER).subn(lambda found: found["key"] + to, text, count=1)
    if not number and not of_today:
        said, number = IN_PROSE.subn(f"{to} terms", text, count=1)
    elif not number:
        said, number = _IN_PROSE.subn(to, text, count=1)
    if number:
        return said
    ending = "\r\n" if "\r\n" in text else "\r" if "\r" in text and "\n" not in text else "\n"
    if not titled:
        return f"Terms: {to}{ending}{text}"
    lead = len(text) - len(text.lstrip())
    head, found, rest = text[lead:].partition(ending)
    # A heading right below the title stays one only with an empty line in front of it.
    apart = ending if rest[:1].strip() and ":" not in rest.partition("\n")[0] else ""
    return f"{text[:lead]}{head}{ending}Terms: {to}{found}{apart}{rest}"
