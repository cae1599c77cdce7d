"""Shaping told of a whole row: at each end, at one edge, in every sixth stitch, in stitches named by their number.

What the words say at once is written out as a maker works it, stitch after stitch: `dec 1 st each end` is a decrease,
plain stitches to the last two, a decrease. So every room that follows a row finds words that it knows. That such
phrases are read so is common practice; "every sixth stitch" has a rest that is worked plainly.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from roundhand.findings import Span
from roundhand.measures import number_word
from roundhand.notation.cursor import Cursor
from roundhand.notation.pieces import Whole
from roundhand.notation.tree import Amount, Evenly, Item, Node, Place, Skip, Times, Work
from roundhand.stitches import dictionary

_ROWS = ("row", "round", "row_or_round")
_ENDS = frozenset(("end", "ends", "sides", "side", "edges", "edge"))
_OLD = ("widen", "narrow")
# Numbers of a list longer than this are a mistake of typing.
_MOST_PLACES = 60


def read_whole(cursor: Cursor, start: int, act: str, amount: Amount | None, stitch: str) -> Whole | None:
    """The rest of `dec 1 st each end`, `inc in every 6th st`, `widen 4 times`; None (nothing taken) for other words.

    The word for the act, a number and "st" have been read; they begin at token `start`."""
    position = cursor.position
    where = read_where(cursor)
    if where is not None:
        _of_row(cursor)
        return _whole(cursor, start, act, where, amount, stitch)
    every = _every(cursor)
    if every is not None:
        return msgspec.structs.replace(_whole(cursor, start, act, "every", amount, stitch), every=every)
    places = _places(cursor)
    if places:
        return msgspec.structs.replace(_whole(cursor, start, act, "named", amount, stitch), places=places)
    cursor.position = position
    if amount is not None and cursor.tokens[start].text.lower().startswith(_OLD):
        # "Widening 4 times" leaves the places to the maker.
        _of_row(cursor)
        return _whole(cursor, start, act, "spread", amount, stitch)
    return None


def _whole(cursor: Cursor, start: int, act: str, kind: str, amount: Amount | None, stitch: str) -> Whole:
    """The phrase from the token at `start` to the cursor."""
    first, last = cursor.tokens[start].span, cursor.tokens[cursor.position - 1].span
    return Whole(act, kind, amount, None, (), stitch, cursor.since(start), first, last)


def read_every_skipped(cursor: Cursor) -> Whole | None:
    """`skip every 10th st`: a stitch passed over in each group; None (nothing taken) for other words."""
    start = cursor.position
    if cursor.take_word("skip") and (every := _every(cursor)) is not None:
        return msgspec.structs.replace(_whole(cursor, start, "skip", "every", None, ""), every=every)
    cursor.position = start
    return None


def read_where(cursor: Cursor) -> str | None:
    """`each end`, `at both ends`, `at each side`: `ends`; `at neck edge`, `at beg of row`: `start` or `end`."""
    start = cursor.position
    at = cursor.take_name("at", "on") or cursor.take_word("in")
    both = cursor.take_word("each") or cursor.take_name("both", "either")
    cursor.take_word("the")
    if both:
        token = cursor.token
        if token is not None and token.text.lower() in _ENDS:
            cursor.position += 1
            return "ends"
    elif at:
        if cursor.word("beginning"):
            cursor.position += 1
            return "start"
        if (token := cursor.token) is not None and token.text.lower() in ("end", "the end"):
            cursor.position += 1
            return "end"
        for _ in range(2):
            token = cursor.token
            if token is None or token.kind == "mark" or token.text.lower() in _ENDS:
                break
            cursor.position += 1
        token = cursor.token
        if token is not None and token.text.lower() in ("edge", "edges") and cursor.position > start + 1:
            cursor.position += 1
            return "start"
        if cursor.position > start and cursor.tokens[cursor.position - 1].value == "edge":
            # "at neck edge" where the words make one token.
            return "start"
    cursor.position = start
    return None


def _of_row(cursor: Cursor) -> None:
    """Moves over `of row`, `of this rnd`, `in each row`."""
    start = cursor.position
    if cursor.take_word("of", "in"):
        cursor.take_word("the", "each")
        if cursor.take_word(*_ROWS):
            return
    cursor.position = start


def _every(cursor: Cursor) -> Amount | None:
    """`in every 6th st`, `each 6th st`, `every other st`: the number of stitches in a group."""
    start = cursor.position
    cursor.take_word("in")
    if cursor.take_word("each"):
        token = cursor.token
        other = token is not None and token.text.lower() in ("other", "second", "alt", "alternate")
        number = 2 if other else token.number if token is not None and token.kind == "ordinal" else None
        if token is not None and number is None and token.kind in ("word", "name"):
            number = _ordinal_word(token.text)
        if token is not None and number is not None and number >= 2:
            cursor.position += 1
            after = cursor.token
            ends = cursor.take_word("stitch") or after is None or after.kind in ("mark", "word")
            if ends and not cursor.word(*_ROWS):
                cursor.take_word("around", "across")
                return Amount((number,), token.span, (token.span,))
    cursor.position = start
    return None


_ORDINALS = ("third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")


def _ordinal_word(word: str) -> int | None:
    """The value of an ordinal in letters.

    >>> _ordinal_word("third"), _ordinal_word("door")
    (3, None)
    """
    lower = word.lower()
    if lower in _ORDINALS:
        return _ORDINALS.index(lower) + 3
    return number_word(lower[:-2]) if lower.endswith("th") else None


def _places(cursor: Cursor) -> tuple[Amount, ...]:
    """`in 3rd, 8th and 90th st`: two numbers of stitches and more, in rising order."""
    start = cursor.position
    found: list[Amount] = []
    if cursor.take_word("in"):
        cursor.take_word("the")
        while (token := cursor.token) is not None and token.kind == "ordinal" and token.number is not None:
            if found and token.number <= (found[-1].values[0] or 0):
                break
            found.append(Amount((token.number,), token.span, (token.span,)))
            cursor.position += 1
            if not (cursor.mark(",", "&") or cursor.word("and")) or len(found) > _MOST_PLACES:
                break
            cursor.position += 1
            cursor.take_word("and")
            cursor.take_word("the")
        if len(found) >= 2 and cursor.take_word("stitch"):
            return tuple(found)
    cursor.position = start
    return ()


# Written out.


def spelled(whole: Whole, plain: Work | None) -> list[Node]:
    """The phrase as a maker works it. `plain` are the stitches said before, `sc around`, among which it falls."""
    base = plain.group[0].stitch if plain is not None else ""
    stitch = whole.stitch or base
    into = plain.into if plain is not None else Place("each", whole.span)
    if whole.kind == "spread":
        span = whole.span if plain is None else plain.span.to(whole.span)
        return [Evenly(whole.act, whole.amount, stitch, "row", span)]
    middle = plain.span if plain is not None else whole.span
    if whole.kind == "every":
        return _in_groups(whole, stitch, into, middle)
    if whole.kind == "named":
        return _at_places(whole, stitch, into, middle)
    number = whole.amount or Amount((1,), whole.first)
    shaped = [_shaped(whole, stitch, into, number, span) for span in (whole.first, whole.last)]
    kept = tuple(value if value is None or whole.act == "increase" else 2 * value for value in number.values)
    if whole.kind == "ends":
        rest = Amount(kept, whole.last)
        return [shaped[0], _plain(stitch, msgspec.structs.replace(into, rest=rest), middle), shaped[1]]
    if whole.kind == "end":
        rest = Amount(kept, whole.last)
        return [_plain(stitch, msgspec.structs.replace(into, rest=rest), middle), shaped[1]]
    return [shaped[0], _plain(stitch, into, middle)]


def _plain(stitch: str, into: Place, span: Span) -> Work:
    return Work((Item(stitch, Amount((1,), span), span),), into, span)


def _next(into: Place, count: Amount, span: Span) -> Place:
    return Place("next", span, count, None, into.loop)


def _shaped(whole: Whole, stitch: str, into: Place, number: Amount, span: Span) -> Work:
    """So many increases or decreases, one behind the other."""
    if whole.act == "increase":
        item = Item(stitch, Amount((2,), span), span)
    else:
        name = f"{stitch}_2_together" if f"{stitch}_2_together" in dictionary() else ""
        item = Item(name, Amount((1,), span), span, 0 if name else 2)
    return Work((item,), _next(into, number, span), span)


def _in_groups(whole: Whole, stitch: str, into: Place, middle: Span) -> list[Node]:
    """Groups of so many stitches, the last of each shaped, and the rest plain."""
    assert whole.every is not None
    one = Amount((1,), whole.first)
    uses = 2 if whole.act == "decrease" else 1
    before = Amount(tuple(value if value is None else value - uses for value in whole.every.values), whole.every.span)
    last: Node = Skip(one, whole.first) if whole.act == "skip" else _shaped(whole, stitch, into, one, whole.first)
    body: Sequence[Node] = [_plain(stitch, _next(into, before, whole.every.span), whole.every.span), last]
    if before.values == (0,):
        body = [last]
    group = Times(tuple(body), "rest", whole.span, whole.every.span, every=whole.act == "increase")
    return [group, _plain(stitch, into, middle if middle != whole.span else whole.last)]


def _at_places(whole: Whole, stitch: str, into: Place, middle: Span) -> list[Node]:
    """Plain stitches up to each place, and one shaped there."""
    one = Amount((1,), whole.first)
    uses = 2 if whole.act == "decrease" else 1
    nodes: list[Node] = []
    done = 0
    for place in whole.places:
        at = place.values[0] or 0
        plain = at - done - uses
        if plain > 0:
            nodes.append(_plain(stitch, _next(into, Amount((plain,), place.span), place.span), place.span))
        nodes.append(_shaped(whole, stitch, into, one, Span(place.span.start, place.span.end - 1)))
        done = at
    return [*nodes, _plain(stitch, into, middle if middle != whole.span else whole.last)]
