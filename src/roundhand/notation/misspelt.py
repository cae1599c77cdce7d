"""Words that are no words of the trade: the stitch they may have meant, and fillers that may be passed over."""

from __future__ import annotations

from functools import cache

from roundhand.notation.cursor import Cursor
from roundhand.terms import Vocabulary


def nearest(word: str, cursor: Cursor) -> tuple[str, str]:
    """The stitch word that a misspelt word is closest to, and its stitch; empty where none is close."""
    if len(word) < 2 or len(word) > 40:
        return "", ""
    from rapidfuzz import process  # Imported late: most patterns have no misspelt word.
    from rapidfuzz.distance import OSA

    spellings = _spellings(cursor.lexicon.words)
    best = process.extractOne(word, spellings.keys(), scorer=OSA.distance, score_cutoff=1 if len(word) < 6 else 2)
    return (best[0], spellings[best[0]]) if best is not None else ("", "")


@cache
def _spellings(words: Vocabulary) -> dict[str, str]:
    return {name: stitch for name, stitch in words.stitch_words() if " " not in name}


def stands_for_stitch(cursor: Cursor, known: bool, numbered: bool) -> bool:
    """Whether the unknown word at the cursor stands where a stitch must: `xc in next 3 sts`, `3 xc, …`.

    `known` is whether it is close to a stitch word, `numbered` whether a number stands in front of it."""
    after = cursor.ahead()
    if after is None:
        return False
    leads = after.kind == "word" and after.value == "in"
    stands = after.kind in ("number", "mark") or (
        after.kind == "word" and after.value in ("in", "around", "each", "across", "next")
    )
    if not stands:
        return False
    return known or leads or numbered
