"""Lines that tell rows in words that are not read: the rows are missing then, and the page must say so."""

from __future__ import annotations

import re
from collections.abc import Iterable

from roundhand.findings import Finding, Span
from roundhand.notation.tree import Chain, Copy, Evenly, Gather, Node, Plain, Plan, Rejoin, Times, Work

_ROW = r"(?:rows?|rnds?|rounds?)\b"
_SHAPED = r"(?:inc|dec)(?:reas(?:e|es|ing))?|bind(?:ing)?\s+off|cast(?:ing)?\s+off"
_WORKED = rf"work|rep|repeat|cont|continue|keep|{_SHAPED}"
# An order that tells rows: shaping by a rhythm, work up to a number, so many rows, or "as set" up to something.
_TELLS = re.compile(
    rf"\W*(?:then|now|next|shape\s+\w+:?)?[\s,]*(?:"
    rf"(?:[^.\n]{{0,30}}?\b)?(?:{_SHAPED})\b[^.\n]{{0,80}}?\b(?:every|each|next|alt|alternate|following|foll)\s+(?:[^.\n]{{0,30}}?[\s)])?{_ROW}"
    rf"|(?:{_WORKED})\b[^.\n]{{0,80}}?\buntil\b[^.\n]{{0,60}}?\d"
    rf"|(?:{_WORKED})\b[^.\n]{{0,60}}?\b\d+\s+(?:more\s+)?(?:rows|rnds|rounds)\b"
    rf"|(?:{_WORKED})\b[^.\n]{{0,60}}?\bas\s+(?:set|established|est)\b[^.\n]{{0,60}}?(?:\d|\buntil\b)"
    rf")",
    re.IGNORECASE,
)
# Sentences that speak about the rows and order none.
_ABOUT = re.compile(
    r"\W*(?:note|please|remember|you\s+will|if\s+you|when\s+you|this\s+|these\s+|all\s+|the\s+)|.*\b(?:marker|chart|video|photo)\b",
    re.IGNORECASE,
)
_MAKES = (Chain, Copy, Evenly, Gather, Plain, Plan, Rejoin, Times, Work)


def untold(text: str, start: int, end: int, nodes: Iterable[Node]) -> Finding | None:
    """`words-unknown` for a line without a label that tells rows, of which nothing was made; None for other lines."""
    if any(isinstance(node, _MAKES) for node in nodes):
        return None
    line = text[start:end]
    if _ABOUT.match(line) or _TELLS.match(line) is None:
        return None
    return Finding(
        "words-unknown",
        "warning",
        "these words tell rows, and are not understood",
        Span(start, end),
        because="no row was worked for them, so what follows stands on the row before",
        help="write the rows out, or tell them as in \u201cinc 1 st each end of every 4th row 5 times\u201d",
        facts={"words": " ".join(line.split())[:200]},
        label="not understood",
    )
