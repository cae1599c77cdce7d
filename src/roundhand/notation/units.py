"""What a single place is called: a loop of a stitch, a stitch, a space, a chain, a row end."""

from __future__ import annotations

from roundhand.notation.cursor import Cursor

_LOOPS = {"back_loop": "back", "front_loop": "front", "both_loops": "both", "third_loop": "third"}
_UNIT_WORDS = ("stitch", "space", "row_end")
_DASHES = ("-", "\u2013")
# Where chains were made over stitches that were passed over.
OPENINGS = (
    "underarm",
    "underarms",
    "thumb",
    "opening",
    "openings",
    "armhole",
    "armholes",
    "buttonhole",
    "buttonholes",
)
# What makers call the space under a few chains, beside "space" itself.
_ARCHES = ("loop", "loops", "lp", "lps", "arch", "arches", "bar", "bars")


def read_loop(cursor: Cursor) -> str | None:
    """A loop of the stitch (`back`, `front`, `third`, `both`) if one stands here, else None."""
    token = cursor.token
    if token is not None and token.kind == "word" and token.value in _LOOPS:
        cursor.position += 1
        cursor.take_name("only")
        return _LOOPS[token.value]
    return None


def read_unit(cursor: Cursor) -> str | None:
    """What a place is called: a stitch, a space, a chain, a row end; moves over it. None where no such word stands."""
    token = cursor.token
    if token is not None and token.kind == "name" and token.text.lower() in OPENINGS:
        # "the 6 underarm ch"
        cursor.position += 1
        unit = read_unit(cursor)
        cursor.position -= unit is None
        return unit
    if token is None:
        return None
    if token.kind == "stitch" and token.value == "chain":
        return _chain_unit(cursor)
    if token.kind in ("stitch", "defined"):
        cursor.position += 1
        if cursor.take_word("space"):
            return "space"
        cursor.take_word("stitch")
        return "stitch"
    if token.kind == "word" and token.value in ("increase", "decrease"):
        cursor.position += 1
        return "stitch"
    if token.kind == "word" and token.value in _UNIT_WORDS:
        cursor.position += 1
        return token.value
    if token.kind == "word" and token.value == "loop":
        cursor.position += 1
        return "loop"
    if token.kind == "word" and token.value == "turning_chain":
        cursor.position += 1
        return "space" if cursor.take_word("space") else "turning_chain"
    return None


def read_length(cursor: Cursor) -> int | None:
    """The number in `ch-3 sp`, `ch 5 loop`, `turning ch-3` that stands here; moves over nothing."""
    at = cursor.position
    while at < cursor.end and cursor.tokens[at].kind == "word" and cursor.tokens[at].value in ("beginning", "the"):
        at += 1
    if at >= cursor.end or cursor.tokens[at].value not in ("chain", "turning_chain"):
        return None
    at += 1
    if at < cursor.end and cursor.tokens[at].text in _DASHES:
        at += 1
    token = cursor.tokens[at] if at < cursor.end else None
    return token.number if token is not None and token.kind == "number" else None


def _take_space(cursor: Cursor) -> bool:
    """Moves over `sp`, `-sp`, `loop`, `-loop` behind a chain, if it stands here."""
    start = cursor.position
    if cursor.mark(*_DASHES):
        cursor.position += 1
    if cursor.take_word("space") or cursor.take_name(*_ARCHES):
        return True
    cursor.position = start
    return False


def _chain_unit(cursor: Cursor) -> str:
    """`ch`, `ch-2 sp`, `ch 2 space`, `ch-sp`, `ch-5 loop`: a single chain or the space under some."""
    cursor.position += 1
    start = cursor.position
    if _take_space(cursor):
        return "space"
    cursor.position += 1 if cursor.mark(*_DASHES) else 0
    token = cursor.token
    if token is not None and token.kind == "number":
        cursor.position += 1
        # "in next ch-1" often means the space over it; a chain of the turn is a stitch's own.
        return "space" if _take_space(cursor) or (token.number or 0) < 3 else "turning_chain"
    cursor.position = start
    return "chain"
