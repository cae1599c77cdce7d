"""Counts of one quantity in all sizes together, proven best: dynamic programming over pairs of neighbouring sizes.

The cost of an answer is, first, how far its counts lie from their targets, in millimetres, and half a millimetre for
each multiple by which a step between sizes differs from the step before; among answers that cost the same, the squares
of the distances; among those, the smaller count in the first size where they differ. All in whole numbers: nothing is
rounded, so that the same question always has the same answer.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import msgspec

from roundhand.sizing.wants import UNEVEN, Want

# Two whole numbers: the cost, and the squares that decide between answers of the same cost.
Cost = tuple[int, int]
# Where nothing keeps counts near their targets, no answer lies further away than this many multiples.
_FARTHEST = 60


class Scale(msgspec.Struct, frozen=True):
    """How many parts of a millimetre costs are counted in, so that all of them are whole."""

    parts: int

    @classmethod
    def of(cls, wants: Iterable[Want]) -> Scale:
        """The scale in which the costs of all these are whole."""
        parts = UNEVEN.denominator
        for want in wants:
            parts = math.lcm(parts, want.each.denominator)
            for size in want.sizes:
                parts = math.lcm(parts, (want.target(size) * want.each).denominator)
        return cls(parts)

    def distance(self, want: Want, size: int, times: int) -> Cost:
        """What it costs to have so many multiples in a size."""
        off = abs(int(want.off(size, want.count(times)) * self.parts))
        return off, off * off

    def uneven(self, before: int, here: int, after: int) -> int:
        """What a step costs that differs from the step before it."""
        return int(UNEVEN * self.parts) * abs(after - 2 * here + before)


class Course(msgspec.Struct, frozen=True):
    """The ways on for one quantity: the multiples to look at in each of its sizes with their costs, and the least that
    the sizes behind cost, for each pair of neighbouring multiples."""

    want: Want
    scale: Scale
    choices: tuple[dict[int, Cost], ...]
    behind: tuple[dict[tuple[int, int], Cost], ...]
    best: Cost | None

    def follows(self, at: int, before: int, times: int) -> bool:
        """Whether the size at this position may have so many multiples after so many in the size before."""
        sizes = self.want.sizes
        return times >= before if self.want.rises(sizes[at - 1], sizes[at]) else True


def course(want: Want, scale: Scale, slack: int | None = None) -> Course:
    """All that is worth looking at for a quantity. `slack` is how much more than the least an answer may cost, in the
    parts of the scale; where it is None, what an answer costs that lies near its targets."""
    choices = _choices(want, scale, slack)
    count = len(choices)
    if not all(choices):
        return Course(want, scale, choices, (), None)
    if want.same:
        return _same(want, scale, choices)
    sizes = want.sizes
    behind: list[dict[tuple[int, int], Cost]] = [{} for _ in range(count)]
    half = int(UNEVEN * scale.parts)
    # The pairs at the last size cost nothing more.
    for at in range(count - 1, 0, -1):
        rises = want.rises(sizes[at - 1], sizes[at])
        here = behind[at]
        if at == count - 1:
            for before in choices[at - 1]:
                for times in choices[at]:
                    if times >= before or not rises:
                        here[before, times] = (0, 0)
            continue
        onward: dict[int, list[tuple[int, int, int]]] = {}
        for (times, after), (first, second) in behind[at + 1].items():
            own = choices[at + 1][after]
            onward.setdefault(times, []).append((after, first + own[0], second + own[1]))
        for before in choices[at - 1]:
            for times in choices[at]:
                if rises and times < before:
                    continue
                bend = 2 * times - before
                ways = [(first + half * abs(after - bend), second) for after, first, second in onward.get(times, ())]
                if ways:
                    here[before, times] = min(ways)
    if count == 1:
        return Course(want, scale, choices, tuple(behind), min(choices[0].values()))
    best = min(
        (
            (choices[0][a][0] + choices[1][b][0] + cost[0], choices[0][a][1] + choices[1][b][1] + cost[1])
            for (a, b), cost in behind[1].items()
        ),
        default=None,
    )
    return Course(want, scale, choices, tuple(behind), best)


def solve_alone(want: Want) -> tuple[int | None, ...] | None:
    """The best counts of a quantity in all sizes, None in a size that has none; None where no counts keep its rules.

    >>> from fractions import Fraction
    >>> head = [Fraction(value) * Fraction(15, 4) for value in ("14.5", "16", "17.5", "19", "20.5")]
    >>> solve_alone(Want("body", tuple(head), Fraction(508, 75), multiple=6))
    (54, 60, 66, 72, 78)
    """
    sizes = want.sizes
    if not sizes:
        return (None,) * len(want.targets)
    found = course(want, Scale.of([want]))
    times = walk(found)
    if times is None:
        return None
    counts: list[int | None] = [None] * len(want.targets)
    for size, one in zip(sizes, times, strict=True):
        counts[size] = want.count(one)
    return tuple(counts)


def walk(found: Course) -> list[int] | None:
    """The best answer of a course, of all that cost the same the one with the smaller count where they first differ."""
    if found.best is None:
        return None
    choices, half = found.choices, int(UNEVEN * found.scale.parts)
    if len(choices) == 1:
        return [min(times for times, cost in choices[0].items() if cost == found.best)]
    start = min(
        pair
        for pair, cost in found.behind[1].items()
        if (
            choices[0][pair[0]][0] + choices[1][pair[1]][0] + cost[0],
            choices[0][pair[0]][1] + choices[1][pair[1]][1] + cost[1],
        )
        == found.best
    )
    way = list(start)
    for at in range(2, len(choices)):
        before, here = way[-2], way[-1]
        needed = found.behind[at - 1][before, here]
        way.append(
            min(
                after
                for after, own in choices[at].items()
                if (cost := found.behind[at].get((here, after))) is not None
                and (own[0] + cost[0] + half * abs(after - 2 * here + before), own[1] + cost[1]) == needed
            )
        )
    return way


def price(want: Want, scale: Scale, times: Sequence[int]) -> Cost:
    """What an answer costs."""
    first = second = 0
    for size, one in zip(want.sizes, times, strict=True):
        own = scale.distance(want, size, one)
        first, second = first + own[0], second + own[1]
    for at in range(2, len(times)):
        first += scale.uneven(times[at - 2], times[at - 1], times[at])
    return first, second


def _choices(want: Want, scale: Scale, slack: int | None) -> tuple[dict[int, Cost], ...]:
    """The multiples that can belong to the best answer: those that are not further from the target, beyond the nearest
    that is allowed, than an answer made of near ones costs for its steps."""
    ranges = [want.range(size) for size in want.sizes]
    near = _near(want, ranges)
    if slack is None:
        if near is None or want.same:
            slack = None
        else:
            least = sum(
                scale.distance(want, size, _clamped(want.nearest(size), *reach))[0]
                for size, reach in zip(want.sizes, ranges, strict=True)
            )
            slack = price(want, scale, near)[0] - least
    found: list[dict[int, Cost]] = []
    for size, (low, high) in zip(want.sizes, ranges, strict=True):
        middle = _clamped(want.nearest(size), low, high)
        if (low is not None and middle < low) or (high is not None and middle > high):
            found.append({})
            continue
        least = scale.distance(want, size, middle)[0]
        own: dict[int, Cost] = {}
        for step in (-1, 1):
            times = middle if step == 1 else middle - 1
            while abs(times - middle) <= _FARTHEST:
                if (step == 1 and high is not None and times > high) or (
                    step == -1 and low is not None and times < low
                ):
                    break
                cost = scale.distance(want, size, times)
                if slack is not None and cost[0] - least > slack:
                    break
                own[times] = cost
                times += step
        found.append(dict(sorted(own.items())))
    return tuple(found)


def _near(want: Want, ranges: Sequence[tuple[int | None, int | None]]) -> list[int] | None:
    """An answer of near multiples that keeps the rules, by going from size to size; None where that leads nowhere."""
    found: list[int] = []
    for at, size in enumerate(want.sizes):
        low, high = ranges[at]
        if found and want.rises(want.sizes[at - 1], size):
            low = found[-1] if low is None else max(low, found[-1])
        times = _clamped(want.nearest(size), low, high)
        if (low is not None and times < low) or (high is not None and times > high):
            return None
        found.append(times)
    return found


def _clamped(times: int, low: int | None, high: int | None) -> int:
    if low is not None and times < low:
        times = low
    return high if high is not None and times > high else times


def _same(want: Want, scale: Scale, choices: tuple[dict[int, Cost], ...]) -> Course:
    """The course of a count that is the same in all sizes."""
    lows = [reach[0] for reach in map(want.range, want.sizes)]
    highs = [reach[1] for reach in map(want.range, want.sizes)]
    nearest = [want.nearest(size) for size in want.sizes]
    low = max([min(nearest), *(one for one in lows if one is not None)])
    high = min([max(*nearest, low), *(one for one in highs if one is not None)])
    common = {times: price(want, scale, [times] * len(choices)) for times in range(low, min(high, low + 10_000) + 1)}
    if not common:
        return Course(want, scale, choices, (), None)
    best = min(common.values())
    times = min(one for one, cost in common.items() if cost == best)
    only = tuple({times: scale.distance(want, size, times)} for size in want.sizes)
    behind = tuple({(times, times): _rest(only, at)} if at else {} for at in range(len(only)))
    return Course(want, scale, only, behind, best)


def _rest(only: tuple[dict[int, Cost], ...], at: int) -> Cost:
    costs = [next(iter(one.values())) for one in only[at + 1 :]]
    return sum(one[0] for one in costs), sum(one[1] for one in costs)
