"""Schedules written out: the rows that a plan of shaping, growth or repetition comes to in every size.

A schedule ends at a count, at a length, after so many rows, or where the next label begins. What cannot be reached, or
does not fit its rows, is said; the rows are then worked so that what follows stands on what was meant.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from roundhand.findings import Finding
from roundhand.notation.tree import Amount, Plan, RowLine, Stripes, Times, Work
from roundhand.tally.copies import History, blocks_of
from roundhand.tally.growing import change, is_row_shaped, where_shaped
from roundhand.tally.length_findings import on_lengths
from roundhand.tally.length_stops import stop_of
from roundhand.tally.repeated_rows import repeated
from roundhand.tally.rhythm_rows import rhythm_rows, unshaped
from roundhand.tally.schedule_findings import never_reached, overruns, rows_taken, too_many
from roundhand.tally.scheduling import Ground, Written
from roundhand.tally.section import Body
from roundhand.tally.timing import Timing, fitting, is_absurd, timing


def write_out(
    plan: Plan, line: RowLine, grounds: Sequence[Ground | None], history: History, sizes: tuple[str, ...]
) -> Written:
    """The rows of a plan in every size; a size without ground has none."""
    findings: list[Finding] = []
    if plan.rows_upto is not None:
        grounds = [_between(plan, ground, size) for size, ground in enumerate(grounds)]
        findings += rows_taken(plan, line, grounds, sizes)
    if plan.last is not None:
        grounds = [_up_to(plan, ground, size) for size, ground in enumerate(grounds)]
    if plan.lengths:
        # The next label is a stop as well as a length is; where both are told it counts the rows.
        grounds = [_bounded(ground) for ground in grounds]
    plan = _going_on(plan, history, next((size for size, one in enumerate(grounds) if one is not None), 0))
    block = None
    if plan.base is not None and plan.beats:
        # "Rep Row 2, inc 1 st each end of every 4th row": the row is worked as that one between the shapings.
        labels = [[ground.start] if ground is not None else [] for ground in grounds]
        block = blocks_of(plan.base, labels, history, line, sizes, findings)
    elif (
        plan.base is not None
        or plan.grows is not None
        or not (plan.beats or plan.lengths or (plan.even and plan.goal is None))
    ):
        blocks = repeated(plan, line, grounds, history, sizes, findings)
        return Written(tuple(tuple(block) for block in blocks), tuple(findings), True)
    stripes = plan.stripes or next((node for node in line.nodes if isinstance(node, Stripes)), None)
    stops = [stop_of(plan, ground, size, (), stripes) for size, ground in enumerate(grounds)]
    found: list[tuple[Body, ...]] = []
    more = _more(plan, grounds)
    own = any(isinstance(node, Work | Times) for node in line.nodes)
    timed: list[Timing | None] = []
    endless: list[int] = []
    for size, ground in enumerate(grounds):
        if ground is None:
            found.append(())
            timed.append(None)
            continue
        stop = stops[size]
        rows = ground.rows if ground.rows is not None else stop.rows if stop is not None else None
        plotted, total = _plotted(plan, ground, size, rows, more, own)
        limit = rows if rows is not None else ground.room
        if is_absurd(plotted) or (stop is not None and stop.absurd):
            endless.append(size)
            timed.append(None)
            found.append(unshaped(plan, line, history, size, ground))
            continue
        timed.append(plotted)
        if limit is not None and plotted.last > limit:
            plotted = _fitted(plan, ground, size, plotted, limit)
            total = limit
        found.append(rhythm_rows(plan, line, history, size, plotted, total, block[size] if block is not None else ()))
    if endless:
        findings += too_many(plan, line, endless, grounds, sizes)
        grounds = [None if size in endless else ground for size, ground in enumerate(grounds)]
        stops = [None if size in endless else stop for size, stop in enumerate(stops)]
    findings += never_reached(plan, line, grounds, timed, sizes)
    findings += overruns(plan, line, grounds, timed, stops, sizes)
    findings += on_lengths(plan, line, grounds, stops, sizes)
    return Written(tuple(found), tuple(findings))


def _up_to(plan: Plan, ground: Ground | None, size: int) -> Ground | None:
    """A schedule that goes on "until Row 20": the rows up to that."""
    last = plan.last.at(size) if plan.last is not None else None
    if ground is None or last is None or last < ground.start:
        return ground
    return msgspec.structs.replace(ground, rows=last - ground.start + 1)


def _going_on(plan: Plan, history: History, size: int) -> Plan:
    """A rhythm that goes on with shaping worked before, "continue inc each side every other row": it falls first as
    many rows behind the last shaped row as it falls behind itself."""
    if any(beat.where == "as set" for beat in plan.beats):
        last = next((body for body in reversed(history.order[size]) if is_row_shaped(body)), ())
        where = where_shaped(last)
        beats = tuple(
            msgspec.structs.replace(beat, where=where) if beat.where == "as set" else beat for beat in plan.beats
        )
        plan = msgspec.structs.replace(plan, beats=beats, goes_on=True)
    beat = plan.beats[0] if plan.beats else None
    if not plan.goes_on or beat is None or beat.first is not None or beat.side or beat.every is None:
        return plan
    every = beat.every.at(size) or 1
    even = next((at for at, body in enumerate(reversed(history.order[size])) if is_row_shaped(body)), None)
    if even is None or even >= every:
        return plan
    # A number of times is of those still to come.
    mode = "in all" if beat.times is not None else beat.mode
    first = Amount((every - even,), beat.every.span)
    return msgspec.structs.replace(plan, beats=(msgspec.structs.replace(beat, first=first, mode=mode), *plan.beats[1:]))


def _bounded(ground: Ground | None) -> Ground | None:
    if ground is None or ground.rows is not None or ground.room is None:
        return ground
    return msgspec.structs.replace(ground, rows=ground.room)


def _between(plan: Plan, ground: Ground | None, size: int) -> Ground | None:
    """A schedule of "85 to 90 rows" in one size: as many as there are up to the next label, or by the gauge to its
    length, else the fewest."""
    if ground is None or plan.rows is None or plan.rows_upto is None:
        return ground
    low, high = plan.rows.at(size), plan.rows_upto.at(size)
    if low is None or high is None:
        return ground
    stop = stop_of(plan, ground, size, ())
    wanted = ground.room if ground.room is not None else stop.rows if stop is not None else None
    return msgspec.structs.replace(ground, rows=max(low, min(wanted, high)) if wanted is not None else low)


# Shaping by a rhythm.


def _more(plan: Plan, grounds: Sequence[Ground | None]) -> bool:
    """Whether an open number of times is meant after the first: by the stated counts, else as is usual."""
    if not any(beat.mode == "unsaid" and beat.first is not None and beat.every is not None for beat in plan.beats):
        return True
    fits = {True: 0, False: 0}
    for size, ground in enumerate(grounds):
        if ground is None or ground.stated is None:
            continue
        for more in fits:
            made = timing(plan, size, ground.start, ground.offer.total, ground.rows, more, False, ground.odd)
            fits[more] += _after(plan, made, ground, size) == ground.stated
    return fits[True] >= fits[False]


def _after(plan: Plan, made: Timing, ground: Ground, size: int) -> int:
    """The count when all shapings of a schedule are worked."""
    return ground.offer.total + sum(change(plan.beats[at], size) for falls in made.falls.values() for at in falls)


def _plotted(plan: Plan, ground: Ground, size: int, rows: int | None, more: bool, own: bool) -> tuple[Timing, int]:
    """The shapings of a schedule and the number of its rows. Where the words do not say on which row a rhythm begins,
    it may begin at once, if only so it ends where the next label stands."""
    made = timing(plan, size, ground.start, ground.offer.total, rows, more, False, ground.odd)
    limit = rows if rows is not None else ground.room
    free = plan.beats and not plan.beats[0].then and plan.beats[0].first is None
    if limit is not None and free and made.last > limit:
        early = timing(plan, size, ground.start, ground.offer.total, rows, more, True, ground.odd)
        if early.last <= limit:
            made = early
    if rows is not None:
        return made, rows
    # A row whose own words stand in the line is worked at least once.
    total = max(made.last, int(own))
    if plan.side:
        total += not _on_side(plan, ground, total)
    if ground.room is not None and total < ground.room < total + _longest_step(plan, size):
        total = ground.room
    return made, total


def _longest_step(plan: Plan, size: int) -> int:
    return max(((beat.every.at(size) if beat.every is not None else 1) or 1 for beat in plan.beats), default=1)


def _on_side(plan: Plan, ground: Ground, total: int) -> bool:
    """Whether the last row of a schedule lies on the side that the words ask for."""
    odd = (ground.start + total - 1) % 2 == 1
    return (odd == ground.odd) == (plan.side == "RS")


def _fitted(plan: Plan, ground: Ground, size: int, made: Timing, limit: int) -> Timing:
    """The shapings of a schedule that overruns, closer together so that they fit, or as many as do."""
    often = sum(len(falls) for falls in made.falls.values())
    step = fitting(plan, size, ground.start, often, limit)
    if step is not None:
        beat = plan.beats[0]
        closer = msgspec.structs.replace(beat, every=Amount((step,), beat.span))
        tighter = msgspec.structs.replace(plan, beats=(closer,))
        other = timing(tighter, size, ground.start, ground.offer.total, None, True, False)
        if other.last <= limit:
            return other
    falls = {row: beats for row, beats in made.falls.items() if row <= limit}
    return Timing(falls, max(falls, default=0), made.left)
