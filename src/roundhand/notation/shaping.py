"""Increases, decreases and stitches spread evenly: `inc`, `dec x 3`, `dec over next 4 sts`, `inc 6 evenly around`."""

from __future__ import annotations

import msgspec

from roundhand.findings import Span
from roundhand.notation.cursor import Cursor
from roundhand.notation.edges import edge_named
from roundhand.notation.pieces import Pieces
from roundhand.notation.places import read_place
from roundhand.notation.tree import Amount, Evenly, Item, Place, Work
from roundhand.notation.units import read_loop
from roundhand.notation.whole_row import read_whole
from roundhand.stitches import dictionary

# Edges that are one and the same to whoever works along them.
_KNOWN = {"bottom": "chain"}
# Words that lead from an edge to what is worked in its corners.
_CORNERS_FOLLOW = frozenset(("and", "working", "placing", "putting", "making", "with", "having", "work", "&"))


def read_shape(
    cursor: Cursor, pieces: Pieces, amount: Amount | None, stitch: str, start: int | None = None, loop: str = ""
) -> None:
    """`inc`, `dec`, `3 inc`, `inc x 3`, `inc in next 3 sts`, `inc 6 evenly`, `hdc inc`, `dec over next 2 sts`.

    `amount` and `stitch` are what stood in front of the word at the cursor, which begins at token `start`."""
    begin = cursor.position if start is None else start
    token = cursor.take()
    act = token.value
    named = bool(stitch)
    if cursor.at("stitch") and not stitch:
        # "inc sc", "dec hdc".
        stitch = cursor.take().value
        named = True
    said = amount
    if said is None:
        times = cursor.times()
        said = times[1] if times is not None else cursor.amount()
    if said is None and cursor.word("evenly") and (after := cursor.ahead()) is not None and after.kind == "number":
        # "increase evenly 6 times around".
        cursor.position += 1
        times = cursor.times()
        said = times[1] if times is not None else cursor.amount()
        pieces.append(read_evenly(cursor, begin, act, said, stitch))
        return
    if said is not None:
        cursor.take_word("stitch")
        if cursor.at("stitch") and not named:
            stitch = cursor.take().value
    whole = read_whole(cursor, begin, act, said, stitch)
    if whole is not None:
        pieces.append(whole)
        return
    late = read_loop(cursor)
    loop = loop if late is None else late
    if cursor.word("evenly"):
        pieces.append(read_evenly(cursor, begin, act, said, stitch))
        return
    over = cursor.word("over")
    words = cursor.position
    place = read_place(cursor, loop)
    if cursor.word("evenly"):
        pieces.append(read_evenly(cursor, begin, act, said, stitch))
        return
    if place is not None and place.kind == "each" and said is not None and not says_each(cursor, words):
        # "inc 6 around" is six spread over the round.
        pieces.append(Evenly(act, said, stitch, "row", cursor.since(begin)))
        return
    _shape_at(cursor, pieces, act, token.span, stitch, said, place, over, begin, loop)


def _shape_at(
    cursor: Cursor,
    pieces: Pieces,
    act: str,
    word: Span,
    stitch: str,
    said: Amount | None,
    place: Place | None,
    over: bool,
    begin: int,
    loop: str,
) -> None:
    one = Amount((1,), word)
    bare = place is None
    if place is None:
        place = Place("next", said.span if said is not None else word, said or one, None, loop)
    elif place.kind == "next" and not cursor.mark(",", ".", ";"):
        # "inc in next st 3 times", "dec over next 2 sts twice".
        times = cursor.times()
        if times is not None:
            said = times[1] if said is None else said
            if act == "increase":
                place = msgspec.structs.replace(place, count=times[1])
    span = cursor.since(begin)
    if act == "increase":
        number = Amount((2,), word)
        if said is not None and not bare and place.kind in ("next", "same", "first", "last") and place.count is None:
            # "3 inc in next st" makes no sense; "inc 3 in next st" is three in one.
            number = said if any(value not in (1, None) for value in said.values) else number
        pieces.append(Work((Item(stitch, number, word, 0),), place, span))
        return
    together = 2
    if place.kind in ("next", "first", "last") and not bare:
        if said is not None:
            place = msgspec.structs.replace(place, count=said)
        elif place.count is not None:
            if place.count.values == (3,) and over:
                together = 3
            place = runs_of(place, together, over)
    name = together_of(stitch, together) if stitch else ""
    pieces.append(Work((Item(name, one, word, 0 if name else together),), place, span))


def says_each(cursor: Cursor, start: int) -> bool:
    """Whether the words since a position say "each"."""
    return any(token.kind == "word" and token.value == "each" for token in cursor.tokens[start : cursor.position])


def runs_of(place: Place, uses: int, over: bool) -> Place:
    """`sc2tog over next 4 sts` is two of them: a place named by the stitches that the decreases use up."""
    if place.count is None:
        return place
    values = place.count.values
    if over or values == (uses,):
        values = tuple(value // uses if value is not None else None for value in values)
        return msgspec.structs.replace(place, count=Amount(values, place.count.span))
    return place


def together_of(stitch: str, number: int) -> str:
    """The decrease that joins a number of one stitch; the stitch itself where the trade has no such decrease."""
    name = f"{stitch}_{number}_together"
    return name if name in dictionary() else stitch


def read_evenly(cursor: Cursor, start: int, act: str, amount: Amount | None, stitch: str) -> Evenly:
    """The rest of an `evenly` phrase: along which edge, if the words say so."""
    words = cursor.position
    while (token := cursor.token) is not None:
        if token.kind == "mark" and token.text not in "-\u2013":
            break
        if token.kind == "mark" and cursor.tokens[cursor.position - 1].end < token.start:
            break
        if (token.kind == "word" and token.value in ("change", "turn", "join", "with", "work")) or (
            token.kind == "word" and token.value in ("increase", "decrease") and act == "work"
        ):
            break
        if token.text.lower() in _CORNERS_FOLLOW and corner_ahead(cursor):
            break
        cursor.position += 1
    said = ""
    if words < cursor.position:
        said = cursor.text[cursor.tokens[words].start : cursor.tokens[cursor.position - 1].end]
    along = edge_named(said) if said else ""
    if act != "work" and along in ("around", "side", "sides", "top"):
        along = ""
    return Evenly(act, amount, stitch, _KNOWN.get(along, along) or "row", cursor.since(start))


def corner_ahead(cursor: Cursor) -> bool:
    """Whether the next few words name a corner: `working 3 sc in each corner`, `and 3 sc in corners`."""
    for token in cursor.tokens[cursor.position + 1 : min(cursor.position + 12, cursor.end)]:
        if token.kind == "mark" and token.text in (".", ";"):
            return False
        if token.kind == "word" and token.value == "corner":
            return True
    return False
