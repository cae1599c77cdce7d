"""How many rows reach a length: the nearest number by the gauge, among those at which the words let the work stop."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import msgspec

from roundhand.measures import Length
from roundhand.notation.tree import Node, Yarn

_MOST = 10_000


class Cycle(msgspec.Struct, frozen=True):
    """Rows that are worked again and again: how many they are, and behind which of them the work may stop, counted
    from 1; behind any where none is named."""

    rows: int = 1
    ends: frozenset[int] = frozenset()

    def may(self, rows: int) -> bool:
        """Whether the work may stop after so many rows of the cycle."""
        return not self.ends or (rows - 1) % self.rows + 1 in self.ends


class Stop(msgspec.Struct, frozen=True):
    """Where a length ends the rows: `rows` of them, `exact` by the gauge; `allowed` are numbers of rows near it at
    which the work may stop, with the length it then has in millimetres. All None where no gauge gives a row."""

    length: Length
    rows: int | None = None
    exact: Fraction | None = None
    allowed: tuple[tuple[int, Fraction], ...] = ()


def cycle_of(block: Sequence[tuple[Node, ...]], side: str) -> Cycle:
    """Where rows that are repeated may end: with a stripe where they change their colours, on any row where the side is
    said, else with the last of them."""
    rows = len(block)
    if rows < 2:
        return Cycle()
    colours: list[str] = []
    for body in block:
        colours.append(_colour(body, ("with", "join")) or (colours[-1] if colours else ""))
    ends = {at for at in range(1, rows + 1) if colours[at % rows] != colours[at - 1] and colours[at % rows]}
    ends |= {at for at in range(1, rows + 1) if _colour(block[at - 1], ("change",))}
    if ends:
        return Cycle(rows, frozenset(ends))
    return Cycle(rows) if side else Cycle(rows, frozenset((rows,)))


def _colour(body: tuple[Node, ...], acts: tuple[str, ...]) -> str:
    """The colour that a row takes up in one of these ways, empty where it takes up none."""
    return next((node.colour for node in body if isinstance(node, Yarn) and node.act in acts and node.at is None), "")


def rows_for(
    length: Length, done: Fraction | None, height: Fraction | None, cycle: Cycle, side: str, start: int, odd: bool
) -> Stop:
    """The rows still to work until a piece that is `done` tall has a length, where the rows and the side let it stop.

    `start` is the label of the first of them, `odd` whether odd rows are right side rows.

    >>> inch = Length.of(Fraction(17), "in")
    >>> rows_for(inch, Fraction(0), Length.of(Fraction(1, 5), "in").mm, Cycle(), "", 1, True).rows
    85
    """
    if done is None or not height:
        return Stop(length)
    exact = max(Fraction(0), (length.mm - done) / height)
    middle = min(int(exact), _MOST)
    near = range(max(0, middle - 2 * cycle.rows), middle + 2 * cycle.rows + 3)

    def on_side(rows: int) -> bool:
        return not side or ((start + rows - 1) % 2 == 1) == (odd == (side == "RS"))

    ends = [rows for rows in near if cycle.may(rows) and on_side(rows)]
    ends = ends or [rows for rows in near if on_side(rows)] or list(near)
    best = min(ends, key=lambda rows: (abs(rows - exact), rows))
    at = ends.index(best)
    allowed = tuple((rows, done + rows * height) for rows in ends[max(0, at - 1) : at + 2])
    return Stop(length, min(best, _MOST), exact, allowed)
