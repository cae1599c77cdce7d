"""Yarn per colour and size with its breakdown: stitches, chains, joins, seams, climbs, floats and tails.

Strands worked as one each go the whole way of the stitch, so two of them take twice the yarn. A yarn that rests within
a row lies as far as the stitches are wide that it passes (ours).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import ceil

import msgspec

from roundhand.measures import Length
from roundhand.notation.tree import Join, Pattern
from roundhand.sizing import GaugeBook, gauge_book
from roundhand.stitches import dictionary
from roundhand.tally import PieceTally, RowTally, Run, StepTally, Tally, flat
from roundhand.tally.strands import strands
from roundhand.tally.stretches import as_held, strands_in
from roundhand.yarn.calibrate import Calibration, calibrate
from roundhand.yarn.lengths import MeasuredLength, measured_for, stitch_length, yarn_diameter
from roundhand.yarn.put_up import metres_per_100_g, yarn_of
from roundhand.yarn.swatches import SwatchWeight, weighed

# A tail that is woven in: six inches, the most quoted figure (reference, section 9).
_TAIL = Fraction(6) * Fraction(254, 10)
_WIDTH, _HEIGHT = Fraction(6), Fraction(6)  # Millimetres of a worsted single crochet where no gauge is given (ours).
_STEP_YARDS = 5


class Entry(msgspec.Struct, frozen=True):
    """One line of the breakdown: so many of a kind in a piece, each so long, in millimetres."""

    what: str
    kind: str
    piece: str
    count: int
    each_mm: float

    @property
    def mm(self) -> float:
        """The whole of the line in millimetres."""
        return self.count * self.each_mm


class YarnNeed(msgspec.Struct, frozen=True):
    """The yarn of one colour in one size, in metres, with its range, mass, balls and breakdown."""

    label: str
    size: str
    length_m: float
    low_m: float
    high_m: float
    mass_g: float | None
    balls: int | None
    entries: tuple[Entry, ...]


class YarnEstimate(msgspec.Struct, frozen=True):
    """All needs, colour by colour and size by size, with the calibration they rest on.

    `measured` is true where a maker's own stitch lengths were used; `guessed` names what had to be assumed.
    """

    needs: tuple[YarnNeed, ...]
    calibration: Calibration
    measured: bool
    guessed: tuple[str, ...] = ()

    def of(self, label: str, size: str) -> YarnNeed | None:
        """The need of a colour in a size, or None."""
        return next((need for need in self.needs if need.label == label and need.size == size), None)


def estimate(
    tally: Tally, measured: Sequence[MeasuredLength] = (), swatches: Sequence[SwatchWeight] = ()
) -> YarnEstimate:
    """The yarn of a counted pattern.

    `measured` are a maker's lengths of single stitches; `swatches` are weighed ones beside those of the pattern.
    """
    pattern = tally.pattern
    book = gauge_book(pattern)
    table = {(one.kind, one.place): one.length.mm for one in measured}
    guessed = [] if pattern.gauges else ["no gauge: worsted on a 5 mm hook assumed"]
    calibration = Calibration() if table else calibrate(weighed(pattern, swatches))
    needs = []
    for size in range(len(pattern.sizes)):
        entries = _entries(tally, size, book, table)
        for label in sorted(entries):
            needs.append(_need(label, size, entries[label], pattern, calibration, bool(table)))
    needs.sort(key=lambda need: (need.label, pattern.sizes.index(need.size)))
    return YarnEstimate(tuple(needs), calibration, bool(table), tuple(guessed))


def _need(
    label: str, size: int, entries: Sequence[Entry], pattern: Pattern, calibration: Calibration, measured: bool
) -> YarnNeed:
    fixed = sum(entry.mm for entry in entries if entry.kind == "tail") / 1000
    worked = sum(entry.mm for entry in entries if entry.kind != "tail") / 1000
    scale = 1.0 if measured else calibration.scale
    length = worked * scale
    low, high = (length * 0.95, length * 1.05) if measured else calibration.low_high(length)
    yarn = yarn_of(pattern, label)
    mass = balls = None
    if yarn is not None and yarn.mass_g and yarn.length is not None:
        metres = float(yarn.length.to("m"))
        mass = (length + fixed) * float(yarn.mass_g) / metres
        balls = ceil((length + fixed) * 1.1 / metres)
    return YarnNeed(label, pattern.sizes[size], length + fixed, low + fixed, high + fixed, mass, balls, tuple(entries))


def to_buy(length_m: float, unit: str = "yd") -> int:
    """What to buy: the length with a margin of a tenth, up to the next five yards or metres (common practice).

    >>> to_buy(87.57), to_buy(48.65)
    (110, 60)
    """
    step = Fraction(_STEP_YARDS)
    value = Length.of(Fraction(length_m).limit_denominator(10**6), "m").to(unit) * Fraction(11, 10)
    return int(ceil(value / step) * step)


# The breakdown.


class _Book:
    """Entries gathered by colour, each as often as its piece is made."""

    def __init__(self) -> None:
        self.times = 1
        self.lines: dict[str, dict[tuple[str, str, str, float], int]] = {}

    def add(self, colour: str, what: str, kind: str, piece: str, count: int, each: float) -> None:
        """So many more of a line, for every strand of a colour."""
        if count and self.times:
            key = (what, kind, piece, each)
            for label, strands in strands_in(colour).items():
                own = self.lines.setdefault(label, {})
                own[key] = own.get(key, 0) + count * strands * self.times

    def entries(self) -> dict[str, list[Entry]]:
        """The lines as entries."""
        return {
            label: [Entry(what, kind, piece, count, each) for (what, kind, piece, each), count in lines.items()]
            for label, lines in self.lines.items()
        }


def _entries(
    tally: Tally, size: int, book: GaugeBook, table: Mapping[tuple[str, str], Fraction]
) -> dict[str, list[Entry]]:
    found = _Book()
    pattern = tally.pattern
    for piece in tally.pieces:
        found.times = piece.made(size)
        for step in piece.steps:
            _step(step, piece, size, book, table, pattern, found)
        for at, row in enumerate(piece.rows):
            _row(row, at, piece, size, book, table, pattern, found)
    own_climb = measured_for(table, "climb", "") or measured_for(table, "chain", "")
    for strand in strands(tally, size):
        found.times = tally.made(strand.piece, size)
        for rest in strand.rests:
            width = book.width(rest.taken_in.part, _family(rest.taken_in, size)) or _WIDTH
            if rest.how == "over":
                found.add(strand.colour, "carried", "carried", strand.piece, 1, float(width * rest.stitches))
                continue
            if rest.is_climb:
                each = own_climb if own_climb is not None else _carried(rest.rows, size, book)
                found.add(strand.colour, "climbs", "climb", strand.piece, 1, float(each))
            found.add(strand.colour, "floats", "float", strand.piece, int(rest.across > 0), float(width * rest.across))
        for tail in strand.tails:
            found.add(strand.colour, "tails", "tail", strand.piece, 1, float(tail.mm if tail is not None else _TAIL))
    if "" in found.lines and not any(yarn.label for yarn in tally.pattern.yarns):
        # A single yarn without a name begins and ends once in every piece.
        for piece in tally.pieces:
            found.times = piece.made(size)
            found.add(as_held(tally.pattern, "", piece.parts[0]), "tails", "tail", piece.name, 2, float(_TAIL))
    return found.entries()


def _family(row: RowTally, size: int) -> str:
    """The plain stitch that a row is mostly made of."""
    result = row.results[size]
    return (result.offer.main if result is not None else "") or "single"


def _carried(rows: tuple[RowTally, ...], size: int, book: GaugeBook) -> Fraction:
    """How far a resting yarn is carried up: the height of the rows it rests through, and one more to begin again."""
    total = _HEIGHT
    for row in rows:
        result = row.results[size]
        total += (book.height(row.part, result.offer.main) if result is not None else None) or _HEIGHT
    return total


def _step(
    step: StepTally,
    piece: PieceTally,
    size: int,
    book: GaugeBook,
    table: Mapping[tuple[str, str], Fraction],
    pattern: Pattern,
    found: _Book,
) -> None:
    result = step.results[size]
    if result is None:
        return
    seam = step.step.act == "seam"
    for run in flat(result.made):
        if seam and run.stitch != "chain":
            found.add(
                as_held(pattern, run.colour, step.part),
                "seam",
                run.stitch,
                piece.name,
                run.count,
                _each(run, "layers", step.part, None, book, table, pattern),
            )
        else:
            what = "seam" if seam else "foundation"
            found.add(
                as_held(pattern, run.colour, step.part),
                what,
                run.stitch,
                piece.name,
                run.count,
                _each(run, "", step.part, None, book, table, pattern),
            )


def _row(
    row: RowTally,
    at: int,
    piece: PieceTally,
    size: int,
    book: GaugeBook,
    table: Mapping[tuple[str, str], Fraction],
    pattern: Pattern,
    found: _Book,
) -> None:
    result = row.results[size]
    if result is None:
        return
    height = book.height(row.part, result.offer.main)
    for run in flat(result.made):
        if run.stitch == "turning_chain":
            continue
        drop = Fraction(0)
        for below in piece.rows[max(0, at - run.below + 1) : at] if run.below > 1 else ():
            under = below.results[size]
            drop += (book.height(below.part, under.offer.main) if under is not None else None) or Fraction(0)
        what = "turning" if run.stitch == "chain" else "stitches"
        found.add(
            as_held(pattern, run.colour, row.part),
            what,
            run.stitch,
            piece.name,
            run.count,
            _each(run, "", row.part, height, book, table, pattern, drop),
        )
    if any(isinstance(node, Join) for node in row.nodes[size] or ()):
        colour = result.colours[-1] if result.colours else result.colour
        join = Run("slip_stitch", 1, colour, row.line.span)
        found.add(
            as_held(pattern, colour, row.part),
            "joins",
            "slip_stitch",
            piece.name,
            1,
            _each(join, "", row.part, height, book, table, pattern),
        )


def _each(
    run: Run,
    place: str,
    part: str,
    height: Fraction | None,
    book: GaugeBook,
    table: Mapping[tuple[str, str], Fraction],
    pattern: Pattern,
    drop: Fraction = Fraction(0),
) -> float:
    """Millimetres of yarn in one stitch of a run: as measured, else by the formula."""
    own = measured_for(table, run.stitch, place or run.loop)
    if own is not None:
        return float(own)
    family = dictionary()[run.stitch].family if run.stitch in dictionary() else "single"
    width = book.width(part, family) or _WIDTH
    high = (
        height or book.height(part, family) or _HEIGHT * (dictionary()[family].height if family in dictionary() else 1)
    )
    metres = metres_per_100_g(yarn_of(pattern, next(iter(strands_in(run.colour)))))
    return stitch_length(run.stitch, float(width), float(high), yarn_diameter(metres), float(drop), run.loop)
