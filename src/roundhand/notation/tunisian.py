"""Rows of Tunisian work: loops drawn up along the row, and the return pass that works them off again.

The return pass makes no stitch of its own, so its words are a note.
"""

from __future__ import annotations

import re

from roundhand.notation.counts import bracket_count
from roundhand.notation.cursor import Cursor
from roundhand.notation.pieces import Pieces
from roundhand.notation.places import read_place
from roundhand.notation.tree import Amount, Item, Note, Place, Work
from roundhand.stitches import dictionary

_RETURN = ("return", "returning", "retp", "rtp", "rp", "rev", "reverse")
# A stitch that is finished where it stands is another one.
_FINISHED = re.compile(r"\bthrough\b", re.IGNORECASE)
_RETURNS = re.compile(r"\b(?:return|retp|rtp)\b", re.IGNORECASE)


def read_return(cursor: Cursor, pieces: Pieces) -> Note | None:
    """`return`, `return pass as for Row 1`, `RetP: yo, pull through 1 loop, *yo, pull through 2 loops ...`: behind
    Tunisian stitches, the way back. A count that follows stays where it is."""
    token = cursor.token
    if token is None or token.text.lower() not in _RETURN or not _is_tunisian(pieces):
        return None
    start = cursor.position
    cursor.position += 1
    while cursor.position < cursor.end:
        here = cursor.position
        if cursor.mark("(", "[") and bracket_count(cursor, True) is not None:
            cursor.position = here
            break
        cursor.position = here + 1
    return Note(cursor.since(start))


def _is_tunisian(pieces: Pieces) -> bool:
    return any(
        isinstance(piece, Work) and any(_tunisian(item.stitch) for item in piece.group)
        for _, piece in pieces.backwards()
    )


def _tunisian(stitch: str) -> bool:
    known = dictionary().get(stitch)
    return known is not None and known.family.startswith("tunisian")


def read_drawn_up(cursor: Cursor, pieces: Pieces) -> bool:
    """`insert hook in next ch, yo, draw up a loop`, `draw up a loop in each bar across`: a loop that stays on the hook,
    which is a simple stitch once the return pass has worked it off; False (and nothing taken) for other words."""
    if not cursor.word("insert", "draw_up") or _finished(cursor):
        return False
    start = cursor.position
    place: Place | None = None
    if cursor.take_word("insert"):
        place = _place(cursor)
        _comma(cursor)
        if cursor.take_word("yarn_over"):
            _comma(cursor)
    drawn = cursor.take_word("draw_up")
    if drawn and place is None:
        place = _place(cursor)
    if not drawn or place is None:
        cursor.position = start
        return False
    span = cursor.since(start)
    pieces.append(Work((Item("tunisian_simple", Amount((1,), span), span),), place, span))
    return True


def _finished(cursor: Cursor) -> bool:
    """Whether loops are drawn through further on in the row, before any return pass."""
    rest = cursor.text[cursor.tokens[cursor.position].start : cursor.tokens[cursor.end - 1].end]
    found = _FINISHED.search(rest)
    back = _RETURNS.search(rest)
    return found is not None and (back is None or found.start() < back.start())


def _place(cursor: Cursor) -> Place | None:
    if cursor.token is not None and cursor.token.text.lower() in ("under", "behind", "through", "from"):
        cursor.position += 1
    return read_place(cursor)


def _comma(cursor: Cursor) -> None:
    while cursor.mark(",") or cursor.word("and"):
        cursor.position += 1
