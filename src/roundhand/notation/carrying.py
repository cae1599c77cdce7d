"""Notes on a colour while another is worked: carried inside, floating behind, or a ball to each area."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from roundhand.findings import Span
from roundhand.notation.lines import Line
from roundhand.notation.tree import CarryNote, Note, Part

_YARN = r"(?:colou?rs?|yarns?|strands?|threads?|one|it|[A-Z]|MC|CC)"
_SAID = (
    (
        "apart",
        re.compile(
            r"\bintarsia\b|\b(?:separate|own|different|individual)\s+(?:small\s+)?(?:balls?|bobbins?|skeins?|butterfl\w+)"
            r"|\b(?:do\s+not|don['\u2019]t|never)\s+(?:carry|strand)\b(?![^.;]{0,40}\bup\b)",
            re.IGNORECASE,
        ),
    ),
    (
        "behind",
        re.compile(
            rf"\bstrand(?:ed|ing)?\s+(?:the\s+)?(?:\w+\s+)?{_YARN}\b[^.;]{{0,40}}\b(?:behind|back|across|wrong\s+side|ws)\b"
            rf"|\b(?:carry|carrying|carried|float|floating)\s+(?:the\s+)?(?:\w+\s+)?{_YARN}\b[^.;]{{0,40}}"
            r"\b(?:behind|(?:across|along|at|on|to)\s+the\s+(?:back|wrong\s+side|ws))\b"
            r"|\bstranded\s+(?:colou?r\s*work|crochet)\b",
            re.IGNORECASE,
        ),
    ),
    (
        "over",
        re.compile(
            r"\btapestry\b"
            rf"|\b(?:carry|carrying|carried)\s+(?:along\s+)?(?:the\s+)?(?:\w+\s+)?{_YARN}\b(?:(?!\bup\b)[^.;]){{0,40}}"
            r"\b(?:inside|within|along|over)\b"
            rf"|\b(?:work|working|worked|crochet|crocheting)\s+over\s+(?:the\s+)?(?:\w+\s+)?{_YARN}\b"
            rf"|\b(?:enclos|encas)(?:e|ing)\s+(?:the\s+)?(?:\w+\s+)?{_YARN}\b",
            re.IGNORECASE,
        ),
    ),
)


def carry_notes(text: str, lines: Iterable[Line], parts: Iterable[Part]) -> tuple[CarryNote, ...]:
    """What prose, keys, and sentences between the rows say of resting colours, in the order of the page."""
    spans = [
        line.whole
        for line in lines
        if line.kind in ("prose", "key", "title") or (line.kind == "step" and line.section != "work")
    ]
    spans += [node.span for part in parts for line in part.lines for node in line.nodes if isinstance(node, Note)]
    found = [note for span in spans for note in _notes_in(text, span)]
    return tuple(sorted(found, key=lambda note: note.span.start))


def _notes_in(text: str, span: Span) -> Iterator[CarryNote]:
    for how, words in _SAID:
        said = words.search(text, span.start, span.end)
        if said is not None:
            yield CarryNote(how, Span(said.start(), said.end()))
            return
