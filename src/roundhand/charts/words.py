"""Rows in words, read off the fabric: what a chart shows, for those who do not see it.

A row is the shortest group of places that makes it when worked again and again, by run lengths: `2 long sc, 4 sc;
12 times`. Nothing here looks at the pattern's own sentences, so the words can be held against them.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from roundhand.charts.setting import Setting
from roundhand.fabric import Fabric, RowMark
from roundhand.fabric.model import WORKED

# One place of a row: what is made there, in which yarn, and how many places are passed over before and behind it.
_Unit = tuple[str, str, int, int]


def row_words(fabric: Fabric, row: RowMark, setting: Setting) -> str:
    """One row in words, without its label: `in A: 2 long sc, 4 sc; 12 times`.

    >>> from roundhand.charts.setting import setting
    >>> from roundhand.fabric import build
    >>> from roundhand.notation import read
    >>> from roundhand.tally import count
    >>> text = "Disc\\n\\nRnd 1: 6 sc in a magic ring. (6)\\nRnd 2: *sc in next st, inc; rep from * around. (9)"
    >>> tally = count(read(text)[0])[0]
    >>> fabric = build(tally)
    >>> [row_words(fabric, row, setting(tally, fabric)) for row in fabric.worked]
    ['6 sc in the ring', '1 sc, 2 sc in one place; 3 times']
    """
    return Teller(fabric, setting).words(row)


def row_lines(fabric: Fabric, setting: Setting) -> tuple[str, ...]:
    """All rows in words with their labels, alike neighbours together: `Rnds 3 to 5, in B: 66 sc`."""
    return Teller(fabric, setting).lines()


class Teller:
    """Tells the rows of a fabric in words; rows that are made alike are put into words once."""

    def __init__(self, fabric: Fabric, setting: Setting) -> None:
        self.fabric = fabric
        self.setting = setting
        self._known: dict[tuple[object, ...], str] = {}

    def words(self, row: RowMark) -> str:
        """One row in words, without its label."""
        key = self._key(row)
        if key not in self._known:
            self._known[key] = _row_words(self.fabric, row, self.setting)
        return self._known[key]

    def lines(self) -> tuple[str, ...]:
        """All rows with their labels, alike neighbours of one part together."""
        lines: list[str] = []
        said = ((row, self.words(row)) for row in self.fabric.worked)
        for (_, _, words), held in groupby(said, key=lambda one: (one[0].kind, one[0].part, one[1])):
            marks = [row for row, _ in held]
            label = span_label(marks[0].label, marks[-1].label)
            lines.append(f"{label}{', ' if words.startswith('in ') else ': '}{words}")
        return tuple(lines)

    def _key(self, row: RowMark) -> tuple[object, ...]:
        """Equal for rows that are made alike on rows that offer the same."""
        fabric, here = self.fabric, slice(row.start, row.stop)
        number = int(fabric.row[row.start]) if row.count else 0
        below = fabric.rows[number - 1] if number else None
        base = below.start if below is not None else 0
        starts = fabric.anchor_start[row.start : row.stop + 1]
        made = (fabric.kind[here], fabric.loop[here], fabric.colour[here])
        arrays = (*made, fabric.column[here] - base, starts - starts[:1])
        into = fabric.kind[fabric.anchors[int(starts[0]) : int(starts[-1])]] if row.count else fabric.kind[:0]
        ground = (below.kind, below.count) if below is not None else ()
        return (ground, row.kind, row.reversed, row.exact, into.tobytes(), *(array.tobytes() for array in arrays))


def _row_words(fabric: Fabric, row: RowMark, setting: Setting) -> str:
    units = _units(fabric, row, setting)
    if not units:
        return "nothing is worked"
    # Places passed over can be said before a stitch or behind the one before it; the shorter way is taken.
    behind = _behind(units, row.passed - _reached(units, fabric, row)) if units[0][2] == 0 else units
    units = min(units, behind, key=_period)
    period = _period(units)
    # A row of one stitch is a number of it, not a group again and again.
    alone = period == 1 and not any(units[0][2:])
    group, times = (units, 1) if alone else (units[:period], len(units) // period)
    yarns = list(dict.fromkeys(yarn for _, yarn, _, _ in units))
    one_yarn = len(yarns) == 1
    said = ", ".join(_run(run, one_yarn) for run in _runs(group))
    head = f"in {yarns[0]}: " if one_yarn and yarns[0] else ""
    tail = f"; {times} times" if times > 1 else ""
    return head + said + _over(fabric, row) + tail


def _behind(units: list[_Unit], rest: int) -> list[_Unit]:
    """The same units with what is passed over said behind them; `rest` is passed over behind the last."""
    skips = [*(unit[2] for unit in units[1:]), max(0, rest)]
    return [(what, yarn, 0, skip) for (what, yarn, _, _), skip in zip(units, skips, strict=True)]


def _reached(units: list[_Unit], fabric: Fabric, row: RowMark) -> int:
    """How many places lie up to the last one that the row is worked into."""
    skipped = sum(unit[2] for unit in units)
    return skipped + int(fabric.passes[row.start : row.stop].sum())


def span_label(first: str, last: str) -> str:
    """Two labels as one: `Rnds 3 to 5`.

    >>> span_label("Rnd 3", "Rnd 5"), span_label("Row 2", "Row 2")
    ('Rnds 3 to 5', 'Row 2')
    """
    if first == last:
        return first
    word, _, number = first.partition(" ")
    return f"{word}s {number} to {last.partition(' ')[2]}"


def _run(run: list[_Unit], one_yarn: bool) -> str:
    what, yarn, skipped, _ = run[0]
    number, _, rest = what.partition(" ")
    count = len(run) * (int(number) if " in one place" not in what else 1)
    said = f"{count} {rest}" if " in one place" not in what else what
    if " in one place" in what and len(run) > 1:
        said = what.replace("one place", f"each of {len(run)} places")
    before = f"skip {skipped}, " if skipped else ""
    behind = f", skip {run[-1][3]}" if run[-1][3] else ""
    return f"{before}{said}" + (f" in {yarn}" if yarn and not one_yarn else "") + behind


def _runs(units: list[_Unit]) -> list[list[_Unit]]:
    """Alike neighbours together; what is skipped before the first of them does not part them from those behind it."""
    found: list[list[_Unit]] = []
    for unit in units:
        if found and not unit[2] and not found[-1][-1][3] and found[-1][0][:2] == unit[:2]:
            found[-1].append(unit)
        else:
            found.append([unit])
    return found


def _period(units: Sequence[_Unit]) -> int:
    """The length of the shortest group that makes the units when repeated a whole number of times."""
    length = len(units)
    for period in range(1, length // 2 + 1):
        if length % period == 0 and all(units[at] == units[at - period] for at in range(period, length)):
            return period
    return length


# What a first row is worked into or along, by the kind of what its stitches enter.
_GROUND = {
    "ring": " in the ring",
    "chain": " along the chain",
    "row_end": " along the row ends",
    "edge": " along the edge",
}


def _over(fabric: Fabric, row: RowMark) -> str:
    """Where a row is worked that stands on no row: into a ring, along a chain or an edge."""
    number = int(fabric.row[row.start])
    if number == 0 or fabric.rows[number - 1].kind in WORKED:
        return ""
    start, stop = (int(fabric.anchor_start[at]) for at in (row.start, row.stop))
    entered = fabric.anchors[start:stop]
    return _GROUND.get(fabric.kinds[int(fabric.kind[entered[0]])], "") if len(entered) else ""


def _units(fabric: Fabric, row: RowMark, setting: Setting) -> list[_Unit]:
    """The places of a row in working order with what is made in each."""
    kinds = fabric.kind[row.start : row.stop].tolist()
    loops = fabric.loop[row.start : row.stop].tolist()
    colours = fabric.colour[row.start : row.stop].tolist()
    starts = fabric.anchor_start[row.start : row.stop + 1].tolist()
    into = fabric.anchors[starts[0] : starts[-1]].tolist() if starts else []
    columns = fabric.column[row.start : row.stop].tolist()
    chain = fabric.kinds.index("chain") if "chain" in fabric.kinds else -1
    number = int(fabric.row[row.start]) if row.count else 0
    below = fabric.rows[number - 1] if number else None
    units: list[_Unit] = []
    at = 0
    reached = 0
    while at < len(kinds):
        stop = at + 1
        if kinds[at] == chain and columns[at] < 0:
            while stop < len(kinds) and kinds[stop] == chain and columns[stop] < 0:
                stop += 1
            units.append((f"{stop - at} {setting.name('chain')}", fabric.colours[colours[at]], 0, 0))
            at = stop
            continue
        held = into[starts[at] - starts[0] : starts[at + 1] - starts[0]]
        in_ring = below is not None and below.kind == "ring"
        while (
            stop < len(kinds)
            and held
            and not in_ring
            and columns[stop] == columns[at]
            and colours[stop] == colours[at]
            and kinds[stop] != chain
        ):
            stop += 1
        skipped = 0
        if below is not None and columns[at] >= 0 and below.kind in ("row", "round") and row.exact:
            place = below.stop - 1 - columns[at] if row.reversed else columns[at] - below.start
            wide = len(held)
            first = place - (wide - 1) // 2
            skipped = max(0, first - reached)
            reached = max(reached, first + wide)
        made = [(kinds[one], loops[one]) for one in range(at, stop)]
        words = " and ".join(
            f"{len(list(run))} {setting.name(fabric.kinds[kind])}"
            + (f" in the {fabric.loops[loop]} loop" if loop else "")
            for (kind, loop), run in groupby(made)
        )
        space = bool(held) and chain >= 0 and int(fabric.kind[held[0]]) == chain and number > 1
        if space:
            words += " in the space"
            skipped = 0
        elif stop - at > 1:
            words += " in one place"
        units.append((words, fabric.colours[colours[at]], skipped, 0))
        at = stop
    return units
