"""A stitch with everything said of it: how many, which loop, where, in which colour."""

from __future__ import annotations

import msgspec

from roundhand.findings import Span
from roundhand.notation import strands, yarns
from roundhand.notation.counts import trailing_count
from roundhand.notation.cursor import Cursor
from roundhand.notation.depths import read_below
from roundhand.notation.edges import read_along, read_other_side
from roundhand.notation.joins import read_closing_slip
from roundhand.notation.misspelt import nearest, stands_for_stitch
from roundhand.notation.more_chains import with_more_chains
from roundhand.notation.open_chains import read_open_chain
from roundhand.notation.pieces import Pieces
from roundhand.notation.places import read_place
from roundhand.notation.reach import read_to_last
from roundhand.notation.shaping import read_evenly, read_shape, runs_of, says_each, together_of
from roundhand.notation.tree import Amount, Chain, Evenly, Item, Place, Skip, Unread, Work, Yarn
from roundhand.notation.units import read_loop, read_to_corner
from roundhand.stitches import dictionary


def read_stitches(cursor: Cursor, pieces: Pieces, first: bool, loop: str = "") -> bool:
    """A phrase that begins with a number or a stitch; False (and the cursor one token on) where there is none."""
    start = cursor.position
    if not first:
        stated = trailing_count(cursor, first)
        if stated is not None:
            pieces.append(stated)
            return True
    amount = cursor.amount()
    if amount is not None:
        if cursor.word("more") and (after := cursor.ahead()) is not None and after.kind == "stitch":
            cursor.position += 1
        inner = read_loop(cursor)
        loop = loop if inner is None else inner
        if cursor.word("increase", "decrease"):
            read_shape(cursor, pieces, amount, "", start, loop)
            return True
        if cursor.word("front_post", "back_post"):
            return read_posted(cursor, pieces, amount, start)
        if not cursor.at("stitch") and not cursor.at("defined"):
            if cursor.word("stitch") and _bare_stitches(cursor, pieces, amount, start, loop):
                return True
            if cursor.at("name") and read_misspelt(cursor, pieces, amount, start, loop):
                return True
            cursor.position = start + 1
            return False
    if not (cursor.at("stitch") or cursor.at("defined")):
        cursor.position = max(start + 1, cursor.position)
        return False
    token = cursor.take()
    stitch = token.value if token.kind == "stitch" else ""
    alias = token.value if token.kind == "defined" else ""
    if stitch == "chain":
        _chain(cursor, pieces, amount, start)
        return True
    if stitch == "slip_stitch" and not pieces.worked and _slips_over(cursor, pieces, start):
        return True
    if stitch == "slip_stitch" and read_closing_slip(cursor, pieces, start):
        return True
    cursor.take_name("st", "sts")
    if cursor.word("increase", "decrease"):
        read_shape(cursor, pieces, amount, stitch, start, loop)
        return True
    read_phrase(cursor, pieces, stitch, amount, token.span, loop, alias, start)
    return True


def _slips_over(cursor: Cursor, pieces: Pieces, start: int) -> bool:
    """`sl st over first 5 sts` at the beginning of a row leads past them; False (nothing taken) for other words."""
    at = cursor.position
    over = cursor.word("over", "across") or (
        cursor.token is not None and cursor.token.text.lower() in ("over", "across")
    )
    place = read_place(cursor) if over else None
    if place is None or place.kind not in ("next", "first") or place.what != "stitch" or place.count is None:
        cursor.position = at
        return False
    pieces.append(Skip(place.count, cursor.since(start), "slipped"))
    return True


def read_posted(cursor: Cursor, pieces: Pieces, amount: Amount | None, start: int) -> bool:
    """`fp dc`, and `fp` alone: by common practice a double round the post where no stitch is named."""
    token = cursor.take()
    base = "double"
    if cursor.at("stitch") and f"{token.value}_{cursor.tokens[cursor.position].value}" in dictionary():
        base = cursor.take().value
    read_phrase(cursor, pieces, f"{token.value}_{base}", amount, token.span, "", "", start)
    return True


def _bare_stitches(cursor: Cursor, pieces: Pieces, amount: Amount, start: int, loop: str) -> bool:
    """`2 sts in next st`: stitches of the fabric, a number of them in each place."""
    cursor.position += 1
    place = read_place(cursor, loop)
    if place is None:
        cursor.position -= 1
        return False
    pieces.append(Work((Item("", amount, cursor.since(start)),), place, cursor.since(start)))
    return True


def read_misspelt(cursor: Cursor, pieces: Pieces, amount: Amount | None, start: int, loop: str) -> bool:
    """A word where a stitch must stand: worked as the stitch it is nearest to, and reported."""
    token = cursor.tokens[cursor.position]
    near, stitch = nearest(token.value, cursor)
    if not stands_for_stitch(cursor, bool(stitch), amount is not None):
        return False
    cursor.position += 1
    pieces.append(Unread(token.span, token.text, near, stitch=True))
    read_phrase(cursor, pieces, stitch, amount, token.span, loop, "", start)
    return True


