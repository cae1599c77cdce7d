"""Counts told row by row in brackets behind rows that are written once: `[Rows 2-3: 60 sts] [Rows 4-6: 58 sts]`,
`(Rnd 6: 36, Rnd 7: 42)`."""

from __future__ import annotations

from roundhand.notation.counts import bracketed_counts
from roundhand.notation.cursor import Cursor
from roundhand.notation.pieces import Pieces
from roundhand.notation.tree import Stated

_ROWS = ("row", "round", "row_or_round")


def read_row_counts(cursor: Cursor, pieces: Pieces, close: int) -> bool:
    """The counts of rows by their labels in the bracket that closes at token `close`; False (and nothing taken) for
    anything else."""
    start = cursor.position
    cursor.position += 1
    found: list[Stated] = []
    while cursor.position < close:
        begin = cursor.position
        rows = _labels(cursor)
        counts = bracketed_counts(cursor, close, one=True) if rows is not None else None
        if rows is None or counts is None:
            cursor.position = start
            return False
        found.append(Stated(counts, cursor.since(begin), rows))
        if cursor.position < close and cursor.mark(",", ";", "."):
            cursor.position += 1
        elif cursor.position < close and not cursor.word(*_ROWS):
            cursor.position = start
            return False
    cursor.position = close + 1
    pieces += found
    return bool(found)


def _labels(cursor: Cursor) -> tuple[int, int] | None:
    """`Rows 4-6:`, `Rnd 7 =`, `Rows 10 to 12 -`: the first and the last row that a count is told for."""
    if not cursor.take_word(*_ROWS):
        return None
    first = cursor.take().number if cursor.at("number") else None
    last = first
    if cursor.mark("-", "\u2013", "\u2014", "&", ",") or cursor.word("to", "and"):
        cursor.position += 1
        last = cursor.take().number if cursor.at("number") else None
    if first is None or last is None or last < first or not cursor.mark(":", "=", "-", "\u2013", "\u2014"):
        return None
    cursor.position += 1
    return first, last
