"""Openings that are drawn up: `weave yarn through last 8 sts, pull tight`, `gather front loops of rem 6 sts`."""

from __future__ import annotations

import re

import msgspec

from roundhand.findings import Span
from roundhand.notation.listed import LISTED, listed

_THROUGH = re.compile(
    r"\b(?:weave|weaving|thread|threading|run|running|draw|drawing|pass|passing|sew|gather|gathering|slip|insert|work)\b"
    r"[^.;:]*?\b(?:through|thru|in\s+and\s+out\s+of|into|gather\w*)\b|\bgather(?:ing)?\b",
    re.IGNORECASE,
)
_TIGHT = re.compile(
    r"\bpull(?:ing)?\s+(?:\w+\s+){0,3}(?:tight(?:ly)?|closed?|snug(?:ly)?|up|to\s+close)|\bdraw(?:ing|n)?\s+(?:\w+\s+){0,2}"
    r"(?:up|closed|together|tight)|\bcinch|\bgather|\bto\s+close\b|\bclose[sd]?\s+(?:up\s+)?(?:the\s+)?(?:opening|hole|top)",
    re.IGNORECASE,
)
_NUMBER = re.compile(
    rf"\b(?:last|rem(?:aining)?|all|the|final|these)\s+(?:of\s+the\s+)?(?P<n>{LISTED}|two|three|four|five|six|seven|eight"
    r"|nine|ten|eleven|twelve)\s+(?:(?:front|back|free|unused|outer|rem(?:aining)?|live)\s+)*"
    r"(?:sts?|stitch(?:es)?|sc|hdc|dc|tr|loops?|flo|blo)\b",
    re.IGNORECASE,
)
_SOME = re.compile(r"\b(?:every\s+(?:other|second|2nd)|alternate)\b", re.IGNORECASE)


class Gathering(msgspec.Struct, frozen=True):
    """An opening drawn up: where the words stand, and how many stitches they name in every size, if they do."""

    span: Span
    told: tuple[int, ...] | None
    told_span: Span


def gathers(text: str) -> bool:
    """Whether words have stitches drawn up.

    >>> gathers("Weave yarn through last 8 sts, pull tight."), gathers("Weave in ends."), gathers("Gather front loops.")
    (True, False, True)
    >>> gathers("Yo, draw up a loop, draw through both loops."), gathers("Sc in next 4 sts.")
    (False, False)
    """
    found = _THROUGH.search(text)
    return found is not None and _TIGHT.search(text) is not None and not re.search(r"\byo\b", text, re.IGNORECASE)


def read_gathering(text: str, start: int, sizes: int) -> Gathering | None:
    """The opening that a sentence draws up, its words beginning at `start` of the page; None for any other sentence.

    >>> found = read_gathering("Thread tail through rem 8 (10) sts and pull tight.", 0, 2)
    >>> found.told, read_gathering("Sc in next 8 sts.", 0, 2)
    ((8, 10), None)
    """
    if not gathers(text):
        return None
    number = _NUMBER.search(text) if _SOME.search(text) is None else None
    span = Span(start, start + len(text))
    if number is None:
        return Gathering(span, None, span)
    told = Span(start + number.start("n"), start + number.end())
    return Gathering(span, listed(number["n"], sizes), told)
