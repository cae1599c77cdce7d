"""A fabric built from a tally, row by row.

The rows are laid out first (`rows`), each kind of row once; then all of them are set down in arrays of the full
length. Long stitches follow the columns down: one `n` rows lower is worked into the stitch that the column reaches
after `n` steps, or into the lowest there is.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from roundhand.fabric.model import NOTHING, Fabric, RowMark
from roundhand.fabric.placing import stretches
from roundhand.fabric.rows import Below, Laid, Tables, lay
from roundhand.notation.tree import Definition
from roundhand.tally.model import Offer, PieceTally, RowTally, Run, Tally, Worked, distinct
from roundhand.tally.sides import turns

if TYPE_CHECKING:
    from collections.abc import Mapping

    import numpy as np
    from numpy.typing import NDArray

# What the first row of a piece can stand on, and what its places are called.
_GROUND = {"chain": "chain", "ring": "chain", "ends": "row_end"}


def build(tally: Tally, piece: int = 0, size: int = 0) -> Fabric:
    """The fabric of a piece in one size, both by their position from 0.

    Raises IndexError where the tally has no such piece or size. Rows that the size does not have are left out; a row
    that could not be worked is left out too, and the next one stands on an edge of as many places as it was given.

    >>> from roundhand.notation import read
    >>> from roundhand.tally import count
    >>> text = "Disc\\n\\nRnd 1: 6 sc in a magic ring. (6)\\nRnd 2: 2 sc in each st around. (12)"
    >>> fabric = build(count(read(text)[0])[0])
    >>> [(row.kind, row.label, row.count, row.passed) for row in fabric.rows]
    [('ring', '', 1, 0), ('round', 'Rnd 1', 6, 0), ('round', 'Rnd 2', 12, 6)]
    >>> first = fabric.find("Rnd 2").start
    >>> fabric.worked_into(first) == fabric.worked_into(first + 1), fabric.passes[first : first + 4].tolist()
    (True, [0, 1, 0, 1])
    """
    if not 0 <= piece < len(tally.pieces):
        raise IndexError(f"the pattern has {len(tally.pieces)} pieces; there is none at position {piece}")
    if not 0 <= size < len(tally.pattern.sizes):
        raise IndexError(f"the pattern has {len(tally.pattern.sizes)} sizes; there is none at position {size}")
    return _Builder(tally.pieces[piece], size, tally.pattern.definitions).fabric()


class _Set(msgspec.Struct):
    """A row as it will be set down: its mark, how it is laid out, over how many places, and the position of the row
    that it stands on. Where `laid` is None it is what the first row stands on, all of one kind."""

    mark: RowMark
    laid: Laid | None
    places: int = 0
    kind: int = 0
    colour: int = 0
    span: int = 0
    base: int = -1
    plain: bool = False


class _Builder:
    def __init__(self, piece: PieceTally, size: int, definitions: Mapping[str, Definition]) -> None:
        self.piece = piece
        self.size = size
        self.definitions = definitions
        self.tables = Tables()
        self.sets: list[_Set] = []
        self.known: dict[tuple[object, ...], tuple[Laid, bool]] = {}
        self.turning: dict[int, tuple[bool | None, bool | None]] = {}
        self.length = 0
        self.direction = 1

    def fabric(self) -> Fabric:
        previous: RowTally | None = None
        for source, row in enumerate(self.piece.rows):
            if row.labels[self.size] is None:
                continue
            worked, below = row.results[self.size], row.below[self.size]
            if worked is None or below is None:
                previous = None
                continue
            self._row(source, row, worked, below, previous)
            previous = row
        return self._set_down()

    # Laying out.

    def _row(self, source: int, row: RowTally, worked: Worked, below: Offer, previous: RowTally | None) -> None:
        nodes = row.nodes[self.size] or ()
        base = self._base(worked)
        standing = below.kind == "row" and previous is not None and base is not None
        if not standing:
            self._ground(row, worked, below)
        turned = self._is_turned(row, previous) if standing else below.kind == "chain"
        if standing and turned:
            self.direction = -self.direction
        if base is None or not standing:
            base = len(self.sets) - 1
        lower = self.sets[base] if self.sets else None
        over = len(self.sets) - base if standing else 1
        layout = lower.laid.layout if standing and lower is not None and lower.laid is not None else b""
        if over > 1 and lower is not None:
            # Along the loops that a row left free: its stitches, without its spaces, whichever way it was worked.
            layout = b""
            turned = lower.mark.direction != self.direction
        if turned:
            layout = layout[::-1]
        offered = Below(len(layout) or below.total, layout, below.kind == "ring")
        if below.kind == "none":
            offered = Below(0)
        key = (id(worked), id(row.nodes[self.size]), offered)
        if key not in self.known:
            found, behind, exact = stretches(nodes, worked.made, self.size, self.definitions)
            self.known[key] = (lay(found, behind, offered, self.tables, _closes_with_space(worked)), exact)
        laid, exact = self.known[key]
        places = layout.count(b"s") if layout else below.total
        if below.kind in ("ring", "none"):
            places = 0
        passed = min(laid.passed, places)
        mark = RowMark(
            row.label_in(self.size),
            row.part,
            row.kind,
            source,
            self.length,
            self.length + len(laid),
            self.direction,
            turned,
            places,
            passed,
            places - passed,
            exact,
            over,
        )
        self.sets.append(_Set(mark, laid, offered.places, base=base, plain=over > 1))
        self.length = mark.stop

    def _base(self, worked: Worked) -> int | None:
        """The position of the row that a row stands on; None where it lies outside this piece."""
        rows = [at for at, one in enumerate(self.sets) if one.laid is not None]
        if worked.stands == 1:
            return len(self.sets) - 1
        if worked.stands == len(rows) + 1 and self.sets and self.sets[0].mark.kind == "chain":
            return 0
        return rows[-worked.stands] if worked.stands <= len(rows) else None

    def _is_turned(self, row: RowTally, previous: RowTally | None) -> bool:
        """Whether the work is turned between two rows: as the words say, else rows are turned, and rounds and the rows
        of Tunisian work are not."""
        said = self._turns(row)[0]
        if said is None and previous is not None:
            said = self._turns(previous)[1]
        if said is not None:
            return said
        result = row.results[self.size]
        returns = result is not None and result.offer.main.startswith("tunisian")
        return row.kind == "row" and previous is not None and previous.kind == "row" and not returns

    def _turns(self, row: RowTally) -> tuple[bool | None, bool | None]:
        nodes = row.nodes[self.size] or ()
        if id(nodes) not in self.turning:
            self.turning[id(nodes)] = turns(nodes)
        return self.turning[id(nodes)]

    def _ground(self, row: RowTally, worked: Worked, below: Offer) -> None:
        """What a first row stands on, as a row of its own: chains, a ring, row ends, an edge."""
        count = below.total
        if below.kind == "none" or (count == 0 and below.kind != "ring"):
            return
        kind = below.kind if below.kind in _GROUND else "edge"
        span, colour = self._chain(count) if kind in ("chain", "ring") else (None, "")
        if not colour:
            colour = next((run.colour for run in distinct(worked.made)), "")
        where = span if span is not None else (row.line.label.span.start, row.line.label.span.end)
        stop = self.length + count + (kind == "ring")
        direction = -self.direction if kind == "chain" else self.direction
        mark = RowMark("", row.part, kind, NOTHING, self.length, stop, direction)
        names = self.tables
        what = names.kind(_GROUND.get(kind, "edge"))
        self.sets.append(_Set(mark, None, count, what, names.colour(colour), names.span(where)))
        if kind == "ring":
            names.kind("ring")
        self.length = stop

    def _stitches(self, base: int, places: NDArray[np.int32]) -> NDArray[np.int32]:
        """The places of a row without its chain spaces."""
        import numpy as np

        laid = self.sets[base].laid
        if laid is None or not laid.layout:
            return places
        kept: NDArray[np.int32] = places[np.frombuffer(laid.layout, np.uint8) == ord("s")]
        return kept

    def _chain(self, count: int) -> tuple[tuple[int, int] | None, str]:
        """The words and the colour of the foundation chain with so many chains, where a step makes it."""
        for step in self.piece.steps:
            result = step.results[self.size]
            for run in result.made if result is not None else ():
                if isinstance(run, Run) and run.stitch == "chain" and run.count == count:
                    return (run.span.start, run.span.end), run.colour
        return None, ""

    # Setting down.

    def _set_down(self) -> Fabric:
        import numpy as np

        tables, length = self.tables, self.length
        joints = sum(int(one.laid.enters.sum()) for one in self.sets if one.laid is not None)
        kind = np.zeros(length, np.min_scalar_type(len(tables.kinds)))
        loop = np.zeros(length, np.min_scalar_type(len(tables.loops)))
        colour = np.zeros(length, np.min_scalar_type(len(tables.colours)))
        span = np.zeros(length, np.min_scalar_type(len(tables.spans)))
        passes = np.zeros(length, np.uint8)
        row = np.zeros(length, np.int32)
        column = np.full(length, NOTHING, np.int32)
        enters = np.zeros(length + 1, np.int32)
        anchors = np.zeros(joints, np.int32)
        at = 0
        offered: list[NDArray[np.int32]] = []
        for number, one in enumerate(self.sets):
            mark = one.mark
            here = slice(mark.start, mark.stop)
            row[here] = number
            laid = one.laid
            if laid is None:
                kind[here], colour[here], span[here] = one.kind, one.colour, one.span
                if mark.kind == "ring":
                    kind[mark.stop - 1] = tables.kinds["ring"]
                offered.append(np.arange(mark.start, mark.stop, dtype=np.int32))
                continue
            places = offered[one.base] if 0 <= one.base < number else np.zeros(0, np.int32)
            if one.plain:
                places = self._stitches(one.base, places)[: one.places]
            kind[here], loop[here], colour[here], span[here] = laid.kind, laid.loop, laid.colour, laid.span
            passes[here], enters[mark.start + 1 : mark.stop + 1] = laid.passes, laid.enters
            joined = len(laid.into)
            if joined:
                ground = _stretched(places[::-1] if mark.reversed else places, max(one.places, laid.reach))
                over = ground[laid.column]
                column[here] = over if laid.standing else np.where(laid.column >= 0, over, NOTHING)
                into = over if laid.into is laid.column else _reached(ground, laid.into, mark.start)
                if laid.deep is not None:
                    into = _lower(into, laid.deep, column)
                anchors[at : at + joined] = into
            at += joined
            offers = laid.offers
            offered.append(np.arange(mark.start, mark.stop, dtype=np.int32) if offers is None else mark.start + offers)
        return Fabric(
            self.piece.name,
            self.size,
            tuple(tables.kinds),
            tuple(tables.loops),
            tuple(tables.colours),
            tables.span_list,
            tuple(one.mark for one in self.sets),
            kind,
            loop,
            colour,
            span,
            passes,
            row,
            column,
            np.cumsum(enters, dtype=np.int32),
            anchors,
        )


def _reached(ground: NDArray[np.int32], into: NDArray[np.int32], start: int) -> NDArray[np.int32]:
    """The stitches that a row is worked into, those of the row itself among them."""
    import numpy as np

    return np.where(into < -1, start - 2 - into, ground[np.maximum(into, -1)]).astype(np.int32)


def _stretched(places: NDArray[np.int32], wanted: int) -> NDArray[np.int32]:
    """The places below, as many as the row was worked on.

    They differ where a row was worked from a stated count that the row below does not have; then the places are
    drawn out or pushed together evenly. Where the row below has none at all, every place is nowhere.
    """
    import numpy as np

    if not len(places):
        return np.full(wanted, NOTHING, np.int32)
    return places if len(places) == wanted else places[np.arange(wanted) * len(places) // wanted]


def _lower(into: NDArray[np.int32], deep: NDArray[np.int32], column: NDArray[np.int32]) -> NDArray[np.int32]:
    """Follows the columns down from the row below to the row that long stitches are worked into."""
    import numpy as np

    reached = into.copy()
    for step in range(2, int(deep.max()) + 1):
        under = column[reached]
        reached = np.where((deep >= step) & (under >= 0), under, reached)
    return reached


def _closes_with_space(worked: Worked) -> bool:
    """Whether chains behind the last stitch of a row are a space of the round."""
    layout = worked.offer.layout
    return (layout[:1] if worked.turned else layout[-1:]) == b"o"
