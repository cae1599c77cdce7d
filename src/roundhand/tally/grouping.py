"""Groups in a row: shells, V-stitches, crossed stitches, each known by what it is made of.

A count may count them: "12 shells".
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from roundhand.notation.tree import Definition, Item
from roundhand.stitches import dictionary
from roundhand.tally.model import Grouped

# A row with more entries than this keeps none of them.
MOST_GROUPS = 20_000
_DEEPEST = 8
# What a count calls the blocks of work from corner to corner, also where the pattern has no word of its own for them.
BLOCK = "block"


def kind_of(parts: Iterable[tuple[str, int]]) -> str:
    """What a group is made of, in order; equal neighbours together. A single stitch is no group and has no kind.

    >>> kind_of([("double", 1), ("chain", 1), ("double", 1)]), kind_of([("double", 2), ("double", 3)])
    ('1 double, 1 chain, 1 double', '5 double')
    >>> kind_of([("double", 1)])
    ''
    """
    joined: list[tuple[str, int]] = []
    for stitch, number in parts:
        if joined and joined[-1][0] == stitch:
            number += joined.pop()[1]
        joined.append((stitch, number))
    if sum(number for stitch, number in joined if stitch != "chain") < 2:
        return ""
    return ", ".join(f"{number} {stitch}" for stitch, number in joined)


def joins_first(stitches: Sequence[str]) -> bool:
    """Whether the first slip stitch of a group only joins its chain, `(sl st, ch 3, 3 dc)`, and is no stitch of the
    row; where another brings the group down again, `(sl st, ch 2, dc, ch 2, sl st)`, both are as good as each other.

    >>> joins_first(["slip_stitch", "chain", "double"]), joins_first(["slip_stitch", "chain", "slip_stitch"])
    (True, False)
    """
    return len(stitches) > 2 and tuple(stitches[:2]) == ("slip_stitch", "chain") and stitches[-1] != "slip_stitch"


def body_kind(name: str) -> str:
    """The kind of a group over several places, by the name that the pattern gives it."""
    return f"body {name}"


def named_kind(name: str, size: int, definitions: Mapping[str, Definition]) -> str:
    """The kind of the group that a name means: the pattern's, or one of the dictionary; empty for a single stitch."""
    if name[:1].isdigit():
        # "12 scallops of 9 dc" tells what each is made of.
        return name
    found = definitions.get(name)
    if found is not None and found.body:
        return body_kind(found.name)
    if found is not None and found.group:
        return kind_of(_opened(found.group, size, definitions, 0))
    known = found.stitch if found is not None else dictionary().get(name)
    return kind_of((part.stitch, part.count) for part in known.parts) if known is not None else ""


def _opened(
    items: Sequence[Item], size: int, definitions: Mapping[str, Definition], depth: int
) -> list[tuple[str, int]]:
    parts: list[tuple[str, int]] = []
    for item in items:
        number = item.amount.at(size) or 0
        found = definitions.get(item.alias) if not item.stitch else None
        if found is not None and found.group and depth < _DEEPEST:
            parts += _opened(found.group, size, definitions, depth + 1) * min(number, _DEEPEST)
        else:
            stitch = found.stitch.id if found is not None and found.stitch is not None else item.stitch
            known = dictionary().get(stitch)
            inner = [(part.stitch, part.count) for part in known.parts] if known is not None else []
            parts += inner * min(number, _DEEPEST) if inner else [(stitch, number)]
    return parts[1:] if joins_first([stitch for stitch, _ in parts]) else parts


def stitches_in(name: str, size: int, definitions: Mapping[str, Definition]) -> int:
    """How many stitches one of what a name means leaves on top; a picot leaves none."""
    if name[:1].isdigit():
        return sum(number * _makes(stitch) for stitch, number in _numbers(name).items())
    found = definitions.get(name)
    if found is not None and found.group:
        return sum(number * _makes(stitch) for stitch, number in _opened(found.group, size, definitions, 0)) or 1
    if found is not None and found.body:
        return found.makes
    known = found.stitch if found is not None and found.stitch is not None else dictionary().get(name)
    return known.makes if known is not None else 1


def _makes(stitch: str) -> int:
    if stitch == "chain":
        return 0
    known = dictionary().get(stitch)
    return known.makes if known is not None else 1


def number_of(kind: str, groups: Sequence[Grouped]) -> tuple[int, int]:
    """How many of a kind there are, without and with the halves of it at both ends of the row.

    >>> row = [Grouped("3 double"), Grouped("5 double", 2), Grouped("3 double")]
    >>> number_of("5 double", row), number_of("3 double", row)
    ((2, 4), (2, 2))
    """
    whole = sum(one.times for one in groups if one.kind == kind)
    ends = {id(one): one for one in (*groups[:1], *groups[-1:]) if one.times == 1}
    return whole, whole + sum(_half(one.kind, kind) for one in ends.values())


def _half(kind: str, whole: str) -> bool:
    """Whether a group is part of another: of the same stitches, and fewer of them."""
    if kind == whole:
        return False
    parts, all_parts = _numbers(kind), _numbers(whole)
    return bool(parts) and all(number <= all_parts.get(stitch, 0) for stitch, number in parts.items())


def _numbers(kind: str) -> dict[str, int]:
    found: dict[str, int] = {}
    for part in kind.split(", "):
        number, _, stitch = part.partition(" ")
        if number.isdigit():
            found[stitch] = found.get(stitch, 0) + int(number)
    return found
