"""Labels that speak of many rows at once: `Row 2 and all WS rows:`, `All even rnds are worked as Rnd 2`.

Such a line is a rule: it makes no row where it stands (but the one that it names first) and every row of its kind that
is not written later. Which rows those are is settled when the rows are put in their working order.
"""

from __future__ import annotations

import re

from roundhand.findings import Span
from roundhand.notation.tree import Amount, Copy, Label, Node

_KIND = r"(?:rnds?|rounds?|rds?|rows?)"
_RULE = re.compile(
    rf"(?:(?:(?P<named>{_KIND})\.?\s*(?P<first>\d+)|(?P<ordinal>\d+)(?:st|nd|rd|th|d)\s+{_KIND})"
    r"\s*(?:\((?:ws|rs)\)\s*)?[,(]?\s*(?:and|&)\s+)?"
    r"(?:work\s+)?(?P<all>(?:all|every|each)\s+)?(?:the\s+)?(?:(?:other|following|foll\.?|remaining|rem)\s+)?"
    r"(?P<which>even|odd|ws|rs|wrong[ -]side|right[ -]side|alt(?:ernate)?\.?|(?<=other )|(?<=following ))"
    rf"(?:[ -]numbered)?\s*(?:\((?:ws|rs)\)\s+)?(?P<kind>{_KIND})\b\)?(?:\s+(?:through|thru|to)\s+{_KIND}\s*\d+(?=:))?",
    re.IGNORECASE,
)
_LEAD = re.compile(
    r"\s*(?:\((?:ws|rs|wrong side|right side)\)\s*)?"
    r"(?:[:.]|,?\s*(?:(?:are|is)\s+)?(?:all\s+)?(?:to\s+be\s+)?(?:worked|made)\b"
    r"|(?=\s*(?:as|like|same|rep|repeat)\b))\s*",
    re.IGNORECASE,
)
# "In the same manner", which names no row.
_SAME = re.compile(
    r"\s*(?:in\s+)?(?:the\s+same\b(?!\s+as\b)|alike\b|likewise\b|in\s+this\s+(?:way|manner)\b)[^\n]*", re.IGNORECASE
)
_WHICH = {"even": "even", "odd": "odd", "ws": "WS", "rs": "RS", "wrong": "WS", "right": "RS", "alt": "alternate"}


def read_rule(text: str, start: int, end: int) -> tuple[Label, int, bool] | None:
    """The label of a rule, where its instructions begin, and whether they only say "in the same manner"; None where
    the line is no rule.

    >>> text = "Row 2 and all WS rows: Ch 1, sc in each st across."
    >>> label, body, same = read_rule(text, 0, len(text))
    >>> label.every, label.first.values, text[body:body + 4], same
    ('WS', (2,), 'Ch 1', False)
    """
    found = _RULE.match(text, start, end)
    if found is None:
        return None
    lead = _LEAD.match(text, found.end(), end)
    if lead is None or (lead.end() == found.end() and not text[found.end() : end].strip()):
        return None
    span = Span(start, found.end())
    word = re.split(r"[ .-]", found["which"].lower())[0]
    every = _WHICH.get(word, "alternate")
    if not word and "following" in found[0].lower():
        # "Row 2 and all following rows": every row that is not written.
        every = "all"
        if not found["all"]:
            return None
    number = found["first"] or found["ordinal"]
    if every in ("alternate", "all") and number is None:
        return None
    first = Amount((int(number[:6]),), span) if number else None
    kind = "row" if found["kind"].lower().startswith("row") else "round"
    return Label(kind, span, first, first, every=every), lead.end(), _SAME.match(text, lead.end(), end) is not None


def same_manner(label: Label, before: int | None) -> tuple[Node, ...]:
    """The instructions of `worked in the same manner`: as the row of that kind that was written last."""
    if before is None:
        return ()
    number = Amount((before,), label.span)
    return (Copy(label.span, number, number, "once"),)
