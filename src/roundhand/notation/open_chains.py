"""Chains whose number is left to the maker: `ch a multiple of 6 + 4`, `ch any even number`, `ch desired length`.

That "plus 2" may be the chain to turn with or a part of the stitches changes nothing in what is chained.
"""

from __future__ import annotations

from roundhand.notation.cursor import Cursor
from roundhand.notation.reach import pass_purpose, to_separator
from roundhand.notation.tree import Amount, Chain

# A chain as long as a swatch, where nothing tells how long it is.
_SAMPLE = 20
_LED = ("a", "an", "any", "the", "your", "to", "loosely", "in", "some", "of")
_LENGTHS = ("desired", "required", "length", "width", "enough", "wanted", "needed", "preferred", "chosen")
_MULTIPLES = ("multiple", "multiples", "mult", "mult.")


def read_open_chain(cursor: Cursor, start: int) -> Chain | None:
    """The rest of a chain that has no number of its own; None (nothing taken) for other words. The word for a chain
    has been read; it stands at token `start`."""
    position = cursor.position
    while cursor.take_name(*_LED) or cursor.take_word("of", "in", "the", "each", "a"):
        pass
    multiple = _multiple(cursor) or _number(cursor) or _length(cursor)
    if multiple is None:
        cursor.position = position
        return None
    by, plus = multiple
    number = next(n for n in range(plus + by, plus + by * _SAMPLE + _SAMPLE, by) if n >= _SAMPLE)
    span = cursor.since(start)
    return Chain(Amount((number,), span, (span,)), span, multiple=multiple)


def _multiple(cursor: Cursor) -> tuple[int, int] | None:
    if not cursor.take_name(*_MULTIPLES):
        return None
    if cursor.mark("."):
        cursor.position += 1
    cursor.take_word("of")
    by = _whole(cursor)
    if by is None or by < 1:
        return None
    plus = 0
    while (more := _added(cursor)) is not None:
        plus += more
    return by, plus


def _whole(cursor: Cursor) -> int | None:
    """A number, the same in all sizes, with the word for what it counts."""
    amount = cursor.amount()
    if amount is None or len(set(amount.values)) != 1:
        return None
    if cursor.at("stitch", "chain"):
        cursor.position += 1
    cursor.take_word("stitch")
    cursor.take_name("sts", "st", "chs")
    return amount.values[0]


def _added(cursor: Cursor) -> int | None:
    """`+ 4`, `, plus 2 for the turning chain`, `and add 2`."""
    start = cursor.position
    if cursor.mark(","):
        cursor.position += 1
    cursor.take_word("and")
    if cursor.mark("+"):
        cursor.position += 1
    elif not cursor.take_name("plus", "add"):
        cursor.position = start
        return None
    number = _whole(cursor)
    if number is None:
        cursor.position = start
        return None
    pass_purpose(cursor)
    return number


def _number(cursor: Cursor) -> tuple[int, int] | None:
    """`even number of sts`, `odd number`, `number`."""
    start = cursor.position
    by, plus = 1, 0
    if cursor.word("evenly") or cursor.take_name("even", "odd", "uneven"):
        if cursor.word("evenly"):
            cursor.position += 1
        by, plus = 2, int(cursor.low[cursor.position - 1] in ("odd", "uneven"))
    if not cursor.take_name("number", "amount"):
        cursor.position = start
        return None
    if cursor.take_word("of"):
        cursor.take_word("stitch")
        if cursor.at("stitch", "chain"):
            cursor.position += 1
    while (more := _added(cursor)) is not None:
        plus += more
    if cursor.take_name("desired", "required", "needed") or cursor.word("in", "for"):
        to_separator(cursor)
    return by, plus


def _length(cursor: Cursor) -> tuple[int, int] | None:
    """`desired length`, `the length required`, `as long as you like`."""
    start = cursor.position
    if cursor.take_word("as") or cursor.take_name("as"):
        if not cursor.take_name("long", "many", "wide"):
            cursor.position = start
            return None
        to_separator(cursor)
        return 1, 0
    if not cursor.take_name(*_LENGTHS):
        return None
    to_separator(cursor)
    return 1, 0
