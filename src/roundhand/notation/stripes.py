"""Colours that take turns row by row: `alternating A and B every 2 rnds`, `in stripes of 2 rows A and 4 rows B`."""

from __future__ import annotations

from roundhand.notation.cursor import Cursor
from roundhand.notation.tree import Stripes

_ROWS = ("row", "round", "row_or_round")
# A stripe of more rows than this is no stripe (ours).
_TALLEST = 1000


def read_stripes(cursor: Cursor) -> Stripes | None:
    """The turns that the colours take, at "alternate" or "stripes"; None (nothing taken) where it speaks of anything
    else."""
    start = cursor.position
    cursor.position += 1
    cursor.take_word("of")
    cursor.take_name("between", "using", "working", "work", "with", "of")
    turns = _each_with_rows(cursor) or _all_every(cursor)
    if turns is None:
        cursor.position = start
        return None
    return Stripes(cursor.since(start), turns)


def _each_with_rows(cursor: Cursor) -> tuple[tuple[str, int], ...] | None:
    """`2 rnds A and 4 rnds B`, `2 rnds in A, 4 rnds in B`."""
    start = cursor.position
    turns: list[tuple[str, int]] = []
    while True:
        before = cursor.position
        cursor.take_name("then")
        rows = _number(cursor)
        led = rows > 0 and cursor.take_word(*_ROWS)
        if led:
            cursor.take_name("in", "of", "with", "using")
            cursor.take_word("the", "colour")
        if not led or not cursor.at("colour"):
            cursor.position = before
            break
        turns.append((cursor.take().value, rows))
        _link(cursor)
    if len(turns) < 2:
        cursor.position = start
        return None
    return tuple(turns)


def _all_every(cursor: Cursor) -> tuple[tuple[str, int], ...] | None:
    """`A and B every 2 rnds`, `A, B and C every row`, `every other rnd`; `colours` alone are those of the pattern."""
    start = cursor.position
    colours: list[str] = []
    while True:
        cursor.take_word("the", "colour")
        if not cursor.at("colour"):
            break
        colours.append(cursor.take().value)
        _link(cursor)
    if not colours and cursor.ahead(-1) is not None and cursor.take_name("colours", "colors", "yarns"):
        colours = list(dict.fromkeys(cursor.lexicon.colours.values()))
    cursor.take_name("on", "for")
    rows = 0
    if len(colours) > 1 and cursor.take_word("each"):
        if cursor.take_name("other", "second"):
            rows = 2
        elif (rows := _number(cursor)) == 0:
            rows = 1
        if not cursor.take_word(*_ROWS):
            rows = 0
    if not rows:
        cursor.position = start
        return None
    return tuple((colour, rows) for colour in colours)


def _number(cursor: Cursor) -> int:
    """A number of rows at the cursor, taken; 0 where none is or it is the list of several sizes."""
    amount = cursor.amount()
    if amount is None or len(set(amount.values)) != 1:
        return 0
    return amount.values[0] if amount.values[0] is not None and 0 < amount.values[0] <= _TALLEST else 0


def _link(cursor: Cursor) -> None:
    """Moves over what stands between two colours of a list."""
    if cursor.mark(",", "/", "+"):
        cursor.position += 1
    cursor.take_name("and", "&", "then")
