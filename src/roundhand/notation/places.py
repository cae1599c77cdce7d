"""Where the hook goes: from `in next 3 sts` to `in back loop only of each st around`."""

from __future__ import annotations

from roundhand.findings import Span
from roundhand.notation.cursor import Cursor
from roundhand.notation.tree import Amount, Place

_LOOPS = {"back_loop": "back", "front_loop": "front", "both_loops": "", "third_loop": "third"}
_UNIT_WORDS = ("stitch", "space", "row_end")


def read_loop(cursor: Cursor) -> str | None:
    """A loop of the stitch (`back`, `front`, `third`, or empty for both) if one stands here, else None."""
    token = cursor.token
    if token is not None and token.kind == "word" and token.value in _LOOPS:
        cursor.position += 1
        cursor.take_name("only")
        return _LOOPS[token.value]
    return None


def read_unit(cursor: Cursor) -> str | None:
    """What a place is called: a stitch, a space, a chain, a row end; moves over it. None where no such word stands."""
    token = cursor.token
    if token is None:
        return None
    if token.kind == "stitch" and token.value == "chain":
        return _chain_unit(cursor)
    if token.kind in ("stitch", "defined"):
        cursor.position += 1
        if cursor.word("space"):
            cursor.position += 1
            return "space"
        cursor.take_word("stitch")
        return "stitch"
    if token.kind == "word" and token.value in _UNIT_WORDS:
        cursor.position += 1
        return token.value
    if token.kind == "word" and token.value == "turning_chain":
        cursor.position += 1
        return "turning_chain"
    return None


def _chain_unit(cursor: Cursor) -> str:
    """`ch`, `ch-2 sp`, `ch 2 space`, `ch-sp`: a single chain or the space under some."""
    cursor.position += 1
    start = cursor.position
    if cursor.mark("-", "\u2013"):
        cursor.position += 1
    if cursor.at("number"):
        cursor.position += 1
    elif cursor.word("space"):
        cursor.position += 1
        return "space"
    if cursor.word("space"):
        cursor.position += 1
        return "space"
    token = cursor.ahead(-1)
    if cursor.position > start and token is not None and token.kind == "number":
        # "in next ch-1" often means the space over it.
        return "space"
    cursor.position = start
    return "chain"


def read_below(cursor: Cursor) -> Amount | None:
    """`3 rnds below`, `2 rows down`: how many rows lower, counted so that 1 is the row below; None where not said."""
    start = cursor.position
    cursor.take_name("from", "on", "of", "the")
    amount = cursor.amount()
    if amount is not None and cursor.take_word("row", "round") and (
        cursor.take_word("below") or cursor.take_name("down", "under", "lower", "beneath", "prior", "earlier")
    ):
        return amount
    cursor.position = start
    return None


def read_place(cursor: Cursor, loop: str = "") -> Place | None:
    """The place that stands at the cursor, with or without `in`; None (and nothing taken) where none stands."""
    start = cursor.position
    led = cursor.take_word("in", "over") or cursor.take_name("around", "over", "through", "across") or False
    if led and cursor.tokens[start].value == "around" and not _goes_on(cursor):
        # A bare "around" is the whole round.
        cursor.position = start
        led = False
    while True:
        found = read_loop(cursor)
        if found is not None:
            loop = found
            led = True
        elif not (
            cursor.take_word("of", "the", "through", "top", "work")
            or (led and cursor.take_name("post", "posts", "in", "under", "free", "only"))
        ):
            break
    place = _place(cursor, start, loop, led)
    if place is None:
        cursor.position = start
        return None
    return place


def _goes_on(cursor: Cursor) -> bool:
    """Whether words follow that make "around" lead to a place: `around the post of next st`, `around next dc`."""
    return (
        cursor.word("post", "next", "each", "same", "the", "first", "last", "front_post", "back_post")
        or (cursor.at("stitch") or cursor.word("stitch"))
        or (cursor.at("number") and cursor.ahead() is not None)
    )


