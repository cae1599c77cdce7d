"""Spaces named beside the stitches between them: `sc in each st and sp to next corner`, `in each dc and ch-1 sp`,
`sc in each sc and ch 1, sk 1 over each ch-1 sp`."""

from __future__ import annotations

import msgspec

from roundhand.notation.cursor import Cursor
from roundhand.notation.pieces import Pieces
from roundhand.notation.reach import read_to_last
from roundhand.notation.tree import Amount, Chain, Item, Place, Skip, Work
from roundhand.notation.units import read_length, read_to_corner, read_unit


def read_spaces_too(cursor: Cursor, pieces: Pieces) -> bool:
    """`and sp`, `and ch-1 sp around`, without "each" of its own, behind stitches worked into each stitch: the same into
    each of these spaces; False (and nothing taken) for anything else."""
    last = pieces[-1] if pieces else None
    if not isinstance(last, Work) or last.into.kind != "each" or last.into.what != "stitch" or last.into.until:
        return False
    start = cursor.position
    if not (cursor.take_word("and") or cursor.take_name("&", "+")):
        return False
    cursor.take_word("in")
    length = read_length(cursor)
    if read_unit(cursor) != "space" or _makes_chains(cursor):
        cursor.position = start
        return False
    until = "corner" if read_to_corner(cursor) else ""
    rest = None if until else read_to_last(cursor)
    token = cursor.token
    if token is not None and token.kind != "mark":
        cursor.position = start
        return False
    span = cursor.since(start)
    pieces.append(Work(last.group, Place("each", span, rest=rest, what="space", length=length, until=until), span))
    if rest is not None and last.into.rest is None:
        pieces[-2] = msgspec.structs.replace(last, into=msgspec.structs.replace(last.into, rest=rest))
    return True


def read_chains_over(cursor: Cursor, pieces: Pieces) -> bool:
    """`ch 1, sk 1 over each ch-1 sp`, `ch 2 over next sp`: chains that pass over a space of the row below, and lie
    above it; False (and nothing taken) for anything else."""
    start = cursor.position
    if not cursor.at("stitch", "chain"):
        return False
    cursor.position += 1
    if cursor.mark("-"):
        cursor.position += 1
    chains = cursor.amount()
    if cursor.mark(",") or cursor.word("and"):
        cursor.position += 1
        if not cursor.word("skip"):
            chains = None
    if cursor.take_word("skip"):
        cursor.take_word("next")
        cursor.amount()
        cursor.take_word("stitch")
    if chains is None or not (cursor.take_word("over") or cursor.take_name("above", "across")):
        cursor.position = start
        return False
    each = cursor.take_word("each")
    if not each:
        cursor.take_word("the", "next")
    number = cursor.amount() if not each else None
    length = read_length(cursor)
    if read_unit(cursor) != "space":
        cursor.position = start
        return False
    span = cursor.since(start)
    if each:
        rest = read_to_last(cursor)
        item = Item("chain", chains, span)
        pieces.append(Work((item,), Place("each", span, rest=rest, what="space", length=length), span))
    else:
        pieces.append(Chain(chains, span))
        pieces.append(Skip(number or Amount((1,), span), span, "space"))
    return True


def _makes_chains(cursor: Cursor) -> bool:
    """Whether the words just taken are `ch 1`, which makes chains, and not `ch-1`, which may name a space."""
    last, before = cursor.ahead(-1), cursor.ahead(-2)
    return last is not None and last.kind == "number" and (before is None or before.kind != "mark")
