"""Flat circles: how many stitches a round must gain to lie flat, and the counts that follow.

A round further out by the height h of a row is longer by 2 pi h, whatever its size, and so needs 2 pi h / w more
stitches of width w. The trade rounds this to one number for each stitch; those rules stand in `data/flat_circle.csv`.
"""

from __future__ import annotations

import csv
import math
from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from importlib.resources import files
from types import MappingProxyType

import msgspec


class FlatRule(msgspec.Struct, frozen=True):
    """The trade's rule for one stitch: how many stitches each round of a flat circle gains, and who says so.

    `evidence` is `found`, `memory`, `common practice` or `ours`, as in the stitches' own files.
    """

    stitch: str
    increases: int
    source: str
    evidence: str


class DiscRound(msgspec.Struct, frozen=True):
    """One round of a circle that begins with as many stitches as every later round gains.

    `stitches` are those of the round, `in_all` those of the circle up to its end. `plain` is how many stitches stand
    alone between two increases; None in the first round, which has none.
    """

    number: int
    stitches: int
    in_all: int
    plain: int | None


@cache
def flat_rules() -> Mapping[str, FlatRule]:
    """The packaged rules by stitch id, read once and not to be changed.

    >>> {stitch: rule.increases for stitch, rule in flat_rules().items()}
    {'single': 6, 'half_double': 8, 'double': 12}
    """
    text = (files("roundhand.sizing") / "data" / "flat_circle.csv").read_text(encoding="utf-8")
    rules = [
        FlatRule(row["stitch"], int(row["increases_per_round"]), row["source"], row["evidence"])
        for row in csv.DictReader(text.splitlines())
    ]
    return MappingProxyType({rule.stitch: rule for rule in rules})


def disc(increases: int, number: int) -> DiscRound:
    """Round `number`, counted from 1, of a circle that starts with `increases` stitches and gains as many each round.

    k stitches to begin with and k more each time make k n in round n, and k n (n + 1) / 2 together. Raises ValueError
    for a round before the first or fewer than one increase.

    >>> disc(6, 5)
    DiscRound(number=5, stitches=30, in_all=90, plain=3)
    >>> [disc(flat_rules()["half_double"].increases, number).stitches for number in range(1, 8)]
    [8, 16, 24, 32, 40, 48, 56]
    """
    if increases < 1 or number < 1:
        raise ValueError(f"a circle has rounds from 1 and at least one increase, not round {number} of {increases}")
    return DiscRound(
        number,
        increases * number,
        increases * number * (number + 1) // 2,
        number - 2 if number > 1 else None,
    )


def flat_increase(height: Fraction, width: Fraction) -> float:
    """How many stitches a round must gain to lie flat, by geometry: 2 pi h / w.

    `height` of a row and `width` of a stitch are in one unit, whichever. The answer is a float, because no exact one
    can be written down; a designer rounds it to a number that she can divide. Fewer increases make the piece cup, more
    make it ruffle. Raises ValueError for a width or height that is not above nothing.

    >>> round(flat_increase(Fraction(1), Fraction(1)), 1), round(flat_increase(Fraction(3, 2), Fraction(1)), 1)
    (6.3, 9.4)
    """
    if height <= 0 or width <= 0:
        raise ValueError("a stitch has a height and a width above nothing")
    return 2 * math.pi * float(height / width)
