"""Rows worked as other rows were: `Rep Rnds 6-11 two more times`, `Rep last 2 rows`, `as Rnd 2`, `work 5 rnds even`."""

from __future__ import annotations

from roundhand.findings import Span
from roundhand.notation.cursor import Cursor
from roundhand.notation.tree import Amount, Copy, Plain

_ROWS = ("row", "round", "row_or_round")
_DASHES = ("-", "\u2013", "\u2014")


def read_copy(cursor: Cursor, often: bool = True) -> Copy | None:
    """A reference to earlier rows and how often they are worked; None (nothing taken) where the words hold none.

    `often` is false where the words for how often are left to the reader of schedules."""
    start = cursor.position
    cursor.take_word("work", "as", "repeat")
    for _ in range(6):
        if not cursor.word("as", "the", "for", "from", "same") or _names_last(cursor):
            break
        cursor.position += 1
    last_rows = _last_rows(cursor)
    first = last = None
    if last_rows is None and (ordinal := _ordinal_row(cursor, start)) is not None:
        first = last = ordinal
    elif last_rows is None:
        cursor.take_name("instructions", "directions")
        cursor.take_word("for", "of")
        if not cursor.take_word(*_ROWS):
            cursor.position = start
            return None
        first = cursor.amount()
        if first is None:
            cursor.position = start
            return None
        last = _range_end(cursor) or first
    rows_span = cursor.since(start)
    mode, amount, times_span = _how_often(cursor) if often else ("once", None, None)
    ends = often and _said_end(cursor)
    return Copy(cursor.since(start), first, last, mode, last_rows or 0, amount, times_span or rows_span, ends=ends)


def copies_behind(cursor: Cursor) -> list[Copy]:
    """`, then Row 2 once`, `, then work Rows 2 and 3`: rows worked again behind others, without a word for it."""
    found: list[Copy] = []
    while True:
        start = cursor.position
        if cursor.mark(",", ";"):
            cursor.position += 1
        copy = None
        if cursor.take_word("and"):
            # "Then" means no more than "and".
            cursor.take_word("and")
            cursor.take_word("work", "repeat")
            copy = read_copy(cursor) if cursor.word(*_ROWS) else None
        if copy is None:
            cursor.position = start
            return found
        found.append(copy)


_LAST = ("this", "that", "these", "those", "previous", "prev", "prior", "preceding")


def _said_end(cursor: Cursor) -> bool:
    """Moves over `..., ending with a Row 2`, which says what the last time ends with; else False (nothing taken)."""
    start = cursor.position
    if cursor.mark(",", ";"):
        cursor.position += 1
    if cursor.take_name("ending", "end", "finishing") and cursor.take_name("with", "on", "after"):
        while cursor.take_name("a", "an", "the", "last", "full") or cursor.take_word("right_side", "wrong_side"):
            pass
        if cursor.take_word(*_ROWS):
            cursor.amount()
            return True
    cursor.position = start
    return False


def _ordinal_row(cursor: Cursor, start: int) -> Amount | None:
    """`1st row`, `2d round`, and `2d` alone at the end of a sentence that says "as"."""
    token, after = cursor.token, cursor.ahead()
    if token is None or token.kind != "ordinal" or token.number is None:
        return None
    if after is not None and after.kind == "word" and after.value in _ROWS:
        cursor.position += 2
        return Amount((token.number,), token.span)
    said = any(one.kind == "word" and one.value == "as" for one in cursor.tokens[start : cursor.position])
    if said and (after is None or after.text == "."):
        cursor.position += 1
        return Amount((token.number,), token.span)
    return None


def _names_last(cursor: Cursor) -> bool:
    token = cursor.token
    return token is not None and token.text.lower() in _LAST


def _last_rows(cursor: Cursor) -> int | None:
    """`last rnd`, `last 2 rows`, `these 2 rows`: how many rows just before; None where the words say nothing of it."""
    start = cursor.position
    if cursor.take_word("last") or cursor.take_name(*_LAST):
        amount = cursor.amount()
        if cursor.take_word(*_ROWS):
            return (amount.at(0) if amount is not None else 1) or 1
    cursor.position = start
    return None


def _range_end(cursor: Cursor) -> Amount | None:
    """The end of `6-11`, `6 to 11`, `6 and 7`, `6 through 11`."""
    start = cursor.position
    if cursor.mark(*_DASHES) or cursor.word("to", "and", "through"):
        cursor.position += 1
        cursor.take_word(*_ROWS)
        amount = cursor.amount()
        if amount is not None:
            return amount
    cursor.position = start
    return None


def _how_often(cursor: Cursor) -> tuple[str, Amount | None, Span | None]:
    """`two more times`, `5 times`, `until there are 60 rows`, `for a total of 12 rows`: mode, number and words."""
    start = cursor.position
    if cursor.mark(","):
        cursor.position += 1
    times = cursor.times()
    if times is not None:
        mode, amount, span = times
        return ("more" if mode == "more" else "unsaid"), amount, span
    if cursor.take_word("until"):
        at = cursor.position
        while (token := cursor.token) is not None and token.kind != "mark":
            if token.kind == "number":
                amount_now = cursor.amount()
                if amount_now is not None and cursor.take_word(*_ROWS):
                    return "until", amount_now, cursor.since(start)
                break
            if token.kind == "word" and token.value in _ROWS:
                cursor.position += 1
                amount_now = cursor.amount()
                if amount_now is not None:
                    return "until", amount_now, cursor.since(start)
                continue
            cursor.position += 1
        cursor.position = at
        return "unknown", None, cursor.since(start)
    if cursor.take_word("for"):
        cursor.take_name("a")
        total = cursor.take_word("total")
        cursor.take_word("of")
        amount_now = cursor.amount()
        if amount_now is not None:
            more = cursor.take_word("more")
            if cursor.take_word(*_ROWS):
                return ("until" if total and not more else "rows"), amount_now, cursor.since(start)
    cursor.position = start
    return "once", None, None


def _on_these(cursor: Cursor) -> None:
    """Moves over `on 24 sts`, `on these sts`, `over all sts`, which name the stitches that are there."""
    start = cursor.position
    if cursor.take_name("on", "over") or cursor.take_word("over"):
        while cursor.take_name("these", "those", "all", "the", "same", "remaining") or cursor.take_word(
            "the", "remaining", "each"
        ):
            pass
        cursor.amount()
        if cursor.take_word("stitch"):
            return
    cursor.position = start


def read_plain(cursor: Cursor) -> Plain | None:
    """`work 5 rnds even`, `work even for 6 rnds in sc`, `sc 4 rnds`; None (nothing taken) where the words differ."""
    start = cursor.position
    if cursor.last_row <= start:
        return None
    cursor.take_word("work")
    even = cursor.take_word("plain", "evenly")
    stitch = ""
    if cursor.at("stitch"):
        stitch = cursor.take().value
    if even and not stitch and cursor.word("in") and (named := cursor.ahead()) is not None and named.kind == "stitch":
        stitch = named.value
        cursor.position += 2
    if even or stitch:
        _on_these(cursor)
    cursor.take_word("for", "in")
    amount = cursor.amount()
    if amount is not None:
        cursor.take_word("more")
        if cursor.take_word(*_ROWS) and not cursor.word("below"):
            even = cursor.take_word("plain", "evenly") or even
            if cursor.take_word("in", "of") and cursor.at("stitch"):
                stitch = cursor.take().value
                even = True
            if even or stitch:
                return Plain(cursor.since(start), amount, stitch)
    cursor.position = start
    return None
