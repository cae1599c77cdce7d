"""Stitches bound off, a word that crochet takes from knitting: slipped over at the beginning of a row, left at its end.

`Bind off 5 sts each side` is slip stitches over the first five, and the last five left unworked; that a maker works it
so is common practice. Translated patterns tell such shapings in pairs, `bind off 7 x 1 st in every 10th row`: so often
so many stitches (found in the survey of translated patterns).
"""

from __future__ import annotations

from roundhand.notation.cursor import Cursor
from roundhand.notation.pieces import Pieces
from roundhand.notation.tree import Amount, Item, Leave, Place, Skip, Times, Work
from roundhand.notation.whole_row import read_where

# More pairs than this are a mistake of typing.
_MOST_PAIRS = 20


def read_bound_off(cursor: Cursor, pieces: Pieces) -> bool:
    """`bind off 5 sts each side`, `bind off first 5 sts`, `bind off last 5 sts` within the words of a row; False (and
    nothing taken) where no number of stitches is bound off."""
    start = cursor.position
    cursor.position += 1
    cursor.take_word("the", "next")
    at_end = cursor.take_word("last", "remaining")
    cursor.take_word("first")
    amount = cursor.amount()
    if amount is None or cursor.word("times"):
        cursor.position = start
        return False
    if not cursor.take_word("stitch") and cursor.at("stitch"):
        cursor.position += 1
    where = read_where(cursor) or ""
    span = cursor.since(start)
    if where == "ends":
        one = Amount((1,), span)
        pieces.append(Skip(amount, span, "slipped"))
        pieces.append(Work((Item("", one, span),), Place("each", span, rest=amount), span))
        pieces.append(Leave(span, amount, bound=True))
    elif at_end or where == "end" or any(isinstance(piece, Work | Times) for piece in pieces):
        pieces.append(Leave(span, amount, bound=True))
    else:
        pieces.append(Skip(amount, span, "slipped"))
    return True


def read_pairs(cursor: Cursor) -> list[tuple[Amount, Amount]]:
    """`7 x 1 st`, `1 x 5, 2 x 3 and 7 x 1 sts`: how often, and how many stitches each time; empty (and nothing taken)
    where no such pair stands."""
    found: list[tuple[Amount, Amount]] = []
    end = cursor.position
    while len(found) < _MOST_PAIRS:
        times = cursor.amount()
        if times is None or not _takes_cross(cursor):
            break
        stitches = cursor.amount()
        if stitches is None:
            break
        if not cursor.take_word("stitch") and cursor.at("stitch"):
            cursor.position += 1
        found.append((times, stitches))
        end = cursor.position
        if cursor.mark(",", ";", "/"):
            cursor.position += 1
        while cursor.take_word("and") or cursor.take_name("then"):
            pass
    cursor.position = end
    return found


def _takes_cross(cursor: Cursor) -> bool:
    """Moves over the cross between two numbers, or the word for it."""
    token = cursor.token
    if token is not None and token.text.lower() in ("x", "\u00d7", "times"):
        cursor.position += 1
        return True
    return False
