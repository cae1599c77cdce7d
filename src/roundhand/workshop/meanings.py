"""The words of a page by what they mean, for a page that colours them: stitches, counts, places, repeats and the rest.

Marks do not overlap and stand in the order of the page; a word that is in none has no meaning of its own.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Literal

import msgspec

from roundhand.findings import Span
from roundhand.notation.page import cut_page
from roundhand.notation.tree import (
    Along,
    Attach,
    Chain,
    Copy,
    Evenly,
    Gather,
    Item,
    Join,
    Leave,
    Node,
    Note,
    Place,
    Plain,
    Plan,
    Rejoin,
    Ring,
    RowLine,
    Skip,
    Stated,
    Stripes,
    Times,
    Turn,
    Unread,
    Work,
    Yarn,
)
from roundhand.workshop.reading import Reading

Kind = Literal["stitch", "count", "colour", "place", "repeat", "label", "size", "key", "heading", "note", "gap"]
_KINDS: tuple[Kind, ...] = (
    "stitch", "count", "colour", "place", "repeat", "label", "size", "key", "heading", "note", "gap",
)  # fmt: skip
_CODES = {kind: at + 1 for at, kind in enumerate(_KINDS)}
# Signs that mean the same, one behind the other; what means nothing is painted with nought.
_RUN = re.compile(rb"([^\x00])\1*", re.DOTALL)
_NUMBER = re.compile(r"\d+(?:\s*(?:\([\d\s,;:/-]+\)|\[[\d\s,;:/-]+\]))?")


class Meant(msgspec.Struct, frozen=True):
    """Words from `start` up to, not including, `end`, in code points, and what they mean."""

    start: int
    end: int
    kind: Kind


def meanings(reading: Reading) -> tuple[Meant, ...]:
    """What the words of a page mean, in order.

    >>> from roundhand.workshop.counting import counted
    >>> reading = counted("Cap\\n\\nRnd 1: 6 sc in a magic ring. (6)")
    >>> [(reading.source.text[one.start : one.end], one.kind) for one in meanings(reading)][1:]
    [('Rnd 1', 'label'), ('6', 'count'), ('sc', 'stitch'), ('in a magic ring', 'place'), ('(6)', 'count')]
    """
    brush = _Brush(reading.source.text)
    for line in cut_page(reading.source, reading.sizes):
        if line.kind in ("title", "heading"):
            brush.paint(line.whole, "heading")
        elif line.kind == "key":
            brush.key(line.whole, line.start)
        if line.phrase:
            at = reading.source.text.find(line.phrase, line.whole.start, line.whole.end)
            if at >= 0:
                brush.paint(Span(at, at + len(line.phrase)), "size")
    if reading.pattern.sizes_span is not None:
        brush.paint(reading.pattern.sizes_span, "size")
    for part in reading.pattern.parts:
        for one in part.lines:
            brush.nodes(one.nodes)
            brush.nodes(one.stated)
            if isinstance(one, RowLine):
                brush.paint(one.label.span, "label")
    return tuple(brush.marks())


class _Brush:
    """Paints one code for every sign of the page; what is painted later covers what was before."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.codes = bytearray(len(text))

    def paint(self, span: Span, kind: Kind) -> None:
        start, end = max(0, span.start), min(len(self.text), span.end)
        if start < end:
            self.codes[start:end] = bytes([_CODES[kind]]) * (end - start)

    def numbers(self, span: Span) -> None:
        """Paints the numbers in some words as counts."""
        for found in _NUMBER.finditer(self.text, span.start, span.end):
            self.paint(Span(found.start(), found.end()), "count")

    def key(self, whole: Span, value: int) -> None:
        """Paints what stands in front of a value, up to its colon."""
        colon = self.text.rfind(":", whole.start, value + 1)
        if colon > whole.start:
            self.paint(Span(whole.start, colon + 1), "key")

    def nodes(self, nodes: Iterable[Node]) -> None:
        for node in nodes:
            self.node(node)

    def node(self, node: Node) -> None:
        match node:
            case Work():
                for item in node.group:
                    self.item(item)
                self.place(node.into)
            case Times():
                self.nodes(node.body)
                self.paint(node.words, "repeat")
                if node.star and self.text[node.span.start : node.span.start + 1] == "*":
                    self.paint(Span(node.span.start, node.span.start + 1), "repeat")
                if node.amount is not None:
                    self.numbers(node.amount.span)
            case Chain():
                self.paint(node.span, "stitch")
                self.numbers(node.amount.span)
                if node.counts_span is not None:
                    self.paint(node.counts_span, "note")
            case Stated():
                self.paint(node.span, "count")
            case Yarn() | Stripes():
                self.paint(node.span, "colour")
            case Skip() | Leave():
                self.paint(node.span, "place")
                if node.amount is not None:
                    self.numbers(node.amount.span)
            case Evenly():
                self.paint(node.span, "stitch")
                if node.amount is not None:
                    self.numbers(node.amount.span)
            case Copy() | Plain() | Plan():
                self.paint(node.span, "repeat")
            case Ring() | Join() | Turn() | Rejoin() | Along() | Attach() | Gather():
                self.paint(node.span, "place")
            case Note():
                self.paint(node.span, "note")
            case Unread():
                self.paint(node.span, "gap")
            case _:
                return

    def item(self, item: Item) -> None:
        self.paint(item.span, "stitch")
        self.numbers(item.amount.span)

    def place(self, place: Place) -> None:
        self.paint(place.span, "place")
        for amount in (place.count, place.rest):
            if amount is not None:
                self.numbers(amount.span)

    def marks(self) -> Iterable[Meant]:
        for run in _RUN.finditer(self.codes):
            words = self.text[run.start() : run.end()]
            if not words.isspace():
                start = run.start() + len(words) - len(words.lstrip())
                yield Meant(start, run.start() + len(words.rstrip()), _KINDS[run[0][0] - 1])
