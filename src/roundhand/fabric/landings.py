"""Long stitches: where they are worked into, and whether one lands on another.

A stitch drawn up over several rows lies on the outside; a second one worked into it has nothing firm to hold, and it
hides the first. The trade sets them apart (common practice).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from roundhand.fabric.model import Fabric
from roundhand.findings import Span

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


class Landing(msgspec.Struct, frozen=True):
    """A long stitch that is worked into another long stitch.

    Both by row label and by their position in the row, from 1. `span` is the words that ask for the upper one.
    """

    label: str
    position: int
    on_label: str
    on_position: int
    span: Span


def long_stitches(fabric: Fabric) -> NDArray[np.intp]:
    """The stitches worked into a row lower than the one below, in order of working.

    >>> from roundhand.fabric import build
    >>> from roundhand.notation import read
    >>> from roundhand.tally import count
    >>> text = "Tube\\n\\nRnd 1: 6 sc in a magic ring.\\nRnds 2-3: sc in each st around.\\n"
    >>> text += "Rnd 4: *long sc in st 2 rnds below, sc in next 2 sts; rep from * around."
    >>> fabric = build(count(read(text)[0])[0])
    >>> [fabric.place(int(stitch))[1] for stitch in long_stitches(fabric)]
    [1, 4]
    """
    import numpy as np

    depth = depths(fabric)
    return np.flatnonzero(depth > 1)


def depths(fabric: Fabric) -> NDArray[np.int32]:
    """How many rows lower than the row it stands on every stitch is worked: 1 for that row, 0 or less for one that is
    worked into nothing, or into a stitch of its own row."""
    import numpy as np

    starts = fabric.anchor_start[:-1]
    held = np.diff(fabric.anchor_start) > 0
    depth = np.zeros(len(fabric), np.int32)
    over = np.array([mark.over for mark in fabric.rows], np.int32)
    depth[held] = fabric.row[held] - fabric.row[fabric.anchors[starts[held]]] - (over[fabric.row[held]] - 1)
    return depth


def landings(fabric: Fabric) -> tuple[Landing, ...]:
    """Every long stitch that is worked into another long stitch, in order of working.

    >>> from roundhand.fabric import build
    >>> from roundhand.notation import read
    >>> from roundhand.tally import count
    >>> text = "Tube\\n\\nRnd 1: 6 sc in a magic ring.\\nRnds 2-3: sc in each st around.\\n"
    >>> again = ": *long sc in st 2 rnds below, sc in next 2 sts; rep from * around.\\n"
    >>> text += f"Rnd 4{again}Rnd 5: sc in each st around.\\nRnd 6{again}"
    >>> [(one.label, one.position, one.on_label, one.on_position) for one in landings(build(count(read(text)[0])[0]))]
    [('Rnd 6', 1, 'Rnd 4', 1), ('Rnd 6', 4, 'Rnd 4', 4)]
    """
    depth = depths(fabric)
    found: list[Landing] = []
    for stitch in (int(one) for one in long_stitches(fabric)):
        for below in fabric.worked_into(stitch):
            if depth[below] > 1:
                row, position = fabric.place(stitch)
                under, where = fabric.place(below)
                span = fabric.spans[int(fabric.span[stitch])]
                found.append(Landing(row.label, position, under.label, where, span))
                break
    return tuple(found)
