"""Which rows a colour chart draws: those that stand stitch on stitch, with the shortest repeat of their columns."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import msgspec

from roundhand.fabric import Fabric, RowMark, depths
from roundhand.fabric.model import WORKED

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


class Region(msgspec.Struct, frozen=True):
    """Rows that stand stitch on stitch, from the lowest up, all of `width` stitches.

    `first` is the position of the lowest among the worked rows. `repeat` is the number of stitches after which all
    of them begin again, `width` where they never do.
    """

    first: int
    rows: tuple[RowMark, ...]
    width: int
    repeat: int

    @property
    def times(self) -> int:
        """How many times the repeat is worked in a row.

        >>> Region(0, (), 72, 6).times
        12
        """
        return self.width // self.repeat if self.repeat else 0

    @property
    def in_rounds(self) -> bool:
        """Whether the rows are rounds."""
        return all(row.kind == "round" for row in self.rows)


def regions(fabric: Fabric) -> tuple[Region, ...]:
    """Every stretch of rows that stand stitch on stitch, in working order; single rows among them.

    >>> from roundhand.fabric import build
    >>> from roundhand.notation import read
    >>> from roundhand.tally import count
    >>> text = "Cup\\n\\nRnd 1: 6 sc in a magic ring.\\nRnd 2: inc around.\\nRnds 3-5: sc in each st around."
    >>> [(len(one.rows), one.width, one.repeat) for one in regions(build(count(read(text)[0])[0]))]
    [(1, 6, 1), (1, 12, 1), (3, 12, 1)]
    """
    worked = fabric.worked
    found: list[list[int]] = []
    for at, row in enumerate(worked):
        if not row.count:
            continue
        before = worked[at - 1] if found and found[-1][-1] == at - 1 else None
        if before is not None and _stands_on(fabric, row, before) and row.kind == before.kind:
            lowest = worked[found[-1][0]]
            # Shaped rows are never drawn with those above them, though these stand on them stitch by stitch.
            if len(found[-1]) > 1 or not _is_shaped(fabric, lowest):
                found[-1].append(at)
                continue
        found.append([at])
    return tuple(_region(fabric, [worked[at] for at in held], held[0]) for held in found)


def best(found: Sequence[Region], fabric: Fabric) -> Region | None:
    """The stretch worth drawing: one with several colours or long stitches before a plain one, then the longest.

    None where nothing is worked.
    """
    depth = depths(fabric)

    def worth(region: Region) -> tuple[bool, int, int]:
        start, stop = region.rows[0].start, region.rows[-1].stop
        coloured = len(set(fabric.colour[start:stop].tolist())) > 1 or bool((depth[start:stop] > 1).any())
        return coloured, len(region.rows), region.width

    return max(found, key=worth, default=None)


def _stands_on(fabric: Fabric, row: RowMark, below: RowMark) -> bool:
    import numpy as np

    if row.count != below.count or row.left or not row.exact:
        return False
    columns = fabric.column[row.start : row.stop]
    plain = np.arange(below.start, below.stop)
    return bool((columns == (plain[::-1] if row.reversed else plain)).all())


def _is_shaped(fabric: Fabric, row: RowMark) -> bool:
    """Whether a row has stitches that share a place or use several, and stands on a row at all."""
    number = int(fabric.row[row.start])
    if number == 0 or fabric.rows[number - 1].kind not in WORKED:
        return False
    return not _stands_on(fabric, row, fabric.rows[number - 1])


def cells_of(fabric: Fabric, row: RowMark) -> NDArray[np.int64]:
    """One number for every stitch of a row, counted from the right edge as the right side shows it, equal where the
    stitches are alike in kind, loop, colour and depth."""
    import numpy as np

    here = slice(row.start, row.stop)
    starts = fabric.anchor_start[here]
    held = np.diff(fabric.anchor_start[row.start : row.stop + 1]) > 0
    depth = np.zeros(row.count, np.int64)
    depth[held] = fabric.row[row.start] - fabric.row[fabric.anchors[starts[held]]]
    codes = fabric.kind[here].astype(np.int64)
    codes = codes * max(len(fabric.loops), 1) + fabric.loop[here]
    codes = codes * max(len(fabric.colours), 1) + fabric.colour[here]
    codes = codes * (len(fabric.rows) + 1) + depth
    return codes if row.direction > 0 else codes[::-1]


def _region(fabric: Fabric, rows: list[RowMark], first: int) -> Region:
    import numpy as np

    width = rows[0].count
    picture = np.stack([cells_of(fabric, row) for row in rows])
    repeat = width
    for period in range(1, width // 2 + 1):
        if width % period == 0 and bool((picture[:, period:] == picture[:, :-period]).all()):
            repeat = period
            break
    return Region(first, tuple(rows), width, repeat)
