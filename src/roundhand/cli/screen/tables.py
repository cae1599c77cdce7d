"""Tables, a column a size: the counts of a piece, a row a line, with a word where the page states another count."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

import msgspec

from roundhand.cli.screen.letters import filled, width
from roundhand.cli.screen.line import BLANK, Line, Piece, Tone
from roundhand.tally import PieceTally, RowTally

_GAP = "  "
# Behind a row whose number of stitches the words leave to its maker.
OPEN = "left open"


class Section(msgspec.Struct, frozen=True):
    """The rows under one heading of the page."""

    name: str
    rows: tuple[tuple[str, ...], ...]


class Grid(msgspec.Struct, frozen=True):
    """A table: its head, the positions of its columns of numbers, and its rows by section. The last column holds
    words, on counts that differ or on what a number rests on, in the tone `words`."""

    head: tuple[str, ...]
    numbers: frozenset[int]
    sections: tuple[Section, ...]
    words: Tone = "error"

    def tone(self, column: int, cell: str) -> Tone:
        """The tone of a cell: what is not there is faint, and the last column has its own."""
        if column == len(self.head) - 1:
            return "faint" if cell == OPEN else self.words
        return "faint" if cell == "-" else ""


def grids(
    piece: PieceTally, names: tuple[str, ...], sizes: Sequence[int], cells: int | None, colours: str = "colours"
) -> Iterator[Grid]:
    """The table of a piece, with `colours` as the head of its colours; several with some of the sizes each where it
    would be wider than so many cells."""
    return fitting(lambda some: _grid(piece, names, some, colours), sizes, cells)


def fitting(build: Callable[[Sequence[int]], Grid], sizes: Sequence[int], cells: int | None) -> Iterator[Grid]:
    """The table that is built for some sizes, or several of them where it would be wider than so many cells."""
    whole = build(sizes)
    if cells is None or len(sizes) < 2 or sum(_widths(whole)) + len(_GAP) * len(whole.head) <= cells:
        yield whole
        return
    half = (len(sizes) + 1) // 2
    yield from fitting(build, sizes[:half], cells)
    yield from fitting(build, sizes[half:], cells)


def plain_lines(grid: Grid) -> list[Line]:
    """The table in lines of aligned text, without rules, as it goes into a pipe or a file."""
    widths = _widths(grid)

    def row(cells: tuple[str, ...], tone: Tone = "") -> Line:
        pieces = []
        for at, cell in enumerate(cells):
            gap = _GAP if at else ""
            pieces.append(Piece(gap + filled(cell, widths[at], at in grid.numbers), tone or grid.tone(at, cell)))
        return tuple(pieces)

    lines: list[Line] = [row(grid.head, "faint")] if any(grid.head) else []
    for at, section in enumerate(grid.sections):
        if section.name:
            lines += [BLANK] if at else []
            lines.append((Piece(section.name, "title"),))
        lines += [row(cells) for cells in section.rows]
    return lines


def _grid(piece: PieceTally, names: tuple[str, ...], sizes: Sequence[int], colours: str) -> Grid:
    rows = [row for row in piece.rows if any(row.labels[size] is not None for size in sizes)]
    coloured = any(_colours(row, sizes) for row in rows)
    single = len(names) == 1
    head = (
        "",
        *((colours,) if coloured else ()),
        *("counts" if single else names[size] for size in sizes),
        "",
    )
    sections: list[tuple[str, list[tuple[str, ...]]]] = []
    for row in rows:
        if not sections or sections[-1][0] != row.part:
            sections.append((row.part, []))
        cells = [_label(row, sizes), *([_colours(row, sizes)] if coloured else [])]
        cells += [_count(row, size) for size in sizes]
        sections[-1][1].append((*cells, _remark(row, names, sizes)))
    first = len(head) - 1 - len(sizes)
    times = [piece.made(size) for size in sizes]
    alike = len(set(times)) == 1
    said = str(times[0]) if alike else f"{times[0]} ({', '.join(map(str, times[1:]))})"
    made = f" (make {said})" if times != [1] * len(times) else ""
    return Grid(
        head,
        frozenset(range(first, first + len(sizes))),
        tuple(
            Section(f"{name}{made}" if name and not at else name, tuple(rows))
            for at, (name, rows) in enumerate(sections)
        ),
    )


def _widths(grid: Grid) -> list[int]:
    rows = [grid.head, *(cells for section in grid.sections for cells in section.rows)]
    return [max(width(cells[at]) for cells in rows) for at in range(len(grid.head))]


def _label(row: RowTally, sizes: Sequence[int]) -> str:
    """One label where all sizes share it, else a list as a pattern writes it: `Rnd 8 (9, 10, -)`."""
    labels = [row.labels[size] for size in sizes]
    known = {label for label in labels if label is not None}
    word = "Rnd" if row.kind == "round" else "Row"
    if len(known) == 1:
        return f"{word} {known.pop()}"
    said = ["-" if label is None else str(label) for label in labels]
    return f"{word} {said[0]} ({', '.join(said[1:])})"


def _colours(row: RowTally, sizes: Sequence[int]) -> str:
    results = [row.results[size] for size in sizes]
    return ", ".join(dict.fromkeys(colour for result in results if result is not None for colour in result.colours))


def _count(row: RowTally, size: int) -> str:
    if row.labels[size] is None:
        return "-"
    count = row.worked[size]
    return "?" if count is None else str(count)


def _remark(row: RowTally, names: tuple[str, ...], sizes: Sequence[int]) -> str:
    differ = [size for size in sizes if row.stated[size] is not None and row.stated[size] != row.worked[size]]
    if not differ:
        return OPEN if any(row.is_open(size) for size in sizes) else ""
    alike = len({row.stated[size] for size in differ}) == 1
    if len(sizes) == 1 or (alike and len(differ) == len(sizes)):
        return f"{row.stated[differ[0]]} written"
    return ", ".join(f"{names[size]} {row.stated[size]} written" for size in differ)
