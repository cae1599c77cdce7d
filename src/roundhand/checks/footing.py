"""One place that a row asks for, the rows and steps that lie below it, and what is told where it cannot be there."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from roundhand.findings import Severity, Span
from roundhand.notation.tree import Node, Times
from roundhand.tally import Offer, PieceTally, RowTally, Tally
from roundhand.terms import Vocabulary


class Ground(msgspec.Struct, frozen=True):
    """One place that a row asks for, and what lies below it in the first size that has the row."""

    tally: Tally
    text: str
    words: Vocabulary
    piece: PieceTally
    at: int
    size: int
    node: Node

    @property
    def row(self) -> RowTally:
        """The row that asks for it."""
        return self.piece.rows[self.at]

    @property
    def offer(self) -> Offer | None:
        """What the row is worked on."""
        return self.row.below[self.size]

    @property
    def before(self) -> tuple[RowTally, ...]:
        """The rows of the piece below this one, the first of them first."""
        return tuple(row for row in self.piece.rows[: self.at] if row.results[self.size] is not None)


class Said(msgspec.Struct, frozen=True):
    """What is told: the sentences, and what of it is told but once on a page."""

    place: str
    what: str
    headline: str
    because: str
    help: str
    span: Span
    once: str = ""
    severity: Severity = "warning"


def works(nodes: tuple[Node, ...]) -> Iterator[Node]:
    """The nodes of a row, those inside repeats in place of the repeats."""
    for node in nodes:
        if isinstance(node, Times):
            yield from works(node.body)
        else:
            yield node
