"""What a stated count says of a row: a total, stitches of one kind, or several kinds told apart."""

from __future__ import annotations

from collections.abc import Mapping

from roundhand.notation.tree import Definition, Stated
from roundhand.tally.model import Worked, totals

# What may stand beside the stitches in a count and is none.
_NO_STITCHES = ("space", "chain", "other")
Counts = tuple[int | None, ...]


def total_of(stated: Stated, sizes: int, definitions: Mapping[str, Definition]) -> tuple[Counts, str]:
    """The total that a stated count comes to in every size, and what it counts: the unit, or `typed` for several kinds.

    A group that the pattern defines is one object in a count and as many stitches as it holds in the total."""
    if len(stated.counts) == 1:
        amount, unit = stated.counts[0]
        return tuple(amount.at(size) for size in range(sizes)), unit
    whole = [amount for amount, unit in stated.counts if unit == "stitch"]
    if len(whole) == 1 and all(unit in (*_NO_STITCHES, "stitch") for _, unit in stated.counts):
        # "8 petals, 34 sts": what is made of the stitches is told beside them.
        return tuple(whole[0].at(size) for size in range(sizes)), "stitch"
    totals_found: list[int | None] = []
    for size in range(sizes):
        total: int | None = 0
        for amount, unit in stated.counts:
            number = amount.at(size)
            if unit == "other" or number is None:
                total = None
            if total is None:
                break
            if unit not in _NO_STITCHES:
                total += (number or 0) * _stitches_in(unit, size, definitions)
        totals_found.append(total)
    return tuple(totals_found), "typed"


def _stitches_in(unit: str, size: int, definitions: Mapping[str, Definition]) -> int:
    found = definitions.get(unit)
    if found is None or found.stitch is not None or not found.group:
        return 1
    return sum((item.amount.at(size) or 0) for item in found.group if item.stitch != "chain") or 1


def is_total(unit: str) -> bool:
    """Whether a count with this unit can be held against all stitches of a row."""
    return unit not in _NO_STITCHES


def as_total(value: int | None, unit: str, stated: Stated, result: Worked | None, size: int) -> int | None:
    """A count of one kind of stitch, or of several, as the total it stands for: what it leaves out is added.

    `(54 hdc)` on a round of hdc is its total. `(12 dc, 4 ch-2 sps)` is twelve stitches; where the row holds other
    stitches that the count leaves out they are not held against it.
    """
    if not is_total(unit):
        return None
    if value is None or result is None or value == result.count:
        return value
    made: dict[str, int] = {}
    for (stitch, _), number in totals(result.made).items():
        made[stitch] = made.get(stitch, 0) + number
    whole = [amount.at(size) for amount, kind in stated.counts if kind == "stitch"]
    if whole == [result.count]:
        # "3 shells, 17 sts": the groups are told beside the stitches that they are made of.
        return result.count
    named = [(kind, amount.at(size)) for amount, kind in stated.counts if kind not in (*_NO_STITCHES, "", "stitch")]
    if named and all(made.get(kind) == number for kind, number in named):
        return result.count
    return value
