"""A row has a bracket that opens and is never closed, or closes and was never opened.

A bracket says what is worked together, or again and again. With one half of it gone a maker has to guess where that
begins or ends.

Bad:
    Rnd 1: 8 sc in a magic ring. (8)
    Rnd 2: Sc in next st, 2 sc in next st) 4 times. (12)

Good:
    Rnd 1: 8 sc in a magic ring. (8)
    Rnd 2: (Sc in next st, 2 sc in next st) 4 times. (12)
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Span
from roundhand.notation.tree import RowLine

GROUP = "words"

_OPENS, _CLOSES = "([{", ")]}"
# "a) sc in each st; b) turn": what is told off by letters or numbers has no other half.
_TOLD_OFF = re.compile(r"(?:^|[.;:,]\s*|\n\s*)\(?[0-9A-Za-z]{1,2}$")
# ":)" and the like are no brackets.
_FACE = re.compile(r"[:;8=]-?$")


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every row with half a bracket, under it."""
    troubled = {id(trouble.row.line) for trouble in sheet.troubles}
    for part in sheet.pattern.parts:
        for line in part.lines:
            if isinstance(line, RowLine):
                found = _alone(sheet.text, line)
                if found is not None:
                    yield _finding(sheet, line, found, id(line) in troubled)


def _alone(text: str, line: RowLine) -> Span | None:
    """The first half bracket of a row: one that closes nothing, else one that is not closed."""
    open_: list[int] = []
    for at in range(line.label.span.end, line.span.end):
        sign = text[at]
        if sign in _OPENS:
            open_.append(at)
        elif sign in _CLOSES and open_:
            open_.pop()
        elif sign in _CLOSES:
            before = text[line.label.span.end : at]
            if not _TOLD_OFF.search(before) and not _FACE.search(before):
                return Span(at, at + 1)
    # What is open at the end of the words may be closed on a line that is read by itself.
    if open_ and not set(_CLOSES) & set(_rest_of_line(text, line.span.end)):
        return Span(open_[0], open_[0] + 1)
    return None


def _rest_of_line(text: str, at: int) -> str:
    return text[at : (text + "\n\n").find("\n\n", at)]


def _finding(sheet: Sheet, line: RowLine, span: Span, troubled: bool) -> Finding:
    opens = span.of(sheet.text) in _OPENS
    return Finding(
        "bracket-alone",
        "error" if troubled else "warning",
        f"\u201c{span.of(sheet.text)}\u201d is never {'closed' if opens else 'opened'}",
        span,
        tuple(sheet.pattern.sizes[size] for size in line.sizes),
        because="the row was worked as if it were not there",
        help=f"{'close' if opens else 'open'} it where what is worked together {'ends' if opens else 'begins'}, or take"
        " it out",
        facts={"bracket": span.of(sheet.text), "half": "opens" if opens else "closes"},
        label="half a bracket",
    )
