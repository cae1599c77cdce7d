"""Groups of whole stitches that a pattern defines: in one place, or over several, and what they use and make."""

from __future__ import annotations

import msgspec

from roundhand.findings import Span
from roundhand.notation.tree import Amount, Chain, Definition, Item, Join, Node, Place, Ring, Skip, Times, Work
from roundhand.stitches import Stitch, dictionary

# What the words of a group may be made of.
MEANT = (Work, Chain, Skip, Times, Join, Ring)
_MOST_TIMES = 50


def group_of(name: str, span: Span, nodes: tuple[Node, ...], below: int, known: Stitch | None) -> Definition:
    """What whole stitches come to: one stitch, a group in one place, or a group over several."""
    while len(nodes) == 1 and isinstance(only := nodes[0], Times) and only.mode == "fixed" and only.words == only.span:
        # Brackets around the whole.
        nodes = tuple(closed(list(only.body)))
    if len(nodes) == 2 and _said_again(*nodes):
        nodes = nodes[:1]
    picot = _picot(nodes, known)
    if picot is not None:
        return Definition(name, span, picot, 0, (), None, (), picot.uses, picot.makes)
    works = [node for node in nodes if isinstance(node, Work)]
    if len(nodes) == 1 and works:
        items = works[0].group
        if works[0].into.count is not None and len(items) == 1 and items[0].amount.values == (1,):
            items = (msgspec.structs.replace(items[0], amount=works[0].into.count),)
        single = len(items) == 1 and items[0].stitch and items[0].amount.values == (1,)
        if single and known is not None and known.id != items[0].stitch:
            return Definition(name, span, known, below)
        if single:
            return _one_stitch(name, span, items[0], works[0].into, below)
        return Definition(name, span, None, below, items, None, (), _uses(items), _makes(items))
    one = _in_one_place(nodes)
    if one is not None:
        return Definition(name, span, None, below, one, None, (), 1, _makes(one))
    if works or any(isinstance(node, Times) for node in nodes):
        uses, makes = passes(nodes)
        return Definition(name, span, None, below, (), None, nodes, uses, makes)
    return Definition(name, span, known, below)


def _said_again(first: Node, second: Node) -> bool:
    """`single crochet decrease (sc2tog)`: the brackets only say the same in other words."""
    if not isinstance(first, Work) or not isinstance(second, Times) or second.words != second.span:
        return False
    inner = second.body[0] if len(second.body) == 1 else None
    if not isinstance(inner, Work) or first.into.kind != inner.into.kind:
        return False
    return [_meant(item) for item in first.group] == [_meant(item) for item in inner.group]


def _meant(item: Item) -> tuple[str, tuple[int | None, ...], int, str]:
    return item.stitch, item.amount.values, item.together, item.alias


def _uses(items: tuple[Item, ...]) -> int:
    """Places that a group in one place goes past: one, unless it is a single stitch over several."""
    if len(items) != 1:
        return 1
    known = dictionary().get(items[0].stitch)
    return items[0].together or (known.uses if known is not None else 1)


def closed(nodes: list[Node]) -> list[Node]:
    """`ch 3, sl st in first ch`, `ch 3, sl st in last sc made`: the slip stitch closes the chain and nothing else."""
    done: list[Node] = []
    for node in nodes:
        before = done[-1] if done else None
        if isinstance(node, Ring):
            if isinstance(before, Chain):
                done.append(_closing(before.amount, node.span))
            elif node.chains is not None:
                done += [Chain(node.chains, node.span), _closing(node.chains, node.span)]
        elif isinstance(node, Join) or (_slips(node) and _place_of(node) in ("last", "same", "first", "made")):
            if isinstance(before, Chain):
                done.append(_closing(before.amount, node.span))
        else:
            done.append(node)
    return done


def _place_of(node: Node) -> str:
    return node.into.kind if isinstance(node, Work) else ""


def _slips(node: Node) -> bool:
    return isinstance(node, Work) and all(item.stitch == "slip_stitch" for item in node.group)


def _closing(chains: Amount, span: Span) -> Work:
    item = Item("slip_stitch", Amount((1,), span), span)
    return Work((item,), Place("from_hook", span, chains, what="chain"), span)


