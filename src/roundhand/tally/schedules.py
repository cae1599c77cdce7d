"""Schedules written out: the rows that a plan of shaping, growth or repetition comes to in every size.

A schedule ends at a count, at a length, after so many rows, or where the next label begins. What cannot be reached, or
does not fit its rows, is said; the rows are then worked so that what follows stands on what was meant.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction

import msgspec

from roundhand.findings import Finding
from roundhand.measures import Length
from roundhand.notation.tree import Amount, Beat, Plan, RowLine, Skip, Stripes, Times, Work
from roundhand.tally.copies import MOST_ROWS, History, blocks_of
from roundhand.tally.growing import between, change, frame_of, grown, is_shaped, shaped_row
from roundhand.tally.lengths import Stop, cycle_of, rows_for
from roundhand.tally.model import Offer, Worked
from roundhand.tally.schedule_findings import never_reached, on_lengths, overruns, rows_taken, too_many, unit_read
from roundhand.tally.section import Body
from roundhand.tally.timing import Timing, fitting, is_absurd, timing

# More rows than this are worked for no count; whether it takes more is told by the last of the first few tries.
_MOST_TRIED = 600
_FEW = 12


class Ground(msgspec.Struct, frozen=True):
    """What a schedule begins on in one size: what the row below offers, the label of its first row, how many rows there
    are until the next label (`room`) or by its own words (`rows`), how tall the piece is and a row of it, and a way to
    work a row."""

    offer: Offer
    start: int
    work: Callable[[Body, Offer], Worked | None]
    rows: int | None = None
    room: int | None = None
    tall: Fraction | None = None
    height: Fraction | None = None
    stated: int | None = None
    odd: bool = True
    following: Body | None = None


class Tried(msgspec.Struct, frozen=True):
    """The rows of one reading of a goal in one size, what is missing to it, and the count that would come next; `needs`
    is how many rows it would take where those are more than are worked."""

    rows: list[Body]
    left: int = 0
    over: int | None = None
    needs: int | None = None


class Written(msgspec.Struct, frozen=True):
    """The rows of a schedule in every size, and what is to be said of them."""

    blocks: tuple[tuple[Body, ...], ...]
    findings: tuple[Finding, ...] = ()
    like: bool = False


def write_out(
    plan: Plan, line: RowLine, grounds: Sequence[Ground | None], history: History, sizes: tuple[str, ...]
) -> Written:
    """The rows of a plan in every size; a size without ground has none."""
    findings: list[Finding] = []
    if plan.rows_upto is not None:
        grounds = [_between(plan, ground, size) for size, ground in enumerate(grounds)]
        findings += rows_taken(plan, line, grounds, sizes)
    if plan.lengths:
        # The next label is a stop as well as a length is; where both are told it counts the rows.
        grounds = [_bounded(ground) for ground in grounds]
    if plan.base is not None or plan.grows is not None or not (plan.beats or plan.lengths):
        blocks = _repeated(plan, line, grounds, history, sizes, findings)
        return Written(tuple(tuple(block) for block in blocks), tuple(findings), True)
    stripes = plan.stripes or next((node for node in line.nodes if isinstance(node, Stripes)), None)
    stops = [_stop(plan, ground, size, (), stripes) for size, ground in enumerate(grounds)]
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
            found.append(_unshaped(plan, line, history, size, ground))
            continue
        timed.append(plotted)
        if limit is not None and plotted.last > limit:
            plotted = _fitted(plan, ground, size, plotted, limit)
            total = limit
        found.append(_rows(plan, line, history, size, plotted, total))
    if endless:
        findings += too_many(plan, line, endless, grounds, sizes)
        grounds = [None if size in endless else ground for size, ground in enumerate(grounds)]
        stops = [None if size in endless else stop for size, stop in enumerate(stops)]
    findings += never_reached(plan, line, grounds, timed, sizes)
    findings += overruns(plan, line, grounds, timed, stops, sizes)
    findings += on_lengths(plan, line, grounds, stops, sizes)
    return Written(tuple(found), tuple(findings))


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
    stop = _stop(plan, ground, size, ())
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
            made = timing(plan, size, ground.start, ground.offer.total, ground.rows, more, False)
            fits[more] += _after(plan, made, ground, size) == ground.stated
    return fits[True] >= fits[False]


def _after(plan: Plan, made: Timing, ground: Ground, size: int) -> int:
    """The count when all shapings of a schedule are worked."""
    return ground.offer.total + sum(change(plan.beats[at], size) for falls in made.falls.values() for at in falls)


def _plotted(plan: Plan, ground: Ground, size: int, rows: int | None, more: bool, own: bool) -> tuple[Timing, int]:
    """The shapings of a schedule and the number of its rows. Where the words do not say on which row a rhythm begins,
    it may begin at once, if only so it ends where the next label stands."""
    made = timing(plan, size, ground.start, ground.offer.total, rows, more, False)
    limit = rows if rows is not None else ground.room
    free = plan.beats and not plan.beats[0].then and plan.beats[0].first is None
    if limit is not None and free and made.last > limit:
        early = timing(plan, size, ground.start, ground.offer.total, rows, more, True)
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


def _rows(plan: Plan, line: RowLine, history: History, size: int, made: Timing, total: int) -> tuple[Body, ...]:
    """The rows of a rhythm with the plain rows between them."""
    own = tuple(node for node in line.nodes if not isinstance(node, Plan))
    works = [node for node in own if isinstance(node, Work | Times)]
    model = own if works else (history.order[size][-1] if history.order[size] else None)
    lead, trail = frame_of(model)
    stitch = plan.stitch
    if not stitch and len(works) == 1 and isinstance(works[0], Work) and works[0].into.kind == "each":
        stitch = works[0].group[0].stitch
    plain: Body = own if works else (*lead, *shaped_row((), stitch, plan.span), *trail)
    known: dict[tuple[int, ...], Body] = {(): plain}
    rows = []
    for row in range(1, min(total, MOST_ROWS) + 1):
        falls = made.falls.get(row, ())
        if falls not in known:
            beats: list[Beat] = [plan.beats[at] for at in falls]
            shaped = shaped_row(beats, stitch, plan.span)
            slipped = shaped[:1] if isinstance(shaped[0], Skip) else ()
            known[falls] = (*slipped, *lead, *shaped[len(slipped) :], *trail)
        rows.append(known[falls])
    return tuple(rows)


def _unshaped(plan: Plan, line: RowLine, history: History, size: int, ground: Ground | None) -> tuple[Body, ...]:
    """Plain rows in the place of a schedule that cannot be worked, up to where the next label stands."""
    rows = (ground.rows or ground.room or 0) if ground is not None else 0
    return _rows(plan, line, history, size, Timing({}, 0), rows)


# Rows worked again, and rounds that grow.


def _repeated(
    plan: Plan,
    line: RowLine,
    grounds: Sequence[Ground | None],
    history: History,
    sizes: tuple[str, ...],
    findings: list[Finding],
) -> list[list[Body]]:
    labels = [[ground.start] if ground is not None else [] for ground in grounds]
    blocks: list[list[Body]]
    own = tuple(node for node in line.nodes if not isinstance(node, Plan))
    if plan.base is None and any(isinstance(node, Work | Times) for node in own):
        # "Row 2: … Rep Row 2 until 20 sts rem": the row itself is the first of them.
        blocks = [[own] if ground is not None else [] for ground in grounds]
    elif plan.base is not None:
        blocks = blocks_of(plan.base, labels, history, line, sizes, findings)
    else:
        blocks = [_last_shaped(history, size) if grounds[size] is not None else [] for size in range(len(sizes))]
    if plan.grows is None and plan.base is None and not own:
        grows = _growth_before(history, next((size for size, ground in enumerate(grounds) if ground is not None), 0))
        plan = msgspec.structs.replace(plan, grows=Amount((grows,), plan.span)) if grows else plan
    units = _units(plan)
    tried: dict[str, list[Tried]] = {}
    for unit in units:
        tried[unit] = [
            _until(plan, ground, size, blocks[size], unit) if ground is not None else Tried([])
            for size, ground in enumerate(grounds)
        ]
    unit, evidence = _best_unit(plan, units, tried, grounds)
    if len(units) > 1:
        findings += unit_read(plan, line, unit, evidence, tried, grounds, sizes)
    chosen = tried[unit]
    endless = [size for size, one in enumerate(chosen) if one.needs is not None]
    if endless:
        findings += too_many(plan, line, endless, grounds, sizes)
        for size in endless:
            chosen[size] = Tried([*_unshaped(plan, line, history, size, grounds[size])])
        grounds = [None if size in endless else ground for size, ground in enumerate(grounds)]
    findings += never_reached(plan, line, grounds, [Timing({}, 0, one.left, one.over) for one in chosen], sizes)
    stops = [_stop(plan, ground, size, blocks[size]) for size, ground in enumerate(grounds)]
    findings += on_lengths(plan, line, grounds, stops, sizes)
    return [one.rows for one in chosen]


def _last_shaped(history: History, size: int) -> list[Body]:
    """The rows that a growing round is made like: the last one shaped, with the plain ones behind it."""
    order = history.order[size]
    for back in range(1, min(4, len(order)) + 1):
        if between(order[-back]) is not None:
            return order[-back:]
    return order[-1:]


def _growth_before(history: History, size: int) -> int:
    """By how much the last two shaped rows differ between their increases, which "in this way" goes on with."""
    found = [number for body in history.order[size][-8:] if (number := between(body)) is not None]
    return found[-1] - found[-2] if len(found) > 1 else 0


def _units(plan: Plan) -> list[str]:
    """What the number behind `until` may count."""
    if plan.goal is None or plan.grows is None:
        return ["total"]
    return {
        "": ["total", "between", "section"],
        "between": ["between", "section"],
        "section": ["section", "between"],
    }.get(plan.unit, ["total"])


def _until(plan: Plan, ground: Ground, size: int, block: list[Body], unit: str) -> Tried:
    """The rows up to the goal, and what is missing to it then."""
    rows: list[Body] = []
    if not block:
        return Tried(rows)
    goal = plan.goal.at(size) if plan.goal is not None else None
    grows = plan.grows.at(size) if plan.grows is not None else None
    limit = ground.rows
    stop = _stop(plan, ground, size, block)
    if stop is not None and stop.absurd:
        return Tried(rows, needs=int(stop.exact or 0))
    if limit is None and stop is not None:
        limit = stop.rows
    if limit is None and plan.rows is not None:
        limit = plan.rows.at(size)
    if limit is None and goal is None:
        limit = ground.room if ground.room is not None else 0
    model = list(block)
    if limit is not None or goal is None:
        while model and len(rows) < min(limit or 0, MOST_ROWS):
            model = _grown_block(model, grows, plan.every) if grows else model
            rows += model
        del rows[limit:]
        return Tried(rows)
    total: int | None = ground.offer.total
    offer = ground.offer
    away = _left(goal, offer.total, block, unit)
    tries = 0
    while len(rows) < _MOST_TRIED:
        tries += 1
        model = _grown_block(model, grows, plan.every) if grows else model
        if unit == "total":
            # What stands between increases is read off the words; how many there are in all takes working them.
            offer, total = _worked_through(ground, model, offer)
            if total is None:
                return Tried(rows)
        left = _left(goal, total or 0, model, unit)
        if left == 0:
            return Tried([*rows, *model])
        if abs(left) >= abs(away) or (left > 0) != (away > 0):
            # The goal is passed, or comes no nearer.
            return Tried(rows, away, goal - left)
        needs = len(rows) + len(model) * (1 + abs(left) // (abs(away) - abs(left)))
        away = left
        rows += model
        if tries >= _FEW and needs > _MOST_TRIED:
            return Tried(rows, away, goal - left, needs)
    return Tried(rows, away, None, _MOST_TRIED)


def _worked_through(ground: Ground, rows: Sequence[Body], offer: Offer) -> tuple[Offer, int | None]:
    """What rows worked one after the other offer, and their last count; None where one of them cannot be worked."""
    for body in rows:
        worked = ground.work(body, offer)
        if worked is None:
            return offer, None
        offer = worked.offer
    return offer, offer.total


def _grown_block(model: list[Body], by: int, every: int) -> list[Body]:
    """The block with its shaped rows grown; a growth every other round has a plain round behind each."""
    out: list[Body] = []
    for body in model:
        more = grown(body, by) if between(body) is not None else None
        out.append(more if more is not None else body)
    if every == 2 and len(out) == 1:
        lead, trail = frame_of(out[0])
        span = next((node.span for node in out[0] if isinstance(node, Work | Times)), None)
        if span is not None:
            out.append((*lead, *shaped_row((), "", span), *trail))
    return out


def _left(goal: int, total: int, model: list[Body], unit: str) -> int:
    if unit == "total":
        return goal - total
    plain = next((found for body in model if (found := between(body)) is not None), 0)
    return goal - plain - (_joined(model) if unit == "section" else 0)


def _joined(model: list[Body]) -> int:
    """How many stitches an increase of the row makes, which stand in its section beside the plain ones."""
    for body in model:
        for node in body:
            if isinstance(node, Times):
                for one in node.body:
                    if isinstance(one, Work) and is_shaped(one):
                        return sum(item.amount.values[0] or 0 for item in one.group)
    return 2


def _best_unit(
    plan: Plan, units: list[str], tried: dict[str, list[Tried]], grounds: Sequence[Ground | None]
) -> tuple[str, str]:
    """What the goal counts, and what tells it: stated counts, the next label, whether the next row comes out, usage."""
    able = [unit for unit in units if all(one.left == 0 and (one.rows or ground is None) for one, ground in
            zip(tried[unit], grounds, strict=True))]  # fmt: skip
    if len(able) <= 1:
        return (able[0] if able else units[0]), "places"
    for by in ("counts", "label", "later"):
        scores = {unit: _score(by, tried[unit], grounds) for unit in able}
        best = max(scores.values())
        if best > min(scores.values()):
            able = [unit for unit in able if scores[unit] == best]
            if len(able) == 1:
                return able[0], by
    return able[0], "usage"


def _score(by: str, made: list[Tried], grounds: Sequence[Ground | None]) -> int:
    score = 0
    for one, ground in zip(made, grounds, strict=True):
        rows = one.rows
        if ground is None:
            continue
        if by == "label":
            score += ground.room is not None and ground.room == len(rows)
            continue
        offer = ground.offer
        for body in rows:
            worked = ground.work(body, offer)
            if worked is None:
                break
            offer = worked.offer
        if by == "counts":
            score += ground.stated is not None and ground.stated == offer.total
        elif ground.following is not None:
            worked = ground.work(ground.following, offer)
            score += worked is not None and not worked.left_over and not worked.lacking and not worked.left
    return score


# Lengths.


def _stop(
    plan: Plan, ground: Ground | None, size: int, block: Sequence[Body], stripes: Stripes | None = None
) -> Stop | None:
    """Where a length ends the rows of a size."""
    length = _at(plan.lengths, size)
    if ground is None or length is None:
        return None
    done = Fraction(0) if plan.since == "here" else ground.tall
    cycle = cycle_of(block, plan.side, stripes)
    upto = _at(plan.upto, size)
    return rows_for(length, upto, done, ground.height, cycle, plan.side, ground.start, ground.odd)


def _at(lengths: tuple[Length | None, ...], size: int) -> Length | None:
    return lengths[min(size, len(lengths) - 1)] if lengths else None