def _place(cursor: Cursor, start: int, loop: str, led: bool) -> Place | None:
    below = read_below(cursor)
    if below is not None:
        cursor.take_word("of", "the")
        cursor.take_name("from")

    def made(
        kind: str, count: Amount | None = None, rest: Amount | None = None, what: str = "stitch"
    ) -> Place:
        deep = below
        if deep is None:
            deep = read_below(cursor)
        late = read_loop(cursor)
        return Place(kind, cursor.since(start), count, rest, loop if late is None else late, "", deep, what)

    if cursor.take_word("each"):
        cursor.take_word("of")
        cursor.take_word("the")
        cursor.take_word("next", "first", "last", "remaining")
        amount = cursor.amount()
        unit = read_unit(cursor)
        if amount is not None:
            return made("next", amount, what=unit or "stitch")
        if unit is None and not cursor.word("around", "across"):
            return None
        rest, span_ok = _to_last(cursor)
        return made("each" if unit != "row_end" else "row_ends", rest=rest, what=unit or "stitch") if span_ok else None
    if cursor.take_word("next"):
        amount = cursor.amount()
        unit = read_unit(cursor)
        return made("next", amount, what=unit or "stitch")
    if cursor.take_word("same"):
        cursor.take_word("place")
        unit = read_unit(cursor)
        if cursor.take_word("as"):
            _to_separator(cursor)
        return made("same", what=unit or "stitch")
    if cursor.word("first", "last") and (led or not _closes_row(cursor)):
        kind = cursor.take().value
        amount = cursor.amount()
        unit = read_unit(cursor)
        if unit is None and amount is None and not led:
            return None
        return made(kind, amount, what=unit or "stitch")
    if cursor.take_word("remaining"):
        amount = cursor.amount()
        unit = read_unit(cursor)
        cursor.take_word("around", "across")
        return made("next" if amount is not None else "each", amount, what=unit or "stitch")
    if cursor.at("ordinal"):
        return _ordinal_place(cursor, start, loop)
    if cursor.take_word("ring"):
        return made("ring")
    if cursor.take_word("layers"):
        cursor.take_word("of", "in")
        if cursor.take_word("each"):
            read_unit(cursor)
        cursor.take_word("around", "across")
        return made("layers")
    if cursor.word("row_end"):
        cursor.position += 1
        cursor.take_word("around", "across")
        return made("row_ends", what="row_end")
    if cursor.word("around", "across") and not led:
        cursor.position += 1
        if cursor.word("to"):
            rest, _ = _to_last(cursor)
            return made("each", rest=rest)
        return made("each")
    if cursor.word("to", "until") or cursor.at("word", "in") and False:
        rest, found = _to_last(cursor)
        return made("each", rest=rest) if found and rest is not None else None
    if led:
        if cursor.take_name("all"):
            read_unit(cursor)
            cursor.take_word("around", "across")
            return made("each")
        amount = cursor.amount()
        cursor.take_name("marked", "center", "centre", "corner")
        unit = read_unit(cursor)
        if amount is not None or unit is not None:
            if amount is None and cursor.word("around", "across"):
                cursor.position += 1
                return made("each", what=unit or "stitch")
            return made("next", amount, what=unit or "stitch")
    return None


def _closes_row(cursor: Cursor) -> bool:
    """Whether "first" or "last" here belongs to other words, such as "last rnd"."""
    after = cursor.ahead()
    return after is None or after.kind == "word" and after.value in ("row", "round", "repeat")


def _ordinal_place(cursor: Cursor, start: int, loop: str) -> Place | None:
    """`in 2nd ch from hook`, `in 3rd st`."""
    token = cursor.take()
    count = Amount((token.number,), token.span)
    unit = read_unit(cursor)
    from_hook = cursor.take_word("from_hook")
    if unit is None and not from_hook:
        return None
    if from_hook or unit == "chain":
        return Place("from_hook", cursor.since(start), count, None, loop, what="chain")
    return Place("nth", cursor.since(start), count, None, loop, what=unit or "stitch")


def _to_last(cursor: Cursor) -> tuple[Amount | None, bool]:
    """`around`, `across`, `to last 3 sts`, `until 3 sts remain` behind a place: how many are left, and whether it reads."""
    start = cursor.position
    cursor.take_word("around", "across")
    if cursor.take_word("to", "until"):
        cursor.take_name("within")
        cursor.take_word("the")
        cursor.take_word("last", "first")
        amount = cursor.amount()
        if amount is None:
            # "to last st" leaves one; other ends ("to marker", "to corner") are named places.
            if read_unit(cursor) is not None:
                return Amount((1,), cursor.since(start)), True
            cursor.position = start
            return None, True
        read_unit(cursor)
        cursor.take_word("remaining")
        cursor.take_name("left", "remain", "before", "unworked")
        return amount, True
    return None, True


def _to_separator(cursor: Cursor) -> None:
    """Moves to the next separator: the rest of a phrase that changes nothing."""
    depth = 0
    while (token := cursor.token) is not None:
        if token.kind == "mark":
            if token.text in "([{":
                depth += 1
            elif token.text in ")]}":
                if depth == 0:
                    return
                depth -= 1
            elif depth == 0 and token.text in (",", ";", ".", ":"):
                return
        cursor.position += 1


def to_separator(cursor: Cursor) -> Span:
    """Moves to the next separator and gives the span passed over."""
    start = cursor.position
    _to_separator(cursor)
    return cursor.since(start)
