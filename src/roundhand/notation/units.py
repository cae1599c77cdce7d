"""What a single place is called: a loop of a stitch, a stitch, a space, a chain, a row end, a corner."""

from __future__ import annotations

from roundhand.notation.cursor import Cursor
from roundhand.notation.tree import Amount

_LOOPS = {"back_loop": "back", "front_loop": "front", "both_loops": "both", "third_loop": "third"}
_UNIT_WORDS = ("stitch", "space", "row_end")
# Words for the middle of a corner or group.
CENTRES = ("center", "centre", "middle")
_BARS = frozenset(("vertical", "bar", "bars"))
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
    at = cursor.position
    if at >= cursor.end:
        return None
    token = cursor.tokens[at]
    if token.value in _LOOPS and token.kind == "word":
        cursor.position = at + 1
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
    if token.kind == "number" and (taken := _space_by_length(cursor)):
        cursor.position += taken
        return "space"
    if token.kind == "word" and token.value == "corner":
        return _corner_unit(cursor)
    if token.text.lower() in CENTRES and _centre_of_corner(cursor):
        return "corner"
    if _take_bar(cursor):
        return "stitch"
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
        return "turning_space" if token.value == "space" and _by_turning_chain(cursor) else token.value
    if token.kind == "word" and token.value == "loop":
        cursor.position += 1
        return "loop"
    if token.kind == "word" and token.value == "turning_chain":
        cursor.position += 1
        return "turning_space" if _take_space(cursor) else "turning_chain"
    return None


def _by_turning_chain(cursor: Cursor) -> bool:
    """Moves over `made by tch`, `formed by the turning chain`, `of tch` behind a space, if it stands here."""
    start = cursor.position
    if cursor.take_name("made", "formed", "created"):
        cursor.take_name("by", "with")
    elif not cursor.take_word("of"):
        return False
    cursor.take_word("the")
    cursor.take_word("beginning")
    if cursor.take_word("turning_chain"):
        return True
    cursor.position = start
    return False


def _take_bar(cursor: Cursor) -> bool:
    """Moves over `bar`, `vertical bars`: a Tunisian stitch as the row above finds it."""
    start = cursor.position
    if cursor.low[start] not in _BARS:
        return False
    cursor.take_name("vertical")
    if cursor.take_name("bar", "bars"):
        return True
    cursor.position = start
    return False


def read_length(cursor: Cursor) -> int | None:
    """The number in `ch-3 sp`, `ch 5 loop`, `turning ch-3` that stands here; moves over nothing."""
    at = cursor.position
    if _space_by_length(cursor):
        return cursor.tokens[at].number
    while at < cursor.end and cursor.tokens[at].kind == "word" and cursor.tokens[at].value in ("beginning", "the"):
        at += 1
    if at >= cursor.end or cursor.tokens[at].value not in ("chain", "turning_chain"):
        return None
    at += 1
    if at < cursor.end and cursor.tokens[at].text in _DASHES:
        at += 1
    token = cursor.tokens[at] if at < cursor.end else None
    return token.number if token is not None and token.kind == "number" else None


def read_count(cursor: Cursor) -> Amount | None:
    """How many places are meant; None, and nothing taken, where the number is the length of a space, `3-ch sp`."""
    return None if _space_by_length(cursor) else cursor.amount()


def _space_by_length(cursor: Cursor) -> int:
    """How many tokens `3-ch sp`, `5-chain loop`, `2ch-sp` take, the number joined to the chain; 0 where none stands.

    A number that stands apart, `in next 3 ch sps`, says how many."""
    at = cursor.position
    if at + 1 >= cursor.end or cursor.tokens[at].kind != "number":
        return 0
    tokens = cursor.tokens[: min(cursor.end, at + 6)]
    end = tokens[at].end
    at += 1
    if tokens[at].text in _DASHES:
        end = tokens[at].end
        at += 1
    if at >= len(tokens) or tokens[at].start != end:
        return 0
    if tokens[at].value == "space" and tokens[at].text.lower().startswith("ch"):
        return at + 1 - cursor.position
    if tokens[at].value != "chain" or at + 1 >= len(tokens):
        return 0
    at += 1
    if tokens[at].text in _DASHES and at + 1 < len(tokens):
        at += 1
    if tokens[at].value == "space" or tokens[at].text.lower() in _ARCHES:
        return at + 1 - cursor.position
    return 0


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
        if cursor.word("corner"):
            return _corner_unit(cursor)
        # "in next ch-1" often means the space over it; a chain of the turn is a stitch's own.
        return "space" if _take_space(cursor) or (token.number or 0) < 3 else "turning_chain"
    cursor.position = start
    return "chain"


