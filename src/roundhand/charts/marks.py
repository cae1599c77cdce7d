"""The marks of a chart: symbols of stitches and loops put on paper, and how far a long stitch reaches.

The shapes are those of the room of stitches, which also says how well each is known; here they only get a size. A long
stitch has a stem down to the row that it enters besides (reference: symbols of crochet charts; recalled).
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from itertools import pairwise
from math import cos, radians, sin

from roundhand.drawing import CURRENT, Number, Paint, Path, Point, Step, Symbol
from roundhand.stitches import symbols
from roundhand.stitches.symbols import Stroke

LINE = Fraction(3, 10)
# A loop's mark is so many times its own size, in millimetres for a stitch width: as wide as it is in a cell of 6 mm.
_LOOP = Fraction(6)
# The handles of a quarter of an ellipse, against its half axes (see the pen's circle).
_HANDLE = Fraction(552285, 1_000_000)


def stitch_mark(name: str, strokes: Iterable[Stroke], width: Number, height: Number, most: Number) -> Symbol:
    """The symbol of a stitch about the middle of a field so many millimetres wide and high, which it fills as far as
    it can; `most` is the largest size of a stitch width.

    >>> from roundhand.stitches.symbols import symbol_of
    >>> mark = stitch_mark("double", symbol_of("double").strokes, 4, 4, 7)
    >>> mark.name, len(mark.marks)
    ('double', 3)
    """
    strokes = tuple(strokes)
    left, bottom, right, top = extent(strokes)
    size = Fraction(most)
    if right > left:
        size = min(size, width / (right - left))
    if top > bottom:
        size = min(size, height / (top - bottom))
    return Symbol(name, laid(strokes, (-(left + right) / 2 * size, (bottom + top) / 2 * size), size))


def loop_mark(loop: str) -> Symbol:
    """The mark of the loop that a stitch is worked in, about its middle: an arc, or a bar for the third loop."""
    known = symbols.symbol_marks()
    mark = known.get(f"{loop}_loop", known["third_loop"])
    left, bottom, right, top = extent(mark.strokes)
    middle = (-(left + right) / 2 * _LOOP, (bottom + top) / 2 * _LOOP)
    return Symbol(f"{loop} loop", laid(mark.strokes, middle, _LOOP))


def extent(strokes: Iterable[Stroke]) -> tuple[Fraction, Fraction, Fraction, Fraction]:
    """How far strokes reach, all together: left, bottom, right, top, in stitch widths."""
    lefts, bottoms, rights, tops = zip(*(stroke.reach() for stroke in strokes), strict=True)
    return min(lefts), min(bottoms), max(rights), max(tops)


def laid(strokes: Iterable[Stroke], foot: Point, size: Fraction, colour: str = CURRENT) -> tuple[Path, ...]:
    """Strokes as paths, with the foot of the stitch at a point and a stitch width of so many millimetres."""
    line = Paint(stroke=colour, width=LINE)
    found: list[Path] = []
    for stroke in strokes:
        if stroke.is_oval:
            paint = Paint(fill=colour) if stroke.part == "dot" else line
            found.append(Path(_oval(stroke, foot, size), paint))
            continue
        start, *rest = (_put(point, foot, size) for point in stroke.points)
        found.append(Path((("M", (start,)), ("C" if len(rest) == 3 else "L", tuple(rest))), line))
    return tuple(found)


def _put(point: tuple[Fraction, Fraction], foot: Point, size: Fraction) -> Point:
    """A point of a symbol on the paper, where y grows downwards."""
    return foot[0] + point[0] * size, foot[1] - point[1] * size


def _oval(stroke: Stroke, foot: Point, size: Fraction) -> tuple[Step, ...]:
    (x, y), (wide, high) = stroke.points
    across, up = (Fraction(round(part(radians(stroke.turn)) * 10**6), 10**6) for part in (cos, sin))

    def at(along: Fraction, over: Fraction) -> Point:
        dx, dy = along * wide, over * high
        return _put((x + dx * across - dy * up, y + dx * up + dy * across), foot, size)

    one, handle, nought = Fraction(1), _HANDLE, Fraction(0)
    quarters = ((one, nought), (nought, one), (-one, nought), (nought, -one), (one, nought))
    steps: list[Step] = [("M", (at(*quarters[0]),))]
    for (a, b), (c, d) in pairwise(quarters):
        steps.append(("C", (at(a + c * handle, b + d * handle), at(c + a * handle, d + b * handle), at(c, d))))
    return (*steps, ("Z", ()))


def tongue(centre: Number, top: Number, foot: Number, width: Number, fill: str, edge: str) -> tuple[Path, Path]:
    """The stem of a long stitch, from its cell down to where it enters, as a shape and its outline.

    It leaves the cell broad, as the drawn-up loop does, narrows, and ends round. The outline leaves the top open, so
    that stem and cell are one.
    """
    narrow = width * Fraction(17, 100)
    broad = width * Fraction(33, 100)
    neck = top + min((foot - top) * Fraction(3, 10), width * Fraction(3, 10))
    bend = (neck - top) * Fraction(3, 5)
    end = foot - narrow
    round_end = foot + narrow * Fraction(1, 3)
    left: tuple[Point, ...] = ((centre - broad, top + bend), (centre - narrow, neck - bend), (centre - narrow, neck))
    right: tuple[Point, ...] = ((centre + narrow, neck - bend), (centre + broad, top + bend), (centre + broad, top))
    sides: tuple[Step, ...] = (
        ("C", left),
        ("L", ((centre - narrow, end),)),
        ("C", ((centre - narrow, round_end), (centre + narrow, round_end), (centre + narrow, end))),
        ("L", ((centre + narrow, neck),)),
        ("C", right),
    )
    # The shape begins a little inside the cell, over the line between the rows.
    inside = top - Fraction(3, 10)
    shape: tuple[Step, ...] = (
        ("M", ((centre - broad, inside),)),
        ("L", ((centre - broad, top),)),
        *sides,
        ("L", ((centre + broad, inside),)),
        ("Z", ()),
    )
    outline: tuple[Step, ...] = (("M", ((centre - broad, top),)), *sides)
    return Path(shape, Paint(fill=fill)), Path(outline, Paint(stroke=edge, width=Fraction(1, 4)))
