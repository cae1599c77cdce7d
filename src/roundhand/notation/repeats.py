"""How often: `rep from * around`, `repeat between *s 5 more times`, `rep to last 3 sts`."""

from __future__ import annotations

import re

from roundhand.notation.cursor import Cursor
from roundhand.notation.pieces import Again
from roundhand.notation.places import read_place
from roundhand.notation.reach import to_separator
from roundhand.notation.tree import Amount
from roundhand.notation.units import read_to_place

_HOW_OFTEN = ("around", "across", "to", "until", "times", "once", "twice", "total")
_ROWS = ("row", "round", "row_or_round")
# Words that may stand between "repeat" and how often, naming what is repeated.
_THINGS = frozenset(
    ("'s", "this", "these", "sequence", "pattern", "instructions", "directions", "bracket", "brackets", "bracketed",
     "section", "asterisk", "asterisks", "instruction", "stitches")
)  # fmt: skip


def repeats_rows(cursor: Cursor) -> bool:
    """Whether "rep" at the cursor is followed by rows rather than by a star or a place."""
    at = cursor.position + 1
    while at < cursor.end and _leads_to_rows(cursor, at):
        at += 1
    if at < cursor.end and cursor.tokens[at].kind == "number":
        at += 1
    return at < cursor.end and cursor.tokens[at].kind == "word" and cursor.tokens[at].value in _ROWS


def _leads_to_rows(cursor: Cursor, at: int) -> bool:
    token = cursor.tokens[at]
    if token.kind == "word":
        return token.value in ("the", "last", "from", "each", "for", "of", "same", "as")
    return token.text.lower() in ("instructions", "directions", "previous", "these", "this", "prev")


def read_again(cursor: Cursor, grouped: bool = False) -> Again:
    """The words behind `rep`: what is repeated, and how often; moves past "rep" at least.

    A number alone leaves open whether it takes in the first run, behind a star as behind a bracket (`grouped`)."""
    start = cursor.position
    cursor.position += 1
    led = cursor.word("from", "between")
    starred = _what(cursor)
    lost = led and not starred and _how_often_next(cursor)
    if cursor.mark(",", ":"):
        cursor.position += 1
    cursor.take_word("for")
    cursor.take_word("total")
    cursor.take_word("of")
    times = cursor.times()
    if times is not None:
        mode, amount, _ = times
        # "repeat 14 times from *" names the star behind the number.
        starred = starred or _star_behind(cursor)
        mode = "unsaid" if mode == "fixed" and (starred or lost or grouped) else settled(mode)
        return Again(cursor.since(start), mode, amount, None, starred, lost=lost)
    sides = _sides(cursor)
    if sides is not None:
        return Again(cursor.since(start), sides[0], sides[1], None, starred)
    stop = read_to_place(cursor)
    if stop is not None:
        return Again(cursor.since(start), "rest", None, None, starred, False, lost, *stop)
    words = cursor.position
    place = read_place(cursor)
    if place is not None and place.kind == "each":
        cut = _ends_at_star(cursor)
        return Again(cursor.since(start), "rest", None, place.rest, starred, cut, lost)
    cursor.position = words
    if cursor.word("until", "for"):
        to_separator(cursor)
    cut = _ends_at_star(cursor)
    return Again(cursor.since(start), "rest", None, None, starred, cut, lost)


def _how_often_next(cursor: Cursor) -> bool:
    """Whether how often stands right behind "rep from", where a star should."""
    token = cursor.token
    if token is None or token.kind == "number":
        return True
    if token.kind == "mark":
        return token.text in ",;.:"
    return token.kind == "word" and token.value in (
        "around",
        "across",
        "to",
        "until",
        "times",
        "once",
        "twice",
        "total",
    )


def _star_behind(cursor: Cursor) -> bool:
    """Moves over `from *`, `between *s`, if they stand here; True if they do."""
    start = cursor.position
    if cursor.word("from", "between") and _what(cursor):
        return True
    cursor.position = start
    return False


_SIDES = re.compile(
    r"(?:(?:on|for|along|across|over|in|at|around|down)\s+)?(?:the\s+)?(?:each|every|all|both)?\s*(?:of\s+)?(?:the\s+)?"
    r"(?P<more>other|remaining|rem|next|following)?\s*(?:\d+|two|three|four|five|six|seven|eight)?\s*"
    r"(?P<also>more|other|remaining)?\s*(?:sides?|edges?|corners?|petals?|points?|sections?|wedges?)\b",
    re.IGNORECASE,
)


def _sides(cursor: Cursor) -> tuple[str, Amount | None] | None:
    """`on each of the 4 sides`, `for remaining 3 sides`, `for each petal`: mode and number; None where none stands."""
    token = cursor.token
    if token is None:
        return None
    start = cursor.position
    found = _SIDES.match(cursor.text, token.start, min(cursor.tokens[cursor.end - 1].end, token.start + 80))
    if found is None:
        return None
    amount: Amount | None = None
    while cursor.position < cursor.end and cursor.tokens[cursor.position].start < found.end():
        number = cursor.amount()
        if number is not None:
            amount = number
        else:
            cursor.position += 1
    if amount is None:
        if cursor.position == start:
            return None
        return "rest", None
    return ("more" if found["more"] or found["also"] else "fixed"), amount


def settled(mode: str) -> str:
    """How often as a node holds it: what is said to be "in all" is fixed."""
    return "fixed" if mode == "in_all" else mode


def _what(cursor: Cursor) -> bool:
    """Moves over `from *`, `between *s`, `from * to *`, `this sequence`; whether a star is named."""
    starred = False
    while (token := cursor.token) is not None:
        after = cursor.ahead()
        if token.text.startswith("*"):
            starred = True
            cursor.position += 1
            if cursor.mark("'", "\u2019"):
                cursor.position += 1
            cursor.take_name("s")
        elif token.kind == "word" and token.value in ("from", "the", "between", "in"):
            if token.value == "in" and (
                after is None or after.text.lower() not in ("brackets", "parentheses", "(", "[")
            ):
                break
            cursor.position += 1
            cursor.take_name("brackets", "parentheses")
        elif (
            token.text.lower() in _THINGS
            or (
                token.kind == "word"
                and token.value in ("to", "and")
                and after is not None
                and after.text.startswith("*")
            )
            or (starred and token.kind == "mark" and token.text in ("'", '"', ")", "]"))
        ):
            cursor.position += 1
        else:
            break
    return starred


def _ends_at_star(cursor: Cursor) -> bool:
    """`…, ending last rep at **`: the last run stops at the doubled star."""
    start = cursor.position
    if cursor.mark(","):
        cursor.position += 1
    if cursor.take_name("ending", "end") and cursor.take_word("last") and cursor.take_word("repeat"):
        cursor.take_name("at")
        if cursor.token is not None and cursor.token.text == "**":
            cursor.position += 1
            return True
    cursor.position = start
    return False
