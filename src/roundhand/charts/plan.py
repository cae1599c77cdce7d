"""Where everything on a chart stands, in millimetres: cells true to the gauge, then what stands round them."""

from __future__ import annotations

from fractions import Fraction

import msgspec

from roundhand.charts.region import Region
from roundhand.charts.setting import Cells
from roundhand.drawing import Number

# A cell is as wide as a letter needs; rounds with no repeat get narrower ones so that the chart stays on a page.
WIDEST, NARROWEST = Fraction(7), Fraction(3)
_PAGE_WIDTH = 250
# Columns that make a repeat easy to see: at least so many are drawn, where the round has them.
_ENOUGH_COLUMNS = 14
# Cells that nobody has given a gauge for: a little wider than high, as single crochet is.
_NO_GAUGE = Fraction(6, 7)
# No cell is drawn flatter or higher than this against its width; beyond it a gauge is surely a slip.
_FLATTEST, _HIGHEST = Fraction(1, 5), Fraction(5)


class Plan(msgspec.Struct, frozen=True):
    """The grid: `columns` cells of `width`, the rows of `heights` from the lowest up, and `scale` paper millimetres
    for each unit of the gauge. `whole` is false where only some of the columns of a row are drawn."""

    columns: int
    width: Fraction
    heights: tuple[Fraction, ...]
    whole: bool

    @property
    def grid_width(self) -> Fraction:
        """The width of all cells."""
        return self.columns * self.width

    @property
    def grid_height(self) -> Fraction:
        """The height of all rows."""
        return sum(self.heights, Fraction(0))

    def bottom(self, row: int) -> Fraction:
        """How far the lower edge of a row, counted from 0 at the lowest, lies above the lower edge of the grid."""
        return sum(self.heights[:row], Fraction(0))


def plan(region: Region, cells: Cells | None) -> Plan:
    """The grid of a region: one repeat and a bit more of wide rows, or the whole of narrow ones.

    >>> from fractions import Fraction
    >>> from roundhand.fabric import RowMark
    >>> rows = tuple(RowMark(f"Rnd {at}", "", "round", at, 0, 72) for at in range(3))
    >>> found = plan(Region(0, rows, 72, 6), Cells(Fraction(4, 15), (Fraction(1, 5),) * 3))
    >>> found.columns, found.whole, found.heights[0] / found.width
    (15, False, Fraction(3, 4))
    """
    columns = columns_of(region)
    width = max(NARROWEST, min(WIDEST, Fraction(_PAGE_WIDTH, max(columns, 1))))
    if cells is None:
        heights: tuple[Fraction, ...] = (_NO_GAUGE * width,) * len(region.rows)
    else:
        given = cells.heights[region.first : region.first + len(region.rows)]
        ratios = [max(_FLATTEST, min(_HIGHEST, height / cells.width)) for height in given]
        heights = tuple(ratio * width for ratio in ratios)
    return Plan(columns, width, heights, columns == region.width)


def columns_of(region: Region) -> int:
    """How many columns are drawn: whole repeats until there is enough to see, and half a repeat more.

    >>> columns_of(Region(0, (), 72, 6)), columns_of(Region(0, (), 12, 6)), columns_of(Region(0, (), 400, 400))
    (15, 12, 400)
    """
    repeat = region.repeat
    if repeat == region.width:
        return region.width
    bit = -(-repeat // 2)
    repeats = max(1, -(-(_ENOUGH_COLUMNS - bit) // repeat))
    return min(region.width, repeats * repeat + bit)


def lines_of(words: str, width: Number, size: Number) -> list[str]:
    """Words broken at their spaces into lines of at most so many millimetres, by a careful guess of half the type
    size a letter. A hard space is no place to break.

    >>> lines_of("one two three", 12, 3)
    ['one two', 'three']
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
    return lines
