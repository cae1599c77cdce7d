"""The rule by which a stitch that is not written down gets its symbol: from its recipe, or from its parts.

Legs are insertions, slashes are yarn overs that are worked off by themselves. Legs in one place bow out to a lens, legs
in several meet at the top. A bar closes what began with a yarn over, a cross what did not; a popcorn has an oval lid, a
puff neither. Rule of slashes and of feet: published lists of chart symbols; the rest is carried on from there, and
ours.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from itertools import groupby
from math import atan2, cos, degrees, hypot, pi, radians, sin

from roundhand.stitches.stitch import Stitch
from roundhand.stitches.symbols.legs import Leg, Shape, shape
from roundhand.stitches.symbols.marks import SymbolMark, marks_for
from roundhand.stitches.symbols.model import Box, Point, Stroke, exact, fitted, moved, turned

_NOUGHT = Fraction(0)
_HALF = Fraction(1, 2)
_BAR = Fraction(1, 3)
# The strokes of a single's cross are so long each way, and end so far from the edges of its box.
_CROSS, _EDGE = Fraction(19, 50), Fraction(3, 25)
# Slashes lie about this part of the height, so far apart, and slant by so many degrees; half of their length where a
# stem stands alone and beside others.
_SLASHED, _GAP, _SLANT = Fraction(57, 100), 0.27, 24
_ALONE, _BESIDE = 0.2, 0.17
# How far the outermost leg of a lens bows out, of three and of more, and how far the legs of a popcorn spread.
_BOW, _WIDE_BOW, _SPREAD = Fraction(7, 20), Fraction(2, 5), Fraction(11, 25)
# The step between the stitches of a fan, wider for low stitches, and its whole opening, in degrees.
_STEP, _WIDEST = 22.0, 132.0
_EYE = Fraction(13, 100)


def box_of(stitch: Stitch) -> Box:
    """The box of a stitch: as wide as it uses or leaves places, half a width high and half a width more for each chain
    of its nominal height; stitches that reach below their row have half a width below the line as well.

    >>> from roundhand.stitches import dictionary
    >>> box_of(dictionary()["double_2_together"])
    Box(width=Fraction(2, 1), low=Fraction(0, 1), high=Fraction(2, 1))
    """
    low = -_HALF if stitch.place == "below" else _NOUGHT
    return Box(Fraction(max(1, stitch.uses, stitch.makes)), low, (stitch.height_chains + 1) / 2)


def by_rule(stitch: Stitch, strokes_of: Mapping[str, tuple[Stroke, ...]]) -> tuple[Stroke, ...]:
    """The strokes of a stitch; `strokes_of` gives those of the parts of a group."""
    box = box_of(stitch)
    if not stitch.parts:
        return fitted(_Worked(stitch, shape(stitch.recipe), box).strokes(), box)
    items = [(part.stitch, part.where) for part in stitch.parts for _ in range(part.count)]
    chains = sum(item == "chain" for item, _ in items)
    if any(where.endswith("of base stitch") for _, where in items):
        found = _ring(chains)
    elif any(where in ("following", "skipped") for _, where in items):
        found = _crossed(items, box.high, strokes_of)
    else:
        found = _fanned([item for item, _ in items], box.high, strokes_of)
    return fitted(tuple(found), box)


class _Worked:
    """The strokes of a stitch that has a recipe of its own."""

    def __init__(self, stitch: Stitch, found: Shape, box: Box) -> None:
        self.shape = found
        self.legs = found.legs
        self.box = box
        self.tunisian = stitch.place == "bar"
        began = any(leg.yarn_overs or leg.links for leg in self.legs)
        self.apart = [leg for leg in self.legs if not leg.same]
        self.in_one = len(self.legs) > 1 and len(self.apart) == 1
        tall = all("tall" in leg.drawn.split() for leg in self.legs)
        self.open_top = self.in_one and tall
        self.bow = (_BOW if len(self.legs) < 4 else _WIDE_BOW) / (1 if self.in_one else 2)
        self.crossed = not began and not found.slipped and not self.tunisian and not found.eye
        marks = [mark for leg in self.legs for words in (leg.where, leg.drawn) for mark in marks_for(words)]
        self.over = tuple(dict.fromkeys(mark for mark in marks if mark.at != "foot"))

    def strokes(self) -> tuple[Stroke, ...]:
        if not self.legs:
            return tuple(_laid(max(1, self.shape.chains)))
        found: list[Stroke] = []
        over = _NOUGHT
        if any(mark.at == "top" for mark in self.over):
            # What stands over the stitch needs room.
            over = Fraction(3, 10)
        high = self.box.high - over
        for at, (leg, foot) in enumerate(zip(self.legs, self._feet(), strict=True)):
            found += self._leg(at, leg, foot, high)
        found += self._top(high)
        for mark in self.over:
            base = self.box.high - Fraction(1, 20) if mark.at == "top" else _NOUGHT
            found += [moved(stroke, _NOUGHT, base) for stroke in mark.strokes]
        return tuple(found)

    # Where the legs stand and where they end.

    def _feet(self) -> list[Fraction]:
        """The place of every leg across, from right to left as a right-handed maker works; one where the stitch before
        ended stands at the right edge."""
        own = [leg for leg in self.apart if not leg.shared]
        width = self.box.width
        step = width / max(len(own), 1)
        places = iter([width / 2 - step * (at + _HALF) for at in range(len(own))])
        found: list[Fraction] = []
        for leg in self.legs:
            if leg.same and found:
                found.append(found[-1])
            elif leg.shared:
                found.append(width / 2)
            else:
                found.append(next(places, _NOUGHT))
        return found

    def _apex(self, at: int, high: Fraction) -> Point:
        """Where a leg ends."""
        if self.shape.lid:
            spread = _SPREAD * (Fraction(2 * at, max(len(self.legs) - 1, 1)) - 1)
            return -spread, high - Fraction(7, 25)
        if self.shape.slipped:
            return _NOUGHT, high - Fraction(1, 5)
        if self.shape.eye:
            return _NOUGHT, high - 2 * _EYE - Fraction(1, 50)
        if self.tunisian:
            return _NOUGHT, high - Fraction(3, 10)
        if self.crossed and len(self.legs) > 1:
            return _NOUGHT, high * Fraction(11, 20)
        if self.crossed:
            return _NOUGHT, high - _EDGE
        return _NOUGHT, high

    def _leg(self, at: int, leg: Leg, across: Fraction, high: Fraction) -> list[Stroke]:
        """A leg with what stands at its foot and lies across it."""
        found: list[Stroke] = []
        base = self.box.low
        marks = _at_foot(leg)
        foot = base + max((mark.foot for mark in marks), default=_NOUGHT)
        if not leg.same:
            found += [moved(stroke, across, base) for mark in marks for stroke in mark.strokes]
        if leg.chain:
            wide = Fraction(9, 25) if leg.base else Fraction(1, 10)
            tall = _EDGE if leg.base else Fraction(1, 10)
            found.append(Stroke("chain", ((across, foot + tall), (wide, tall))))
            foot += 2 * tall
        x, y = self._apex(at, high)
        if self.shape.slipped and len(self.legs) == 1:
            # A slip stitch has no height, so no leg either.
            return found
        if leg.leans:
            across, x = across - Fraction(11, 50), x + Fraction(11, 50)
        elif (self.crossed or self.tunisian) and len(self.legs) == 1 and foot == 0:
            foot = _EDGE
        stem = self._stem(at, (across, foot), (x, y))
        room = self._room(at)
        return [*found, *_slashed(stem, leg.slashes, room, high), *self._linked(leg, x, high), *_wrapped(leg, high)]

    def _stem(self, at: int, foot: Point, top: Point) -> Stroke:
        """The leg itself: straight, or bowed where several stand in one place."""
        together = [leg for leg in range(len(self.legs)) if self._place(leg) == self._place(at)]
        if self.shape.lid or len(together) == 1:
            return Stroke("leg", (foot, top))
        out = self.bow * (1 - Fraction(2 * together.index(at), len(together) - 1)) * Fraction(4, 3)
        rise = top[1] - foot[1]
        handles = tuple(
            (foot[0] + (top[0] - foot[0]) * part + out, foot[1] + rise * part)
            for part in (Fraction(1, 5), Fraction(4, 5))
        )
        return Stroke("leg", (foot, *handles, top))

    def _place(self, at: int) -> int:
        """The number of the place that a leg stands in."""
        return sum(not leg.same for leg in self.legs[1 : at + 1])

    def _room(self, at: int) -> float:
        """Half the length of a slash, so that those on neighbouring legs do not run together."""
        if len(self.legs) == 1:
            return _ALONE
        beside = sum(self._place(leg) == self._place(at) for leg in range(len(self.legs)))
        if beside == 1:
            return _BESIDE
        # Neighbours are so far from one another where the slashes lie.
        opening = float(2 * self.bow) if not self.shape.lid else 1.4 * float(_SPREAD)
        return min(0.15, 0.34 * opening / (beside - 1))

    def _linked(self, leg: Leg, x: Fraction, high: Fraction) -> list[Stroke]:
        """Level lines to the stitch before, and slanted ones to its other parts."""
        found: list[Stroke] = []
        edge = self.box.width / 2
        for number in range(leg.links):
            away = exact((number - (leg.links - 1) / 2) * _GAP - _GAP / 2)
            y = high * _SLASHED + away
            found.append(Stroke("mark", ((x, y), (edge, y))))
        for number in range(leg.sides):
            start = edge, high * Fraction(number + 2, leg.sides + 2)
            found.append(Stroke("mark", (start, self._apex(0, high))))
        return found

    def _top(self, high: Fraction) -> list[Stroke]:
        """How the legs are closed."""
        if self.shape.slipped:
            centre = high - Fraction(1, 10) - (Fraction(1, 20) if self.legs[0].yarn_overs else 0)
            if len(self.legs) == 1 and not self.legs[0].yarn_overs and not _at_foot(self.legs[0]):
                centre = Fraction(1, 8)
            dot = Stroke("dot", ((_NOUGHT, centre), (Fraction(1, 10), Fraction(1, 10))))
            over = [_level(_NOUGHT, high, Fraction(1, 5))] if self.legs[0].yarn_overs else []
            return [dot, *over]
        if self.shape.lid:
            lid = (_NOUGHT, high - Fraction(17, 100)), (Fraction(23, 50), _EDGE)
            return [Stroke("ring" if self.shape.lid == "front" else "dot", lid)]
        if self.shape.eye:
            return [Stroke("ring", ((_NOUGHT, high - _EYE), (_EYE, _EYE)))]
        if self.tunisian:
            y = high - Fraction(3, 20)
            wave = Fraction(2, 5), Fraction(3, 20)
            return [Stroke("mark", ((-wave[0], y), (-wave[1], y + wave[1]), (wave[1], y - wave[1]), (wave[0], y)))]
        if self.crossed and len(self.legs) > 1:
            foot = high * Fraction(11, 20)
            head = high - Fraction(1, 20)
            middle = (foot + head) / 2 + Fraction(1, 50)
            return [Stroke("mark", ((_NOUGHT, foot), (_NOUGHT, head))), _level(_NOUGHT, middle, head - middle)]
        if self.crossed:
            # Two equal strokes where there is room; a longer leg carries its cross at the upper end.
            foot = self.box.low + max([_EDGE, *(mark.foot for mark in _at_foot(self.legs[0]))])
            foot += Fraction(6, 25) if self.legs[0].base else Fraction(1, 5) if self.legs[0].chain else 0
            head = high - _EDGE
            arm = min(_CROSS, (head - foot) / 2)
            return [_level(_NOUGHT, head - arm, arm)]
        if self.open_top:
            return []
        lean = Fraction(11, 50) if self.legs[0].leans else _NOUGHT
        return [_level(lean, high, Fraction(1, 4) if lean else _BAR)]


def _at_foot(leg: Leg) -> list[SymbolMark]:
    return [mark for words in (leg.where, leg.drawn) for mark in marks_for(words) if mark.at == "foot"]


def _level(x: Fraction, y: Fraction, half: Fraction) -> Stroke:
    return Stroke("bar", ((x - half, y), (x + half, y)))


def _slashed(stem: Stroke, slashes: int, half: float, high: Fraction) -> list[Stroke]:
    """A leg and the slashes across it, a little above the middle of the height."""
    (x, y), (to_x, to_y) = stem.points[0], stem.points[-1]
    length = hypot(float(to_x - x), float(to_y - y))
    found = [stem]
    if not length or to_y <= y:
        return found
    middle = float((high * _SLASHED - y) / (to_y - y))
    for number in range(slashes):
        away = (number - (slashes - 1) / 2) * _GAP / length
        part = exact(min(max(middle + away, 0.0), 1.0))
        before, after = stem.at(max(part - Fraction(1, 50), _NOUGHT)), stem.at(min(part + Fraction(1, 50), Fraction(1)))
        way = atan2(float(after[1] - before[1]), float(after[0] - before[0])) - pi / 2 + radians(_SLANT)
        out, up = exact(half * cos(way)), exact(half * sin(way))
        at = stem.at(part)
        ends = (exact(float(at[0])), exact(float(at[1])))
        found.append(Stroke("slash", ((ends[0] - out, ends[1] - up), (ends[0] + out, ends[1] + up))))
    return found


def _wrapped(leg: Leg, high: Fraction) -> list[Stroke]:
    """The wraps of a bullion, one over the other round the leg."""
    found = []
    for number in range(leg.wraps):
        tall = high * Fraction(3, 5) / leg.wraps / 2
        y = high * Fraction(1, 5) + tall * (2 * number + 1)
        found.append(Stroke("ring", ((_NOUGHT, exact(float(y))), (Fraction(1, 5), exact(float(tall))))))
    return found


def _laid(chains: int) -> list[Stroke]:
    """Chains laid end to end."""
    wide = Fraction(9, 20) / chains
    return [
        Stroke("chain", ((exact(float((chains - 1 - 2 * at) * wide)), Fraction(1, 4)), (exact(float(wide)), wide / 2)))
        for at in range(chains)
    ]


def _ring(chains: int) -> list[Stroke]:
    """Chains as ovals in a ring that a dot closes at its foot."""
    found = [Stroke("dot", ((_NOUGHT, Fraction(3, 20)), (Fraction(1, 12), Fraction(1, 12))))]
    places = chains + 1
    radius = 0.3
    long = radius * sin(pi / places) * 0.92
    for at in range(1, places):
        slant = -90 + 360 * at / places
        centre = (exact(radius * cos(radians(slant))), exact(0.48 + radius * sin(radians(slant))))
        found.append(Stroke("chain", (centre, (exact(long), exact(min(0.1, long * 0.5)))), round(slant + 90)))
    return found


def _crossed(
    items: Sequence[tuple[str, str]], high: Fraction, strokes_of: Mapping[str, tuple[Stroke, ...]]
) -> list[Stroke]:
    """Stitches whose tops stand in the order in which they are made, from the right, and whose feet do not."""
    number = len(items)
    places = [Fraction(number - 1, 2) - at for at in range(number)]
    # What is skipped at first lies to the right, and is worked into at last.
    skipped = [at for at, (_, where) in enumerate(items) if where == "skipped"]
    order = skipped + [at for at in range(number) if at not in skipped]
    feet = {at: places[place] for place, at in enumerate(order)}
    found: list[Stroke] = []
    for at, (stitch, _) in enumerate(items):
        lean = float(places[at] - feet[at])
        slant = -degrees(atan2(lean, float(high)))
        longer = exact(hypot(lean, float(high)) / float(high) * 0.97)
        for stroke in strokes_of[stitch]:
            # Slashes move up, away from where the legs cross.
            up = high * Fraction(1, 5) if stroke.part == "slash" and lean else _NOUGHT
            found.append(moved(turned(moved(stroke, _NOUGHT, up), slant, short=longer), feet[at], _NOUGHT))
    return found


def _room_in_fan(bar: Stroke, step: float) -> Fraction:
    """How narrow a bar must be so that it does not run into its neighbour's."""
    (x, y), (to_x, _) = bar.points[0], bar.points[-1]
    return exact(float(y) * radians(step) * 0.86 / float(to_x - x)) if to_x > x else Fraction(1)


