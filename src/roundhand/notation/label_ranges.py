"""The numbers of a row's label: one, a range, a list, with those of all sizes: `8-15 (9-17, 10-18)`."""

from __future__ import annotations

from collections.abc import Callable

from roundhand.findings import Span
from roundhand.notation.cursor import Cursor
from roundhand.notation.tree import Amount

# What a word for a row says of its kind; one that is used of both says nothing.
ROW_WORDS = {"row": "row", "round": "round", "row_or_round": ""}
DASHES = ("-", "\u2013", "\u2014", "\u2212")
# A list of labels longer than this is none.
_MOST_LISTED = 200


def read_ranges(cursor: Cursor) -> tuple[Amount, Amount, bool, tuple[int, ...]] | None:
    """Numbers, ranges and their lists of sizes. In `12-23 (23, 29)` a bare number replaces the end, in
    `8-15 (9-17)` a pair replaces both."""
    start = cursor.position
    pair = _pair(cursor, _ends_label)
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
    if not ranged and len(firsts) > 1 and (cursor.mark(*DASHES) or cursor.word("to")):
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
        cursor.take_word(*ROW_WORDS)
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
    while at < cursor.end and cursor.tokens[at].kind == "word" and cursor.tokens[at].value in ("and", *ROW_WORDS):
        at += 1
    return at < cursor.end and cursor.tokens[at].kind == "number"


def _pair(cursor: Cursor, ends: Callable[[Cursor], bool]) -> tuple[int, int, bool] | None:
    """`5`, `3-60`, `3 to 60`, `3 through 60`. `ends` tells whether the number at the cursor ends the range for sure, so
    that one which runs backwards is no dash behind a label."""
    token = cursor.token
    if token is None or token.kind != "number" or token.number is None:
        return None
    cursor.position += 1
    back = cursor.position
    if cursor.mark(*DASHES) or cursor.word("to", "through") or cursor.take_name("thru"):
        cursor.position += (
            0 if cursor.ahead(-1) is not None and cursor.tokens[cursor.position - 1].text == "thru" else 1
        )
        after_name = cursor.token
        if after_name is not None and after_name.kind == "word" and after_name.value in ROW_WORDS:
            cursor.position += 1
        end = cursor.token
        if end is not None and end.kind == "number" and end.number is not None:
            following = cursor.ahead()
            ends_here = following is None or following.kind == "mark" or following.kind in ("word", "name")
            if end.number < token.number and ends(cursor):
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


def _ends_item(cursor: Cursor) -> bool:
    """Whether the number at the cursor ends an entry of a list of sizes in brackets."""
    after = cursor.ahead()
    return after is not None and after.kind == "mark" and after.text in (",", ";", ":", "/", ")", "]")


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
        if cursor.mark(*DASHES) and (cursor.position + 1 == close or cursor.tokens[cursor.position + 1].text in ",:;/"):
            cursor.position += 1
            firsts.append(None)
            lasts.append(None)
        else:
            item = _pair(cursor, _ends_item)
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
        cursor.take_word(*ROW_WORDS)
        item = _pair(cursor, _ends_label)
        if item is None:
            cursor.position = start
            return None
        firsts.append(item[0] if item[2] or not pair[2] else pair[0])
        lasts.append(item[1])
        places.append(cursor.tokens[cursor.position - 1].span)
    if len(firsts) + 1 not in (len(cursor.names), len(cursor.active)) or not cursor.mark(":", ".", ")", "(", *DASHES):
        cursor.position = start
        return None
    return firsts, lasts, places
