"""How far words reach: places kept back at the end, and words to be passed over.

These stand behind a place, a stitch or a skip, and say nothing of what is made.
"""

from __future__ import annotations

import msgspec

from roundhand.findings import Span
from roundhand.notation.cursor import Cursor
from roundhand.notation.tree import Amount, Place
from roundhand.notation.units import OPENINGS, read_unit


def read_to_last(cursor: Cursor) -> Amount | None:
    """`around`, `across`, `to last 3 sts`, `until 3 sts remain` behind a place: how many it leaves; None for none."""
    start = cursor.position
    cursor.take_word("around", "across")
    if not cursor.take_word("to", "until"):
        return None
    cursor.take_name("within")
    cursor.take_word("the")
    if cursor.take_word("marked") and read_unit(cursor) == "stitch":
        # The words behind it work into the marked stitch.
        return Amount((0,), cursor.since(start))
    nearest = cursor.word("first")
    last = cursor.take_word("last", "first")
    amount = cursor.amount()
    if amount is None:
        # "to last st" leaves one; other ends ("to marker", "to corner") are named places.
        what = read_unit(cursor) if last else None
        if last and what is None and cursor.take_name("block", "tile", "square"):
            # "to last block", whose space is kept for the words behind.
            what = "space"
        if what is not None and not (nearest and what == "space"):
            return Amount((1,), cursor.since(start), what=what)
        cursor.position = start
        cursor.take_word("around", "across")
        return None
    amount = msgspec.structs.replace(amount, what=read_unit(cursor) or "stitch")
    cursor.take_word("of")
    cursor.take_word("the", "end")
    cursor.take_word("remaining")
    cursor.take_name("left", "remain", "before", "unworked", "end")
    return amount


def pass_opening(cursor: Cursor) -> None:
    """Moves over `of underarm`, `at the thumb opening`, behind a place."""
    if cursor.said.isdisjoint(OPENINGS):
        return
    start = cursor.position
    before = cursor.ahead(-1)
    if before is not None and before.text.lower() == "across" and cursor.take_name(*OPENINGS):
        return
    if cursor.take_word("of", "over", "across") or cursor.take_name("of", "at", "along", "over"):
        cursor.take_word("the", "each")
        if cursor.take_name(*OPENINGS):
            cursor.take_name("opening", "gap")
            return
    cursor.position = start


def pass_row(cursor: Cursor) -> None:
    """Moves over `of Row 1`, `from Rnd 24`, `left on Row 3` behind stitches that were passed over before."""
    start = cursor.position
    cursor.take_name("left", "unworked")
    if cursor.take_word("of", "from", "in") or cursor.take_name("on", "from"):
        cursor.take_word("the")
        cursor.take_word("last")
        if cursor.take_word("row", "round", "row_or_round"):
            cursor.amount()
            return
    cursor.position = start


def pass_purpose(cursor: Cursor) -> None:
    """Moves over what chains or skips are for: `for underarm`, `for the thumb opening`, `over the skipped sts`."""
    start = cursor.position
    if not cursor.word("for", "over"):
        return
    while (token := cursor.token) is not None and token.kind != "mark":
        if token.kind in ("number", "stitch", "defined", "colour"):
            cursor.position = start
            return
        cursor.position += 1


def to_separator(cursor: Cursor) -> Span:
    """Moves to the next separator outside brackets and gives the span passed over."""
    start = cursor.position
    depth = 0
    while (token := cursor.token) is not None:
        if token.kind == "mark":
            if token.text in "([{":
                depth += 1
            elif token.text in ")]}":
                if depth == 0:
                    break
                depth -= 1
            elif depth == 0 and token.text in (",", ";", ".", ":"):
                break
        cursor.position += 1
    return cursor.since(start)


def with_chains(cursor: Cursor, place: Place) -> Place:
    """`in each st and ch`, `in each st and in each ch`: the place, with every chain as well where that is said."""
    start = cursor.position
    if place.kind == "each" and place.what == "stitch" and not place.post and cursor.take_word("and"):
        cursor.take_word("in")
        cursor.take_word("each")
        cursor.take_word("the", "of")
        if cursor.at("stitch", "chain") and read_unit(cursor) == "chain" and not cursor.word("from_hook"):
            rest = read_to_last(cursor) or place.rest
            return msgspec.structs.replace(place, span=cursor.since(start).to(place.span), also="chain", rest=rest)
    cursor.position = start
    return place
