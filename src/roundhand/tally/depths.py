"""How deep a long stitch goes: what the words count from, told by what lies below.

"3 rows down" may count from the row being worked, or count that row as well; "2 rows below" may be meant from the place
that is next. Evidence, in this order: the words themselves ("counting this row") and notes on the page, a depth that
would lie under the foundation, the only row that has the loops free or stitches skipped, the pattern's own habit, usage
(common practice). The words may stand in the row, or where the pattern defines the stitch.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import msgspec

from roundhand.notation.depths import COUNTING, FROM_BELOW, FROM_THIS, deepened
from roundhand.notation.tree import Amount, Definition, DepthNote, Node, Place, Work
from roundhand.tally.model import Choice, Chosen
from roundhand.tally.past import Floor, floors, free_loop, loops_of, skips
from roundhand.tally.readings import walk
from roundhand.tally.section import Instance
from roundhand.tally.standing import Standing


class Ruled(msgspec.Struct, frozen=True):
    """What holds for the whole page: the stitches that it defines, what a note says of depths, and its habits."""

    definitions: Mapping[str, Definition]
    note: DepthNote | None
    habits: Mapping[str, str]


class _Deep(msgspec.Struct, frozen=True):
    """Words that send the hook down: the number, the place they are said of, and whether it counts from the next st."""

    below: Amount
    place: Place
    from_next: bool


def depths(row: Instance, places: Sequence[Standing], ruled: Ruled) -> Iterator[Chosen]:
    """The reading of every depth that a row's words give, with the evidence."""
    body = next((nodes for nodes in row.bodies if nodes is not None), ())
    seen: set[int] = set()
    for deep in _deep(body, ruled.definitions):
        key = deep.below.span.start
        number = next((value for value in deep.below.values if value is not None), None)
        if number is None or key in seen:
            continue
        seen.add(key)
        readings = _readings(deep, number, ruled.note)
        if len(readings) < 2 and not (ruled.note is not None and readings):
            continue
        kind = f"depth {deep.below.what}"
        evidence = ""
        reading = _noted(readings, ruled.note)
        if reading:
            evidence = "notes"
        else:
            reading, evidence = _settled(row, places, deep, readings)
        if not reading:
            habit = ruled.habits.get(kind, "")
            reading, evidence = (habit, "habit") if habit in readings else (readings[0], "usage")
        counts = {one: _depths(row, deep, one) for one in readings}
        choice = Choice(kind, deep.below.span, readings, key, _clear(row, places, deep, readings))
        yield Chosen(choice, reading, evidence, counts)


def _deep(nodes: tuple[Node, ...], definitions: Mapping[str, Definition]) -> Iterator[_Deep]:
    for node in walk(nodes):
        if not isinstance(node, Work):
            continue
        place = node.into
        if place.below is not None:
            if place.below.what != "counted":
                yield _Deep(place.below, place, place.from_next)
            continue
        for item in node.group:
            found = definitions.get(item.alias) or definitions.get(item.stitch)
            if found is not None and found.deep is not None and found.deep.what != "counted":
                yield _Deep(found.deep, place, found.from_next)


def _readings(deep: _Deep, number: int, note: DepthNote | None) -> tuple[str, ...]:
    """What the words may mean, the usual reading first. Only "down" and its like are said with this row counted, where
    no note says so of others."""
    if number == 1:
        # Counted from this row it would be the row that every stitch goes into.
        return (FROM_BELOW,)
    if deep.from_next:
        return (FROM_BELOW, FROM_THIS)
    ways = [FROM_THIS]
    if (deep.below.what == "down" or note is not None) and number > 2:
        # Two rows down with this one counted is the row below, where no stitch is long.
        ways.append(COUNTING)
    if _told_by_loops(deep.place):
        ways.append(FROM_BELOW)
    return tuple(ways)


def _noted(readings: tuple[str, ...], note: DepthNote | None) -> str:
    """The reading that a note on the page asks for; empty where there is none or it does not fit these words."""
    if note is None:
        return ""
    wanted = COUNTING if note.counted else FROM_THIS
    return wanted if wanted in readings else ""


def _clear(row: Instance, places: Sequence[Standing], deep: _Deep, readings: tuple[str, ...]) -> bool:
    """Whether usage favours the first reading so plainly that nobody need be asked: "below" is not said of the row
    being worked. With "down" it may be, where both rows are there to go into."""
    if deep.below.what != "down" or COUNTING not in readings:
        return True
    return not any(
        row.labels[size] is not None and (_depths(row, deep, FROM_THIS)[size] or 1) <= standing.depth
        for size, standing in enumerate(places)
    )


def _told_by_loops(place: Place) -> bool:
    return place.loop in ("front", "back") or place.what == "skipped" or place.free


def _depths(row: Instance, deep: _Deep, reading: str) -> tuple[int | None, ...]:
    found: list[int | None] = []
    for size, label in enumerate(row.labels):
        number = deep.below.at(size) if label is not None else None
        found.append(deepened(number, reading, deep.from_next) if number is not None else None)
    return tuple(found)


def _settled(row: Instance, places: Sequence[Standing], deep: _Deep, readings: tuple[str, ...]) -> tuple[str, str]:
    """The one reading that what lies below allows, in the first size that tells; empty where none does."""
    for size, standing in enumerate(places):
        if row.labels[size] is None:
            continue
        lower = {reading: _depths(row, deep, reading)[size] or 1 for reading in readings}
        there = [reading for reading in readings if lower[reading] <= standing.depth]
        if _told_by_loops(deep.place):
            fitting = [
                reading for reading in there if lower[reading] > 1 and _waits(standing.past, deep.place, lower[reading])
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
