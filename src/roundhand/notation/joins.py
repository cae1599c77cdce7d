"""Ends of rows and rounds: joined, turned, or left alone; slip stitches that close; places passed over."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import takewhile

import msgspec

from roundhand.findings import Span
from roundhand.notation import yarns
from roundhand.notation.cursor import Cursor
from roundhand.notation.holding import read_leave
from roundhand.notation.pieces import Piece, Pieces
from roundhand.notation.reach import pass_purpose, to_separator
from roundhand.notation.tokens import Token
from roundhand.notation.tree import Amount, Chain, Join, Note, Ring, Skip, Turn, Work, Yarn
from roundhand.notation.units import read_count, read_to_place, read_unit

# The words that may say what a slip stitch closes.
_LONGEST = 40
_STOPS = frozenset(",;.:([)]=*")
_DASHES = ("-", "\u2013", "\u2014")


def read_join(cursor: Cursor, pieces: Pieces) -> None:
    """`join with sl st in first sc`, `join to form a ring`, `join B`: the end of a round, a ring, or a new yarn."""
    start = cursor.position
    cursor.position += 1
    if cursor.at("colour") or (cursor.word("colour") and _colour_ahead(cursor)) or _names_colour(cursor):
        cursor.position = start
        pieces += yarns.read_yarn(cursor)
        return
    if cursor.word("colour"):
        # "join yarn with sl st in any st": a new strand, of a colour that is not said.
        to_separator(cursor)
        pieces.append(Note(cursor.since(start)))
        return
    stitch = _joining_stitch(cursor)
    target, ring = _target(cursor)
    span = cursor.since(start)
    chains = last_chain(pieces)
    if (ring and not pieces.stitched) or (chains is not None and not pieces.stitched and target == "chain"):
        _as_ring(pieces)
        pieces.append(Ring(span, chains.amount if chains is not None else None))
        return
    pieces.append(Join(span, target, stitch))


def _joining_stitch(cursor: Cursor) -> str:
    """The stitch of `with dc in first sc`, behind "join"; empty for a slip stitch. Nothing is taken."""
    after = cursor.ahead()
    if cursor.word("with") and after is not None and after.kind == "stitch":
        return "" if after.value in ("slip_stitch", "chain") else after.value
    return ""


def joins_round(cursor: Cursor, pieces: Pieces) -> bool:
    """Whether `join in`, which may also bring in a yarn, closes the round: stitches stand before it, and no yarn is
    named: `join in top of beg ch-3`, `join in first sc`."""
    token = cursor.tokens[cursor.position]
    if not token.text.lower().startswith("join") or pieces.stitched is None:
        return False
    ahead = cursor.tokens[cursor.position + 1 : min(cursor.end, cursor.position + _LONGEST)]
    clause = list(takewhile(lambda one: one.kind != "mark" or one.text in _DASHES, ahead))
    names = any(one.kind == "colour" or (one.kind == "word" and one.value == "colour") for one in clause)
    return bool(clause) and not names and any(one.kind in ("stitch", "ordinal", "defined") for one in clause)


def _colour_ahead(cursor: Cursor) -> bool:
    after = cursor.ahead()
    return after is not None and after.kind == "colour"


def _names_colour(cursor: Cursor) -> bool:
    """`join in B`, `join new colour B`: words between the join and its yarn."""
    token, after = cursor.token, cursor.ahead()
    return token is not None and token.text.lower() in ("in", "new") and after is not None and after.kind == "colour"


def _target(cursor: Cursor) -> tuple[str, bool]:
    """What the round is joined to (`stitch`, `chain` or empty), and whether it makes a ring."""
    target = ""
    ring = False
    first = cursor.position
    while (token := cursor.token) is not None:
        if token.kind == "mark" and token.text in _STOPS:
            break
        if _count_begins(cursor) or (token.kind == "word" and token.value in ("turn", "change", "not")):
            break
        if _drawn_in(cursor, cursor.position):
            break
        if (token.kind == "word" and token.value == "turning_chain") or (
            token.kind == "stitch" and token.value == "chain"
        ):
            target = "chain"
        elif token.kind in ("stitch", "defined") and token.value != "slip_stitch":
            target = target or "stitch"
        elif token.kind == "word" and token.value == "ring":
            ring = True
        elif token.kind == "word" and token.value == "and" and cursor.position > first:
            after = cursor.ahead()
            if (
                after is not None
                and after.kind == "word"
                and after.value in ("turn", "fasten_off", "bind_off", "cut", "change")
            ):
                break
        cursor.position += 1
    return target, ring


def _drawn_in(cursor: Cursor, at: int) -> bool:
    """Whether the position is at `with B`, `in B`: the yarn that the slip stitch is drawn in."""
    token = cursor.tokens[at]
    after = cursor.tokens[at + 1] if at + 1 < cursor.end else None
    led = token.kind == "word" and token.value in ("with", "in")
    return led and after is not None and after.kind == "colour"


def _count_begins(cursor: Cursor) -> bool:
    """Whether a dash here leads to a count, `join - 24 sts`, rather than joining two words, `ch-3`."""
    token, before, after = cursor.token, cursor.ahead(-1), cursor.ahead()
    if token is None or token.text not in _DASHES or before is None:
        return False
    return after is not None and after.kind == "number" and before.end < token.start


def last_chain(pieces: Pieces) -> Chain | None:
    """The last chain made so far."""
    return next((piece for _, piece in pieces.backwards() if isinstance(piece, Chain)), None)


def _as_ring(pieces: Pieces) -> None:
    """The chain that is joined in a ring climbs to no row: it is no stitch, whatever its length."""
    for at, piece in pieces.backwards():
        if isinstance(piece, Chain):
            if piece.counts is None:
                pieces[at] = msgspec.structs.replace(piece, counts=False)
            return


def read_closing_slip(cursor: Cursor, pieces: Pieces, start: int) -> bool:
    """`sl st in first sc`, `sl st to join`, `ss to top of ch 3`: a slip stitch, just taken, that closes the round or a
    chain; False (and nothing more taken) for one that is worked along the row."""
    work = pieces.stitched
    chains = last_chain(pieces)
    target = ""
    closes = ring = over = False
    at = cursor.position
    while at < min(cursor.end, cursor.position + _LONGEST):
        token = cursor.tokens[at]
        if token.kind == "mark" and token.text not in _DASHES:
            break
        if (
            token.kind == "mark"
            and at + 1 < cursor.end
            and cursor.tokens[at + 1].kind == "number"
            and (cursor.tokens[at - 1].end < token.start)
        ):
            break
        if _drawn_in(cursor, at):
            break
        if token.kind == "word":
            if token.value in ("change", "turn") or (token.value == "and" and at > cursor.position):
                break
            if token.value == "next":
                over = True
            elif token.value in ("join", "beginning") and not over:
                closes = True
            elif token.value == "ring":
                ring = closes = True
            elif token.value == "first":
                closes = closes or work or chains is not None
            elif token.value in ("top", "turning_chain") and work:
                closes, target = True, "chain"
        elif token.kind == "ordinal" and work and not _from_hook_follows(cursor, at):
            closes = True
        elif token.kind == "stitch":
            target = "chain" if token.value == "chain" else target or "stitch"
        at += 1
    if not closes or (over and not ring):
        return False
    cursor.position = at
    span = cursor.since(start)
    if chains is not None and not work and (ring or target == "chain"):
        _as_ring(pieces)
        pieces.append(Ring(span, chains.amount))
    else:
        pieces.append(Join(span, target))
    return True


def _from_hook_follows(cursor: Cursor, at: int) -> bool:
    """Whether an ordinal belongs to `2nd ch from hook`: a picot or a chain worked back along."""
    return any(
        token.kind == "word" and token.value == "from_hook" for token in cursor.tokens[at : min(at + 4, cursor.end)]
    )


def read_not(cursor: Cursor, pieces: Pieces) -> None:
    """`do not turn`, `do not cut A`, `do not join`."""
    start = cursor.position
    cursor.position += 1
    token = cursor.token
    if token is not None and token.kind == "word":
        if token.value == "work" and (left := read_leave(cursor)) is not None:
            # "Do not work last 4 sts" leaves them.
            pieces.append(msgspec.structs.replace(left, span=cursor.since(start)))
            return
        if token.value == "turn":
            cursor.position += 1
            pieces.append(Turn(cursor.since(start), made=False))
            return
        if token.value in ("cut", "fasten_off", "bind_off", "carry", "drop"):
            cursor.position += 1
            cursor.take_word("the", "colour")
            colour = cursor.take().value if cursor.at("colour") else ""
            to_separator(cursor)
            pieces.append(Yarn("keep", colour, cursor.since(start)))
            return
        if token.value == "counts":
            read_counting_words(cursor, pieces, counts=False)
            return
        if token.value == "join":
            cursor.position += 1
            if cursor.take_word("and") or cursor.take_name("or"):
                cursor.position -= 1
            else:
                to_separator(cursor)
            pieces.append(Note(cursor.since(start)))
            return
    to_separator(cursor)
    pieces.append(Note(cursor.since(start)))


def read_counting_words(cursor: Cursor, pieces: Pieces, counts: bool | None = None) -> None:
    """`Ch 2, counts as first hdc, …` without brackets."""
    start = cursor.position
    token = cursor.take()
    does = token.value == "counts" if counts is None else counts
    to_separator(cursor)
    span = cursor.since(start)
    throughout = any(t.kind == "word" and t.value == "throughout" for t in cursor.tokens[start : cursor.position])
    last = pieces[-1] if pieces else None
    if isinstance(last, Chain):
        space = _space_said(cursor.tokens[start : cursor.position]) if does else None
        pieces[-1] = msgspec.structs.replace(last, counts=does, throughout=throughout, counts_span=span, space=space)
    else:
        pieces.append(Note(span))


def read_standing_chain(cursor: Cursor, pieces: Pieces) -> bool:
    """`3 chain for 1st treble`, `ch 3 to form first dc`, `ch 3 = 1 dc, …`: the chain counts; False for other words."""
    last = pieces[-1] if pieces else None
    if not isinstance(last, Chain) or last.counts is not None:
        return False
    start = cursor.position
    equal = cursor.token is not None and cursor.token.text == "="
    cursor.position += 1
    if not equal:
        cursor.take_name("form", "stand", "represent", "replace")
        cursor.take_word("for")
    cursor.take_word("the")
    if not cursor.take_word("first") and (number := cursor.token) is not None and number.number == 1:
        cursor.position += 1
    stitch = cursor.token
    after = cursor.tokens[cursor.position + 1] if cursor.position + 1 < len(cursor.tokens) else None
    stands = stitch is not None and stitch.kind == "stitch" and stitch.value not in ("chain", "slip_stitch")
    # "ch 3 = 20 dc." at the end of a row would be its count; so would "for dc in next st" be another stitch.
    if not stands or (after is None and equal) or (after is not None and after.kind != "mark" and after.value != "and"):
        cursor.position = start
        return False
    cursor.position += 1
    pieces[-1] = msgspec.structs.replace(last, counts=True, counts_span=cursor.since(start))
    return True


def _space_said(tokens: Sequence[Token]) -> Amount | None:
    """The chains in `counts as dc and ch 2`, `count as dc + ch-1 sp`; None where the words name a stitch alone."""
    named = [at for at, token in enumerate(tokens) if token.kind == "stitch"]
    for at in named[1:]:
        if tokens[at].value == "chain":
            behind = next((token for token in tokens[at + 1 : at + 3] if token.text not in _DASHES), None)
            if behind is not None and behind.kind == "number":
                return Amount((behind.number,), behind.span)
    return None


def read_counting_aside(cursor: Cursor, pieces: Pieces, close: int) -> bool:
    """`(does not count as a st here and throughout)` behind a chain, `(counts as dc)`, `(skipped ch count as dc)`.

    The bracket at the cursor closes at the position `close`; False (and nothing taken) where it says nothing of it.
    """
    start = cursor.position
    inside = cursor.tokens[start + 1 : close]
    said = [token.value for token in inside if token.kind == "word"]
    if "counts" not in said and "counts_not" not in said:
        return False
    counts = "counts_not" not in said and "not" not in said
    space = _space_said(inside) if counts else None
    cursor.position = close + 1
    span = cursor.since(start)
    for at, piece in pieces.backwards():
        if isinstance(piece, Chain):
            pieces[at] = msgspec.structs.replace(
                piece, counts=counts, throughout=piece.throughout or "throughout" in said, counts_span=span, space=space
            )
            return True
        if _is_from_hook(piece) or (isinstance(piece, Skip) and piece.what == "chain" and at == len(pieces) - 1):
            pieces.insert(at, Chain(Amount((0,), span), span, counts, "throughout" in said, span, space))
            return True
    pieces.append(Note(span))
    return True


def _is_from_hook(piece: Piece) -> bool:
    return isinstance(piece, Work) and piece.into.kind == "from_hook"


def _of_this_row(cursor: Cursor) -> None:
    """Moves over `on current round`, `of the current row`, behind what is skipped."""
    start = cursor.position
    if cursor.take_name("on", "of", "in"):
        cursor.take_name("the")
        if cursor.take_name("current", "present", "this", "working") and cursor.take_word("row", "round"):
            return
    cursor.position = start


def read_skip(cursor: Cursor, pieces: Pieces) -> None:
    """`skip next 2 sts`, `sk 1`, `miss next ch-1 sp`, `skip the st behind the long sc`."""
    start = cursor.position
    cursor.position += 1
    first = False
    while cursor.word("the", "next", "over", "first", "last", "each", "of", "in"):
        first = cursor.take().value == "first" or first
    token = cursor.token
    amount: Amount | None = None
    if token is not None and token.kind == "ordinal":
        # "sk 1st" is one stitch.
        amount = Amount((1,), token.span)
        first = token.number == 1
        cursor.position += 1
    else:
        if cursor.take_name("all") and read_unit(cursor) == "stitch" and read_to_place(cursor) is not None:
            # "Skip all sts to next ch-1 sp": what is worked into that space passes them.
            pieces.append(Note(cursor.since(start)))
            return
        amount = read_count(cursor)
    cursor.take_word("next", "first", "last")
    unit = read_unit(cursor) or "stitch"
    if unit == "stitch" and _at_base_of_chain(cursor):
        first = True
    if cursor.take_name("behind"):
        to_separator(cursor)
        pieces.append(Note(cursor.since(start)))
        return
    _of_this_row(cursor)
    pass_purpose(cursor)
    span: Span = cursor.since(start)
    pieces.append(Skip(amount or Amount((1,), span), span, unit, first))
    if cursor.word("and"):
        _skip_on(cursor, pieces)


def _at_base_of_chain(cursor: Cursor) -> bool:
    """Moves over `at base of ch`, `at the foot of the 3ch`, behind a stitch: the first, on which the chain stands."""
    start = cursor.position
    if cursor.take_name("at") or cursor.take_word("in"):
        cursor.take_word("the")
        if cursor.take_name("base", "foot", "bottom") and cursor.take_word("of"):
            while cursor.take_word("the", "beginning") or cursor.at("number") or cursor.mark("-"):
                if cursor.at("number") or cursor.mark("-"):
                    cursor.position += 1
            if cursor.at("stitch", "chain") or cursor.word("turning_chain"):
                cursor.position += 1
                if cursor.mark("-") and (after := cursor.ahead()) is not None and after.kind == "number":
                    cursor.position += 2
                return True
    cursor.position = start
    return False


def _skip_on(cursor: Cursor, pieces: Pieces) -> None:
    """`skip first dc and next 2 dc`, `skip next dc and ch-1 sp`: what is skipped besides."""
    start = cursor.position
    cursor.position += 1
    while cursor.word("the", "next", "last"):
        cursor.position += 1
    amount = read_count(cursor)
    unit = read_unit(cursor)
    ended = cursor.token is None or (cursor.at("mark") and cursor.tokens[cursor.position].text in _STOPS)
    if unit is None or not (ended or cursor.word("and")):
        cursor.position = start
        return
    span = cursor.since(start)
    pieces.append(Skip(amount or Amount((1,), span), span, unit))
    if cursor.word("and"):
        _skip_on(cursor, pieces)
