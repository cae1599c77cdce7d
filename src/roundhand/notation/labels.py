"""What stands in front of a row: `Rnd 3:`, `Rows 3-60 (66, 72):`, `Rnds 8-15 (9-17, 10-18):`, `Next 3 rnds:`."""

from __future__ import annotations

import msgspec

from roundhand.findings import Span
from roundhand.notation.cursor import Cursor
from roundhand.notation.size_leads import sizes_behind
from roundhand.notation.sizes import size_phrase
from roundhand.notation.tree import Amount, Label

_ROWS = {"row": "row", "round": "round", "row_or_round": ""}
# Rows that are called by a name: round an edge, at the end.
_EDGINGS = ("edging", "border", "trim")
_LASTS = ("final", "joining")
_DASHES = ("-", "\u2013", "\u2014", "\u2212")
# A list of labels longer than this is none.
_MOST_LISTED = 200


def read_label(cursor: Cursor, kind_here: str, emphasis: bool = False) -> Label | None:
    """The row label at the cursor, moved over with its colon; None (nothing taken) where none stands.

    `kind_here` is what a bare `R` means in this part; `emphasis` is true where the label is set in stars or lines.
    """
    start = cursor.position
    side = _side(cursor)
    bracket = cursor.mark("(", "[") and (after := cursor.ahead()) is not None and after.value in _ROWS
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
    marked = cursor.at("colour") or cursor.mark(":", ".", ")", "]", "=", *_DASHES)
    if marked and not cursor.at("colour"):
        cursor.position += 1
        while cursor.mark(*_DASHES):
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
        if cursor.mark(".") and (after := cursor.ahead()) is not None and after.value in _ROWS:
            cursor.position += 1
        amount = cursor.amount()
        token = cursor.token
        if token is not None and token.kind == "word" and token.value in _ROWS:
            cursor.position += 1
            one = amount or Amount((1,), token.span)
            return Label(_ROWS[token.value] or "row", cursor.since(start), next_rows=one)
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
    if row is not None and row.kind == "word" and row.value in _ROWS:
        cursor.position += 1
        kind = _ROWS[row.value] or "row"
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
    if token.kind == "word" and token.value in _ROWS:
        cursor.position += 1
        kind = _ROWS[token.value] or kind_here
        if cursor.mark("#"):
            cursor.position += 1
    elif token.kind == "number" and cursor.position == 0:
        # A bare "5:" or "5." is a row only where a colon, a full stop or a bracket stands right behind.
        after = cursor.ahead()
        ranged = after is not None and after.value == "to"
        if after is None or token.number is None:
            return None
        if not ranged and after.text not in (":", ".", ")", ",", "&", *_DASHES):
            return None
        kind = kind_here
    else:
        return None
    ranges = _ranges(cursor)
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


def _ranges(cursor: Cursor) -> tuple[Amount, Amount, bool, tuple[int, ...]] | None:
    """Numbers, ranges and their lists of sizes. In `12-23 (23, 29)` a bare number replaces the end, in
    `8-15 (9-17)` a pair replaces both."""
    start = cursor.position
    pair = _pair(cursor)
    if pair is None:
        return None
    names = len(cursor.names)
    firsts: list[int | None] = [pair[0]]
    lasts: list[int | None] = [pair[1]]
    places: list[Span] = [cursor.tokens[cursor.position - 1].span]
    ranged = pair[2]
    if names > 1 and cursor.mark("(", "["):
        # `2-11 (11, 13) (15, 15)`: sizes in several brackets.
        while (
            len(firsts) < max(names, 2)
            and cursor.mark("(", "[")
            and (found := _pairs_in_bracket(cursor, pair)) is not None
        ):
            firsts += found[0]
            lasts += found[1]
            places += found[2]
    elif names > 1 and cursor.mark("/", ":", "|"):
        further = _pairs_in_line(cursor, pair)
        if further is not None:
            firsts += further[0]
            lasts += further[1]
            places += further[2]
    if not ranged and len(firsts) > 1 and (cursor.mark(*_DASHES) or cursor.word("to")):
        # `9 (10, 11)-20 (22, 24)`: a list of starts, then a list of ends.
        back = cursor.position
        cursor.position += 1
        ends = cursor.amount()
        if ends is not None:
            ranged = True
            lasts = list(ends.values) if len(ends.values) > 1 else [ends.values[0]] * len(firsts)
            if len(ends.spans) == len(lasts):
                places = list(ends.spans)
        else:
            cursor.position = back
    listed: list[int] = [pair[0]]
    while len(firsts) == 1 and not pair[2] and (cursor.mark(",", "&") or cursor.word("and")) and _more_numbers(cursor):
        # `Rnds 3, 4 and 5` and `Rnds 3 & 4` are a range when the numbers follow one another.
        cursor.position += 1
        cursor.take_word("and")
        cursor.take_word(*_ROWS)
        token = cursor.take()
        if token.number is None or token.number <= listed[-1] or len(listed) > _MOST_LISTED:
            break
        listed.append(token.number)
    if listed[-1] - listed[0] == len(listed) - 1:
        lasts = [listed[-1]] if len(listed) > 1 else lasts
        listed = []
    if lasts[0] != firsts[0]:
        ranged = True
    span = cursor.since(start)
    return (
        cursor.settle(firsts, places, start) if len(firsts) > 1 else Amount(tuple(firsts), span),
        _quiet(cursor, lasts, places, start),
        ranged,
        tuple(listed),
    )


