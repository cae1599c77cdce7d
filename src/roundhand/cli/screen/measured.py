"""The finished measurements on a page."""

from __future__ import annotations

from collections.abc import Sequence

from roundhand.cli.screen.letters import wrapped
from roundhand.cli.screen.line import BLANK, Line, line
from roundhand.cli.screen.tables import Grid, Section, fitting
from roundhand.shape import Measures
from roundhand.workshop import Reading
from roundhand.workshop.measure_rows import FigureTable, measure_figures, measure_grounds, measure_lacks


def measure_tables(reading: Reading, found: Measures, size: int | None, cells: int | None) -> list[Grid]:
    """The tables of all measurements, or of those of one size."""
    sizes = range(len(reading.sizes)) if size is None else (size,)
    if not found.whole.measures and not any(piece.measures for piece in found.pieces):
        return []
    return list(fitting(lambda some: _grid(reading, measure_figures(found, some), some), sizes, cells))


def measure_remarks(found: Measures, cells: int) -> list[Line]:
    """What the numbers rest on, where that is more than counts and gauge, and what could not be measured."""
    said, lacks = measure_grounds(found), measure_lacks(found)
    page: list[Line] = []
    if said:
        page += [BLANK, *(line(words, "faint") for one in said for words in wrapped(one, cells))]
    if lacks:
        page += [BLANK, *(line(words, "warning") for words in wrapped(lacks, cells))]
    return page


def _grid(reading: Reading, tables: Sequence[FigureTable], sizes: Sequence[int]) -> Grid:
    names = ("",) if len(reading.sizes) == 1 else tuple(reading.sizes[size] for size in sizes)
    head = ("", "", *names, "")
    sections = tuple(
        Section(table.name, tuple((row.what, row.unit, *row.values, row.evidence) for row in table.rows))
        for table in tables
    )
    return Grid(head, frozenset(range(2, len(head) - 1)), sections, "faint")
