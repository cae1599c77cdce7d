"""On which rows the shapings of a schedule fall, in one size: counted from the first row of the schedule, from 1."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from roundhand.notation.tree import Beat, Plan
from roundhand.tally.growing import change

# A schedule of more rows, or of more shapings, is a slip of the pen.
MOST = 2_000
MOST_FALLS = 600


class Timing(msgspec.Struct, frozen=True):
    """The rows of a schedule in one size: `falls` are the shapings of every row that has any, `last` the last of them.

    `left` is what is still missing to the goal when the shapings that fit are worked: 0 where it is met;
    `over` is the count that comes next, if the rows themselves were tried."""

    falls: Mapping[int, tuple[int, ...]]
    last: int
    left: int = 0
    over: int | None = None


def first_of(beat: Beat, size: int, start: int, early: bool, odd: bool = True) -> int:
    """The row on which a rhythm begins, counted from the first row of the schedule, whose label is `start`; `odd` is
    whether odd rows are right side rows."""
    if beat.first is None and beat.side:
        return 1 if (start % 2 == 1) == (odd == (beat.side == "RS")) else 2
    if beat.first is None:
        return 1 if early else _step(beat, size)
    number = beat.first.at(size) or 1
    return max(1, number - start + 1) if beat.labelled else max(1, number)


def _step(beat: Beat, size: int) -> int:
    return max(1, (beat.every.at(size) if beat.every is not None else 1) or 1)


def times_of(beat: Beat, size: int, more: bool) -> int | None:
    """How often a shaping is worked in a size; None where a goal or the rows decide. `more` is how an open number of
    times is read: after the first, or in all."""
    if beat.times is None:
        return 1 if beat.every is None else None
    number = beat.times.at(size) or 0
    if beat.first is not None and beat.every is not None and (beat.mode == "more" or (beat.mode == "unsaid" and more)):
        return number + 1
    return number


def timing(
    plan: Plan, size: int, start: int, below: int, rows: int | None, more: bool, early: bool, odd: bool = True
) -> Timing:
    """The rows on which the shapings fall. `below` is the count that the schedule begins with, `rows` its length where
    that is known, `odd` whether odd rows are right side rows."""
    falls: dict[int, tuple[int, ...]] = {}
    goal = plan.goal.at(size) if plan.goal is not None else None
    numbers = [times_of(beat, size, more) for beat in plan.beats]
    left = 0
    if goal is not None:
        known = sum((number or 0) * change(beat, size) for beat, number in zip(plan.beats, numbers, strict=True))
        open_beats = [at for at, number in enumerate(numbers) if number is None]
        missing = goal - below - known
        for at in open_beats[-1:]:
            step = change(plan.beats[at], size)
            often = missing // step if step else 0
            numbers[at] = min(max(0, often), MOST + 1)
            missing -= (numbers[at] or 0) * step
        left = missing
    last = 0
    before = 0
    for at, (beat, number) in enumerate(zip(plan.beats, numbers, strict=True)):
        step = _step(beat, size)
        if beat.then:
            first = before + (first_of(beat, size, start, False) if beat.first is not None else step)
        else:
            first = first_of(beat, size, start, early, odd)
        if number is None:
            number = max(0, (rows - first) // step + 1) if rows is not None else 1
        before = first
        for often in range(min(number, MOST + 1)):
            row = first + often * step
            if row > MOST + 1:
                break
            falls[row] = (*falls.get(row, ()), at)
            before = row
            last = max(last, row)
    return Timing(falls, last, left)


def is_absurd(made: Timing) -> bool:
    """Whether a schedule has more shapings, or runs over more rows, than any work has."""
    return made.last > MOST or sum(map(len, made.falls.values())) > MOST_FALLS


def fitting(plan: Plan, size: int, start: int, often: int, rows: int) -> int | None:
    """Every how many rows the one open rhythm of a schedule would have to fall so that all of it fits its rows."""
    beat = plan.beats[-1]
    if len(plan.beats) != 1 or often < 2:
        return None
    first = first_of(beat, size, start, False) if beat.first is not None else 0
    step = (rows - first) // (often - 1) if first else rows // often
    return step if 1 <= step < _step(beat, size) else None