def _quiet(cursor: Cursor, values: list[int | None], places: list[Span], start: int) -> Amount:
    """The ends fitted to the sizes; a wrong length has been said of the starts already."""
    if len(values) == 1:
        return Amount(tuple(values), cursor.since(start), tuple(places[:1]))
    said = len(cursor.findings)
    amount = cursor.settle(values, (places + [cursor.since(start)] * len(values))[: len(values)], start)
    del cursor.findings[said:]
    return amount


def _more_numbers(cursor: Cursor) -> bool:
    at = cursor.position + 1
    while at < cursor.end and cursor.tokens[at].kind == "word" and cursor.tokens[at].value in ("and", *_ROWS):
        at += 1
    return at < cursor.end and cursor.tokens[at].kind == "number"


def _pair(cursor: Cursor) -> tuple[int, int, bool] | None:
    """`5`, `3-60`, `3 to 60`, `3 through 60`."""
    token = cursor.token
    if token is None or token.kind != "number" or token.number is None:
        return None
    cursor.position += 1
    back = cursor.position
    if cursor.mark(*_DASHES) or cursor.word("to", "through") or cursor.take_name("thru"):
        cursor.position += (
            0 if cursor.ahead(-1) is not None and cursor.tokens[cursor.position - 1].text == "thru" else 1
        )
        after_name = cursor.token
        if after_name is not None and after_name.kind == "word" and after_name.value in _ROWS:
            cursor.position += 1
        end = cursor.token
        if end is not None and end.kind == "number" and end.number is not None:
            following = cursor.ahead()
            ends_here = following is None or following.kind == "mark" or following.kind in ("word", "name")
            if end.number < token.number and _ends_label(cursor):
                # A range that runs backwards is read as it stands, and said later.
                cursor.position += 1
                return token.number, end.number, True
            # "Rnd 1 - 6 sc in ring" is a label and a dash, not a range down or into a stitch.
            if end.number >= token.number and ends_here and not (following is not None and following.kind == "stitch"):
                cursor.position += 1
                return token.number, end.number, True
        cursor.position = back
    return token.number, token.number, False


def _ends_label(cursor: Cursor) -> bool:
    """Whether the number at the cursor ends a label: a colon or a full stop behind it, or a list of sizes."""
    after = cursor.ahead()
    if after is None or after.kind != "mark":
        return False
    if after.text in ("(", "[") and len(cursor.names) > 1:
        close = cursor.closing(cursor.position + 1)
        inside = cursor.tokens[cursor.position + 2 : close] if close is not None else ()
        return bool(inside) and all(token.kind in ("number", "mark") for token in inside)
    return after.text in (":", ".")


def _pairs_in_bracket(
    cursor: Cursor, pair: tuple[int, int, bool]
) -> tuple[list[int | None], list[int | None], list[Span]] | None:
    start = cursor.position
    close = cursor.closing(start)
    if close is None:
        return None
    cursor.position += 1
    firsts: list[int | None] = []
    lasts: list[int | None] = []
    places: list[Span] = []
    while cursor.position < close:
        if cursor.mark(*_DASHES) and (
            cursor.position + 1 == close or cursor.tokens[cursor.position + 1].text in ",:;/"
        ):
            cursor.position += 1
            firsts.append(None)
            lasts.append(None)
        else:
            item = _pair(cursor)
            if item is None or cursor.position > close:
                cursor.position = start
                return None
            firsts.append(item[0] if item[2] or not pair[2] else pair[0])
            lasts.append(item[1])
        places.append(cursor.tokens[cursor.position - 1].span)
        if cursor.position < close:
            if not cursor.mark(",", ";", ":", "/"):
                cursor.position = start
                return None
            cursor.position += 1
    cursor.position = close + 1
    return (firsts, lasts, places) if firsts else None


def _pairs_in_line(
    cursor: Cursor, pair: tuple[int, int, bool]
) -> tuple[list[int | None], list[int | None], list[Span]] | None:
    """`Rnds 9-20/11-24`, `R9-R20 / R11-R24`, `Rows 3-32:36:40`: a range for each size without brackets, and the end of
    the label behind it."""
    start = cursor.position
    between = cursor.tokens[start].text
    firsts: list[int | None] = []
    lasts: list[int | None] = []
    places: list[Span] = []
    while cursor.mark(between):
        before, after = cursor.ahead(-1), cursor.ahead()
        if between == ":" and (before is None or after is None or before.end != after.start - 1):
            # A colon with a space behind it ends the label.
            break
        cursor.position += 1
        cursor.take_word(*_ROWS)
        item = _pair(cursor)
        if item is None:
            cursor.position = start
            return None
        firsts.append(item[0] if item[2] or not pair[2] else pair[0])
        lasts.append(item[1])
        places.append(cursor.tokens[cursor.position - 1].span)
    if len(firsts) + 1 not in (len(cursor.names), len(cursor.active)) or not cursor.mark(":", ".", ")", "(", *_DASHES):
        cursor.position = start
        return None
    return firsts, lasts, places


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
            (cursor.word("to", "through") or cursor.mark(*_DASHES))
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
    if row is None or row.kind != "word" or row.value not in _ROWS or _ROWS[row.value] == "":
        cursor.position = start
        return None
    cursor.position += 1
    span = cursor.since(start)
    _inclusive(cursor)
    return Label(_ROWS[row.value], span, Amount((first,), span), Amount((last,), span), ranged=last > first)


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