def _chain(cursor: Cursor, pieces: Pieces, amount: Amount | None, start: int) -> None:
    """`ch 3`, `3 ch`, `chain 2`, `ch-1`, `ch 1 loosely`."""
    number = amount
    if number is None:
        if cursor.mark("-", "\u2013") and (after := cursor.ahead()) is not None and after.kind == "number":
            cursor.position += 1
        elif cursor.word("of") and (after := cursor.ahead()) is not None and after.kind == "number":
            # "Make a chain of 26."
            cursor.position += 1
        number = cursor.amount()
    if number is None and (left_open := read_open_chain(cursor, start)) is not None:
        pieces.append(left_open)
        return
    if number is None:
        cursor.position = start + 1
        number = Amount((1,), cursor.since(start))
    cursor.take_name("sts", "st", "chs", "stitches")
    pieces.append(Chain(with_more_chains(cursor, number, start), cursor.since(start)))


def read_phrase(
    cursor: Cursor,
    pieces: Pieces,
    stitch: str,
    amount: Amount | None,
    word: Span,
    loop: str,
    alias: str,
    start: int,
) -> None:
    """What follows a stitch, the last word taken: how many, which loop, where, in which colour.

    `word` is the place of the stitch's own words, `start` the token that the phrase begins with."""
    one = Amount((1,), word)
    late = read_loop(cursor)
    loop = loop if late is None else late
    said = amount
    below = read_below(cursor)
    if said is None and below is None:
        times = cursor.times()
        said = times[1] if times is not None else cursor.amount()
        if said is not None and _joined(cursor, pieces, stitch, said, loop, alias, start):
            return
    late = read_loop(cursor)
    loop = loop if late is None else late
    if cursor.word("evenly"):
        pieces.append(read_evenly(cursor, start, "work", said, stitch))
        return
    if _edge_behind(cursor, pieces, stitch, said, start, alias):
        return
    over = cursor.word("over")
    at = cursor.position
    take_all(cursor)
    moves = stitch == "slip_stitch" and cursor.take_word("to")
    place = read_place(cursor, loop, led=moves)
    if place is not None and (place.kind == "row_ends" or place.what == "row_end") and not cursor.mark(",", ".", ";"):
        # "2 sc in each row end up the other side": it is the row ends that are worked into.
        read_along(cursor)
    elif place is not None and place.kind in ("each", "next") and place.what in ("stitch", "chain"):
        # "sc in next 8 ch on opposite side of chain", "sc in each ch across the bottom of the chain".
        at_edge = cursor.position
        named = None if cursor.mark(",", ".", ";") else read_along(cursor)
        if read_other_side(cursor) or (named is not None and named[0] == "chain"):
            place = msgspec.structs.replace(place, what="other_side")
        elif named is not None and named[0] == "foundation":
            place = msgspec.structs.replace(place, what="foundation")
        elif named is not None and named[0] not in ("edge", "top", "row_ends"):
            cursor.position = at_edge
    if place is None:
        loop = _trailing_loop(cursor, loop)
        if said is None and cursor.word("around") and (after := cursor.ahead()) is not None and after.value == "evenly":
            pieces.append(read_evenly(cursor, start, "work", None, stitch))
            return
        below = read_below(cursor) if below is None else below
        bare = amount is not None and below is None
        place = Place(
            "next", said.span if said is not None else word, said or one, None, loop, "", below, "stitch", bare
        )
        said = None
    elif cursor.take_word("together"):
        joined = (place.count.at(0) if place.count is not None else None) or 2
        place = Place("next", cursor.since(start), one, None, place.loop)
        _append(cursor, pieces, together_of(stitch, joined), one, place, start, alias)
        return
    elif cursor.word("evenly") and place.kind != "next":
        cursor.position = at
        pieces.append(read_evenly(cursor, start, "work", said, stitch))
        return
    elif place.kind == "each" and said is not None and place.what == "stitch" and not says_each(cursor, at):
        # "18 sc around": so many stitches in all, not so many in each.
        if said.values != (1,):
            pieces.append(Evenly("work", said, stitch, "row", cursor.since(start)))
            return
    elif place.kind in ("next", "same", "nth") and not cursor.mark(",", ".", ";"):
        # Behind the place: "sc in next st twice", "2 sc in next st 3 times".
        times = cursor.times()
        if times is not None and said is None and (place.kind == "same" or _one_place(stitch, place)):
            # "sc in next st twice" is two in one stitch.
            said = times[1]
        elif times is not None and place.count is None:
            place = msgspec.structs.replace(place, count=times[1])
    if below is not None and place.below is None:
        place = msgspec.structs.replace(place, below=below)
    stitch = by_place(stitch, place)
    uses = dictionary()[stitch].uses if stitch else 1
    if uses > 1 and place.kind in ("next", "first", "last") and place.count is not None and at != cursor.position:
        place = runs_of(place, uses, over)
    _append(cursor, pieces, stitch, said or one, place, start, alias)


