"""Notes that turning chains count, or do not count, as stitches."""

from __future__ import annotations

import re
from collections.abc import Iterable

from roundhand.findings import Span
from roundhand.notation.lines import Line
from roundhand.notation.tree import CountNote, Note, Part

_COUNTS = re.compile(
    r"(?:\b(?:(?P<before>\d)\s*)?(?:ch|chain|chains|chs)(?:ing)?[\s-]*(?P<number>\d)?\b"
    r"|\bturning ch(?:ain)?s?\b|\bt-?ch\b)[^.;()]{0,60}?"
    r"\bcounts?(?:ed)?\b(?P<after>\s+as\b)?",
    re.IGNORECASE,
)
_NEGATIVE = re.compile(r"\bnot\b|n['\u2019]t\b|\bnever\b|\bno\b", re.IGNORECASE)


def count_notes(text: str, lines: Iterable[Line]) -> list[CountNote]:
    """What prose and keys of the page say of chains."""
    notes: list[CountNote] = []
    for line in lines:
        if line.kind in ("prose", "key") or (line.kind == "step" and line.section != "work"):
            notes += _notes_in(text, line.whole)
    return notes


def count_notes_in_rows(text: str, parts: Iterable[Part]) -> list[CountNote]:
    """What sentences inside rows and steps say of chains."""
    return [
        note
        for part in parts
        for line in part.lines
        for node in line.nodes
        if isinstance(node, Note)
        for note in _notes_in(text, node.span)
    ]


def _notes_in(text: str, span: Span) -> list[CountNote]:
    notes = []
    for found in _COUNTS.finditer(text, span.start, span.end):
        negative = _NEGATIVE.search(found[0]) is not None
        if not negative and found["after"] is None:
            # "Count your chains" says nothing of whether they are stitches.
            continue
        number = int(found["number"] or found["before"] or 0)
        notes.append(CountNote(number, not negative, Span(found.start(), found.end())))
    return notes
