"""Words in front of a row, or behind its label, that say for which sizes it is: `Sizes L and XL only:`,
`(Sizes L, XL only) Rnd 2:`, `L and XL only - Rnd 2:`, `For size XL, Rnd 2:`, `Rnd 2 (L and XL only):`."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from roundhand.notation.sizes import size_phrase

if TYPE_CHECKING:
    from roundhand.notation.cursor import Cursor

_LONGEST = 120
_BRACKET = re.compile(r"[(\[](?P<said>[^()\[\]\n]{1,100})[)\]]\s*[:\u2013\u2014-]?\s*")
_CUT = re.compile(r"\s+[-\u2013\u2014]+\s+|,\s+|\.\s+|\s+(?=(?:Rnd|Round|Row)s?\b)", re.IGNORECASE)
_SPEAKS_OF_SIZES = re.compile(r"\bsizes?\b|\bonly$", re.IGNORECASE)
_BLANKS = re.compile(r"\s*")
_BEHIND = re.compile(r"\s*(?:[,\u2013\u2014-]\s*)?(?P<said>(?:for\s+)?[^:;.()\[\]\n]{1,80})(?=:)")


def leading_sizes(text: str, start: int, end: int, names: tuple[str, ...], label: re.Pattern[str]) -> tuple[str, int]:
    """The size phrase at the head of a line, and where the words behind it begin; empty, and the start, where there is
    none. Without a colon it is one only where a row's label stands behind it."""
    if len(names) < 2 or label.match(text, start, end):
        return "", start
    stop = min(end, start + _LONGEST)
    bracket = _BRACKET.match(text, start, stop)
    if bracket is not None:
        named = size_phrase(bracket["said"], names) is not None and label.match(text, bracket.end(), end)
        return (bracket["said"].strip(), bracket.end()) if named else ("", start)
    colon = text.find(":", start, stop)
    if colon > 0:
        said = text[start:colon].strip(" *_")
        behind = colon + (3 if text.startswith(("**", "__"), colon + 1) else 1)
        blanks = _BLANKS.match(text, behind, end)
        row = label.match(text, blanks.end() if blanks is not None else behind, end)
        if size_phrase(said, names) is not None or (row is not None and _SPEAKS_OF_SIZES.search(said)):
            # "Larger sizes only: Rnd 3:" names no size of the pattern, which is said where the row is read.
            return said, behind
    for cut in _CUT.finditer(text, start, stop):
        if label.match(text, cut.end(), end):
            said = text[start : cut.start()].strip(" *_")
            return (said, cut.end()) if size_phrase(said, names) is not None else ("", start)
    return "", start


def sizes_behind(cursor: Cursor) -> bool:
    """Moves over a size phrase behind a row's label, `(sizes L and XL only)`, `for L and XL:`, `- L only:`, and keeps
    the row for these sizes alone; False (nothing taken) where none stands here."""
    if len(cursor.names) < 2 or cursor.token is None:
        return False
    text, start = cursor.text, cursor.token.start
    found = _BRACKET.match(text, start, start + _LONGEST) or _BEHIND.match(text, start, start + _LONGEST)
    if found is None:
        return False
    said = size_phrase(found["said"], cursor.names)
    if said is None:
        return False
    kept = tuple(size for size in said if size in cursor.active)
    cursor.active = kept or said
    while cursor.position < cursor.end and cursor.tokens[cursor.position].start < found.end("said"):
        cursor.position += 1
    if cursor.mark(")", "]"):
        cursor.position += 1
    return True
