"""The rows that lie below, as far as a later row comes back to them: which loops they left, what they skipped."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import msgspec

from roundhand.notation.tree import Chain, Definition, Item, Node, Place, Skip, Times, Work
from roundhand.stitches import dictionary
from roundhand.tally.model import Offer, Run, Worked, distinct

# Rows further down than this are not come back to.
_DEEPEST = 400
_OTHER = {"front": "back", "back": "front"}
_NESTED = 8


class Floor(msgspec.Struct, frozen=True, eq=False):
    """One row of a piece in one size, as it was worked; `under` is the row before it, `offer` what it stands on."""

    label: int | None
    kind: str
    nodes: tuple[Node, ...]
    offer: Offer
    worked: Worked
    under: Floor | None


def floors(top: Floor | None) -> Iterator[tuple[int, Floor]]:
    """The rows from the one below downwards, with how many rows lower they lie: 1 for the row below."""
    depth = 1
    while top is not None and depth <= _DEEPEST:
        yield depth, top
        top, depth = top.under, depth + 1


def labelled(top: Floor | None, label: int) -> tuple[int, Offer] | None:
    """How many rows lower the nearest row with a label lies, and the stitches it offers to one that comes back to it;
    the foundation chain has the label 0. None where no row below has it."""
    for depth, floor in floors(top):
        if floor.label == label and label:
            return depth, _plain(floor.worked.offer)
        if not label and floor.offer.kind == "chain":
            # Of the chains those that the first row was worked into.
            return depth + 1, Offer("row", floor.worked.used)
    return None


def at_depth(top: Floor | None, depth: int) -> Offer | None:
    """The stitches that the row so many rows lower offers to one that comes back to it."""
    for at, floor in floors(top):
        if at == depth:
            return _plain(floor.worked.offer)
        if at == depth - 1 and floor.offer.kind == "chain":
            return Offer("row", floor.worked.used)
    return None


def _plain(offer: Offer) -> Offer:
    return Offer("row", offer.total, b"", 0, offer.main)


class Loops(msgspec.Struct, frozen=True):
    """Who went into the loops of a row: for each loop the label of the first row that took it, and in how many places;
    `both` where both loops were taken. `sure` is false where some of it cannot be told."""

    taken: Mapping[str, tuple[str, int]]
    sure: bool


def loops_of(top: Floor | None, depth: int) -> Loops:
    """The loops of the row so many rows lower that the rows above it were worked into.

    The row right above is taken to stand on it, unless it was itself worked into a row further down.
    """
    taken: dict[str, tuple[str, int]] = {}
    sure = True
    above = [(at, floor) for at, floor in floors(top) if at < depth]
    for at, floor in reversed(above):
        near = depth - at
        runs = tuple(run for run in distinct(floor.worked.made) if run.counts)
        kinds = {(run.loop, _takes_top(run)) for run in runs if run.below == near}
        if floor.worked.stands == near:
            kinds = {(run.loop, _takes_top(run)) for run in runs if run.below == 1}
            if floor.worked.left or floor.worked.jumped or floor.offer.layout or _skips(floor.nodes):
                sure = False
        elif near > 1:
            kinds = {(run.loop, _takes_top(run)) for run in runs if run.below == near}
            if kinds:
                sure = False
        else:
            continue
        label = f"{'Rnd' if floor.kind == 'round' else 'Row'} {floor.label}"
        for loop, tops in kinds:
            if tops and loop not in ("between", "layers", "made"):
                taken.setdefault(loop or "both", (label, floor.worked.used))
            else:
                sure = False
    return Loops(taken, sure)


def _takes_top(run: Run) -> bool:
    return "post" not in run.stitch


def _skips(nodes: tuple[Node, ...], spaces: bool = True) -> bool:
    return any(
        (isinstance(node, Skip) and (node.what == "stitch" or (spaces and node.what == "space")))
        or (isinstance(node, Times) and _skips(node.body, spaces))
        or (spaces and isinstance(node, Work) and node.into.what == "space")
        for node in nodes
    )


def passes(floor: Floor) -> bool:
    """Whether a row went past places of the row below it, stitches or spaces, so that these still lie open."""
    return skips(floor) or _holds_skip(floor.nodes)


def _holds_skip(nodes: tuple[Node, ...]) -> bool:
    return any(isinstance(node, Skip) or (isinstance(node, Times) and _holds_skip(node.body)) for node in nodes)


def skips(floor: Floor) -> bool:
    """Whether a row went past stitches of the row below it, which may be worked into later."""
    return _skips(floor.nodes, False) or bool(floor.worked.left or floor.worked.jumped)


def free_loop(loops: Loops, wanted: str) -> str:
    """The loop that is free: the one wanted, or the one that the row above left; empty where none can be."""
    taken = set(loops.taken)
    if wanted:
        return wanted if wanted not in taken and ("both" not in taken or not loops.sure) else ""
    left = [loop for loop in ("front", "back") if loop not in taken and _OTHER[loop] in taken]
    if left:
        return left[0]
    return "front" if not loops.sure or not taken else ""


# Groups of the row below.


def group_of(floor: Floor | None, size: int, definitions: Mapping[str, Definition]) -> int:
    """How many stitches the largest group of a row has, 1 where no stitch of it shares its place with another."""
    if floor is None:
        return 1
    return max((_items(node.group, size, definitions) for node in _works(floor.nodes)), default=1)


def named_group(name: str, size: int, definitions: Mapping[str, Definition]) -> int | None:
    """How many stitches a group has that the pattern defines, or a stitch of the dictionary; None if it is neither."""
    found = definitions.get(name)
    if found is not None:
        if found.group:
            return _items(found.group, size, definitions)
        return found.stitch.makes if found.stitch is not None else None
    known = dictionary().get(name)
    return known.makes if known is not None else None


def holds_group(name: str, floor: Floor | None) -> bool:
    """Whether a row was made of groups of this name."""
    works = _works(floor.nodes) if floor is not None else ()
    return any(item.alias == name or item.stitch == name for work in works for item in work.group)


def behind_space(name: str, floor: Floor | None, size: int, definitions: Mapping[str, Definition]) -> int:
    """How many stitches of a group of the row below stand behind the last chain space in it."""
    found = definitions.get(name)
    groups = [found.group] if found is not None and found.group else []
    if not groups and floor is not None:
        groups = [node.group for node in _works(floor.nodes)]
    for group in groups:
        at = max((at for at, item in enumerate(group) if item.stitch == "chain"), default=-1)
        if at > 0:
            return _items(group[at + 1 :], size, definitions)
    return 0


def _works(nodes: tuple[Node, ...]) -> Iterator[Work]:
    for node in nodes:
        if isinstance(node, Work):
            yield node
        elif isinstance(node, Times):
            yield from _works(node.body)


def _items(items: tuple[Item, ...], size: int, definitions: Mapping[str, Definition], nested: int = 0) -> int:
    total = 0
    for item in items:
        number = item.amount.at(size) or 0
        if item.stitch == "chain":
            continue
        found = definitions.get(item.alias) if not item.stitch else None
        if found is not None and found.group and nested < _NESTED:
            total += number * _items(found.group, size, definitions, nested + 1)
        else:
            known = dictionary().get(item.stitch)
            total += number * (known.makes if known is not None else 1)
    return total


# What the words of a row come back to.


def reach(nodes: tuple[Node, ...]) -> str:
    """How far the words of a row look for their places: empty where the number of places below is all they need,
    `near` where it matters how the row below was worked, `far` where rows further down are named."""
    found = ""
    for node in nodes:
        said = ""
        if isinstance(node, Work):
            said = _reach(node.into)
        elif isinstance(node, Times):
            said = reach(node.body)
        if said == "far":
            return said
        found = said or found
    return found


def _reach(place: Place) -> str:
    if place.row is not None or place.free or place.what == "skipped":
        return "far"
    named = place.group is not None or place.loop == "third" or (place.what == "space" and place.length is None)
    named = named or bool(place.named)
    return "near" if named or place.length is not None or place.nth is not None else ""


def chains_of(nodes: tuple[Node, ...], size: int, definitions: Mapping[str, Definition]) -> set[int]:
    """The lengths of all chains that a row makes, so that a chain can be known by its number."""
    found: set[int] = set()
    for node in nodes:
        if isinstance(node, Chain):
            found.add(node.amount.at(size) or 0)
        elif isinstance(node, Times):
            found |= chains_of(node.body, size, definitions)
        elif isinstance(node, Work):
            found |= _item_chains(node.group, size, definitions)
    return found - {0}


def _item_chains(
    items: tuple[Item, ...], size: int, definitions: Mapping[str, Definition], nested: int = 0
) -> set[int]:
    found: set[int] = set()
    for item in items:
        if item.stitch == "chain":
            found.add(item.amount.at(size) or 0)
        elif item.stitch in dictionary():
            found |= {part.count for part in dictionary()[item.stitch].parts if part.stitch == "chain"}
        elif item.alias in definitions and nested < _NESTED:
            found |= _item_chains(definitions[item.alias].group, size, definitions, nested + 1)
    return found
