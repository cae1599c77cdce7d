"""Shaping spread evenly: how many stitches lie between one increase or decrease and the next.

When the stitches do not divide, some gaps are one stitch longer than the others, and the longer ones are themselves
spread evenly. The method is the one that draws a slanted line on squared paper (Bresenham, Algorithm for computer
control of a digital plotter, 1965): the j-th of k shapings falls where j/k of the stitches have been used, rounded
up to a whole stitch. By hand, makers reach the same gaps by dividing and giving the remainder out one stitch at a time
(Increase and decrease evenly in a row, aliciaramirez.com 2009/02).
"""

from __future__ import annotations

from collections import Counter
from itertools import accumulate, pairwise
from typing import Literal

import msgspec


class Spacing(msgspec.Struct, frozen=True):
    """Increases or decreases spread evenly over the stitches of one row or round.

    `stitches` are those of the row below. `gaps` has one number for each shaping, in working order: how many stitches
    of the row below its group uses. An increase is worked into the last stitch of its group, a decrease over the last
    two. `after` is what is worked plainly behind the last group: nothing in the round, half a gap in a row, which is
    `flat`.

    >>> spacing = increase_evenly(51, 4, flat=True)
    >>> spacing.gaps, spacing.after, spacing.positions
    ((6, 13, 13, 13), 6, (6, 19, 32, 45))
    """

    stitches: int
    change: Literal["increase", "decrease"]
    gaps: tuple[int, ...]
    after: int = 0
    flat: bool = False

    @property
    def result(self) -> int:
        """The stitches of the row when it is done.

        >>> increase_evenly(99, 8).result, decrease_evenly(186, 8).result
        (107, 178)
        """
        return self.stitches + len(self.gaps) if self.change == "increase" else self.stitches - len(self.gaps)

    @property
    def positions(self) -> tuple[int, ...]:
        """The stitch of the row below that ends each group, counted from 1.

        >>> increase_evenly(51, 4).positions
        (13, 26, 39, 51)
        """
        return tuple(accumulate(self.gaps))

    @property
    def groups(self) -> tuple[tuple[int, int], ...]:
        """How often each length of group occurs, as (times, stitches), the shortest first.

        This is the remainder as a designer states it, five groups of 12 and three of 13, and the shortest way to
        write the row. The gaps of a flat row's edges are not among them.

        >>> increase_evenly(99, 8).groups
        ((5, 12), (3, 13))
        >>> increase_evenly(51, 4, flat=True).groups
        ((3, 13),)
        """
        inner = self.gaps[1:] if self.flat else self.gaps
        return tuple((times, length) for length, times in sorted(Counter(inner).items()))

    @property
    def runs(self) -> tuple[tuple[int, int], ...]:
        """All groups in working order, equal neighbours together, as (times, stitches).

        >>> increase_evenly(99, 8).runs
        ((1, 13), (1, 12), (1, 13), (2, 12), (1, 13), (2, 12))
        """
        found: list[tuple[int, int]] = []
        for gap in self.gaps:
            if found and found[-1][1] == gap:
                found[-1] = (found[-1][0] + 1, gap)
            else:
                found.append((1, gap))
        return tuple(found)


def even_gaps(stitches: int, shapings: int, flat: bool = False) -> tuple[int, ...]:
    """The lengths of the gaps, in working order, when `shapings` are spread over `stitches`.

    In the round there are as many gaps as shapings, and the last one ends with the round. In a flat row there is one
    more: half a gap stands at either edge, so that shaping keeps clear of it. The gaps between two shapings differ by
    at most one stitch, and all of them make up the stitches exactly.

    Raises ValueError for fewer than one shaping, or for more shapings than stitches.

    >>> even_gaps(24, 6), even_gaps(100, 7)
    ((4, 4, 4, 4, 4, 4), (15, 14, 14, 15, 14, 14, 14))
    >>> even_gaps(51, 4, flat=True)
    (6, 13, 13, 13, 6)

    It serves rows as well as stitches: 36 shapings over 140 rows.

    >>> sorted(set(even_gaps(140, 36))), even_gaps(140, 36).count(3)
    ([3, 4], 4)
    """
    if shapings < 1:
        raise ValueError(f"there is nothing to spread: {shapings} shapings")
    if shapings > stitches:
        raise ValueError(f"{shapings} shapings do not fit into {stitches} stitches")
    numbers = range(1, shapings + 1)
    if flat:
        # The middle of each share, to the nearest stitch; a half is rounded up.
        ends = [((2 * number - 1) * stitches + shapings) // (2 * shapings) for number in numbers]
    else:
        ends = [-(-number * stitches // shapings) for number in numbers]
    edges = [0, *ends, stitches] if flat else [0, *ends]
    return tuple(end - start for start, end in pairwise(edges))


def increase_evenly(stitches: int, times: int, flat: bool = False) -> Spacing:
    """So many increases, each of two stitches in one, spread over the stitches of a round or of a flat row.

    Raises ValueError for fewer than one increase, or for more increases than stitches: then some stitches must hold
    three, which `children` works out.

    >>> increase_evenly(24, 6)
    Spacing(stitches=24, change='increase', gaps=(4, 4, 4, 4, 4, 4), after=0, flat=False)
    """
    gaps = even_gaps(stitches, times, flat)
    return Spacing(stitches, "increase", gaps[:times], gaps[times] if flat else 0, flat)


def decrease_evenly(stitches: int, times: int, flat: bool = False) -> Spacing:
    """So many decreases, each of two stitches into one, spread over the stitches of a round or of a flat row.

    The roles are exchanged: the decreases are spread over the stitches that the row will have, and each of them uses
    one stitch more of the row below. Raises ValueError for fewer than one decrease, or where fewer than two stitches
    are there for each.

    >>> decrease_evenly(24, 6).groups, decrease_evenly(24, 6).result
    (((6, 4),), 18)
    """
    if times * 2 > stitches:
        raise ValueError(f"{times} decreases need {times * 2} stitches, and there are {stitches}")
    gaps = even_gaps(stitches - times, times, flat)
    return Spacing(stitches, "decrease", tuple(gap + 1 for gap in gaps[:times]), gaps[times] if flat else 0, flat)


def children(below: int, above: int, phase: int = 0) -> tuple[int, ...]:
    """How many stitches go into each stitch of the row below when `above` stand evenly on `below`.

    Any change is allowed, and `phase` moves the increases round the piece without making them uneven; rounds that all
    begin at phase 0 stack their increases and show corners. With the arguments exchanged it says how many stitches of
    the row below each new stitch closes over. Raises ValueError for no stitches below, fewer than none above, or a
    phase outside 0 to `below` less 1.

    >>> [at for at, count in enumerate(children(18, 24)) if count == 2]
    [2, 5, 8, 11, 14, 17]
    >>> children(8, 24) == (3,) * 8
    True
    """
    if below < 1 or above < 0:
        raise ValueError(f"{above} stitches cannot stand on {below}")
    if not 0 <= phase < below:
        raise ValueError(f"the phase is one of 0 to {below - 1}, not {phase}")
    return tuple(((at + 1) * above + phase) // below - (at * above + phase) // below for at in range(below))
