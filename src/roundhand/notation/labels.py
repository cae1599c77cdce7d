"""What stands in front of a row: `Rnd 3:`, `Rows 3-60 (66, 72):`, `Rnds 8-15 (9-17, 10-18):`, `Next 3 rnds:`."""

from __future__ import annotations

import msgspec

from roundhand.notation.cursor import Cursor
from roundhand.notation.label_ranges import DASHES, ROW_WORDS, read_ranges
from roundhand.notation.size_leads import sizes_behind
from roundhand.notation.sizes import size_phrase
from roundhand.notation.tree import Amount, Label

# Rows that are called by a name: round an edge, at the end.
_EDGINGS = ("edging", "border", "trim")
_LASTS = ("final", "joining")


def read_label(cursor: Cursor, kind_here: str, emphasis: bool = False) -> Label | None:
    """The row label at the cursor, moved over with its colon; None (nothing taken) where none stands.

    `kind_here` is what a bare `R` means in this part; `emphasis` is true where the label is set in stars or lines.
    """
    start = cursor.position
    side = _side(cursor)
    bracket = cursor.mark("(", "[") and (after := cursor.ahead()) is not None and after.value in ROW_WORDS
    if bracket:
        # "(Rnd 5) 2 sc in each st".
        cursor.position += 1
    label = (
        _next_rows(cursor)
        or _foundation(cursor)
        or _numbered(cursor, kind_here)
        or _ordinal(cursor)
        or _by_name(cursor)
    )
    if label is None:
        cursor.position = start
        return None
    side, rows = _asides(cursor, side)
    if sizes_behind(cursor):
        side, late = _asides(cursor, side)
        rows = rows or late
    if emphasis and cursor.mark("*", "**", "_"):
        cursor.position += 1
    if cursor.mark(",") and (after := cursor.ahead()) is not None and after.kind == "colour":
        # "Rnd 5, B: …"
        cursor.position += 1
    marked = cursor.at("colour") or cursor.mark(":", ".", ")", "]", "=", *DASHES)
    if marked and not cursor.at("colour"):
        cursor.position += 1
        while cursor.mark(*DASHES):
            cursor.position += 1
    if emphasis and cursor.mark("*", "**", "_"):
        cursor.position += 1
    side, late = _asides(cursor, side)
    rows = rows or late
    if not marked and not _begins_instruction(cursor):
        cursor.position = start
        return None
    return msgspec.structs.replace(label, side=side, rows=rows)


def _side(cursor: Cursor) -> str:
    """`RS` or `WS` where the cursor stands on the words for it, which are taken."""
    if cursor.word("right_side", "wrong_side"):
        return "RS" if cursor.take().value == "right_side" else "WS"
    return ""


def _foundation(cursor: Cursor) -> Label | None:
    """`Foundation row:`, `Set-up rnd:`: a row without a number before the first."""
    start = cursor.position
    token = cursor.token
    if token is not None and token.text.lower() in ("foundation", "set", "setup", "base"):
        cursor.position += 1
        if cursor.mark("-"):
            cursor.position += 1
        cursor.take_name("up")
        row = cursor.token
        after = cursor.ahead()
        named = row is not None and row.kind == "word" and row.value in ("row", "round")
        if row is not None and named and (after is None or after.kind != "number"):
            cursor.position += 1
            return Label(row.value, cursor.since(start), every="foundation")
    cursor.position = start
    return None


def _next_rows(cursor: Cursor) -> Label | None:
    start = cursor.position
    cursor.take_name("on")
    cursor.take_word("the")
    if cursor.take_word("next"):
        if cursor.mark(".") and (after := cursor.ahead()) is not None and after.value in ROW_WORDS:
            cursor.position += 1
        amount = cursor.amount()
        token = cursor.token
        if token is not None and token.kind == "word" and token.value in ROW_WORDS:
            cursor.position += 1
            one = amount or Amount((1,), token.span)
            return Label(ROW_WORDS[token.value] or "row", cursor.since(start), next_rows=one)
    cursor.position = start
    return None


def _by_name(cursor: Cursor) -> Label | None:
    """`Edging:`, `Border Rnd:`, `Final Rnd:` are the next row or round."""
    start = cursor.position
    token = cursor.token
    if token is None or token.text.lower() not in (*_EDGINGS, *_LASTS):
        return None
    name = cursor.take().text.lower()
    row = cursor.token
    if row is not None and row.kind == "word" and row.value in ROW_WORDS:
        cursor.position += 1
        kind = ROW_WORDS[row.value] or "row"
    elif name in _EDGINGS:
        closed = any(one.kind == "word" and one.value in ("join", "around") for one in cursor.tokens)
        kind = "round" if closed else "row"
    else:
        cursor.position = start
        return None
    return Label(kind, cursor.since(start), next_rows=Amount((1,), cursor.since(start)))


