"""The finished measurements as the rows of a table: what is measured, in which unit, and a cell for every size."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import msgspec

from roundhand.shape import Measure, Measures, PieceMeasures
from roundhand.workshop.figures import say, units

_STOPS = "length with "
# What a measurement is reckoned by, where counts and gauge alone do not give it.
_WORDS = (
    (
        "fits a head",
        "“fits a head” is 1.20 to 1.30 times the relaxed length of a ridged band, which is common practice and has no "
        "published source.",
    ),
    (
        "gathered opening",
        "“gathered opening” takes 1.4 mm of drawn-up edge for a stitch; common practice is 1.1 to 1.7 mm, and no "
        "source is known.",
    ),
    (
        "worn depth",
        "“worn depth” is a reckoning of ours: the length less what the crown takes lying flat on the head, the round "
        "divided by 2 pi.",
    ),
    ("ease", "“ease” is the round less the head; below nothing, the fabric stretches to fit."),
)


class FigureRow(msgspec.Struct, frozen=True):
    """A row of a table: what it says (empty where it goes on with the row above in another unit), the unit, a cell for
    every size, and what it rests on."""

    what: str
    unit: str
    values: tuple[str, ...]
    evidence: str = ""


class FigureTable(msgspec.Struct, frozen=True):
    """Rows under one name."""

    name: str
    rows: tuple[FigureRow, ...]


def measure_figures(found: Measures, sizes: Sequence[int]) -> tuple[FigureTable, ...]:
    """The measurements of some sizes by piece, then the item as a whole, then its stopping points; each in the
    pattern's own unit and below it in the other.

    >>> from roundhand.workshop.measuring import measures
    >>> from roundhand.workshop.reading import understand
    >>> reading = understand("Cap\\nGauge: 16 sts and 20 rnds = 4 in in sc\\nRnd 1: 8 sc in a magic ring. (8)")
    >>> [(row.what, row.unit, row.values) for row in measure_figures(measures(reading), [0])[0].rows][:2]
    [('round', 'in', ('2.00',)), ('', 'cm', ('5.1',))]
    """
    pair = units(found.unit)
    plain, stops = _parted(found.whole)
    pieces = [piece for piece in found.pieces if piece.measures]
    if len(pieces) == 1 and plain:
        # What is made in one piece is measured once.
        known = {one.mm for one in plain}
        plain += [one for one in pieces[0].measures if one.mm not in known]
        pieces = []
    tables = [FigureTable(piece.name, tuple(_rows(piece.measures, sizes, pair))) for piece in pieces]
    tables.append(FigureTable(found.whole.name or "The whole", tuple(_rows(plain, sizes, pair))))
    tables.append(FigureTable("Stopping points", tuple(_rows(stops, sizes, pair))))
    return tuple(table for table in tables if table.rows)


def measure_grounds(found: Measures) -> tuple[str, ...]:
    """What the numbers rest on, where that is more than counts and gauge."""
    whats = [one.what for piece in (*found.pieces, found.whole) for one in piece.measures]
    said = [words for what, words in _WORDS if any(one.startswith(what) for one in whats)]
    if any(what.startswith(_STOPS) for what in whats):
        said.append("At every stopping point whole repeats have been worked.")
    return tuple(said)


def measure_lacks(found: Measures) -> str:
    """What could not be measured and how to have it measured; empty where all could."""
    if not found.lacks:
        return ""
    if not any(piece.measures for piece in found.pieces):
        return (
            "Nothing can be measured without a gauge; add one to the pattern, such as: "
            "Gauge: 14 sts and 10 rnds = 4 in in hdc"
        )
    return f"No gauge is given for {' and '.join(found.lacks)}, so that could not be measured."


def _parted(whole: PieceMeasures) -> tuple[list[Measure], list[Measure]]:
    """The measurements of the item as written, and its lengths where somebody stops a repeat sooner or later."""
    stops = [one for one in whole.measures if one.what.startswith(_STOPS)]
    return [one for one in whole.measures if one not in stops], stops


def _rows(found: Iterable[Measure], sizes: Sequence[int], pair: tuple[str, str]) -> Iterator[FigureRow]:
    own, other = pair
    for one in found:
        if all(one.mm[size] is None for size in sizes):
            continue
        yield FigureRow(one.what, own, tuple(say(one.mm[size], own) for size in sizes), one.evidence)
        yield FigureRow("", other, tuple(say(one.mm[size], other) for size in sizes))
        if any(value is not None for value in one.stretched):
            yield FigureRow("  stretched", own, tuple(say(one.stretched[size], own) for size in sizes))
            yield FigureRow("", other, tuple(say(one.stretched[size], other) for size in sizes))