def _picot(nodes: tuple[Node, ...], known: Stitch | None) -> Stitch | None:
    """The picot of the dictionary, where the words come to one: so many chains closed by a stitch in the first."""
    if len(nodes) != 2 or not isinstance(nodes[0], Chain) or not isinstance(nodes[1], Work):
        return None
    named = known is not None and known.id.startswith("picot")
    if nodes[1].into.kind != "from_hook" or not (named or _slips(nodes[1])):
        return None
    return dictionary().get(f"picot_{nodes[0].amount.at(0)}_chain")


def _one_stitch(name: str, span: Span, item: Item, into: Place, below: int) -> Definition:
    stitch = dictionary()[item.stitch]
    if into.below is not None:
        below = below or into.below.at(0) or 0
    if below > 1 and f"long_{stitch.id}" in dictionary():
        stitch = dictionary()[f"long_{stitch.id}"]
    return Definition(name, span, stitch, below)


def _in_one_place(nodes: tuple[Node, ...]) -> tuple[Item, ...] | None:
    """`dc, ch 1, dc in same st`, `ch 3, 2 dc in first st`: stitches in a row that all go into one place."""
    items: list[Item] = []
    works = [node for node in nodes if isinstance(node, Work)]
    if len(works) + sum(isinstance(node, Chain) for node in nodes) < len(nodes) or not works:
        return None
    last = works[-1].into
    first = True
    for node in nodes:
        if isinstance(node, Chain):
            items.append(Item("chain", node.amount, node.span))
            continue
        assert isinstance(node, Work)
        into = node.into
        if into.kind == "from_hook" or any(item.stitch == "slip_stitch" for item in node.group):
            return None
        said_nothing = into.kind == "next" and into.span in {item.span for item in node.group} | {_words(into)}
        alone = into.kind in ("same", "first", "ring") or (into.kind == "next" and _count(into) == 1)
        if node is not works[-1] and not first and into.kind != "same" and not said_nothing:
            return None
        if first and node is not works[-1] and not (alone or said_nothing):
            return None
        named = into.kind == "same" or (alone and len(works) == 1)
        if node is works[-1] and not named and (not alone or not all(_bare_place(work) for work in works[:-1])):
            # The last may name the place for all of them, where none of the others names one.
            return None
        if len(node.group) == 1 and into.count is not None and into.count.values != (1,) and _bare_place(node):
            items.append(msgspec.structs.replace(node.group[0], amount=into.count))
        else:
            items += node.group
        first = False
    return tuple(items) if last.kind in ("same", "next", "first", "ring") and _count(last) == 1 else None


def _words(place: Place) -> Span:
    return place.count.span if place.count is not None else place.span


def _bare_place(work: Work) -> bool:
    """Whether the words say no place for the stitches."""
    return work.into.bare or (work.into.kind == "next" and _words(work.into) == work.into.span)


def _count(place: Place) -> int:
    return 1 if place.count is None else place.count.at(0) or 1


def _makes(items: tuple[Item, ...]) -> int:
    return sum((item.amount.at(0) or 0) * _yield(item.stitch) for item in items)


def _yield(stitch: str) -> int:
    """Stitches that one leaves on top; chains are none."""
    if stitch == "chain":
        return 0
    known = dictionary().get(stitch)
    return known.makes if known is not None else 1


def passes(nodes: tuple[Node, ...]) -> tuple[int, int]:
    """Places that a body goes past, and the stitches that it makes."""
    uses = makes = skipped = 0
    chained = False
    for node in nodes:
        if isinstance(node, Skip):
            amount = node.amount.at(0) or 0
            uses += amount
            skipped += amount
        elif isinstance(node, Times):
            used, made = passes(node.body)
            times = min((node.amount.at(0) or 1) if node.amount is not None else 1, _MOST_TIMES)
            uses += used * times
            makes += made * times
        elif isinstance(node, Chain):
            chained = True
        elif isinstance(node, Work):
            used, made = _passes(node, chained, skipped)
            uses += used
            makes += made
            chained = False
            skipped = max(0, skipped - _count(node.into)) if node.into.what == "skipped" else skipped
    return uses, makes


def _passes(node: Work, chained: bool, skipped: int) -> tuple[int, int]:
    place = node.into
    number = _count(place)
    if chained and all(item.stitch == "slip_stitch" for item in node.group):
        # A chain closed on itself, a picot, is no stitch.
        return 0, 0
    made = _makes(node.group)
    if place.kind in ("next", "each", "nth"):
        if place.what == "skipped" and skipped:
            return 0, made * number
        uses = max((dictionary()[item.stitch].uses for item in node.group if item.stitch in dictionary()), default=1)
        return max(uses, 1) * number, made * number
    return 0, made