def _numbered(cursor: Cursor, kind_here: str) -> Label | None:
    start = cursor.position
    token = cursor.token
    if token is None:
        return None
    if token.kind == "word" and token.value in ROW_WORDS:
        cursor.position += 1
        kind = ROW_WORDS[token.value] or kind_here
        if cursor.mark("#"):
            cursor.position += 1
    elif token.kind == "number" and cursor.position == 0:
        # A bare "5:" or "5." is a row only where a colon, a full stop or a bracket stands right behind.
        after = cursor.ahead()
        ranged = after is not None and after.value == "to"
        if after is None or token.number is None:
            return None
        if not ranged and after.text not in (":", ".", ")", ",", "&", *DASHES):
            return None
        kind = kind_here
    else:
        return None
    ranges = read_ranges(cursor)
    if ranges is None:
        cursor.position = start
        return None
    first, last, ranged, numbers = ranges
    span = cursor.since(start)
    _inclusive(cursor)
    return Label(kind, span, first, last, ranged=ranged, numbers=numbers)


def _inclusive(cursor: Cursor) -> None:
    """Moves over `incl`, `incl.`, `inclusive`."""
    if cursor.take_name("incl", "inclusive") and cursor.mark(".") and (after := cursor.ahead()) is not None:
        cursor.position += after.text in (":", ".", "(")


def _ordinal(cursor: Cursor) -> Label | None:
    """`5th rnd:`, `4th to 13th rnds:`."""
    start = cursor.position
    token = cursor.token
    if token is None:
        return None
    if token.kind == "ordinal" and token.number is not None:
        first, last = token.number, token.number
        cursor.position += 1
        if (
            (cursor.word("to", "through") or cursor.mark(*DASHES))
            and (end := cursor.ahead()) is not None
            and end.kind == "ordinal"
        ):
            last = end.number or first
            cursor.position += 2
    elif token.kind == "word" and token.value == "first":
        first = last = 1
        cursor.position += 1
    else:
        return None
    row = cursor.token
    if row is None or row.kind != "word" or row.value not in ROW_WORDS or ROW_WORDS[row.value] == "":
        cursor.position = start
        return None
    cursor.position += 1
    span = cursor.since(start)
    _inclusive(cursor)
    return Label(ROW_WORDS[row.value], span, Amount((first,), span), Amount((last,), span), ranged=last > first)


def _asides(cursor: Cursor, side: str) -> tuple[str, Amount | None]:
    """`(RS)`, `(foundation)`, `(10R)` between label and colon; a bracket of sizes or a yarn is left standing. The side,
    and the number of rows, if said."""
    said: Amount | None = None
    while cursor.mark("(", "["):
        close = cursor.closing(cursor.position)
        if close is None:
            break
        inside = cursor.tokens[cursor.position + 1 : close]
        named = [
            token.value for token in inside if token.kind == "word" and token.value in ("right_side", "wrong_side")
        ]
        rows = len(inside) == 2 and inside[0].kind == "number" and inside[1].value in ("row_or_round", "round", "row")
        quiet = all(
            token.kind in ("name", "mark") or token.value in ("row", "round", "first", "last") for token in inside
        )
        if size_phrase(cursor.text[inside[0].start : inside[-1].end] if inside else "", cursor.names) is not None:
            break
        if named:
            side = "RS" if named[0] == "right_side" else "WS"
        elif not rows and not quiet:
            break
        if rows and inside[0].number is not None:
            said = Amount((inside[0].number,), inside[0].span)
        cursor.position = close + 1
    return _side(cursor) or side, said


def _begins_instruction(cursor: Cursor) -> bool:
    """Whether what follows a label without a colon is an instruction: a stitch, a star, a bracket, a capital."""
    token = cursor.token
    if token is None:
        return False
    if token.kind in ("stitch", "number", "defined", "colour") or token.text in ("*", "(", "["):
        return True
    return (
        token.kind == "word"
        and (token.value in ("repeat", "with", "increase", "decrease", "in", "skip") or token.text[:1].isupper())
        and token.value not in ("row", "round")
    )
