"""Which side of the ocean a pattern is from: what it says, what its words prove, and words that do not belong."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Literal

from roundhand.findings import Finding, Span
from roundhand.notation.lines import Line
from roundhand.terms import vocabulary

Language = Literal["US", "UK"]

_KEYS = ("terms", "terminology", "language", "crochet terms")
_TERMS = re.compile(r"\b(US|UK|U\.S\.|U\.K\.|American|British|Australian)\b", re.IGNORECASE)
_TERMS_PROSE = re.compile(
    r"\b(US|U\.S\.|American|UK|U\.K\.|British)\s+(?:crochet\s+)?(?:terms|terminology)", re.IGNORECASE
)
_WORD = re.compile(r"[a-z]+(?:\d+tog)?")


def language_of(text: str, lines: Sequence[Line]) -> tuple[Language, bool]:
    """US or UK: what `Terms:` says, else what the words prove, else US; and whether the text says it."""
    for line in lines:
        if line.kind == "key" and line.name.lower() in _KEYS:
            said = _TERMS.search(text, line.start, line.end)
            if said is not None:
                return _side(said[1]), True
    for line in lines:
        if line.kind not in ("row", "step"):
            said = _TERMS_PROSE.search(text, line.whole.start, line.whole.end)
            if said is not None:
                return _side(said[1]), True
    words: set[str] = set()
    for line in lines:
        if line.kind in ("row", "step"):
            words.update(_WORD.findall(text[line.start : line.end].lower()))
    us, uk = vocabulary("US"), vocabulary("UK")
    proved_us = sum(word in us.proofs for word in words)
    proved_uk = sum(word in uk.proofs for word in words)
    return ("UK" if proved_uk > proved_us else "US"), False


def _side(word: str) -> Language:
    return "US" if word.lower().replace(".", "") in ("us", "american") else "UK"


def foreign_words(text: str, language: Language, said: bool, found: Mapping[str, Span]) -> list[Finding]:
    """`terms-mixed` for words of the other side of the ocean, each said once: by stitch id and word, their places."""
    other = "UK" if language == "US" else "US"
    because = f"the pattern says {language} terms" if said else f"the other stitches are {language} words"
    findings = []
    for key, span in found.items():
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