def take_all(cursor: Cursor) -> None:
    """Moves over the "all" of `5 dc all in same st`."""
    after = cursor.ahead()
    if cursor.token is not None and cursor.token.text.lower() == "all" and after is not None and after.value == "in":
        cursor.position += 1


# Words that may lead from a stitch to an edge: "24 sc along left edge", "27 sc on each side".
_TO_EDGE = frozenset(("along", "across", "around", "down", "up", "over", "on", "in"))


def _edge_behind(cursor: Cursor, pieces: Pieces, stitch: str, said: Amount | None, start: int, alias: str) -> bool:
    """`24 sc along left edge`, `27 sc on each side`, `9 sc down other side`: stitches along an edge named behind them;
    False (and nothing taken) where none is."""
    token = cursor.token
    if token is None or token.text.lower().split()[0] not in _TO_EDGE:
        return False
    at = cursor.position
    along = read_along(cursor)
    if along is None or along[0] == "rotate":
        cursor.position = at
        return False
    edge, span = along
    if edge in ("chain", "foundation"):
        kind = "each" if said is None else "next"
        rest = read_to_last(cursor) if said is None else None
        until = "corner" if said is None and rest is None and read_to_corner(cursor) else ""
        what = "other_side" if edge == "chain" else edge
        place = Place(kind, cursor.since(start), said, rest, what=what, until=until)
        _append(cursor, pieces, stitch, Amount((1,), span), place, start, alias)
    else:
        pieces.append(Evenly("work", said, stitch, edge, cursor.since(start)))
    return True


def _one_place(stitch: str, place: Place) -> bool:
    """Whether a plain stitch goes into a single place."""
    return place.count is None and place.below is None and (not stitch or dictionary()[stitch].uses == 1)


def _joined(cursor: Cursor, pieces: Pieces, stitch: str, said: Amount, loop: str, alias: str, start: int) -> bool:
    """`sc 2 tog`, `sc 2 sts together`: the number in front was how many are joined."""
    at = cursor.position
    cursor.take_word("stitch")
    if not cursor.take_word("together"):
        cursor.position = at
        return False
    name = together_of(stitch, said.at(0) or 2)
    one = Amount((1,), said.span)
    words = cursor.position
    over = cursor.word("over")
    place = read_place(cursor, loop)
    if place is None:
        times = cursor.times()
        place = Place("next", cursor.since(start), times[1] if times is not None else one, None, loop)
    elif cursor.position > words and place.count is not None:
        place = runs_of(place, dictionary()[name].uses, over)
    _append(cursor, pieces, name, one, place, start, alias)
    return True


def _trailing_loop(cursor: Cursor, loop: str) -> str:
    """`sc 5 in blo`: a loop behind the number, without a place."""
    at = cursor.position
    if cursor.take_word("in", "through"):
        found = read_loop(cursor)
        if found is not None:
            return found
    cursor.position = at
    return loop


def by_place(stitch: str, place: Place) -> str:
    """The stitch that a plain one becomes where it is worked: round a post, or rows further down."""
    if not stitch:
        return stitch
    if place.post:
        posted = f"{place.post}_post_{stitch}"
        return posted if posted in dictionary() else stitch
    if place.below is not None and place.below.what != "counted" and 1 in place.below.values:
        # "1 row below" is lower than the row that every stitch goes into.
        return f"long_{stitch}" if f"long_{stitch}" in dictionary() else stitch
    if place.below is not None and any(value is not None and value > 1 for value in place.below.values):
        deep = f"long_{stitch}"
        return deep if deep in dictionary() else stitch
    return stitch


def _append(cursor: Cursor, pieces: Pieces, stitch: str, amount: Amount, place: Place, start: int, alias: str) -> None:
    """Adds the stitches; a colour said behind them, `sc 3 in A`, is theirs."""
    span = cursor.since(start)
    colour = _colour_behind(cursor)
    if colour is not None:
        pieces.append(colour)
        span = cursor.since(start)
    pieces.append(Work((Item(stitch, amount, span, 0, alias),), place, span))


# What may stand behind the label of a yarn that closes its phrase.
_BEHIND_COLOUR = frozenset((",", ";", ".", ")", "]", "}", "*"))


def _colour_behind(cursor: Cursor) -> Yarn | None:
    at = cursor.position
    behind = cursor.ahead()
    ends = behind is None or (behind.kind == "mark" and behind.text in _BEHIND_COLOUR)
    if cursor.at("colour") and (ends or (behind is not None and behind.kind == "word" and behind.value == "and")):
        # "3 sc A, 2 sc B": the label alone.
        return yarns.bare_colour(cursor)
    if cursor.word("in", "with"):
        cursor.position += 1
        cursor.take_word("colour")
        if cursor.at("colour") or strands.read_strands(cursor):
            cursor.position = at
            found = yarns.read_yarn(cursor)
            only = found[0] if len(found) == 1 else None
            if isinstance(only, Yarn) and only.at is None and only.act == "with":
                return only
    cursor.position = at
    return None