def _fanned(items: Sequence[str], high: Fraction, strokes_of: Mapping[str, tuple[Stroke, ...]]) -> list[Stroke]:
    """Stitches from one point at equal angles, the first at the right; chains are ovals between their tops."""
    runs = [(stitch, len(list(held))) for stitch, held in groupby(items)]
    units = [(stitch, one) for stitch, many in runs for one in ([many] if stitch == "chain" else [1] * many)]
    rooms = [1 + 0.4 * (many - 1) for _, many in units]
    whole = sum(rooms) - (rooms[0] + rooms[-1]) / 2
    step = min(max(_STEP, 2 * _STEP / float(high)), _WIDEST / whole) if whole else 0.0
    found: list[Stroke] = []
    slant = -step * whole / 2 - step * rooms[0] / 2
    across = [stroke for item in set(items) - {"chain"} for stroke in strokes_of[item] if stroke.part == "bar"]
    narrow = min([Fraction(1), *(_room_in_fan(stroke, step) for stroke in across)]) if step else Fraction(1)
    for (stitch, many), room in zip(units, rooms, strict=True):
        slant += step * room
        middle = slant - step * room / 2
        if stitch != "chain":
            found += [turned(stroke, middle, narrow, Fraction(19, 20)) for stroke in strokes_of[stitch]]
            continue
        reach = float(high) * 0.84
        wide = min(0.2, reach * radians(step * room) * 0.62 / many)
        for number in range(many):
            way = middle + degrees(2 * wide / reach) * (number - (many - 1) / 2)
            centre = (exact(-reach * sin(radians(way))), exact(reach * cos(radians(way))))
            found.append(Stroke("chain", (centre, (exact(wide), exact(wide * 0.5))), round(way)))
    return found
