"""The strands of every yarn, from where it is joined to where it is cut, with their climbs and tails."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from roundhand.measures import Length
from roundhand.notation.tree import Node, Tail
from roundhand.tally.model import PieceTally, RowTally, Tally, YarnEvent


class Climb(msgspec.Struct, frozen=True):
    """A resting colour taken up again: the rows it was carried past, in one size."""

    rows: tuple[RowTally, ...]


class Strand(msgspec.Struct, frozen=True):
    """One yarn from where it is joined to where it is cut, in one size.

    `piece` is where it begins. `tails` are its two ends, each with the length that the text gives it or None.
    `ended` is false for a strand that the text never cuts.
    """

    colour: str
    piece: str
    climbs: tuple[Climb, ...]
    tails: tuple[Length | None, Length | None]
    ended: bool


def strands(tally: Tally, size: int) -> tuple[Strand, ...]:
    """The strands of all yarns in one size, in the order in which they begin."""
    tails = dict(_tails(tally, size))
    rows = [row for row in tally.rows() if row.results[size] is not None]
    place = {id(row): at for at, row in enumerate(rows)}
    open_strands: dict[str, _Open] = {}
    done: list[_Open] = []
    in_hand = ""
    for piece, event in _events(tally, size):
        row = piece.rows[event.row] if 0 <= event.row < len(piece.rows) else None
        if event.act == "use" and row is not None:
            at = place[id(row)]
            in_hand = event.colour
            strand = open_strands.get(event.colour)
            if strand is None:
                strand = _Open(event.colour, piece.name, at)
                open_strands[event.colour] = strand
                done.append(strand)
            elif at > strand.last + 1:
                strand.climbs.append(Climb(tuple(rows[strand.last + 1 : at])))
            strand.last = at
        elif event.act in ("cut", "fasten"):
            for colour in {event.colour, in_hand if event.act == "fasten" else event.colour}:
                strand = open_strands.pop(colour, None)
                if strand is not None:
                    strand.ended = True
                    strand.tail = tails.get(event.span.start)
    return tuple(
        Strand(one.colour, one.piece, tuple(one.climbs), (None, one.tail), one.ended)
        for one in sorted(done, key=lambda one: one.first)
    )


class _Open:
    """A strand while it is followed."""

    def __init__(self, colour: str, piece: str, at: int) -> None:
        self.colour = colour
        self.piece = piece
        self.first = self.last = at
        self.climbs: list[Climb] = []
        self.tail: Length | None = None
        self.ended = False


def climbs(tally: Tally, size: int) -> dict[str, int]:
    """How often each colour is taken up again after it rested, in one size."""
    found: dict[str, int] = {}
    for strand in strands(tally, size):
        found[strand.colour] = found.get(strand.colour, 0) + len(strand.climbs)
    return found


def ends(tally: Tally, size: int) -> int:
    """How many ends are left to weave in: two for every strand."""
    return 2 * len(strands(tally, size))


def _events(tally: Tally, size: int) -> Iterator[tuple[PieceTally, YarnEvent]]:
    """All that happens to yarns in one size, row by row: what ends after a row comes after all uses in it."""
    for piece in tally.pieces:
        ordered = sorted(piece.events[size], key=lambda event: (event.row, event.act in ("cut", "fasten")))
        for event in ordered:
            yield piece, event


def _tails(tally: Tally, size: int) -> Iterator[tuple[int, Length]]:
    """The lengths of tails that the text gives, by where the words that end the yarn begin."""
    for part in tally.pattern.parts:
        for line in part.lines:
            last: Node | None = None
            for node in line.nodes:
                if isinstance(node, Tail) and last is not None:
                    length = node.lengths[size] if size < len(node.lengths) else node.lengths[0]
                    if length is not None:
                        yield last.span.start, length
                else:
                    last = node
