"""Where a schedule ends: at a count, `until 45 sts rem`, at a length, `until piece measures 17 in`, on a side."""

from __future__ import annotations

import re
from fractions import Fraction

from roundhand.findings import Span
from roundhand.measures import Length, length_unit, unit_words
from roundhand.notation.counts import BLOCKS
from roundhand.notation.cursor import Cursor
from roundhand.notation.head import number_list
from roundhand.notation.tree import Amount, Beat, Copy, Stripes

_ROWS = ("row", "round", "row_or_round")
_PIECE = ("circle", "disc", "disk", "motif", "ball",
          "piece", "work", "it", "this", "total", "length", "section", "cap", "hat", "scarf", "back", "front", "sleeve",
          "body", "panel", "side", "whole", "the", "your")  # fmt: skip
_MEASURES = ("measures", "measure", "is", "reaches", "measuring")
_SOFT = ("about", "approx", "approximately", "approx.", "a", "total", "of", "length", "at", "least")
_LONGEST_LENGTH = 80
_UNITS = "|".join(re.escape(word) for word in unit_words()) + r"(?![^\W\d_])"
_UNIT = re.compile(rf"\s*-?\s*({_UNITS})", re.IGNORECASE)
_UPTO = re.compile(r"\s*(?:[-\u2013\u2014]|to\b|or\b)\s*(?=\d)")


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
        self.rows_upto: Amount | None = None
        self.lengths: tuple[Length | None, ...] = ()
        self.upto: tuple[Length | None, ...] = ()
        self.since = ""
        self.side = ""
        self.at_once = False
        self.apart = False
        self.then = False
        self.plain = False
        self.even = False
        self.goes_on = False
        self.stitch = ""
        self.stripes: Stripes | None = None
        self.last: Amount | None = None

    def whole(self) -> bool:
        """Whether this tells rows: a rhythm, growth, or something to work on until a goal."""
        if self.beats or (self.grows is not None and (self.goal is not None or self.rows is not None or self.goes_on)):
            return True
        if self.lengths:
            return self.plain or self.goes_on or self.base is not None
        if self.last is not None:
            return self.plain or self.goes_on
        return self.goal is not None and (self.base is not None or self.goes_on)

    def ended(self) -> bool:
        """Whether the words have told where it ends."""
        return self.goal is not None or bool(self.lengths) or self.rows is not None or self.last is not None


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
    if led and _last_row(cursor, draft):
        return True
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
    unit = "block" if blocks else unit
    draft.goal, draft.unit, draft.goal_span = amount, unit, cursor.since(start)
    return True


def _last_row(cursor: Cursor, draft: Draft) -> bool:
    """`until there are 20 rows`, `until 20 rows have been completed`, `until Rnd 10`: the label of the last row."""
    start = cursor.position
    if draft.base is not None:
        # "Rep Row 2 until Row 20" is for the reader of references.
        return False
    cursor.take_name("end")
    cursor.take_word("of")
    labelled = cursor.take_word(*_ROWS)
    amount = cursor.amount()
    if amount is None or not (labelled or cursor.take_word(*_ROWS)):
        cursor.position = start
        return False
    cursor.take_name("have", "has", "are", "is", "total", "in")
    cursor.take_word("total")
    cursor.take_name("been")
    cursor.take_word("work", "total")
    cursor.take_name("completed", "complete", "done", "worked", "in all", "finished")
    draft.last = amount
    return True


def _of_what(cursor: Cursor, unit: str) -> str:
    """What the number behind `until` counts: `total`, `between`, `section`, or what was said before."""
    cursor.take_name("are", "sts")
    left = cursor.take_word("remaining") or cursor.take_name("left", "remain", "on") or cursor.take_word("left")
    start = cursor.position
    if left and cursor.take_word("in", "on"):
        # "Until 24 sts are left in the row": rows are worked, each with fewer, up to one that has so many.
        while cursor.take_name("the", "this", "last") or cursor.take_word("the"):
            pass
        if cursor.take_word(*_ROWS):
            return "total"
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
    found = _lengths(cursor.text[token.start : end], len(cursor.names))
    if found is None:
        cursor.position = start
        return False
    draft.lengths, draft.upto, behind = found
    while cursor.position < cursor.end and cursor.tokens[cursor.position].start < token.start + behind:
        cursor.position += 1
    if cursor.mark("(", "[") and (close := cursor.closing(cursor.position)) is not None:
        # The same in the other unit, or in rows.
        cursor.position += 1
        read_rows(cursor, draft)
        cursor.position = close + 1
    _since(cursor, draft)
    return True


def _lengths(text: str, sizes: int) -> tuple[tuple[Length | None, ...], tuple[Length | None, ...], int] | None:
    """The lengths that a text begins with, the greatest they may be where it gives two, and the offset behind them.

    >>> low, high, end = _lengths("17-18 in from beg", 1)
    >>> [float(one.to("in")) for one in (*low, *high)], end
    ([17.0, 18.0], 8)
    >>> low, high, end = _lengths("17-1/2 in", 1)
    >>> [float(one.to("in")) for one in (*low, *high)], end
    ([17.5], 9)
    """
    parts: list[tuple[tuple[Fraction | None, ...], str | None]] = []
    end = 0
    while len(parts) < 2:
        numbers = number_list(text, sizes, end)
        if numbers is None:
            return None
        unit = _UNIT.match(text, numbers[1])
        parts.append((numbers[0], length_unit(unit[1]) if unit is not None else None))
        end = unit.end() if unit is not None else numbers[1]
        further = _UPTO.match(text, end)
        if further is None or (unit is not None and not re.match(rf"[\s\d./]*(?:{_UNITS})", text[further.end() :])):
            break
        end = further.end()
    name = parts[-1][1]
    if name is None:
        return None
    made = [tuple(Length.of(one, unit or name) if one is not None else None for one in part) for part, unit in parts]
    return made[0], made[1] if len(made) > 1 else (), end


def read_rows(cursor: Cursor, draft: Draft) -> bool:
    """`for 48 rows`, `or 85 rows`, `about 85 to 90 rows`: the number of rows, or the least and the greatest."""
    start = cursor.position
    cursor.take_word("for", "until")
    cursor.take_name("or", "next")
    cursor.take_word("next", "for")
    while cursor.take_name(*_SOFT):
        pass
    amount = cursor.amount()
    upto = None
    if amount is not None and (cursor.mark("-", "\u2013", "\u2014") or cursor.word("to")):
        cursor.position += 1
        upto = cursor.amount()
    if amount is not None:
        cursor.take_word("more")
        if cursor.take_word(*_ROWS) and not cursor.word("below"):
            draft.rows, draft.rows_upto = amount, upto
            return True
    cursor.position = start
    return False


def _since(cursor: Cursor, draft: Draft) -> None:
    """`from beg`, `from cast-on edge`: the whole piece; `from armhole`, `above the band`: from here."""
    start = cursor.position
    cursor.take_word("in")
    if cursor.take_word("across") or cursor.take_name("across", "diameter", "wide"):
        # What grows from its centre: half of it is the height of the rounds.
        draft.since = "across"
        return
    cursor.position = start
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