def _corner_unit(cursor: Cursor) -> str:
    """`corner`, `corner sp`, `corner ch-2 sp`, `corner st`, `corner 3-sc group`: the place in a corner."""
    cursor.position += 1
    at = cursor.position
    if cursor.at("number"):
        cursor.position += 1
        if cursor.mark(*_DASHES):
            cursor.position += 1
        if read_unit(cursor) is None:
            cursor.position = at
            return "corner"
        cursor.take_name("group", "groups", "cluster")
        return "corner"
    if cursor.word("space", "stitch") or cursor.at("stitch"):
        read_unit(cursor)
    cursor.take_name("group", "groups")
    at = cursor.position
    if cursor.take_word("of"):
        # "corner of the square" names the same place; another motif is read before.
        cursor.take_word("the", "each")
        if cursor.at("name"):
            cursor.position += 1
        else:
            cursor.position = at
    return "corner"


def _centre_of_corner(cursor: Cursor) -> bool:
    """`center st of corner`, `middle sc of each 3-sc corner`: its place; False (nothing taken) for another middle."""
    start = cursor.position
    cursor.position += 1
    read_unit(cursor)
    cursor.take_word("of")
    cursor.take_name("in", "at")
    while cursor.word("each", "next", "the", "first", "last"):
        cursor.position += 1
    if cursor.at("number"):
        cursor.position += 1
        if cursor.mark(*_DASHES):
            cursor.position += 1
        if not cursor.word("corner"):
            read_unit(cursor)
    if cursor.word("corner"):
        _corner_unit(cursor)
        return True
    cursor.position = start
    return False


def read_to_corner(cursor: Cursor) -> bool:
    """`to next corner`, `across to corner ch-2 sp`, `evenly from corner to corner`: the end of a side; False (nothing
    taken) for any other end."""
    if "corner" not in cursor.said:
        return False
    start = cursor.position
    cursor.take_word("evenly")
    cursor.take_word("around", "across")
    if cursor.take_name("from"):
        while cursor.word("the", "next", "first", "last", "each") or cursor.at("number"):
            cursor.position += 1
        if cursor.take_name("one") or cursor.word("corner"):
            read_unit(cursor)
    if cursor.take_word("to", "until"):
        cursor.take_name("within", "you", "reach")
        while cursor.word("the", "next", "first", "last", "each"):
            cursor.position += 1
        if read_unit(cursor) == "corner":
            return True
    cursor.position = start
    return False


def read_to_place(cursor: Cursor) -> tuple[str, int | None] | None:
    """`to ch-2 sp`, `across to next corner`, `until you reach the ch-3 sp`: what a repeat stops at, `space` or
    `corner`, and the chains of the space; None (and nothing taken) for any other end, as for the last of them."""
    start = cursor.position
    cursor.take_word("around", "across")
    if cursor.take_word("to", "until"):
        cursor.take_name("within", "you", "reach")
        cursor.take_name("reach")
        while cursor.word("the", "next", "first") or cursor.take_name("center", "centre", "middle"):
            cursor.take_word("the", "next", "first")
        length = read_length(cursor)
        unit = read_unit(cursor)
        if unit in ("corner", "space"):
            return unit, length
    cursor.position = start
    return None


def centre_ahead(cursor: Cursor) -> bool:
    """Whether the middle named here is that of a corner."""
    start = cursor.position
    found = _centre_of_corner(cursor)
    cursor.position = start
    return found
