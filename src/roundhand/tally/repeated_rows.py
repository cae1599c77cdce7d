"""Rows that are worked again and again, or grow from one to the next, up to a count, a length or a label."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from roundhand.findings import Finding
from roundhand.notation.tree import Amount, Plan, RowLine, Times, Work
from roundhand.tally.copies import MOST_ROWS, History, blocks_of
from roundhand.tally.growing import between, frame_of, grown, is_row_shaped, is_shaped, shaped_row
from roundhand.tally.length_findings import on_lengths
from roundhand.tally.length_stops import stop_of
from roundhand.tally.model import Offer
from roundhand.tally.rhythm_rows import unshaped
from roundhand.tally.schedule_findings import never_reached, too_many, unit_read
from roundhand.tally.scheduling import Ground, Tried
from roundhand.tally.section import Body
from roundhand.tally.timing import Timing

# More rows than this are worked for no count; whether it takes more is told by the last of the first few tries.
_MOST_TRIED = 600
_FEW = 12
# A rhythm of shaping with more rows even than this is written out by nobody as "as set".
_FURTHEST_SHAPED = 20


def repeated(
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
            chosen[size] = Tried([*unshaped(plan, line, history, size, grounds[size])])
        grounds = [None if size in endless else ground for size, ground in enumerate(grounds)]
    findings += never_reached(plan, line, grounds, [Timing({}, 0, one.left, one.over) for one in chosen], sizes)
    stops = [stop_of(plan, ground, size, blocks[size]) for size, ground in enumerate(grounds)]
    findings += on_lengths(plan, line, grounds, stops, sizes)
    return [one.rows for one in chosen]


def _last_shaped(history: History, size: int) -> list[Body]:
    """The rows that a growing round is made like: the last one shaped, with the plain ones behind it."""
    order = history.order[size]
    for back in range(1, min(_FURTHEST_SHAPED, len(order)) + 1):
        if between(order[-back]) is not None or is_row_shaped(order[-back]):
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
    stop = stop_of(plan, ground, size, block)
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
