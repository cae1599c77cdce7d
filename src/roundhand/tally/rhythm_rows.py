"""The rows of a rhythm of shaping in one size, with the plain rows between them."""

from __future__ import annotations

from collections.abc import Sequence

from roundhand.notation.tree import Plan, RowLine, Skip, Times, Work
from roundhand.tally.copies import MOST_ROWS, History
from roundhand.tally.growing import frame_of, shaped_row
from roundhand.tally.scheduling import Ground
from roundhand.tally.section import Body
from roundhand.tally.stitching import main_stitch
from roundhand.tally.timing import Timing


def rhythm_rows(
    plan: Plan,
    line: RowLine,
    history: History,
    size: int,
    made: Timing,
    total: int,
    block: Sequence[Body] = (),
) -> tuple[Body, ...]:
    """The rows of a rhythm with the plain rows between them; `block` are rows that these are worked like, in turn."""
    own = tuple(node for node in line.nodes if not isinstance(node, Plan))
    works = [node for node in own if isinstance(node, Work | Times)]
    models: Sequence[Body] = [own] if works else block
    last = history.order[size][-1] if history.order[size] else None
    stitch = plan.stitch
    if not stitch and len(works) == 1 and isinstance(works[0], Work) and works[0].into.kind == "each":
        stitch = works[0].group[0].stitch
    known: dict[tuple[int, tuple[int, ...]], Body] = {}
    rows = []
    for row in range(1, min(total, MOST_ROWS) + 1):
        at = (row - 1) % len(models) if models else 0
        key = at, made.falls.get(row, ())
        if key not in known:
            model = models[at] if models else None
            known[key] = _row(plan, key[1], model, last, stitch)
        rows.append(known[key])
    return tuple(rows)


def _row(plan: Plan, falls: tuple[int, ...], model: Body | None, last: Body | None, stitch: str) -> Body:
    """One row: like its model where no shaping falls on it, else shaped, with the frame of its model."""
    if model is not None and not falls:
        return model
    lead, trail = frame_of(model if model is not None else last)
    if model is not None and not stitch:
        stitch = main_stitch(model)
    shaped = shaped_row([plan.beats[at] for at in falls], stitch, plan.span)
    slipped = shaped[:1] if isinstance(shaped[0], Skip) else ()
    return (*slipped, *lead, *shaped[len(slipped) :], *trail)


def unshaped(plan: Plan, line: RowLine, history: History, size: int, ground: Ground | None) -> tuple[Body, ...]:
    """Plain rows in the place of a schedule that cannot be worked, up to where the next label stands."""
    rows = (ground.rows or ground.room or 0) if ground is not None else 0
    return rhythm_rows(plan, line, history, size, Timing({}, 0), rows)
