"""The symbol of a stitch: strokes in a box, plain numbers that know no pen and no paper.

Lengths are in widths of a single crochet. The foot of the stitch stands at (0, 0), x grows to the right and y upwards.
"""

from __future__ import annotations

from fractions import Fraction
from math import cos, hypot, radians, sin
from typing import Literal, get_args

import msgspec

Point = tuple[Fraction, Fraction]

# What a stroke is. A leg goes from a place up to the top; a slash crosses it; a bar closes the top, or makes the cross
# of a single; a mark is whatever else is drawn with a line. Chains and rings are open ovals, a dot is a filled one.
StrokePart = Literal["leg", "slash", "bar", "mark", "chain", "ring", "dot"]
PARTS: tuple[StrokePart, ...] = get_args(StrokePart)
OVALS = ("chain", "ring", "dot")

_STEPS = 24
_SLACK = Fraction(1, 200)
# Strokes are never made smaller than so much of themselves.
_LEAST = Fraction(1, 10)


class SymbolError(ValueError):
    """A symbol that cannot be used, told in plain words."""


class Stroke(msgspec.Struct, frozen=True):
    """One stroke. `part` says what it is of the stitch.

    A line has two points, a curve four (start, two handles, end). An oval has two: its centre, and half its width and
    half its height; `turn` is how far it is turned against the clock, in degrees.
    """

    part: StrokePart
    points: tuple[Point, ...]
    turn: int = 0

    @property
    def is_oval(self) -> bool:
        """Whether it is an oval, and not a line or a curve."""
        return self.part in OVALS

    def at(self, part: Fraction) -> Point:
        """The point of a line or a curve at a part of its way, from 0 to 1."""
        rest = 1 - part
        if len(self.points) == 2:
            (x, y), (to_x, to_y) = self.points
            return x * rest + to_x * part, y * rest + to_y * part
        shares = (rest**3, 3 * rest**2 * part, 3 * rest * part**2, part**3)
        x = sum((share * point[0] for share, point in zip(shares, self.points, strict=True)), Fraction(0))
        y = sum((share * point[1] for share, point in zip(shares, self.points, strict=True)), Fraction(0))
        return x, y

    def reach(self) -> tuple[Fraction, Fraction, Fraction, Fraction]:
        """How far it reaches: left, bottom, right, top. Of a curve, points along it are looked at."""
        if self.is_oval:
            (x, y), (wide, high) = self.points
            if self.turn % 180:
                slant = radians(self.turn)
                across = hypot(float(wide) * cos(slant), float(high) * sin(slant))
                up = hypot(float(wide) * sin(slant), float(high) * cos(slant))
                wide, high = exact(across), exact(up)
            return x - wide, y - high, x + wide, y + high
        steps = _STEPS if len(self.points) > 2 else 1
        found = [self.at(Fraction(step, steps)) for step in range(steps + 1)]
        xs, ys = [x for x, _ in found], [y for _, y in found]
        return min(xs), min(ys), max(xs), max(ys)


class Box(msgspec.Struct, frozen=True):
    """The room that a symbol has: half of `width` on both sides of its foot, from `low` up to `high`."""

    width: Fraction
    low: Fraction
    high: Fraction

    def holds(self, stroke: Stroke) -> bool:
        """Whether a stroke stays inside."""
        left, bottom, right, top = stroke.reach()
        return -self.width / 2 <= left and right <= self.width / 2 and self.low <= bottom and top <= self.high


class Symbol(msgspec.Struct, frozen=True):
    """The symbol of a stitch: its box and the strokes in it. `evidence` and `source` say how well the shape is known:
    `found` in published lists, from `memory`, or `ours`, where no shape is agreed on."""

    box: Box
    strokes: tuple[Stroke, ...]
    evidence: str
    source: str

    def count(self, part: str) -> int:
        """How many strokes are of a part: slashes, legs, chains."""
        return sum(stroke.part == part for stroke in self.strokes)


def exact(number: float) -> Fraction:
    """A number to the thousandth, so that it is the same on every machine."""
    return Fraction(round(number * 1000), 1000)


def turned(stroke: Stroke, degrees: float, narrow: Fraction = Fraction(1), short: Fraction = Fraction(1)) -> Stroke:
    """A stroke made narrower and shorter by these parts, and then turned round the foot against the clock."""
    slant = radians(degrees)
    across, up = cos(slant), sin(slant)

    def moved(point: Point) -> Point:
        x, y = float(point[0] * narrow), float(point[1] * short)
        return exact(x * across - y * up), exact(x * up + y * across)

    if not stroke.is_oval:
        return Stroke(stroke.part, tuple(moved(point) for point in stroke.points), stroke.turn)
    centre, (wide, high) = stroke.points
    return Stroke(stroke.part, (moved(centre), (wide * narrow, high * short)), stroke.turn + round(degrees))


def moved(stroke: Stroke, across: Fraction, up: Fraction) -> Stroke:
    """A stroke somewhere else."""
    points = stroke.points
    shifted = tuple((x + across, y + up) for x, y in (points[:1] if stroke.is_oval else points))
    return Stroke(stroke.part, shifted + (points[1:] if stroke.is_oval else ()), stroke.turn)


def fitted(strokes: tuple[Stroke, ...], box: Box) -> tuple[Stroke, ...]:
    """The strokes, lifted above the floor of the box and made smaller towards the foot, all alike, as far as it takes
    to fit into it."""
    strokes = _lifted(strokes, box.low, _SLACK)
    part = Fraction(1)
    for stroke in strokes:
        left, _, right, top = stroke.reach()
        for reach, room in ((-left, box.width / 2), (right, box.width / 2), (top, box.high)):
            if reach > room:
                part = min(part, room / reach)
    if part == 1:
        return strokes
    # Making them smaller rounds their points, so that one may end a thousandth outside: a little smaller then.
    part = Fraction(int(part * 1000) - 2, 1000)
    while True:
        found = _lifted(tuple(turned(stroke, 0, part, part) for stroke in strokes), box.low, Fraction(0))
        if part <= _LEAST or all(box.holds(stroke) for stroke in found):
            return found
        part -= Fraction(2, 1000)


def _lifted(strokes: tuple[Stroke, ...], floor: Fraction, more: Fraction) -> tuple[Stroke, ...]:
    """The strokes above a floor, and a little more where they had sunk below it."""
    sunk = min((stroke.reach()[1] for stroke in strokes), default=floor)
    return strokes if sunk >= floor else tuple(moved(stroke, Fraction(0), floor - sunk + more) for stroke in strokes)
