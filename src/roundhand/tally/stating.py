"""What a stated count says of a row: a total, stitches of one kind, or several kinds told apart."""

from __future__ import annotations

from collections.abc import Mapping

from roundhand.notation.tree import Definition, Stated
from roundhand.tally.grouping import named_kind, number_of, stitches_in
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
                total += (number or 0) * stitches_in(unit, size, definitions)
        totals_found.append(total)
    return tuple(totals_found), "typed"


def is_total(unit: str) -> bool:
    """Whether a count with this unit can be held against all stitches of a row."""
    return unit not in _NO_STITCHES


def as_total(
    value: int | None,
    unit: str,
    stated: Stated,
    result: Worked | None,
    size: int,
    definitions: Mapping[str, Definition],
) -> int | None:
    """A count of one kind of stitch, or of several, as the total it stands for: what it leaves out is added.

    `(54 hdc)` on a round of hdc is its total. `(12 dc, 4 ch-2 sps)` is twelve stitches; where the row holds other
    stitches that the count leaves out they are not held against it. `(12 shells)` are as many stitches as twelve
    shells and what stands between them.
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
    kinds = [kind for _, kind in stated.counts if kind not in (*_NO_STITCHES, "", "stitch")]
    there = {kind: _there(kind, made, result, size, definitions) for kind in kinds}
    said = [(kind, amount.at(size)) for amount, kind in stated.counts if kind in there]
    if said and all(there[kind] == number for kind, number in said):
        return result.count
    if unit != "typed" and kinds and named_kind(unit, size, definitions):
        # So many groups more or less than were made; where none was made by that name they cannot be compared.
        number = there[unit]
        each = stitches_in(unit, size, definitions)
        return result.count + (value - number) * each if number else None
    return value


def _there(kind: str, made: Mapping[str, int], result: Worked, size: int, definitions: Mapping[str, Definition]) -> int:
    """How many of a kind of stitch, or of a group, a row holds."""
    group = named_kind(kind, size, definitions)
    if group:
        return number_of(group, result.groups or ())
    found = definitions.get(kind)
    return made.get(found.stitch.id if found is not None and found.stitch is not None else kind, 0)
