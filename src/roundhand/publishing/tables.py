"""The tables of a leaflet as rows of cells: measures and yarn, a column for every size."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from roundhand.publishing.figures import NONE, say_amount, say_length, units_of
from roundhand.publishing.leaflet import Figure, Leaflet, Lengths, YarnLineNeed

_YARD = 0.9144  # Metres, exactly (international yard and pound agreement, 1959).


class Part(msgspec.Struct, frozen=True):
    """A number of a cell with its unit; a cell may say the same in two units."""

    number: str
    unit: str


class TableRow(msgspec.Struct, frozen=True):
    """A row of a table: what it is about, and a cell for every size."""

    head: str
    cells: tuple[tuple[Part, ...], ...]


def stated_table(leaflet: Leaflet) -> tuple[TableRow, ...]:
    """The measures that the designer wrote, in her unit as she wrote them and in the other unit."""
    return tuple(_length_row(line.what, line.lengths, exact=True) for line in leaflet.stated)


def measured_table(leaflet: Leaflet) -> tuple[TableRow, ...]:
    """The measures worked out, each stretched too where that is known."""
    rows: list[TableRow] = []
    for line in leaflet.measures:
        rows.append(_length_row(line.what, line.lengths))
        if line.stretched is not None:
            rows.append(_length_row(f"{line.what}, stretched", line.stretched))
    return tuple(rows)


def yarn_table(leaflet: Leaflet) -> tuple[TableRow, ...]:
    """For every yarn what to buy and what the item takes of it."""
    rows: list[TableRow] = []
    for need in leaflet.needs:
        name = yarn_name(need)
        rows.append(TableRow(f"{name}, to buy", tuple((Part(buy, ""),) for buy in need.buy)))
        used = tuple(_used(need, size) for size in range(len(leaflet.sizes)))
        if any(part.number != NONE for cell in used for part in cell):
            rows.append(TableRow(f"{name}, used", used))
    return tuple(rows)


def yarn_name(need: YarnLineNeed) -> str:
    """`Yarn A, slate`, with what of it is known."""
    label = f"Yarn {need.label}" if need.label else "Yarn"
    return f"{label}, {need.colour}" if need.colour else label


def _length_row(what: str, lengths: Lengths, exact: bool = False) -> TableRow:
    own, other = units_of(lengths)
    return TableRow(
        what,
        tuple(
            (Part(say_length(length, own, exact), own), Part(say_length(length, other), other))
            if length is not None
            else (Part(NONE, ""),)
            for length in lengths
        ),
    )


def _used(need: YarnLineNeed, size: int) -> tuple[Part, ...]:
    metres = _at(need.lengths_m, size)
    parts = []
    if metres is not None:
        parts = [Part(say_amount(metres), "m"), Part(say_amount(float(metres) / _YARD), "yd")]
    for values, unit in ((need.mass_g, "g"), (need.balls, "balls")):
        value = _at(values, size)
        if value is not None:
            number = say_amount(value)
            parts.append(Part(number, "ball" if (number, unit) == ("1", "balls") else unit))
    return tuple(parts) or (Part(NONE, ""),)


def _at(values: Sequence[Figure], size: int) -> Figure:
    return values[size] if size < len(values) else None
