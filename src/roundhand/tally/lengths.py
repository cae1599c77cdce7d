"""How many rows reach a length: the nearest number by the gauge, among those at which the words let the work stop."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import accumulate

import msgspec

from roundhand.measures import Length
from roundhand.notation.tree import Node, Stripes, Yarn

# A length of more rows is a slip of the pen.
MOST = 2_000


class Cycle(msgspec.Struct, frozen=True):
    """Rows that are worked again and again: how many they are, and behind which of them the work may stop, counted
    from 1; behind any where none is named."""

    rows: int = 1
    ends: frozenset[int] = frozenset()

    def may(self, rows: int) -> bool:
        """Whether the work may stop after so many rows of the cycle."""
        return not self.ends or (rows - 1) % self.rows + 1 in self.ends


class Stop(msgspec.Struct, frozen=True):
    """Where a length ends the rows: `rows` of them, `exact` by the gauge; `upto` is the other end of `17-18 in`, and
    `exact_upto` the rows to it. `allowed` are numbers of rows near it, or within it, at which the work may stop, with
    the length it then has in millimetres. All None where no gauge gives a row. `parted` is true where the colours end
    on no row of the side that is asked for."""

    length: Length
    upto: Length | None = None
    rows: int | None = None
    exact: Fraction | None = None
    exact_upto: Fraction | None = None
    allowed: tuple[tuple[int, Fraction], ...] = ()
    parted: bool = False

    @property
    def absurd(self) -> bool:
        """Whether the length takes more rows than any work has."""
        return self.exact is not None and self.exact > MOST

    def holds(self, rows: int) -> bool:
        """Whether so many rows come to a length between its two ends."""
        return self.exact is not None and self.exact_upto is not None and self.exact <= rows <= self.exact_upto


def cycle_of(block: Sequence[tuple[Node, ...]], side: str, stripes: Stripes | None) -> Cycle:
    """Where rows that are repeated may end: with a stripe where they change their colours, on any row where the side is
    said, else with the last of them."""
    if stripes is not None:
        ends_at = tuple(accumulate(turn for _, turn in stripes.turns))
        return Cycle(ends_at[-1], frozenset(ends_at)) if ends_at and ends_at[-1] else Cycle()
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
    length: Length,
    upto: Length | None,
    done: Fraction | None,
    height: Fraction | None,
    cycle: Cycle,
    side: str,
    start: int,
    odd: bool,
) -> Stop:
    """The rows still to work until a piece that is `done` tall has a length, where the rows and the side let it stop;
    between two lengths, the number nearest to the middle.

    `start` is the label of the first of them, `odd` whether odd rows are right side rows.

    >>> inch = Length.of(Fraction(17), "in")
    >>> rows_for(inch, None, Fraction(0), Length.of(Fraction(1, 5), "in").mm, Cycle(), "", 1, True).rows
    85
    """
    if done is None or not height:
        return Stop(length, upto)
    exact = max(Fraction(0), (length.mm - done) / height)
    further = max(exact, (upto.mm - done) / height) if upto is not None else exact
    wanted = (exact + further) / 2
    low, high = min(int(exact), MOST), min(int(further), MOST)
    near = range(max(0, low - 2 * cycle.rows), high + 2 * cycle.rows + 3)

    def on_side(rows: int) -> bool:
        return not side or ((start + rows - 1) % 2 == 1) == (odd == (side == "RS"))

    stripes = [rows for rows in near if cycle.may(rows)]
    ends = [rows for rows in stripes if on_side(rows)]
    parted = bool(stripes) and not ends
    ends = ends or stripes or list(near)
    within = [rows for rows in ends if exact <= rows <= further]
    best = min(within or ends, key=lambda rows: (abs(rows - wanted), rows))
    at = ends.index(best)
    told = [within[0], within[-1]] if len(within) > 1 else ends[max(0, at - 1) : at + 2]
    allowed = tuple((rows, done + rows * height) for rows in told)
    return Stop(length, upto, min(best, MOST), exact, further if upto is not None else None, allowed, parted)
