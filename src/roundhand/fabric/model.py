"""What a fabric holds: one piece in one size as arrays, an entry for every stitch in the order of working.

The layout is the usual one of sparse graphs (compressed rows): what stitch `i` is worked into stands in `anchors` from
`anchor_start[i]` up to `anchor_start[i + 1]`. All numbers of stitches count from 0 through the whole piece.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from roundhand.findings import Span

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

# What a row of a fabric can be: worked rows and rounds, and what the first of them stands on.
WORKED = ("row", "round")
# A stitch that stands over nothing has this for its column.
NOTHING = -1


class RowMark(msgspec.Struct, frozen=True):
    """One row of a fabric: its stitches are those from `start` up to, not including, `stop`.

    `kind` is `row` or `round`, or says what a worked row stands on: `chain`, `ring`, `ends` (row ends of an earlier
    piece) or `edge` (something else that is there already). Such rows have no label and `source` -1; else `source` is
    the position of the row in the tally's piece.

    `direction` is 1 for a row worked with the same side to the maker as the first one, and -1 for one worked with the
    other side; `reversed` says that the row meets the places below in the opposite order.

    Of the places `offered` by the row below `passed` were gone past and `left` were not. `exact` is false where the
    words could not be followed stitch by stitch, so that the stitches are spread evenly over what the row used.

    `over` is how many rows lower the row lies that this one stands on: 1 for the row below, more for one that goes
    along loops which a row further down left free.
    """

    label: str
    part: str
    kind: str
    source: int
    start: int
    stop: int
    direction: int = 1
    reversed: bool = False
    offered: int = 0
    passed: int = 0
    left: int = 0
    exact: bool = True
    over: int = 1

    @property
    def count(self) -> int:
        """How many entries the row has, the chains of its spaces among them."""
        return self.stop - self.start


class Fabric(msgspec.Struct, frozen=True, eq=False):
    """A piece of a pattern in one size, stitch by stitch.

    Per stitch: `kind`, `loop`, `colour` and `span` are positions in the tables `kinds`, `loops`, `colours` and
    `spans`; `row` is a position in `rows`; `column` is the one stitch of the row below that it stands over, -1 for
    none; `passes` is how many places the working point moves on. `anchors`, cut up by `anchor_start`, are what it is
    worked into: stitches of the row below, or of a lower one for long stitches; a decrease has several; a stitch in the
    side of the one just made has that one.
    """

    name: str
    size: int
    kinds: tuple[str, ...]
    loops: tuple[str, ...]
    colours: tuple[str, ...]
    spans: tuple[Span, ...]
    rows: tuple[RowMark, ...]
    kind: NDArray[np.unsignedinteger]
    loop: NDArray[np.unsignedinteger]
    colour: NDArray[np.unsignedinteger]
    span: NDArray[np.unsignedinteger]
    passes: NDArray[np.unsignedinteger]
    row: NDArray[np.int32]
    column: NDArray[np.int32]
    anchor_start: NDArray[np.int32]
    anchors: NDArray[np.int32]

    def __len__(self) -> int:
        return len(self.kind)

    @property
    def worked(self) -> tuple[RowMark, ...]:
        """The worked rows and rounds, without the chain, ring or edge that they stand on."""
        return tuple(row for row in self.rows if row.kind in WORKED)

    @property
    def nbytes(self) -> int:
        """The memory that the arrays take."""
        arrays = (self.kind, self.loop, self.colour, self.span, self.passes, self.row, self.column)
        return sum(array.nbytes for array in (*arrays, self.anchor_start, self.anchors))

    def worked_into(self, stitch: int) -> tuple[int, ...]:
        """The stitches that a stitch is worked into, in the order in which the hook meets them."""
        start, stop = self.anchor_start[stitch], self.anchor_start[stitch + 1]
        return tuple(int(at) for at in self.anchors[start:stop])

    def place(self, stitch: int) -> tuple[RowMark, int]:
        """The row of a stitch and its position there, counted from 1 in the order of working."""
        row = self.rows[int(self.row[stitch])]
        return row, stitch - row.start + 1

    def find(self, label: str, part: str = "") -> RowMark:
        """The row with a label, in a part where the label is used more than once.

        Raises KeyError where there is none, with the labels that there are.
        """
        for row in self.rows:
            if row.label == label and part in ("", row.part):
                return row
        raise KeyError(f"{self.name} has no {label}; it has {', '.join(row.label for row in self.worked)}")
