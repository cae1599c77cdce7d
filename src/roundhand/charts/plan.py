"""Where the rows and columns of a chart stand, in millimetres: cells true to the gauge, and what is left out."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import msgspec

from roundhand.charts.region import Region
from roundhand.charts.setting import Cells
from roundhand.drawing import Number

# A cell is as wide as a letter needs; rows with no repeat get narrower ones so that the chart stays on a page.
WIDEST, NARROWEST = Fraction(7), Fraction(3)
_PAGE_WIDTH = 250
# Columns that make a repeat easy to see: at least so many are drawn, where the row has them.
_ENOUGH_COLUMNS = 14
# Cells that nobody has given a gauge for: a little wider than high, as single crochet is.
_NO_GAUGE = Fraction(6, 7)
# No cell is drawn flatter or higher than this against its width; beyond it a gauge is surely a slip.
_FLATTEST, _HIGHEST = Fraction(1, 5), Fraction(5)
# Of more alike rows on end than this, only the first and the last few are drawn: a long stitch above them may reach
# as far down as the last ones go.
_ALIKE, _KEPT_LOW, _KEPT_HIGH = 16, 3, 5
GAP = Fraction(7)
# Nobody reads a larger picture, and nothing opens it: columns in a row, and cells in all.
_MOST_COLUMNS, _MOST_CELLS = 600, 40_000


class Plan(msgspec.Struct, frozen=True):
    """The grid. `drawn` are the rows of the region that are drawn, by their position from the lowest; the others are
    left out where `gaps` says so: above the rows at these positions of `drawn`. `floors` is the height of the lower
    edge of every drawn row over the lowest one, with the upper edge of the last behind them. `whole` is false where
    only some of the columns are drawn, `cut` where the topmost rows are left out for their number."""

    columns: int
    width: Fraction
    drawn: tuple[int, ...]
    heights: tuple[Fraction, ...]
    floors: tuple[Fraction, ...]
    gaps: frozenset[int]
    whole: bool
    cut: bool = False

    @property
    def grid_width(self) -> Fraction:
        """The width of all cells."""
        return self.columns * self.width

    @property
    def grid_height(self) -> Fraction:
        """The height of all rows and gaps."""
        return self.floors[-1]


def plan(region: Region, cells: Cells | None, alike: Sequence[object] = ()) -> Plan:
    """The grid of a region: one repeat and a bit more of wide rows, or the whole of narrow ones.

    `alike` has a value for every row, equal where rows look the same; of many such rows on end only some are drawn.
    Raises ValueError for cells with fewer heights than the piece has rows.

    >>> from fractions import Fraction
    >>> from roundhand.fabric import RowMark
    >>> rows = tuple(RowMark(f"Rnd {at}", "", "round", at, 0, 72) for at in range(3))
    >>> found = plan(Region(0, rows, 72, 6), Cells(Fraction(4, 15), (Fraction(1, 5),) * 3))
    >>> found.columns, found.whole, found.heights[0] / found.width
    (15, False, Fraction(3, 4))
    """
    columns = columns_of(region)
    drawn, gaps = _drawn(len(region.rows), alike)
    most = max(1, _MOST_CELLS // max(columns, 1))
    cut = len(drawn) > most
    drawn = drawn[:most]
    width = max(NARROWEST, min(WIDEST, Fraction(_PAGE_WIDTH, max(columns, 1))))
    heights = tuple(_height(region, cells, row) * width for row in drawn)
    heights = tuple(Fraction(round(height * 1000), 1000) for height in heights)
    floors = [Fraction(0)]
    for at, height in enumerate(heights):
        floors.append(floors[-1] + height + (GAP if at in gaps else 0))
    return Plan(columns, width, drawn, heights, tuple(floors), gaps, columns == region.width, cut)


def columns_of(region: Region) -> int:
    """How many columns are drawn: whole repeats until there is enough to see, and half a repeat more.

    >>> columns_of(Region(0, (), 72, 6)), columns_of(Region(0, (), 12, 6)), columns_of(Region(0, (), 400, 400))
    (15, 12, 400)
    """
    repeat = region.repeat
    if repeat == region.width:
        return min(region.width, _MOST_COLUMNS)
    bit = -(-repeat // 2)
    repeats = max(1, -(-(_ENOUGH_COLUMNS - bit) // repeat))
    return min(region.width, repeats * repeat + bit, _MOST_COLUMNS)


def _height(region: Region, cells: Cells | None, row: int) -> Fraction:
    """The height of a row's cells against their width."""
    if cells is None:
        return _NO_GAUGE
    at = region.first + row
    if at >= len(cells.heights):
        raise ValueError(f"there are heights for {len(cells.heights)} rows, and the piece has more")
    return max(_FLATTEST, min(_HIGHEST, cells.heights[at] / cells.width))


def _drawn(rows: int, alike: Sequence[object]) -> tuple[tuple[int, ...], frozenset[int]]:
    """The rows that are drawn, and the positions among them above which some are left out."""
    drawn: list[int] = []
    gaps: set[int] = set()
    at = 0
    while at < rows:
        stop = at + 1
        while alike and stop < rows and alike[stop] == alike[at]:
            stop += 1
        if stop - at > _ALIKE:
            drawn += range(at, at + _KEPT_LOW)
            gaps.add(len(drawn) - 1)
            drawn += range(stop - _KEPT_HIGH, stop)
        else:
            drawn += range(at, stop)
        at = stop
    return tuple(drawn), frozenset(gaps)


def lines_of(words: str, width: Number, size: Number, most_lines: int = 6) -> list[str]:
    """Words broken at their spaces into lines of at most so many millimetres, by a careful guess of half the type
    size a letter. A hard space is no place to break; what does not fit into `most_lines` ends in an ellipsis.

    >>> lines_of("one two three", 12, 3), lines_of("one two three", 12, 3, 1)
    (['one two', 'three'], ['one two…'])
    """
    most = max(4, int(width / (size * Fraction(1, 2))))
    lines: list[str] = []
    for word in words.split(" "):
        while len(word) > most:
            # A word longer than the line is cut, so that nothing runs out of the drawing.
            lines.append(word[:most])
            word = word[most:]
        if lines and len(lines[-1]) + 1 + len(word) <= most:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
        if len(lines) > most_lines:
            return [*lines[: most_lines - 1], f"{lines[most_lines - 1]}…"]
    return lines
