"""Counts of two kinds that are listed size by size: `21 hdc / 20 ch (23 hdc / 22 ch, 25 hdc / 24 ch)`."""

from __future__ import annotations

from roundhand.notation.cursor import Cursor
from roundhand.notation.tokens import Token
from roundhand.notation.tree import Amount

_PARTS = ("/", "|")
_BETWEEN = (",", ";", "|", "/")
# What a size has of each kind: the number and its unit.
Compound = list[tuple[Token, str]]


def read_compound(cursor: Cursor, close: int) -> tuple[tuple[Amount, str], ...] | None:
    """The counts of every kind in all sizes, from the cursor up to the position `close`; None, and nothing taken, where
    the words are no such list. Every size has to give the same kinds in the same order."""
    start = cursor.position
    found = _sizes(cursor, close) if len(cursor.names) > 1 else []
    kinds = [unit for _, unit in found[0]] if found else []
    alike = all([unit for _, unit in one] == kinds for one in found)
    if len(found) < 2 or not alike or cursor.position != close:
        cursor.position = start
        return None
    return tuple(
        (
            cursor.settle([one[kind][0].number for one in found], [one[kind][0].span for one in found], start),
            unit,
        )
        for kind, unit in enumerate(kinds)
    )


def _sizes(cursor: Cursor, close: int) -> list[Compound]:
    """What each size has, the first in front of a bracket or all of them in a row."""
    found = [_one(cursor, close)]
    inner = cursor.closing(cursor.position) if cursor.mark("(", "[") else None
    end = close if inner is None else inner
    cursor.position += inner is not None
    if inner is not None:
        found.append(_one(cursor, end))
    while cursor.position < end and found[-1] and cursor.mark(*_BETWEEN):
        cursor.position += 1
        found.append(_one(cursor, end))
    if inner is not None and cursor.position == inner:
        cursor.position += 1
    return found if all(len(one) > 1 for one in found) else []


def _one(cursor: Cursor, end: int) -> Compound:
    """`21 hdc / 20 ch`; empty where the words are no two counts or more, each with its unit."""
    from roundhand.notation.counts import read_counted

    found: Compound = []
    while cursor.position < end and cursor.at("number"):
        token = cursor.take()
        unit = read_counted(cursor)
        if not unit or token.number is None:
            return []
        found.append((token, unit))
        if len(found) == 1 and not cursor.mark(*_PARTS):
            return []
        if len(found) > 1 or not cursor.mark(*_PARTS):
            break
        cursor.position += 1
    return found
