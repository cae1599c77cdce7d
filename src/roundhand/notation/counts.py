"""Stated counts: `(24)`, `[66 sts]`, `= 24`, `- 66 hdc`, `(12 dc, 4 ch-2 sps)`, `24 sts` at the end of a row."""

from __future__ import annotations

from roundhand.notation.cursor import Cursor
from roundhand.notation.tree import Amount, Stated

_TIMES_AFTER = ("times", "in", "repeat", "around", "across", "over", "each")


def bracket_count(cursor: Cursor, after_work: bool) -> Stated | None:
    """The count that a bracket at the cursor states, if it holds numbers and names of stitches alone.

    A bracket followed by `times`, `x 3` or `in next st` is a group, not a count; so is one of several stitch names
    before anything was worked.
    """
    start = cursor.position
    close = cursor.closing(start)
    if close is None:
        return None
    after = cursor.tokens[close + 1] if close + 1 < cursor.end else None
    if after is not None and after.kind == "word" and after.value in _TIMES_AFTER:
        return None
    if after is not None and after.kind == "number" and close + 2 < cursor.end:
        following = cursor.tokens[close + 2]
        if following.kind == "word" and following.value in ("times", "more"):
            return None
    cursor.position = start + 1
    counts = _counts(cursor, close)
    if counts is None or cursor.position != close:
        cursor.position = start
        return None
    named = [unit for _, unit in counts if unit not in ("", "stitch", "space")]
    if named and not after_work:
        cursor.position = start
        return None
    cursor.position = close + 1
    return Stated(counts, cursor.since(start))


def _counts(cursor: Cursor, close: int) -> tuple[tuple[Amount, str], ...] | None:
    """Amounts with their units up to the position `close`; None if anything else stands between."""
    counts: list[tuple[Amount, str]] = []
    while cursor.position < close:
        cursor.take_word("total")
        cursor.take_name("you", "there")
        cursor.take_name("will", "should", "are")
        cursor.take_name("have", "be", "now")
        cursor.take_word("total")
        amount = cursor.amount()
        if amount is None or cursor.position > close:
            return None
        unit = _unit(cursor)
        counts.append((amount, unit))
        cursor.take_word("total")
        cursor.take_name("made", "now", "total", "each")
        cursor.take_word("around", "remaining", "more") if unit else None
        if cursor.position < close and not (cursor.mark(",", ";", "/", "+") or cursor.word("and")):
            return None
        if cursor.position < close:
            cursor.position += 1
    return tuple(counts) or None


def _unit(cursor: Cursor) -> str:
    """What is counted: a stitch id, a defined name, `stitch`, `space`, or empty for a bare number."""
    token = cursor.token
    if token is None:
        return ""
    if token.kind == "stitch" and token.value == "chain":
        cursor.position += 1
        if cursor.mark("-", "\u2013"):
            cursor.position += 1
        if cursor.at("number"):
            cursor.position += 1
        if cursor.take_word("space"):
            return "space"
        return "chain"
    if token.kind in ("stitch", "defined"):
        cursor.position += 1
        cursor.take_word("stitch")
        if cursor.take_word("increase", "decrease"):
            return "other"
        return token.value
    if token.kind == "word" and token.value in ("stitch", "space", "loop"):
        cursor.position += 1
        return "space" if token.value == "loop" else token.value
    return ""


def trailing_count(cursor: Cursor, first: bool) -> Stated | None:
    """A count without brackets that ends a sentence: `= 24`, `- 24 sts`, `24 hdc`.

    `first` is true where nothing has been worked yet, so that `6 sc` alone is an instruction.
    """
    start = cursor.position
    led = False
    if cursor.mark("=", "-", "\u2013", "\u2014", "\u2212", ":"):
        led = cursor.take().text != ":"
    named = cursor.take_word("total") or (cursor.take_word("for") and cursor.take_name("a") and cursor.take_word("total"))
    cursor.take_word("of")
    amount = cursor.amount()
    if amount is not None:
        unit = _unit(cursor)
        cursor.take_word("total")
        cursor.take_name("made", "now")
        ended = cursor.token is None or cursor.mark(".", ";") or (unit == "stitch" and cursor.mark(",", ")"))
        plain = unit == "stitch" or (led and not (first and unit)) or named or (unit not in ("", "chain") and not first)
        if ended and plain:
            return Stated(((amount, unit),), cursor.since(start))
    cursor.position = start
    return None
