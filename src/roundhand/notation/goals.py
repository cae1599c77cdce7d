"""Where a schedule ends: at a count, `until 45 sts rem`, at a length, `until piece measures 17 in`, on a side."""

from __future__ import annotations

from roundhand.findings import Span
from roundhand.measures import Length
from roundhand.notation.counts import BLOCKS
from roundhand.notation.cursor import Cursor
from roundhand.notation.head import read_fact
from roundhand.notation.tree import Amount, Beat, Copy

_ROWS = ("row", "round", "row_or_round")
_PIECE = ("piece", "work", "it", "this", "total", "length", "section", "cap", "hat", "scarf", "back", "front", "sleeve",
          "body", "panel", "side", "whole", "the", "your")  # fmt: skip
_MEASURES = ("measures", "measure", "is", "reaches", "measuring")
_SOFT = ("about", "approx", "approximately", "approx.", "a", "total", "of", "length", "at", "least")
_LONGEST_LENGTH = 80


class Draft:
    """What has been read of a schedule so far."""

    def __init__(self) -> None:
        self.beats: list[Beat] = []
        self.base: Copy | None = None
        self.grows: Amount | None = None
        self.every = 1
        self.goal: Amount | None = None
        self.unit = ""
        self.goal_span: Span | None = None
        self.rows: Amount | None = None
        self.lengths: tuple[Length | None, ...] = ()
        self.since = ""
        self.side = ""
        self.at_once = False
        self.apart = False
        self.plain = False
        self.goes_on = False
        self.stitch = ""

    def whole(self) -> bool:
        """Whether this tells rows: a rhythm, growth, or something to work on until a goal."""
        if self.beats or (self.grows is not None and (self.goal is not None or self.rows is not None or self.goes_on)):
            return True
        if self.lengths:
            return self.plain or self.goes_on or self.base is not None
        return self.goal is not None and (self.base is not None or self.goes_on)


def read_until(cursor: Cursor, draft: Draft) -> bool:
    """`until 45 sts rem`, `until there are 30 sc between increases`, `until piece measures 17 in from beg`."""
    start = cursor.position
    led = cursor.take_word("until") or cursor.take_name("till", "til")
    if not led and cursor.take_name("or"):
        led = cursor.take_word("until")
    if (
        not led
        and not ((draft.plain or draft.base is not None) and cursor.word("for"))
        and not (draft.beats and cursor.word("to"))
    ):
        return False
    here = not led and cursor.word("for")
    if not led:
        cursor.position += 1
    words = cursor.position
    while (token := cursor.token) is not None and token.text.lower() in (*_PIECE, "there", "you", "have", "are", "only",
                                                                         "a"):  # fmt: skip
        cursor.position += 1
    measured = cursor.take_name(*_MEASURES)
    if (measured or not led or cursor.position == words) and _length(cursor, draft):
        draft.since = draft.since or ("here" if here else "")
        return True
    while cursor.take_name(*_SOFT) or cursor.take_word("total", "for"):
        pass
    amount = cursor.amount()
    if amount is None or cursor.word(*_ROWS):
        cursor.position = start
        return False
    named = cursor.take_word("stitch") or cursor.at("stitch")
    if cursor.at("stitch"):
        cursor.position += 1
    if cursor.word("times") or (not led and not named):
        cursor.position = start
        return False
    blocks = cursor.take_name(*BLOCKS) or (cursor.at("defined") and cursor.take().text.lower() in BLOCKS)
    unit = "stitch" if named else ""
    unit = _of_what(cursor, unit)
    unit = "block" if blocks and unit != "in row" else unit
    if unit == "in row":
        cursor.position = start
        return False
    draft.goal, draft.unit, draft.goal_span = amount, unit, cursor.since(start)
    return True


