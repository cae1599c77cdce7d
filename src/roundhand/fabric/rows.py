"""One row laid out: the places of its stitches among those that the row below offers, and what it offers itself.

Positions here are local: places are numbered from 0 in the order in which the row meets them, stitches in the order of
working. A row that comes again is laid out once and set down many times.

The advance of the working point is a running sum over the places that each stitch passes, so a row of plain stitches
costs a few array operations whatever its length. Rows over chain spaces are walked place by place.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import msgspec

from roundhand.fabric.placing import FIRST, FREE, LAST, NEXT, OWN, RING, SAME, SPACE, Stretch, passing
from roundhand.findings import Span
from roundhand.sizing import children

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

_STITCH, _SPACE = ord("s"), ord("o")


class Tables:
    """The words that arrays point into, each kept once, in the order in which they are first used."""

    def __init__(self) -> None:
        self.kinds: dict[str, int] = {}
        self.loops: dict[str, int] = {"": 0}
        self.colours: dict[str, int] = {}
        self.spans: dict[tuple[int, int], int] = {}

    def kind(self, name: str) -> int:
        """The position of a kind of stitch."""
        return self.kinds.setdefault(name, len(self.kinds))

    def loop(self, name: str) -> int:
        """The position of a way into a place."""
        return self.loops.setdefault(name, len(self.loops))

    def colour(self, name: str) -> int:
        """The position of a colour."""
        return self.colours.setdefault(name, len(self.colours))

    def span(self, span: tuple[int, int]) -> int:
        """The position of a span."""
        return self.spans.setdefault(span, len(self.spans))

    @property
    def span_list(self) -> tuple[Span, ...]:
        """The spans in their order."""
        return tuple(Span(start, end) for start, end in self.spans)


class Below(msgspec.Struct, frozen=True):
    """What a row is worked into: `places` of which `layout` says for each whether it is a stitch or a space, empty
    where all are stitches. `ring` is true where a ring lies behind the last place."""

    places: int
    layout: bytes = b""
    ring: bool = False


class Laid(msgspec.Struct, frozen=True, eq=False):
    """A row laid out. `column` is the place each stitch stands over, -1 for none; `enters` how many places it is
    worked into, and `into` those places, or -2 less the position of a stitch of the row itself; `deep` is how many rows
    lower they lie, None where all lie one row lower. `offers` are the stitches that the next row can use, `layout` what
    each is, empty where all are stitches. `standing` says that every stitch has a column, and `reach` is the number of
    places up to the last one used."""

    kind: NDArray[np.uint16]
    loop: NDArray[np.uint8]
    colour: NDArray[np.uint16]
    span: NDArray[np.int32]
    passes: NDArray[np.uint8]
    column: NDArray[np.int32]
    enters: NDArray[np.int32]
    into: NDArray[np.int32]
    deep: NDArray[np.int32] | None
    offers: NDArray[np.int32] | None
    layout: bytes
    passed: int
    standing: bool
    reach: int

    def __len__(self) -> int:
        return len(self.kind)


def lay(found: Sequence[Stretch], behind: int, below: Below, tables: Tables, closing: bool = False) -> Laid:
    """Lays the stretches of a row over what lies below it. `closing` says that chains at the end are a space."""
    import numpy as np

    kept = _without_tail(found, closing)
    if any(one.target == LAST or one.group < 0 for one in kept):
        kept, more = _resolved(kept, below)
        behind += more
    # The stretches of a repeat are the same objects again and again; each is put into numbers once.
    alike = {id(one): one for one in kept}
    numbered = {which: at for at, which in enumerate(alike)}
    rows = [
        (
            one.number,
            tables.kind(one.stitch),
            tables.loop(one.loop),
            tables.colour(one.colour),
            tables.span(one.span),
            one.below,
            one.uses,
            one.group,
            _target(one.target, below),
            one.gap,
            one.stitch == "chain",
        )
        for one in alike.values()
    ]
    table = np.array(rows, dtype=np.int64).reshape(-1, 11)
    if len(rows) != len(kept):
        table = table[[numbered[id(one)] for one in kept]]
    counts = table[:, 0]
    whole = np.repeat(table, counts, axis=0) if len(table) != int(counts.sum()) else table
    starts = np.cumsum(counts) - counts
    within = np.arange(len(whole)) - np.repeat(starts, counts)
    kind, loop, colour, span, deep, uses, group, target = (whole[:, at] for at in range(1, 9))
    own = _own(target, whole[:, 10] > 0)
    moves = (target == NEXT) | (target == SPACE)
    moving = np.where(moves & (group > 0) & (within % np.maximum(group, 1) == group - 1), uses, 0)
    if below.layout:
        column, enters, into, passed = _walked(kept, moving, target, uses, below, own)
        passed = min(passed + behind, below.layout.count(b"s"))
    else:
        gap = np.zeros(len(whole), dtype=np.int64)
        gap[starts] = table[:, 9]
        point = np.cumsum(gap + moving) - moving
        column, enters, into = _placed(point, target, uses, below, own)
        passed = min(int(point[-1] + moving[-1]) + behind if len(point) else behind, below.places)
        # Stitches that there is no place for pass none.
        moving = np.clip(below.places - point, 0, moving)
    deeper = np.repeat(deep, enters) if len(deep) and int(deep.max()) > 1 else None
    offers, layout = _offers(table, starts, len(whole))
    columns = column.astype(np.int32)
    return Laid(
        kind.astype(np.uint16),
        loop.astype(np.uint8),
        colour.astype(np.uint16),
        span.astype(np.int32),
        moving.astype(np.uint8),
        columns,
        enters.astype(np.int32),
        columns if into is column else into.astype(np.int32),
        None if deeper is None else deeper.astype(np.int32),
        offers,
        layout,
        passed,
        bool((column >= 0).all()),
        int(into.max()) + 1 if len(into) else 0,
    )


def _own(target: NDArray[np.int64], chain: NDArray[np.bool_]) -> NDArray[np.int64]:
    """For every stitch the last one before it that is neither a chain nor worked into the row itself; -1 for none."""
    import numpy as np

    if not (target == OWN).any():
        return target
    solid = np.where((target != OWN) & ~chain, np.arange(len(target)), -1)
    return np.maximum.accumulate(solid)


def _without_tail(found: Sequence[Stretch], closing: bool) -> list[Stretch]:
    """Without the chains behind the last stitch, which belong to the next row, unless they close the round."""
    kept = list(found)
    while kept and not closing and kept[-1].stitch == "chain":
        kept.pop()
    return kept


def _target(target: int, below: Below) -> int:
    """Where a stretch finds its places in this row: in a ring that offers no chains everything goes into the ring."""
    if target == RING:
        return RING if below.ring else (FIRST if below.places else FREE)
    if target in (FREE, OWN) or below.places:
        return NEXT if target == LAST else target
    return RING if below.ring else FREE


def _resolved(found: list[Stretch], below: Below) -> tuple[list[Stretch], int]:
    """The stretches with those worked into the last places, or spread over all that are left, put where they go, and
    the places that a spread leaves out behind its last stitch."""
    total = below.layout.count(b"s") if below.layout else below.places
    kept: list[Stretch] = []
    at, behind = 0, 0
    for one in found:
        here = at + one.gap
        if one.group < 0:
            spread = _spread(one, max(0, total - here))
            kept += spread
            at = max(total, here)
            behind = at - here - sum(piece.gap + passing(piece) for piece in spread) + one.gap
            continue
        moved = passing(one)
        if one.target == LAST:
            jump = max(0, total - here - moved)
            one = one._replace(gap=one.gap + jump)
            here += jump
        kept.append(one._replace(gap=one.gap + behind) if behind else one)
        at, behind = here + moved, 0
    return kept, behind


def _spread(one: Stretch, room: int) -> list[Stretch]:
    """So many stitches evenly over so many places: several in a place, or places left out, alike all along."""
    if not room or not one.number:
        return [one._replace(group=1)]
    if one.number >= room:
        numbers = children(room, one.number)
        gaps = [one.gap] + [0] * len(numbers)
        return [one._replace(number=many, group=many, gap=gap) for many, gap in zip(numbers, gaps, strict=False)]
    places = [at * room // one.number for at in range(one.number)]
    steps = [place - before - 1 for place, before in zip(places, [-1, *places], strict=False)]
    spread: list[Stretch] = []
    for at, step in enumerate(steps):
        if step or not spread:
            spread.append(one._replace(number=1, group=1, gap=step + (one.gap if at == 0 else 0)))
        else:
            spread[-1] = spread[-1]._replace(number=spread[-1].number + 1)
    return spread


def _placed(
    point: NDArray[np.int64],
    target: NDArray[np.int64],
    uses: NDArray[np.int64],
    below: Below,
    own: NDArray[np.int64],
) -> tuple[NDArray[np.int64], NDArray[np.int64], NDArray[np.int64]]:
    """Column, number of places and places of every stitch of a row over plain stitches."""
    import numpy as np

    last = below.places - 1
    place = np.minimum(point, last)
    enters = np.minimum(uses, last - place + 1)
    if (target != NEXT).any():
        place = np.where(target == SAME, np.minimum(np.maximum(point - 1, 0), last), place)
        place = np.where(target == FIRST, 0, place)
        place = np.where(target == RING, below.places, place)
        place = np.where((target == FREE) | (target == OWN), -1, place)
        enters = np.where(target == FREE, 0, np.where(target == NEXT, enters, 1))
        enters = np.where((target == OWN) & (own < 0), 0, enters)
    total = int(enters.sum())
    if total == len(point) and (enters == 1).all() and not (target == OWN).any():
        return place, enters, place
    starts = np.cumsum(enters) - enters
    into = np.repeat(np.where(target == OWN, -2 - own, place), enters) + np.arange(total) - np.repeat(starts, enters)
    column = np.where(enters > 1, place + (enters - 1) // 2, place)
    return column, enters, into


def _walked(
    found: Sequence[Stretch],
    moving: NDArray[np.int64],
    target: NDArray[np.int64],
    uses: NDArray[np.int64],
    below: Below,
    own: NDArray[np.int64],
) -> tuple[NDArray[np.int64], NDArray[np.int64], NDArray[np.int64], int]:
    """The same where chain spaces lie between the stitches below, with the number of stitches passed."""
    import numpy as np

    layout = below.layout
    column: list[int] = []
    enters: list[int] = []
    into: list[int] = []
    at, before, shared = 0, 0, -1
    stitch = 0
    for one in found:
        for _ in range(one.space_gap):
            at = _after(layout, b"o", at)
        for _ in range(one.gap):
            at = _after(layout, b"s", at)
        for _ in range(-one.gap):
            at = max(0, layout.rfind(b"s", 0, at))
        for _ in range(one.number):
            where = int(target[stitch])
            places: list[int] = []
            if where == FREE:
                pass
            elif where == OWN:
                column.append(-1)
                enters.append(int(own[stitch] >= 0))
                into += [-2 - int(own[stitch])] if own[stitch] >= 0 else []
                stitch += 1
                continue
            elif where in (SAME, FIRST):
                places = [before if where == SAME else 0]
            else:
                mark = b"o" if where == SPACE else b"s"
                if shared < 0:
                    shared = layout.find(mark, at)
                    shared = shared if shared >= 0 else len(layout) - 1
                places = [shared]
                while len(places) < uses[stitch]:
                    following = layout.find(mark, places[-1] + 1)
                    if following < 0:
                        break
                    places.append(following)
                if moving[stitch]:
                    at = max(at, places[-1] + 1)
                    before, shared = places[-1], -1
            column.append(places[(len(places) - 1) // 2] if places else -1)
            enters.append(len(places))
            into += places
            stitch += 1
    return np.array(column, np.int64), np.array(enters, np.int64), np.array(into, np.int64), layout.count(b"s", 0, at)


def _after(layout: bytes, mark: bytes, at: int) -> int:
    found = layout.find(mark, at)
    return found + 1 if found >= 0 else len(layout)


def _offers(table: NDArray[np.int64], starts: NDArray[np.int64], length: int) -> tuple[NDArray[np.int32] | None, bytes]:
    """What a row offers: its stitches, and for every run of chains between them one space, at its middle chain."""
    import numpy as np

    chains = table[:, 10] > 0
    if not chains.any():
        return None, b""
    marks = np.full(length, _STITCH, dtype=np.uint8)
    keep = np.ones(length, dtype=bool)
    for at in np.flatnonzero(chains):
        start, count = int(starts[at]), int(table[at, 0])
        keep[start : start + count] = False
        if at + 1 == len(table) or not chains[at + 1]:
            keep[start + count // 2] = True
            marks[start + count // 2] = _SPACE
    offers = np.flatnonzero(keep).astype(np.int32)
    return offers, marks[keep].tobytes()
