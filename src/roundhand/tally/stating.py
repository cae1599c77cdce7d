"""What a stated count says of a row: a total, stitches of one kind, or several kinds told apart."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from roundhand.notation.tree import Definition, Stated
from roundhand.tally.grouping import BLOCK, named_kind, number_of, stitches_in
from roundhand.tally.model import Worked, totals

# What may stand beside the stitches in a count and is none.
_NO_STITCHES = ("space", "chain", "other", "side", BLOCK)
Counts = tuple[int | None, ...]


def total_of(stated: Stated, sizes: int, definitions: Mapping[str, Definition]) -> tuple[Counts, str]:
    """The total that a stated count comes to in every size, and what it counts: the unit, or `typed` for several kinds.

    A group that the pattern defines is one object in a count and as many stitches as it holds in the total."""
    if len(stated.counts) == 1:
        amount, unit = stated.counts[0]
        return tuple(amount.at(size) for size in range(sizes)), unit
    whole = [amount for amount, unit in stated.counts if unit == "stitch"]
    beside = [unit for _, unit in stated.counts if unit not in (*_NO_STITCHES, "stitch")]
    if len(whole) == 1 and all(named_kind(unit, 0, definitions) for unit in beside):
        # "8 petals, 34 sts", "3 shells, 17 sts": what is made of the stitches is told beside them.
        return tuple(whole[0].at(size) for size in range(sizes)), "stitch"
    # "12 scallops, 108 dc": what has a name of its own is made of the stitches that are told beside it.
    told = any(unit not in (*_NO_STITCHES, "") for _, unit in stated.counts)
    totals_found: list[int | None] = []
    for size in range(sizes):
        total: int | None = 0
        for amount, unit in stated.counts:
            number = amount.at(size)
            if (unit == "other" and not told) or number is None:
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


def counts_groups(stated: Stated, definitions: Mapping[str, Definition]) -> bool:
    """Whether a count counts groups of stitches, as `12 shells` does."""
    return any(named_kind(kind, 0, definitions) for _, kind in stated.counts)


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
    shells and what stands between them; where the row has no group of that name nothing can be held against it.
    """
    if unit == "side":
        return _by_sides(value, result)
    if not is_total(unit) and not (unit == BLOCK and BLOCK in definitions):
        return None
    if value is None or result is None or value == result.count:
        return value
    whole = [amount.at(size) for amount, kind in stated.counts if kind == "stitch"]
    if whole == [result.count]:
        # "3 shells, 17 sts": the groups are told beside the stitches that they are made of.
        return result.count
    parts = parts_of(stated, result, size, definitions)
    if parts and not any(part.differs for part in parts):
        return result.count
    groups = [part for part in parts if named_kind(part.kind, size, definitions)]
    if not groups:
        return value
    if any(not part.most for part in groups):
        return None
    return result.count + sum(
        (part.said - part.there) * stitches_in(part.kind, size, definitions) for part in parts if part.differs
    )


class Part(NamedTuple):
    """One kind of stitch or group in a stated count: its position there, how many are said, how many the row holds,
    and how many of them with what may be called the same: a chain that counts, a half of a shell at an end."""

    at: int
    kind: str
    said: int
    there: int
    most: int

    @property
    def differs(self) -> bool:
        """Whether the row does not hold as many as are said."""
        return not self.there <= self.said <= self.most


def parts_of(stated: Stated, result: Worked, size: int, definitions: Mapping[str, Definition]) -> tuple[Part, ...]:
    """The kinds that a stated count tells apart, each with what the row holds of it."""
    made: dict[str, int] = {}
    for (stitch, _), number in totals(result.made).items():
        made[stitch] = made.get(stitch, 0) + number
    found: list[Part] = []
    for at, (amount, kind) in enumerate(stated.counts):
        said = amount.at(size)
        if (kind in (*_NO_STITCHES, "", "stitch") and kind not in definitions) or said is None:
            continue
        group = named_kind(kind, size, definitions)
        if group:
            there, most = number_of(group, result.groups or ())
        else:
            own = definitions.get(kind)
            there = made.get(own.stitch.id if own is not None and own.stitch is not None else kind, 0)
            most = there + result.chain_counted
        found.append(Part(at, kind, said, there, most))
    return tuple(found)


def _by_sides(value: int | None, result: Worked | None) -> int | None:
    """A count of each side as the total it stands for; None where the row has no corners to tell its sides.

    A side may be counted between its corners, or with what its corners hold of it."""
    corners = result.offer.corners if result is not None else ()
    if value is None or result is None or len(corners) < 3:
        return None
    layout = result.offer.layout or b"s" * result.offer.total
    # The last side runs over the join.
    twice = layout + layout
    ends = (*corners[1:], corners[0] + len(layout))
    sides = [twice.count(b"s", corner + 1, end) for corner, end in zip(corners, ends, strict=True)]
    # Of three in a corner one belongs to either side.
    inside = [side - 2 * result.corner_arm for side in sides]
    if all(side == value for side in sides) or all(side == value for side in inside):
        return result.count
    return result.count + sum(value - side for side in inside)
