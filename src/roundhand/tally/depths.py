"""How deep a long stitch goes: what the words count from, told by what lies below.

"3 rows down" may count from the row being worked, or count that row as well; "2 rows below" may be meant from the place
that is next. Evidence, in this order: the words themselves ("counting this row"), a depth that would lie under the
foundation, the only row that has the loops free or stitches skipped, the pattern's own habit, usage (common practice).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from roundhand.notation.tree import Node, Place, Work
from roundhand.tally.expand import Instance
from roundhand.tally.model import Choice, Chosen
from roundhand.tally.past import COUNTING, FROM_BELOW, FROM_THIS, Floor, deepened, floors, free_loop, loops_of, skips
from roundhand.tally.readings import walk
from roundhand.tally.standing import Standing


def depths(row: Instance, places: Sequence[Standing], habits: Mapping[str, str]) -> Iterator[Chosen]:
    """The reading of every depth that a row's words give, with the evidence."""
    body = next((nodes for nodes in row.bodies if nodes is not None), ())
    for place in _deep(body):
        assert place.below is not None
        number = next((value for value in place.below.values if value is not None), None)
        if number is None:
            continue
        readings = _readings(place, number)
        if len(readings) < 2:
            continue
        kind = f"depth {place.below.what}"
        choice = Choice(kind, place.below.span, readings, place.below.span.start, True)
        reading, evidence = _settled(row, places, place, readings)
        if not reading:
            habit = habits.get(kind, "")
            reading, evidence = (habit, "habit") if habit in readings else (readings[0], "usage")
        counts = {one: _depths(row, place, one) for one in readings}
        yield Chosen(choice, reading, evidence, counts)


def _deep(nodes: tuple[Node, ...]) -> Iterator[Place]:
    for node in walk(nodes):
        if isinstance(node, Work) and node.into.below is not None and node.into.below.what != "counted":
            yield node.into


def _readings(place: Place, number: int) -> tuple[str, ...]:
    """What the words may mean, the usual reading first. Only "down" and its like are said with this row counted."""
    if number == 1:
        # Counted from this row it would be the row that every stitch goes into.
        return (FROM_BELOW,)
    if place.from_next:
        return (FROM_BELOW, FROM_THIS)
    assert place.below is not None
    if place.below.what == "down":
        return (FROM_THIS, COUNTING, FROM_BELOW) if _told_by_loops(place) else (FROM_THIS, COUNTING)
    return (FROM_THIS, FROM_BELOW) if _told_by_loops(place) else (FROM_THIS,)


def _told_by_loops(place: Place) -> bool:
    return place.loop in ("front", "back") or place.what == "skipped" or place.free


def _depths(row: Instance, place: Place, reading: str) -> tuple[int | None, ...]:
    assert place.below is not None
    found: list[int | None] = []
    for size, label in enumerate(row.labels):
        number = place.below.at(size) if label is not None else None
        found.append(deepened(number, reading, place.from_next) if number is not None else None)
    return tuple(found)


def _settled(row: Instance, places: Sequence[Standing], place: Place, readings: tuple[str, ...]) -> tuple[str, str]:
    """The one reading that what lies below allows, in the first size that tells; empty where none does."""
    for size, standing in enumerate(places):
        if row.labels[size] is None:
            continue
        deep = {reading: _depths(row, place, reading)[size] or 1 for reading in readings}
        there = [reading for reading in readings if deep[reading] <= standing.depth]
        if _told_by_loops(place):
            fitting = [
                reading for reading in there if deep[reading] > 1 and _waits(standing.past, place, deep[reading])
            ]
            if len(fitting) == 1:
                return fitting[0], "waiting places"
        if len(there) == 1 and len(readings) > 1 and readings[0] not in there:
            return there[0], "foundation"
    return "", ""


def _waits(past: Floor | None, place: Place, depth: int) -> bool:
    """Whether the row so many rows lower has the loop free, or stitches that were passed over."""
    if place.what == "skipped":
        return any(at == depth - 1 and skips(floor) for at, floor in floors(past))
    wanted = place.loop if place.loop in ("front", "back") else ""
    loops = loops_of(past, depth)
    return bool(loops.taken) and "both" not in loops.taken and bool(free_loop(loops, wanted))
