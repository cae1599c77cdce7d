"""The strands of every yarn, from where it is joined to where it is cut, with its floats, climbs and tails."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import msgspec

from roundhand.findings import Span
from roundhand.measures import Length
from roundhand.notation.tree import Node, Tail, Times, Yarn
from roundhand.tally.model import PieceTally, RowTally, Tally, YarnEvent
from roundhand.tally.stretches import Stretch, as_held, sideways, strands_in, stretches


class Rest(msgspec.Struct, frozen=True):
    """A colour that rests and is taken up again without being cut, in one size.

    It was `left` behind a stitch of `left_in` and is `taken` for a stitch of `taken_in`, both counted from 1. `rows`
    are the whole rows in which it rested, `stitches` the stitches made meanwhile, and `across` how many of them it
    passes sideways. `how` is how the words carry it: `over` (inside the stitches), `behind` (as a float), `up`, or
    empty where they do not say. `span` are the words of the stitches that take it up.
    """

    left_in: RowTally
    left: int
    taken_in: RowTally
    taken: int
    rows: tuple[RowTally, ...]
    stitches: int
    across: int
    how: str
    span: Span

    @property
    def is_climb(self) -> bool:
        """Whether it rested for a whole row at least and is carried up."""
        return bool(self.rows)

    @property
    def is_float(self) -> bool:
        """Whether it lies loose behind stitches of other colours."""
        return self.across > 0 and self.how != "over"


class Strand(msgspec.Struct, frozen=True):
    """One yarn from where it is joined to where it is cut, in one size.

    `piece` is where it begins, `first` and `last` are the first row worked with it and the last. `rests` are all its
    rests in order. `tails` are its two ends, each with the length that the text gives it or None. `cut` are the words
    that cut it or fasten it off, None for a strand that the text never ends.
    """

    colour: str
    piece: str
    first: RowTally
    last: RowTally
    rests: tuple[Rest, ...]
    tails: tuple[Length | None, Length | None]
    cut: Span | None

    @property
    def ended(self) -> bool:
        """Whether the text cuts it or fastens it off."""
        return self.cut is not None

    @property
    def climbs(self) -> tuple[Rest, ...]:
        """The rests of a whole row and more, for which it is carried up."""
        return tuple(rest for rest in self.rests if rest.is_climb)

    @property
    def floats(self) -> tuple[Rest, ...]:
        """The rests for which it lies loose behind the stitches."""
        return tuple(rest for rest in self.rests if rest.is_float)


def strands(tally: Tally, size: int) -> tuple[Strand, ...]:
    """The strands of all yarns in one size, in the order in which they begin.

    Where the pattern has areas of colour worked from balls of their own, each area is a strand that goes on above it.
    """
    followed = _Followed(tally, size)
    for piece in tally.pieces:
        if _begins_apart(piece, size):
            followed.open.clear()
            followed.in_hand = ""
        ending: dict[int, list[YarnEvent]] = {}
        for event in piece.events[size]:
            if event.act in ("cut", "fasten"):
                ending.setdefault(event.row, []).append(event)
        for at in range(-1, len(piece.rows)):
            if at >= 0:
                followed.work(piece.name, piece.rows[at])
            for event in ending.get(at, ()):
                followed.end(event)
    return tuple(one.closed() for one in followed.begun)


def _begins_apart(piece: PieceTally, size: int) -> bool:
    """Whether a piece begins on a chain, a ring or nothing, and so with a yarn of its own, whatever was not cut."""
    below = next((row.below[size] for row in piece.rows if row.results[size] is not None and row.below), None)
    return below is None or below.kind in ("chain", "ring", "none")


class _Open:
    """A strand while it is followed: `row` is the place of its last stitch among all rows, `stitch` its number there,
    and `made` how many stitches there were when it was made."""

    def __init__(self, colour: str, piece: str, first: RowTally) -> None:
        self.colour = colour
        self.began = self.piece = piece
        self.first = self.last = first
        self.row = self.stitch = self.made = 0
        self.rests: list[Rest] = []
        self.tail: Length | None = None
        self.cut: Span | None = None

    def closed(self) -> Strand:
        """The strand as it came out."""
        return Strand(self.colour, self.began, self.first, self.last, tuple(self.rests), (None, self.tail), self.cut)


class _Followed:
    """All strands of a pattern in one size, followed row by row."""

    def __init__(self, tally: Tally, size: int) -> None:
        self.size = size
        self.pattern = tally.pattern
        self.rows = [row for row in tally.rows() if row.results[size] is not None]
        self.place = {id(row): at for at, row in enumerate(self.rows)}
        self.tails = dict(_tails(tally, size))
        self.way = next((note.how for note in tally.pattern.carrying), "")
        self.open: dict[str, list[_Open]] = {}
        self.begun: list[_Open] = []
        self.in_hand = ""
        self.made = 0
        self.ways: dict[int, Mapping[str, str]] = {}

    def work(self, piece: str, row: RowTally) -> None:
        """Follows the strands through a row."""
        result = row.results[self.size]
        if result is None:
            return
        busy: set[int] = set()
        for stretch in stretches(result):
            if not stretch.colour:
                continue
            self.in_hand = as_held(self.pattern, stretch.colour, row.part)
            for label, number in strands_in(self.in_hand).items():
                for strand in self._taken(label, number, piece, row, stretch, busy):
                    strand.row, strand.stitch = self.place[id(row)], stretch.last
                    strand.made = self.made + stretch.last
                    strand.last, strand.piece = row, piece
        self.made += result.count

    def end(self, event: YarnEvent) -> None:
        """A yarn is cut, or all that are in hand are fastened off."""
        colours = (event.colour, self.in_hand) if event.act == "fasten" else (event.colour,)
        for label in dict.fromkeys(label for colour in colours for label in strands_in(colour)):
            own = self.open.get(label, [])
            for _ in range(min(event.strands or len(own), len(own))):
                strand = own.pop()
                strand.cut = event.span
                strand.tail = self.tails.get(event.span.start)

    def _taken(
        self, label: str, number: int, piece: str, row: RowTally, stretch: Stretch, busy: set[int]
    ) -> list[_Open]:
        """The strands that a stretch is worked with: those at hand, with the rests that end here, and new ones."""
        own = self.open.setdefault(label, [])
        free = list(own)
        if self.way == "apart":
            free = [strand for strand in own if id(strand) not in busy]
            free.sort(key=lambda strand: self._across(strand, piece, row, stretch))
        found = free[:number]
        for strand in found:
            self._rest(strand, piece, row, stretch)
        while len(found) < number:
            strand = _Open(label, piece, row)
            own.append(strand)
            self.begun.append(strand)
            found.append(strand)
        busy.update(id(strand) for strand in found)
        return found

    def _rest(self, strand: _Open, piece: str, row: RowTally, stretch: Stretch) -> None:
        at = self.place[id(row)]
        rows = tuple(self.rows[strand.row + 1 : at])
        stitches = self.made + stretch.first - 1 - strand.made
        if stitches <= 0 and not rows:
            return
        across = self._across(strand, piece, row, stretch)
        how = self._how(strand.colour, (self.rows[strand.row], *rows, row), bool(rows))
        left = self.rows[strand.row]
        strand.rests.append(
            Rest(left, strand.stitch, row, stretch.first, rows, max(stitches, 0), across, how, stretch.span)
        )

    def _across(self, strand: _Open, piece: str, row: RowTally, stretch: Stretch) -> int:
        if strand.piece != piece:
            return 0
        return sideways(self.rows, self.size, (strand.row, strand.stitch), (self.place[id(row)], stretch.first))

    def _how(self, colour: str, rows: tuple[RowTally, ...], climbs: bool) -> str:
        """How the words of some rows, or of the whole pattern, carry a resting colour."""
        for row in rows:
            nodes = row.nodes[self.size] or ()
            ways = self.ways.get(id(nodes))
            if ways is None:
                ways = self.ways[id(nodes)] = dict(_carried(nodes))
            how = ways.get(colour) or ways.get("")
            if how:
                return how
        return self.way if self.way in ("over", "behind") and not climbs else ""


def climbs(tally: Tally, size: int) -> dict[str, int]:
    """How often each colour is taken up again after it rested for a row or more, in one size, in all pieces that
    are made."""
    found: dict[str, int] = {}
    for strand in strands(tally, size):
        found[strand.colour] = found.get(strand.colour, 0) + len(strand.climbs) * tally.made(strand.piece, size)
    return found


def ends(tally: Tally, size: int) -> dict[str, int]:
    """How many ends of each colour are left to weave in: two for every strand of every piece that is made."""
    found: dict[str, int] = {}
    for strand in strands(tally, size):
        found[strand.colour] = found.get(strand.colour, 0) + 2 * tally.made(strand.piece, size)
    return found


def _carried(nodes: tuple[Node, ...]) -> Iterator[tuple[str, str]]:
    """The colours that a row says are carried, and how; the empty colour for whichever rests."""
    for node in nodes:
        if isinstance(node, Times):
            yield from _carried(node.body)
        elif isinstance(node, Yarn) and node.act == "carry" and node.how:
            yield node.colour, node.how


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
