"""The rows of a rhythm of shaping in one size, with the plain rows between them."""

from __future__ import annotations

from roundhand.notation.tree import Beat, Plan, RowLine, Skip, Times, Work
from roundhand.tally.copies import MOST_ROWS, History
from roundhand.tally.growing import frame_of, shaped_row
from roundhand.tally.scheduling import Ground
from roundhand.tally.section import Body
from roundhand.tally.timing import Timing


def rhythm_rows(plan: Plan, line: RowLine, history: History, size: int, made: Timing, total: int) -> tuple[Body, ...]:
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


def unshaped(plan: Plan, line: RowLine, history: History, size: int, ground: Ground | None) -> tuple[Body, ...]:
    """Plain rows in the place of a schedule that cannot be worked, up to where the next label stands."""
    rows = (ground.rows or ground.room or 0) if ground is not None else 0
    return rhythm_rows(plan, line, history, size, Timing({}, 0), rows)
