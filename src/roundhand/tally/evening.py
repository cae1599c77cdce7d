"""Stitches whose number the words leave open, settled by a count that is written later.

`Sc evenly around` may say nothing of its count while the round above it does: the maker spaces her stitches so that it
comes out, and so does the tally.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from roundhand.tally.model import Worked
from roundhand.tally.section import Instance
from roundhand.tally.standing import Standing, Usual, laid_on, restarts
from roundhand.tally.working import Bench, Body, settled_by

# How far ahead a count may be written.
_MOST_AHEAD = 12


def settled_later(
    bench: Bench,
    usual: Usual,
    row: Instance,
    body: Body,
    following: Sequence[Instance],
    place: Standing,
    size: int,
    readings: Mapping[int, str],
    worked: Worked,
) -> Worked:
    """The row once more, so that the next count that is written comes out; as it was where no number does that."""
    found = _next_count(bench, usual, row, following, place, size, worked)
    if found is None:
        return worked
    stated, later = found
    even = settled_by(worked.free, stated - later.count)
    if even is None:
        return worked
    again = bench.work_evenly(
        body, place.offer, size, place.colour, readings, place.depth, place.past, place.edges, even
    )
    if again is None:
        return worked
    found = _next_count(bench, usual, row, following, place, size, again)
    closes = found is not None and found[1].count == stated and not (found[1].lacking or found[1].left_over)
    return again if closes else worked


def _next_count(
    bench: Bench,
    usual: Usual,
    row: Instance,
    following: Sequence[Instance],
    place: Standing,
    size: int,
    worked: Worked,
) -> tuple[int, Worked] | None:
    """The next count that is written, and the row that it is written for as it is worked on this one."""
    past = laid_on(place.past, row, size, place.offer, worked)
    offer = worked.offer
    for at, later in enumerate(following[:_MOST_AHEAD]):
        body = later.bodies[size]
        if body is None or later.labels[size] is None:
            continue
        if restarts(body):
            return None
        told = later.stated
        stated = told.counts[0][0].at(size) if told is not None and len(told.counts) == 1 else None
        result = bench.work(body, offer, size, worked.colour, usual(later), place.depth + 1 + at, past, place.edges)
        if result is None:
            return None
        if stated is not None and later.last[size]:
            return stated, result
        past = laid_on(past, later, size, offer, result)
        offer = result.offer
    return None
