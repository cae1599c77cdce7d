"""What is asked of the counts of a pattern, in exact numbers: targets, multiples, tolerances, links. No text here."""

from __future__ import annotations

from fractions import Fraction

import msgspec

# What an uneven step costs: half a millimetre for each multiple by which a step differs from the step before it.
UNEVEN = Fraction(1, 2)


class Want(msgspec.Struct, frozen=True):
    """What is wanted of one count in every size.

    `targets` are counts, not yet whole, None in a size that has none. `each` is what one more stitch or row costs, in
    millimetres. The count is `multiple` times something, plus `plus`. It lies `within` so many millimetres of its
    target, at `least` and at `most` so much, is the `same` in all sizes or, where the targets do not fall and `grows`
    is true, never smaller than in the size before.
    """

    name: str
    targets: tuple[Fraction | None, ...]
    each: Fraction = Fraction(1)
    multiple: int = 1
    plus: int = 0
    within: Fraction | None = None
    least: tuple[int | None, ...] = ()
    most: tuple[int | None, ...] = ()
    same: bool = False
    grows: bool = True

    @property
    def sizes(self) -> tuple[int, ...]:
        """The sizes in which it is wanted."""
        return tuple(size for size, target in enumerate(self.targets) if target is not None)

    def target(self, size: int) -> Fraction:
        """The target in a size that has one; nothing in another."""
        return self.targets[size] or Fraction(0)

    def off(self, size: int, count: int) -> Fraction:
        """How far a count lies from its target, in millimetres; above nothing where it is too much."""
        return (count - self.target(size)) * self.each

    def count(self, times: int) -> int:
        """The count with so many multiples in it."""
        return self.multiple * times + self.plus

    def nearest(self, size: int) -> int:
        """How many multiples come nearest to the target; of two as near, the fewer."""
        exact = (self.target(size) - self.plus) / self.multiple
        lower = exact.numerator // exact.denominator
        return lower if exact - lower <= Fraction(1, 2) else lower + 1

    def range(self, size: int) -> tuple[int | None, int | None]:
        """The fewest and the most multiples that are allowed in a size by its own rules; None for no end."""
        lows = [0 if self.plus else 1]
        highs: list[int] = []
        target, room = self.target(size), self.within
        if room is not None:
            low, high = target - room / self.each, target + room / self.each
            lows.append(_up((low - self.plus) / self.multiple))
            highs.append(_down((high - self.plus) / self.multiple))
        if self.least and (least := self.least[size]) is not None:
            lows.append(_up(Fraction(least - self.plus, self.multiple)))
        if self.most and (most := self.most[size]) is not None:
            highs.append(_down(Fraction(most - self.plus, self.multiple)))
        return max(lows), min(highs) if highs else None

    def rises(self, before: int, size: int) -> bool:
        """Whether the count of a size may not be smaller than that of the size before."""
        return self.grows and self.target(size) >= self.target(before)


class Link(msgspec.Struct, frozen=True):
    """A rule between counts, size by size: the sum of the counts, each times its factor, plus `plus`, is not below
    nothing. `words` are its words on the page, `of` the name of the count that it is a rule of."""

    of: str
    words: str
    factors: tuple[tuple[str, Fraction], ...]
    plus: tuple[Fraction | None, ...]


def _up(value: Fraction) -> int:
    return -(-value.numerator // value.denominator)


def _down(value: Fraction) -> int:
    return value.numerator // value.denominator
