"""Where the hook goes, in the words of a definition and in those of a recipe."""

from __future__ import annotations

import re

from roundhand.notation.hook_words import Grammar
from roundhand.notation.settling import NEXT_ONE
from roundhand.stitches import Operation

_LEAD = re.compile(r"^(?:(?:in|into|through|under|from|at|hook|up|of) )+")
_POSTED = re.compile(r"\b(?:posts?|stems?|upright)\b")
_ROWS_BELOW = re.compile(
    r"\b(?:\d+|given number of) (?:rows?|rnds?|rounds?)(?: rows?)?(?: below| down| beneath)|\bbelow\b"
)
_FROM_BACK = re.compile(
    r"\bfrom (?:back|behind|wrong side)\b|^back to front\b|\bin front of\b|\bacross front\b|^(?:from )?back\b"
)
_FROM_FRONT = re.compile(r"\bfront\b|\bbehind\b|\bfrom right side\b")
_NAMED_SIDES = re.compile(r"\b(?:fp|bp|front|back)")
_PLAIN = re.compile(r"[\w'/-]+")
# Words that leave the place to the row: "in indicated st".
_LEFT_OPEN = frozenset(("indicated", "specified", "designated", "given", "directed", "shown", "or", "desired"))
_STRANDS = frozenset(("loop", "lp", "loops", "bar", "bump"))


def _side(said: str, name: str) -> str:
    """The side from which the hook goes round a post: as said, else as the name has it. Behind the post it goes from
    the front, in front of it from the back."""
    for side, words in (("back", _FROM_BACK), ("front", _FROM_FRONT)):
        if words.search(said):
            return side
    named = _NAMED_SIDES.findall(name)
    return "back" if named and named[0].startswith("b") else "front"


def place_said(said: str, grammar: Grammar, name: str, reached: bool) -> str:
    """A place in the words of recipes: `next`, `same`, empty where nothing is said, or as the words have it.

    `name` is what the stitch is called, `reached` is true behind a loop that was let go.
    """
    known = grammar.places.get(said)
    if known is not None:
        return known
    said = _LEAD.sub("", said + " ").strip()
    known = grammar.places.get("in " + said)
    if known is not None:
        return known
    if _POSTED.search(said):
        side = _side(said, name)
        onward = NEXT_ONE if "next" in said.split() or "following" in said.split() else ""
        return f"{onward}post from {side}"
    if _ROWS_BELOW.search(said):
        return "n rows below"
    words = said.split()
    if "same" in words or "base" in words:
        return "same"
    if not words or set(words) <= grammar.units | _LEFT_OPEN or words[-1] in _LEFT_OPEN:
        return ""
    if "next" in words or "following" in words or "each" in words:
        return "next" if not _STRANDS & set(words) else _written(words) or "next"
    found = grammar.words.find(words, 0)
    if found is not None and found.kind == "stitch" and found.length == len(words):
        return ""
    if words[0] in ("first", "1st") or " first " in f" {said} ":
        return "top of first" if reached else ""
    return _written(words)


def _written(words: list[str]) -> str:
    """The words as the place of a recipe; empty where they hold a movement or nothing that could be written."""
    plain = " ".join(word for word in words if _PLAIN.fullmatch(word))
    try:
        return Operation("insert", 1, plain).where
    except ValueError:
        return ""
