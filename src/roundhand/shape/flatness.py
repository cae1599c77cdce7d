"""Whether a circle worked from its middle lies flat: how fast its rounds grow against how fast they must.

Method: rounds that come out by their heights in all H are longer by 2 pi H in a flat circle. The stitches that they
gain in fact, times the width of one, over that length is 1 where the piece is flat, less where it cups and more where
it ruffles (the cone of that slope has no other circumference). Between 0.85 and 1.10 a real fabric lies flat (ours).
"""

from __future__ import annotations

from fractions import Fraction

import msgspec

from roundhand.sizing import GaugeBook
from roundhand.tally import PieceTally, RowTally, Worked
from roundhand.tally.across import across

_TWO_PI = Fraction(710, 113)
# Fewer rounds tell nothing of a slope; fewer increases in a round make corners and no circle.
_FEWEST_ROUNDS, _FEWEST_INCREASES = 4, 5
FLAT = (Fraction(85, 100), Fraction(110, 100))


class Growth(msgspec.Struct, frozen=True):
    """How a circle grows: the ratio of gained to needed length, its first and last row that grow, the stitches that
    were gained and those that would lie flat."""

    ratio: Fraction
    first: RowTally
    last: RowTally
    gained: int
    flat: Fraction
    rounds: int


def growth(piece: PieceTally, size: int, book: GaugeBook) -> Growth | None:
    """The growth of a circle of plain rounds; None where the piece is none or no gauge tells its stitches.

    The height of a row must be stated for the stitch itself: that of another one, scaled, is not known well enough.
    """
    rows = [row for row in piece.rows if row.results[size] is not None]
    read = {one.at: one for one in across(piece, size)}
    growing: list[tuple[RowTally, Worked]] = []
    for at, row in enumerate(piece.rows):
        result = row.results[size]
        if result is None:
            continue
        if not growing:
            # The first round stands in a ring or on a short chain.
            growing.append((row, result))
            continue
        one = read.get(at)
        if one is None or row.kind != "round" or result.offer.layout or result.offer.corners:
            break
        if len(one.features) < _FEWEST_INCREASES or any(kind != "increase 2" for kind in one.kinds):
            break
        growing.append((row, result))
    if len(growing) < _FEWEST_ROUNDS or rows[0].kind != "round":
        return None
    first, last = growing[0], growing[-1]
    main = last[1].offer.main
    if any(result.offer.main != main for _, result in growing) or not book.knows(main):
        return None
    width, height = book.width(last[0].part, main), book.height(last[0].part, main)
    if not width or not height:
        return None
    gained = last[1].count - first[1].count
    rounds = len(growing) - 1
    flat = _TWO_PI * height * rounds / width
    return Growth(gained / flat, first[0], last[0], gained, flat, rounds)
