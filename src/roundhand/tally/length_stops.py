"""Where a length ends the rows of a schedule in one size."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from roundhand.measures import Length
from roundhand.notation.tree import Plan, Stripes
from roundhand.tally.lengths import Stop, cycle_of, rows_for
from roundhand.tally.scheduling import Ground
from roundhand.tally.section import Body


def stop_of(
    plan: Plan, ground: Ground | None, size: int, block: Sequence[Body], stripes: Stripes | None = None
) -> Stop | None:
    """Where a length ends the rows of a size."""
    length = _at(plan.lengths, size)
    if ground is None or length is None:
        return None
    done = Fraction(0) if plan.since == "here" else ground.tall
    across = plan.since == "across"
    cycle = cycle_of(block, plan.side, stripes)
    upto = _at(plan.upto, size)
    if across:
        # From the centre of what is measured across, the rounds lie on both sides.
        length = _half(length)
        upto = _half(upto) if upto is not None else None
    return rows_for(length, upto, done, ground.height, cycle, plan.side, ground.start, ground.odd)


def _at(lengths: tuple[Length | None, ...], size: int) -> Length | None:
    return lengths[min(size, len(lengths) - 1)] if lengths else None


def _half(length: Length) -> Length:
    return Length(length.mm / 2, length.unit)
