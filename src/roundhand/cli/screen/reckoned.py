"""The yarn of a pattern on a page: per colour and size, and the breakdown of one size."""

from __future__ import annotations

from collections.abc import Sequence

from roundhand.cli.screen.letters import wrapped
from roundhand.cli.screen.line import BLANK, Line, line
from roundhand.cli.screen.tables import Grid, Section, fitting
from roundhand.terms import vocabulary
from roundhand.workshop import Reading, breakdown
from roundhand.workshop.figures import say, units
from roundhand.workshop.yarn_rows import (
    YARN_MARGIN,
    long_units,
    yarn_figures,
    yarn_labels,
    yarn_lacks,
    yarn_name,
    yarn_sureness,
)
from roundhand.yarn import Entry, YarnEstimate

_TAIL, _CLIMB = "tail", "climb"


def yarn_tables(reading: Reading, found: YarnEstimate, size: int | None, cells: int | None) -> list[Grid]:
    """The tables of all colours, or of what one size takes of them."""
    sizes = range(len(reading.sizes)) if size is None else (size,)
    return list(fitting(lambda some: _grid(reading, found, some), sizes, cells)) if found.needs else []


def breakdown_tables(reading: Reading, found: YarnEstimate, size: int) -> list[Grid]:
    """What the yarn of one size goes into, colour by colour, as much as it comes to in this maker's hands."""
    long, other = long_units(reading)
    short = units("in" if long == "yd" else "cm")[0]
    sections = []
    for label in yarn_labels(found):
        need = found.of(label, reading.sizes[size])
        if need is None:
            continue
        rows = [_broken(reading, entry, short, long, other) for entry in breakdown(found, need)]
        whole = need.length_m * 1000
        rows.append(("in all", "", "", "", "", say(whole, long), say(whole, other), ""))
        sections.append(Section(yarn_name(reading, label), tuple(rows)))
    head = ("", "", "piece", "number", f"each, {short}", long, other, "")
    return [Grid(head, frozenset((3, 4, 5, 6)), tuple(sections), "faint")] if sections else []


def yarn_remarks(reading: Reading, found: YarnEstimate, cells: int, ranges: bool = True) -> list[Line]:
    """What the numbers rest on, and how to be surer of them; `ranges` is true below a table that has ranges."""
    if not found.needs:
        return []
    said = [words for words in (YARN_MARGIN if ranges else "", yarn_sureness(found)) if words]
    page: list[Line] = [BLANK, *_wrapped(said, cells)] if said else []
    lacking = yarn_lacks(reading, found)
    return [*page, *([BLANK, *_wrapped(lacking, cells, "warning")] if lacking else [])]


def _wrapped(sentences: Sequence[str], cells: int, tone: str = "faint") -> list[Line]:
    return [
        line(words, "warning" if tone == "warning" else "faint") for one in sentences for words in wrapped(one, cells)
    ]


def _grid(reading: Reading, found: YarnEstimate, sizes: Sequence[int]) -> Grid:
    names = ("",) if len(reading.sizes) == 1 else tuple(reading.sizes[size] for size in sizes)
    head = ("", "", *names, "")
    sections = tuple(
        Section(table.name, tuple((row.what, row.unit, *row.values, "") for row in table.rows))
        for table in yarn_figures(reading, found, sizes)
    )
    return Grid(head, frozenset(range(2, len(head) - 1)), sections, "faint")


def _broken(reading: Reading, entry: Entry, short: str, long: str, other: str) -> tuple[str, ...]:
    kind = "" if entry.kind in (_TAIL, _CLIMB) else vocabulary(reading.pattern.language).short(entry.kind)
    piece = "" if entry.kind in (_TAIL, _CLIMB) else entry.piece
    each = say(entry.each_mm, short)
    return (entry.what, kind, piece, str(entry.count), each, say(entry.mm, long), say(entry.mm, other), "")
