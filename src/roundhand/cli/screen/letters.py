"""Words of a pattern made safe and measurable for a terminal: every sign with what is shown for it and its width.

A pattern is data. A control sign in it must not move the cursor, and a sign that turns the direction of writing must
not make a line look like another.
"""

from __future__ import annotations

import unicodedata
from functools import lru_cache

_TURNING = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
_UNSEEN = frozenset("\u00ad\u200b\u2060\ufeff")
_TAB = "  "
ELLIPSIS = "…"


@lru_cache(maxsize=4096)
def shown(sign: str) -> tuple[str, int]:
    """What is printed for one code point, and how many cells of the terminal it fills.

    >>> shown("a"), shown("編"), shown("\\u0301"), shown("\\x1b"), shown("\\u202e")
    (('a', 1), ('編', 2), ('́', 0), ('␛', 1), ('⟨U+202E⟩', 8))
    """
    if " " <= sign <= "~":
        return sign, 1
    if sign == "\t":
        return _TAB, len(_TAB)
    if sign in _UNSEEN:
        return "", 0
    kind = unicodedata.category(sign)
    if kind == "Cc":
        # Unicode has a picture for each of the old control signs.
        return chr(0x2400 + ord(sign)) if ord(sign) < 0x20 else "\N{REPLACEMENT CHARACTER}", 1
    if kind == "Cs":
        return "\N{REPLACEMENT CHARACTER}", 1
    if sign in _TURNING or kind in ("Zl", "Zp"):
        named = f"⟨U+{ord(sign):04X}⟩"
        return named, len(named)
    if kind in ("Mn", "Me", "Cf"):
        return sign, 0
    return sign, 2 if unicodedata.east_asian_width(sign) in "WF" else 1


def plain(text: str) -> str:
    """The text as it may be printed on one line.

    >>> plain("Cap\\x1b[2J\\tA")
    'Cap␛[2J  A'
    """
    if text.isascii() and text.isprintable():
        return text
    return "".join(shown(sign)[0] for sign in text)


def width(text: str) -> int:
    """How many cells a text fills once printed.

    >>> width("sc"), width("編み"), width("e\\u0301")
    (2, 4, 1)
    """
    if text.isascii() and text.isprintable():
        return len(text)
    return sum(shown(sign)[1] for sign in text)


def filled(text: str, cells: int, right: bool = False) -> str:
    """The text padded with spaces to a number of cells, on the right or, for numbers, on the left."""
    room = " " * max(0, cells - width(text))
    return room + text if right else text + room


def cut(text: str, cells: int) -> str:
    """The text, or its beginning with an ellipsis where it is too wide.

    >>> cut("spike sc in next st", 9)
    'spike sc…'
    """
    if width(text) <= cells:
        return text
    taken, room = [], cells - 1
    for sign in text:
        room -= shown(sign)[1]
        if room < 0:
            break
        taken.append(sign)
    return "".join(taken).rstrip() + ELLIPSIS


def wrapped(text: str, cells: int) -> list[str]:
    """The text in lines of at most so many cells, broken at spaces; a longer word keeps its line to itself.

    >>> wrapped("6 times would use all 18 and make 24", 16)
    ['6 times would', 'use all 18 and', 'make 24']
    """
    lines: list[str] = []
    line = ""
    for word in text.split():
        if line and width(line) + 1 + width(word) > cells:
            lines.append(line)
            line = word
        else:
            line = f"{line} {word}" if line else word
    return [*lines, line] if line else lines
