"""What stands beside the text of a pattern, line by line: the count that each row really has in one size."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from roundhand.notation.tree import RowLine
from roundhand.tally import RowTally
from roundhand.terms import side
from roundhand.workshop.reading import Reading


class LineCount(msgspec.Struct, frozen=True):
    """A row of one size, or the range of rows that one line makes: the line (from 1) on which its label stands, and
    `label`, as `Rnd 3` or `Rnds 4-6`.

    `worked` is the count of the last of them, `stated` what is written for it; `agrees` says whether all the counts
    that are written are what is worked, None where none is written. `about` is true where the words leave the number
    open, `left` is how many places below are not used.
    """

    line: int
    label: str
    worked: int | None
    about: bool
    stated: int | None
    agrees: bool | None
    left: int
    colours: tuple[str, ...]


class TableRow(msgspec.Struct, frozen=True):
    """A row in all sizes; every tuple holds a value for each, None where a size has no such row or count. `why` is
    true where the row could be worked in some size, so that there are reasons to tell."""

    part: str
    label: str
    labels: tuple[str | None, ...]
    line: int
    kind: str
    colours: tuple[str, ...]
    worked: tuple[int | None, ...]
    stated: tuple[int | None, ...]
    why: bool


class LookAt(msgspec.Struct, frozen=True):
    """A row whose written count is not what is worked, with the first size in which that is so."""

    label: str
    line: int
    size: str


def line_counts(reading: Reading, size: int) -> tuple[LineCount, ...]:
    """The counts of one size beside the lines of the page, in working order.

    >>> from roundhand.workshop.counting import counted
    >>> reading = counted("Cap\\n\\nRnd 1: 6 sc in a magic ring. (6)\\nRnds 2-3: sc in each st around. (7)")
    >>> [(one.line, one.label, one.worked, one.agrees) for one in line_counts(reading, 0)]
    [(3, 'Rnd 1', 6, True), (4, 'Rnds 2-3', 6, False)]
    """
    return tuple(_line(reading, rows, size) for rows in _by_line(reading, size))


def table_rows(reading: Reading) -> tuple[TableRow, ...]:
    """Every row of every size in working order.

    >>> from roundhand.workshop.counting import counted
    >>> table_rows(counted("Cap\\n\\nCROWN\\nRnd 1: 6 sc in a magic ring. (6)"))[0].worked
    (6,)
    """
    return tuple(_row(reading, row) for row in reading.tally.rows())


def look_at(reading: Reading, most: int = 3) -> tuple[LookAt, ...]:
    """The first rows whose written counts differ from what is worked."""
    found: dict[RowLine, LookAt] = {}
    for row in reading.tally.rows():
        sizes = (at for at, stated in enumerate(row.stated) if stated is not None and row.worked[at] != stated)
        size = next(sizes, None)
        if size is not None and row.line not in found:
            found[row.line] = LookAt(row.label_in(size), _place(reading, row), reading.sizes[size])
            if len(found) == most:
                break
    return tuple(found.values())


def own_unit(reading: Reading) -> str:
    """The unit of length that a pattern thinks in: that of its gauge, else `in` for US terms and `cm` for others."""
    for gauge in reading.pattern.gauges:
        if gauge.over is not None:
            return "in" if gauge.over.unit == "in" else "cm"
    return "in" if side(reading.pattern.language) == "US" else "cm"


def _by_line(reading: Reading, size: int) -> Iterator[list[RowTally]]:
    """The rows that a size has, those of one line together."""
    rows: list[RowTally] = []
    for row in reading.tally.rows():
        if row.labels[size] is None:
            continue
        if rows and rows[-1].line.span != row.line.span:
            yield rows
            rows = []
        rows.append(row)
    if rows:
        yield rows


def _line(reading: Reading, rows: list[RowTally], size: int) -> LineCount:
    last = rows[-1]
    result = last.results[size]
    stated = [row for row in rows if row.stated[size] is not None]
    return LineCount(
        _place(reading, last),
        _label(rows, size),
        last.worked[size],
        any(row.is_open(size) for row in rows),
        stated[-1].stated[size] if stated else None,
        all(row.worked[size] == row.stated[size] for row in stated) if stated else None,
        result.left if result is not None else 0,
        tuple(
            dict.fromkeys(colour for row in rows if (one := row.results[size]) is not None for colour in one.colours)
        ),
    )


def _label(rows: list[RowTally], size: int) -> str:
    first, last = rows[0].label_in(size), rows[-1].label_in(size)
    if first == last:
        return first
    return f"{first.replace(' ', 's ', 1)}-{last.rpartition(' ')[2]}"


def _row(reading: Reading, row: RowTally) -> TableRow:
    results = [result for result in row.results if result is not None]
    return TableRow(
        row.part,
        row.label,
        tuple(row.label_in(at) or None for at in range(len(reading.sizes))),
        _place(reading, row),
        "round" if row.kind == "round" else "row",
        tuple(dict.fromkeys(colour for result in results for colour in result.colours)),
        row.worked,
        row.stated,
        bool(results),
    )


def _place(reading: Reading, row: RowTally) -> int:
    return reading.source.place(row.line.label.span.start)[0]
