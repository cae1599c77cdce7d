"""Pieces worked as others were: `work as for left front, reversing shaping`, `complete to match first side`."""

from __future__ import annotations

from collections.abc import Iterable

from roundhand.notation.cursor import Cursor
from roundhand.notation.tokens import Token
from roundhand.notation.tree import Amount, Copy

# What opens such a sentence, and what leads to the piece that it names.
_OPENS = frozenset(
    ("work", "working", "make", "same", "as", "complete", "finish", "repeat", "rep", "crochet", "continue",
     "cont", "the", "second", "other", "this", "follow", "following", "mirror", "mirrored", "a", "worked", "made",
     "reverse", "now", "then", "like", "in", "exactly")
)  # fmt: skip
_LINKS = frozenset(
    ("as", "for", "match", "matching", "correspond", "corresponding", "symmetry", "symmetrical", "symmetrically",
     "like", "instructions", "directions", "mirror", "same", "of", "to")
)  # fmt: skip
_MIRRORS = ("revers", "mirror", "symmetr", "correspond", "match")
_SHAPES = frozenset(("side", "half", "shoulder", "front", "strap", "one", "piece", "edge", "point", "flap", "sleeve"))
_ENDS = frozenset(("until", "reversing", "reverse", "reversed", "but", "mirroring", "through", "up", "except"))
_ROWS = ("row", "round", "row_or_round")
_LONGEST = 40


def read_likewise(cursor: Cursor) -> Copy | None:
    """A sentence that has a whole piece, or the rows of a side, worked once more; None (nothing taken) for any other.

    A piece is known by a heading of the page; "first side" is whatever was worked before the yarn was joined anew."""
    start = cursor.position
    if start >= cursor.end or cursor.low[start].split(None, 1)[0] not in _OPENS:
        return None
    words = _sentence(cursor)
    low = " ".join(token.text.lower() for token in words).split()
    if low[:1] in (["repeat"], ["rep"]) and any(word.startswith("revers") for word in low):
        # "Repeat left front, reversing shaping" names its piece without a link.
        low = [low[0], "for", *low[1:]]
    if not low or low[0] not in _OPENS or not _LINKS.intersection(low):
        return None
    mirror = any(word.startswith(_MIRRORS) for word in low)
    along = [token for token in words if token.kind == "word" and token.value in ("row_end", "edge", "ring")]
    if any(token.text.lower() != "side" for token in along):
        return None
    if not mirror and any(token.kind in ("stitch", "defined", "ordinal") for token in words):
        # "Work 54 sc along the band": an instruction of its own.
        return None
    name = _section(low, cursor.lexicon.sections)
    rows = _rows(cursor, words)
    side = not name and rows is None and _names_side(low) and (mirror or "first" in low or "other" in low)
    if not name and not side:
        name = _unknown(low) if any(word.startswith("revers") for word in low) and rows is None else ""
        if not name:
            return None
    cursor.position = start + len(words)
    span = cursor.since(start)
    first, last = rows if rows is not None else (None, None)
    # Of a named piece the rest is worked where some of it is worked already: "complete as for first side".
    rest = low[0] in ("complete", "finish", "continue", "cont")
    return Copy(span, first, last, "once", part=name, mirror=mirror, side=side or rest)


def _sentence(cursor: Cursor) -> list[Token]:
    found: list[Token] = []
    for token in cursor.tokens[cursor.position : min(cursor.end, cursor.position + _LONGEST)]:
        if token.kind == "mark" and token.text in (".", ";", ":", "("):
            break
        found.append(token)
    return found


def _section(low: list[str], sections: Iterable[str]) -> str:
    """The longest heading of the page that stands in the sentence behind a word that leads to it."""
    best = ""
    led = next((at for at, word in enumerate(low) if word in _LINKS), len(low))
    text = " " + " ".join(" ".join(low[led:]).replace(",", " ").split()) + " "
    for name in sections:
        said = " ".join(name.lower().split())
        if len(said) > len(best) and any(f" {form} " in text for form in (said, said + "s", said.removesuffix("s"))):
            best = name
    return best


def _rows(cursor: Cursor, words: list[Token]) -> tuple[Amount | None, Amount] | None:
    """`Rows 1-20 of`, `to Row 20`, `through Rnd 12`: the rows that are meant, from the first if only an end is said."""
    start = cursor.position
    for at, token in enumerate(words):
        if token.kind == "word" and token.value in _ROWS:
            cursor.position = start + at + 1
            first = cursor.amount()
            last = None
            if first is not None and (cursor.mark("-", "\u2013") or cursor.word("to", "through")):
                cursor.position += 1
                cursor.take_word(*_ROWS)
                last = cursor.amount()
            cursor.position = start
            if first is None:
                continue
            before = words[at - 1] if at else None
            ends = before is not None and before.text.lower() in ("to", "through", "until", "thru", "of", "with")
            if last is None:
                return (None, first) if ends else (first, first)
            return first, last
    return None


def _names_side(low: list[str]) -> bool:
    """`first side`, `the other half`, `to match first`, `to correspond`."""
    shape = any(word in _SHAPES for word in low)
    return (shape and any(word in ("first", "other", "second", "previous", "opposite", "1st") for word in low)) or (
        "first" in low and any(word.startswith(("match", "correspond")) for word in low)
    )


def _unknown(low: list[str]) -> str:
    """The words that name a piece which no heading has, so that it can be said: `left wing`."""
    for at, word in enumerate(low):
        if word in ("as", "for", "match", "like", "of", "to"):
            rest = [other for other in low[at + 1 :] if other not in _LINKS and other not in ("the", "a", "given")]
            end = next((end for end, other in enumerate(rest) if other in _ENDS or not other.isalpha()), len(rest))
            if 0 < end <= 4:
                return " ".join(rest[:end])
    return ""