def _of_what(cursor: Cursor, unit: str) -> str:
    """What the number behind `until` counts: `total`, `between`, `section`, or what was said before."""
    cursor.take_name("are", "sts")
    left = cursor.take_word("remaining") or cursor.take_name("left", "remain", "on") or cursor.take_word("left")
    start = cursor.position
    if left and cursor.take_word("in") and (cursor.take_name("the", "this", "row") or cursor.take_word("the", *_ROWS)):
        return "in row"
    cursor.position = start
    if left or cursor.take_word("total") or cursor.take_name("altogether", "total"):
        return "total"
    if cursor.take_word("in") and (cursor.take_word("total") or cursor.take_name("all")):
        return "total"
    cursor.position = start
    section = False
    if cursor.take_word("in") or cursor.take_word("for"):
        cursor.take_word("each")
        section = cursor.take_name("section", "sections", "segment", "wedge", "group") or cursor.take_word("group")
    if cursor.take_word("between"):
        for _ in range(3):
            if cursor.word("increase", "decrease") or cursor.token is None or cursor.token.kind == "mark":
                break
            cursor.position += 1
        cursor.take_word("increase", "decrease")
        cursor.take_name("widenings", "points")
        return "between"
    if section:
        return "section"
    cursor.position = start
    if cursor.take_word("in", "around", "across"):
        cursor.take_word("the", "each")
        if not cursor.take_word(*_ROWS):
            cursor.position = start
    return unit


def _length(cursor: Cursor, draft: Draft) -> bool:
    """`17 (18, 19 1/2) in [43 cm] from beg`, `17-18 in`; False (nothing taken) where no length stands here."""
    start = cursor.position
    while cursor.take_name(*_SOFT) or cursor.take_word("total", "the", "for"):
        pass
    token = cursor.token
    if token is None or token.kind != "number":
        cursor.position = start
        return False
    end = min(cursor.tokens[cursor.end - 1].end, token.start + _LONGEST_LENGTH)
    text = cursor.text[token.start : end]
    fact = read_fact("", text, token.start, len(cursor.names))
    unit_end = _unit_end(cursor, fact.lengths)
    if unit_end is None:
        cursor.position = start
        return False
    draft.lengths = fact.lengths
    while cursor.position < unit_end:
        cursor.position += 1
    if cursor.mark("(", "[", "/") and (close := cursor.closing(cursor.position)) is not None:
        # The same in the other unit.
        cursor.position = close + 1
    _since(cursor, draft)
    return True


def _unit_end(cursor: Cursor, lengths: tuple[Length | None, ...]) -> int | None:
    """The position behind the unit of a length at the cursor."""
    if not lengths:
        return None
    at = cursor.position
    while at < cursor.end and at - cursor.position < 2 * len(cursor.names) + 12:
        token = cursor.tokens[at]
        unit = token.text.lower().rstrip(".") in ("in", "ins", "inch", "inches", '"', "\u201d", "\u2033", "cm", "cms",
                                                  "mm", "m", "yd", "yds")  # fmt: skip
        if unit:
            return at + 1
        at += 1
    return None


def _since(cursor: Cursor, draft: Draft) -> None:
    """`from beg`, `from cast-on edge`: the whole piece; `from armhole`, `above the band`: from here."""
    start = cursor.position
    if not (cursor.take_word("from") or cursor.take_name("above", "from", "past")):
        return
    beginning = False
    while (token := cursor.token) is not None and (token.kind != "mark" or token.text == "-"):
        lower = token.text.lower()
        if lower in ("and", "ending", "end", "at", "or") or token.value in ("increase", "decrease", "until"):
            break
        beginning = beginning or token.value == "beginning" or lower in ("cast", "bottom", "lower", "foundation", "hem")
        cursor.position += 1
    draft.since = "beginning" if beginning else "here"
    if cursor.position == start:
        draft.since = ""


def read_ending(cursor: Cursor, draft: Draft) -> bool:
    """`ending with a RS row`, `end after a WS row`: the side of the last row."""
    start = cursor.position
    if cursor.take_name("end", "ending", "finish", "finishing"):
        cursor.take_name("after", "on", "by")
        cursor.take_word("with", "in")
        cursor.take_name("working", "completing")
        cursor.take_word("the")
        if cursor.word("right_side", "wrong_side"):
            draft.side = "RS" if cursor.take().value == "right_side" else "WS"
            cursor.take_word(*_ROWS)
            return True
    cursor.position = start
    return False
