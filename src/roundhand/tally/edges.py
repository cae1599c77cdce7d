"""The edges of what has been worked so far, and the places that each of them offers an edging.

A flat piece has four: the last row, the row ends on both sides, and the other side of the foundation chain. How many
stitches lie flat along a row end follows from the height of its row (`data/row_ends.toml`).
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from importlib import resources
from math import floor

import msgspec

from roundhand.tally.model import Offer


class RowEnd(msgspec.Struct, frozen=True):
    """How many stitches lie flat along the end of a row of one stitch, and how well that is known."""

    stitches: Fraction
    evidence: str


class Edges(msgspec.Struct, frozen=True):
    """What a piece has at its edges in one size.

    `foundation` is the places along the other side of its first row; `rows` are its rows from the bottom up, by the
    stitch they are mostly made of and how many follow one another; `flat` is false where it was worked in rounds;
    `closed` is true where a seam has made a ring of it. `rounds` is how many of its rows are rounds. `elsewhere` are
    the edges that pieces before it have, `foundation` and `row ends`: words may mean those. `between` is true where
    corners lie between the edges; else they are the first and last stitches of its first and last row.
    """

    foundation: int = 0
    rows: tuple[tuple[str, int], ...] = ()
    flat: bool = True
    closed: bool = False
    top: Offer = Offer("none")
    rounds: int = 0
    elsewhere: frozenset[str] = frozenset()
    between: bool = False

    @property
    def ends(self) -> int:
        """The row ends along one side."""
        return sum(number for _, number in self.rows)

    def with_row(self, stitch: str, flat: bool) -> Edges:
        """The edges with one row more."""
        last = self.rows[-1] if self.rows else ("", 0)
        before, number = (self.rows[:-1], last[1]) if last[0] == stitch else (self.rows, 0)
        rounds = self.rounds + (not flat)
        return msgspec.structs.replace(
            self, rows=(*before, (stitch, number + 1)), flat=self.flat and flat, rounds=rounds
        )

    def anew(self) -> Edges:
        """The edges of a piece that is begun now: none yet, but for those of the pieces before it."""
        there = {"foundation"} if self.foundation else set()
        there |= {"row ends"} if self.ends > self.rounds else set()
        return Edges(elsewhere=self.elsewhere | there)

    def lacks(self, edge: str) -> bool:
        """Whether an edge is not there, `foundation` or `row ends`, in a piece whose rows are known."""
        if not self.rows or edge in self.elsewhere:
            return False
        return not self.foundation if edge == "foundation" else self.rounds == self.ends


@cache
def row_end_rules() -> Mapping[str, RowEnd]:
    """The packaged numbers, by stitch id.

    >>> row_end_rules()["half_double"]
    RowEnd(stitches=Fraction(3, 2), evidence='common practice')
    """
    text = resources.files("roundhand.tally").joinpath("data/row_ends.toml").read_text(encoding="utf-8")
    return {
        stitch: RowEnd(Fraction(entry["stitches"]), entry["evidence"]) for stitch, entry in tomllib.loads(text).items()
    }


EndRates = tuple[tuple[str, Fraction], ...]


def along_row_ends(rows: tuple[tuple[str, int], ...], rates: EndRates = ()) -> int:
    """How many stitches lie flat along the ends of rows, rounded once, halves up. `rates` are those that the words give
    for rows of a stitch; a rate without a stitch holds for all others.

    >>> along_row_ends((("single", 20),)), along_row_ends((("double", 10), ("single", 2)))
    (20, 22)
    >>> along_row_ends((("half_double", 10),)), along_row_ends((("treble", 4),))
    (15, 12)
    >>> along_row_ends((("double", 10), ("single", 3)), (("single", Fraction(1)), ("", Fraction(3, 2))))
    18
    """
    return floor(exactly_along(rows, rates) + Fraction(1, 2))


def exactly_along(rows: tuple[tuple[str, int], ...], rates: EndRates = ()) -> Fraction:
    """How many stitches lie along the ends of rows, before it is rounded.

    >>> exactly_along((("half_double", 3),)), exactly_along((("single", 7),), (("", Fraction(1, 2)),))
    (Fraction(9, 2), Fraction(7, 2))
    """
    rules, said = row_end_rules(), dict(rates)
    return sum((said.get(stitch, said.get("", _of(stitch, rules))) * number for stitch, number in rows), Fraction(0))


def _of(stitch: str, rules: Mapping[str, RowEnd]) -> Fraction:
    found = rules.get(stitch)
    return found.stitches if found is not None else Fraction(1)


def ends_offer(edges: Edges) -> Offer:
    """The row ends along one side."""
    return Offer("ends", edges.ends, even=along_row_ends(edges.rows))


def chain_offer(edges: Edges) -> Offer:
    """The other side of the foundation."""
    return Offer("row", edges.foundation)


def around_offer(edges: Edges, rates: EndRates = ()) -> Offer:
    """All round a flat piece, from the first corner of its last row: that row, the row ends, the other side of the
    foundation, and the row ends of the other side.

    >>> piece = Edges(10, (("single", 7),), top=Offer("row", 10))
    >>> around_offer(piece).corners, around_offer(msgspec.structs.replace(piece, between=True)).corners
    ((0, 9, 17, 26), (0, 11, 19, 30))
    """
    top, bottom, side = edges.top.total, edges.foundation or edges.top.total, along_row_ends(edges.rows, rates)
    if top < 2 or bottom < 2:
        return Offer("around", top + bottom + 2 * side, even=edges.ends)
    if edges.between:
        top, bottom = top + 2, bottom + 2
    corners = (0, top - 1, top + side, top + side + bottom - 1)
    return Offer("around", top + bottom + 2 * side, even=edges.ends, corners=corners)


def side_lengths(corners: tuple[int, ...], total: int) -> tuple[int, ...]:
    """The places between corners all round a closed edge, from the first corner on.

    >>> side_lengths((0, 9, 30, 39), 60)
    (8, 20, 8, 20)
    >>> side_lengths((2, 5, 8), 9)
    (2, 2, 2)
    """
    if not corners:
        return ()
    following = (*corners[1:], corners[0] + total)
    return tuple(after - corner - 1 for corner, after in zip(corners, following, strict=True))


def shared_out(number: int, weights: tuple[int, ...]) -> tuple[int, ...]:
    """A number shared out in proportion to weights, the largest remainders first.

    >>> shared_out(56, (8, 20, 8, 20)), shared_out(10, (1, 1, 1)), shared_out(3, (0, 0))
    ((8, 20, 8, 20), (4, 3, 3), (2, 1))
    """
    if not weights:
        return ()
    whole = sum(weights)
    if whole == 0:
        weights, whole = (1,) * len(weights), len(weights)
    parts = [number * weight // whole for weight in weights]
    order = sorted(range(len(weights)), key=lambda at: (-(number * weights[at] % whole), at))
    for at in order[: number - sum(parts)]:
        parts[at] += 1
    return tuple(parts)
