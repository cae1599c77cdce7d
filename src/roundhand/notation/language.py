"""Which side of the ocean a pattern is from: what it says, what its words prove, and words that do not belong."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from roundhand.findings import Finding, Span
from roundhand.notation.lines import Line
from roundhand.notation.older_terms import IN_PROSE, Terms, contested_words, older_said, older_shown, settled
from roundhand.terms import WORDS, Vocabulary, languages, vocabulary

_KEYS = ("terms", "terminology", "language", "crochet terms")
_TERMS = re.compile(r"\b(US|UK|U\.S\.|U\.K\.|American|British|Australian)\b", re.IGNORECASE)
_TERMS_PROSE = re.compile(
    r"\b(US|U\.S\.|American|UK|U\.K\.|British)\s+(?:crochet\s+)?(?:terms|terminology)", re.IGNORECASE
)
_WORD = re.compile(r"[a-z]+(?:\d+tog)?")


def language_of(text: str, lines: Sequence[Line]) -> Terms:
    """The terms of a page: what `Terms:` says, else what the words show, else US."""
    for line in lines:
        if line.kind == "key" and line.name.lower() in _KEYS:
            value = text[line.start : line.end]
            old = older_said(value, text, lines)
            if old is not None:
                return settled(Terms(old, True), text, lines)
            said = _TERMS.search(value)
            if said is not None:
                return Terms(_side(said[1]), True)
    for line in lines:
        if line.kind not in ("row", "step"):
            prose = IN_PROSE.search(text, line.whole.start, line.whole.end)
            old = older_said(prose[0], text, lines) if prose is not None else None
            if old is not None:
                return settled(Terms(old, True), text, lines)
            said = _TERMS_PROSE.search(text, line.whole.start, line.whole.end)
            if said is not None:
                return Terms(_side(said[1]), True)
    words: set[str] = set()
    for line in lines:
        if line.kind in ("row", "step"):
            words.update(_WORD.findall(text[line.start : line.end].lower()))
    shown = older_shown(text, lines, frozenset(words))
    if shown is not None:
        return settled(shown, text, lines)
    us, uk = vocabulary("US"), vocabulary("UK")
    proved_us = sum(word in us.proofs for word in words)
    proved_uk = sum(word in uk.proofs for word in words)
    return Terms("UK" if proved_uk > proved_us else "US", False)


def _side(word: str) -> str:
    return "US" if word.lower().replace(".", "") in ("us", "american") else "UK"


def other_of(language: str) -> str:
    """The terms whose words are understood beside those of a page: the other side's, for an older book today's.

    >>> other_of("US"), other_of("older US")
    ('UK', 'US')
    """
    if language in languages():
        return "UK" if language == "US" else "US"
    return vocabulary(language).side


# In front of the words of a translation, where words are gathered by what they are.
TRANSLATED = "translated:"


def foreign_words(text: str, language: str, said: bool, found: Mapping[str, Span]) -> list[Finding]:
    """`terms-mixed` for words of other terms, each said once: by stitch id and word, their places."""
    other = other_of(language)
    because = f"the pattern says {language} terms" if said else f"the other stitches are {language} words"
    findings = []
    for key, span in found.items():
        if key.startswith(TRANSLATED):
            continue
        word = span.of(text)
        meant = "gauge" if key == "tension" else vocabulary(language).short(key.split(" ")[0])
        findings.append(
            Finding(
                "terms-mixed",
                "advice" if key == "tension" else "warning",
                f"\u201c{word}\u201d is a {other} word in {language} terms",
                span,
                because=because,
                help=f"in {language} terms it is \u201c{meant}\u201d; it was worked as that",
                facts={"word": word, "language": language, "meant": meant},
            )
        )
    return findings


def translated_words(words: Vocabulary, found: Mapping[str, Span]) -> list[Finding]:
    """`reading-chosen` for words of a translated page, the first of every stitch: what they are read as, and why."""
    findings = []
    said: set[str] = set()
    for key, span in found.items():
        if not key.startswith(TRANSLATED):
            continue
        word = key.removeprefix(TRANSLATED).strip()
        stitch = words.translated[word]
        if stitch in said:
            continue
        said.add(stitch)
        meant = words.full_names.get(stitch, words.short(stitch))
        findings.append(
            Finding(
                "reading-chosen",
                "advice",
                f"\u201c{word}\u201d is read as {meant}",
                span,
                because=f"patterns translated word for word call the {meant} so; no stitch in English has that name",
                help=f"\u201c{words.short(stitch)}\u201d leaves no doubt",
                facts={"kind": "translated word", "reading": stitch, "evidence": "usage", "word": word},
                label="a word of a translation",
            )
        )
    return findings


def older_findings(text: str, terms: Terms, lines: Sequence[Line]) -> list[Finding]:
    """What is said of a page in an older vocabulary: which was taken and why, and words that may be two stitches."""
    if terms.name in languages():
        return []
    own = vocabulary(terms.name, terms.instead)
    side = own.side
    today = vocabulary(side)
    findings = []
    if not terms.said and terms.shown:
        words = list(dict.fromkeys(f"\u201c{span.of(text)}\u201d" for span in terms.shown))[:4]
        because = f"{', '.join(words[:-1])} and {words[-1]} show it" if len(words) > 1 else f"{words[0]} shows it"
        if terms.doubt:
            because += f"; it could be {terms.doubt} terms as well, and nothing on the page tells"
        findings.append(
            Finding(
                "reading-unsure" if terms.doubt else "reading-chosen",
                "warning" if terms.doubt else "advice",
                f"read in {terms.name} terms{_told(text, terms, own, today)}",
                terms.shown[0],
                because=because,
                help=f"a line \u201cTerms: {terms.name}\u201d, or another, below the title settles it",
                facts={"terms": terms.name, **({"or": terms.doubt} if terms.doubt else {})},
            )
        )
    for span, taken, other in contested_words(terms, text, lines):
        settled_so = any(word == span.of(text).lower() for word, _ in terms.instead)
        if today.short(taken) == today.short(other):
            continue
        findings.append(
            Finding(
                "reading-chosen" if settled_so else "reading-unsure",
                "advice",
                f"\u201c{span.of(text)}\u201d is read as {today.short(taken)}",
                span,
                because=f"some books of the time mean {today.short(other)} by it"
                + ("; the chain that stands for it decides" if settled_so else ", and no turning chain tells"),
                help="say under a heading \u201cStitches\u201d how it is worked",
                facts={"taken": taken, "or": other},
            )
        )
    return findings


def _told(text: str, terms: Terms, own: Vocabulary, today: Vocabulary) -> str:
    """What words that show an older vocabulary are today: `: “treble” is dc and “single” is sl st`."""
    told: dict[str, str] = {}
    for span in terms.shown:
        cut = [found[0] for found in WORDS.finditer(span.of(text).lower())]
        found = own.find(cut, 0)
        stitch = own.counted.get(cut[0]) or (found.value if found is not None and found.kind == "stitch" else None)
        if stitch is not None:
            told.setdefault(stitch, f"\u201c{span.of(text)}\u201d is {today.short(stitch)}")
    return f": {' and '.join(list(told.values())[:3])}" if told else ""
