"""How deep a long stitch goes: the words for rows further down, and what the numbers in them may mean.

Makers count in three ways (common practice): from the row being worked, so that 1 is the row below; from the row below
it; and with the row being worked counted in. What the words themselves say, or a note, settles it; `tally` looks at
what lies below for the rest.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

import msgspec

from roundhand.findings import Span
from roundhand.notation.cursor import Cursor
from roundhand.notation.lines import Line
from roundhand.notation.tree import Amount, DepthNote

_LOWER = ("down", "under", "lower", "beneath", "prior", "earlier", "back")

FROM_THIS, FROM_BELOW, COUNTING = "from this row", "from the row below", "counting this row"
_ADDS = {FROM_THIS: 0, FROM_BELOW: 1, COUNTING: -1}

_COUNTED = re.compile(
    r"\b(?:count\w*|includ\w*|exclud\w*)\b[^.;:]{0,40}?"
    r"\b(?:current|present|this|working|being worked|you are (?:on|working))\b"
    r"|\b(?:current|present|this|working) (?:row|rnd|round)\b[^.;:]{0,40}?\b(?:counts?|counted|included|excluded)\b",
    re.IGNORECASE,
)
_WITHOUT = re.compile(r"\bnot\b|n['\u2019]t\b|\bnever\b|\bexclud|\bwithout\b", re.IGNORECASE)
_DEEP = re.compile(r"\b(?:below|down|deep|depths?|long|spikes?|lower|dropped)\b", re.IGNORECASE)
_ROW = re.compile(r"\b(?:rows?|rnds?|rounds?)\b", re.IGNORECASE)
_SENTENCE = re.compile(r"[^.;\n]+")


def deepened(number: int, reading: str, from_next: bool) -> int:
    """How many rows lower a number of rows is, 1 for the row below; without a reading by usage.

    >>> deepened(3, "", False), deepened(3, COUNTING, False), deepened(1, "", True)
    (3, 2, 2)
    """
    if reading not in _ADDS:
        reading = FROM_BELOW if from_next or number == 1 else FROM_THIS
    return max(1, number + _ADDS[reading])


def usual_depth(below: Amount, from_next: bool, number: int) -> int:
    """How many rows lower a number is by usage, where the words that say it do not say what it counts."""
    return number if below.what == "counted" or not number else deepened(number, "", from_next)


def depth_note(text: str, lines: Iterable[Line]) -> DepthNote | None:
    """The first sentence beside the rows that says whether depths count the row being worked; None where none does."""
    for line in lines:
        if line.kind not in ("prose", "key") and not (line.kind == "step" and line.section != "work"):
            continue
        for sentence in _SENTENCE.finditer(text, line.whole.start, line.whole.end):
            found = _COUNTED.search(sentence[0])
            if found is not None and _DEEP.search(sentence[0]) and _ROW.search(sentence[0]):
                if re.search(r"\d+ (?:rows?|rnds?|rounds?)", sentence[0]):
                    # The number stands in these words, which say for themselves what it counts.
                    continue
                span = Span(sentence.start() + found.start(), sentence.start() + found.end())
                return DepthNote(_WITHOUT.search(sentence[0]) is None, span)
    return None


def read_below(cursor: Cursor) -> Amount | None:
    """`3 rnds below`, `2 rows down`: how many rows lower, counted so that 1 is the row below; None where not said.

    Its `what` is `below`, or `down` for the words that some makers count this row in with, or `counted` where the words
    say which row is the first: "(counting this row)"."""
    start = cursor.position
    if cursor.last_row <= start:
        return None
    if cursor.take_name("inserting"):
        cursor.take_word("hook")
    cursor.take_name("from", "on", "of", "the", "in")
    number = cursor.position
    amount = cursor.amount()
    if amount is not None and cursor.take_word("row", "round", "row_or_round"):
        below = cursor.take_word("below")
        if below or cursor.take_name(*_LOWER):
            amount = msgspec.structs.replace(
                amount, span=cursor.since(number), spans=(), what="below" if below else "down"
            )
            return _first_counted(cursor, amount) or amount
    cursor.position = start
    return None


def _first_counted(cursor: Cursor, amount: Amount) -> Amount | None:
    """`counting this row`, `(not including the current rnd)` behind a depth: the depth without this row."""
    start = cursor.position
    bracket = cursor.mark("(", "[")
    if bracket or cursor.mark(","):
        cursor.position += 1
    without = cursor.take_word("not", "counts_not") or cursor.take_name("not", "excluding", "without")
    counted = cursor.take_word("counts") or cursor.take_name("including", "counting", "incl")
    if (counted or without) and _this_row(cursor):
        if bracket and cursor.mark(")", "]"):
            cursor.position += 1
        values = tuple(None if value is None else value if without else max(1, value - 1) for value in amount.values)
        return Amount(values, amount.span, what="counted")
    cursor.position = start
    return None


def _this_row(cursor: Cursor) -> bool:
    """`this row`, `the current rnd`: the row that is being worked."""
    if not cursor.take_name("this"):
        cursor.take_word("the")
        if not cursor.take_name("current", "present", "working"):
            return False
    return cursor.take_word("row", "round", "row_or_round")
