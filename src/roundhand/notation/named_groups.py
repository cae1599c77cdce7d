"""Groups over several places that a pattern defines, put where its rows name them."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from roundhand.notation.tree import Amount, Chain, Definition, Item, Node, Place, Times, Work

# Definitions that stand in one another are opened no deeper.
_DEEPEST = 8


def opened(nodes: tuple[Node, ...], definitions: Mapping[str, Definition], depth: int = 0) -> tuple[Node, ...]:
    """The nodes with every such group in the words of its definition."""
    if not any(one.body for one in definitions.values()):
        return nodes
    return tuple(_opened(node, definitions, depth) for node in nodes)


def _opened(node: Node, definitions: Mapping[str, Definition], depth: int) -> Node:
    if isinstance(node, Times):
        return msgspec.structs.replace(node, body=opened(node.body, definitions, depth))
    if not isinstance(node, Work) or depth > _DEEPEST:
        return node
    known = [definitions[item.alias] for item in node.group if item.alias in definitions]
    bodies = [one for one in known if one.body]
    if not bodies:
        return node
    if len(node.group) > 1:
        items: list[Item] = []
        for item in node.group:
            found = definitions.get(item.alias)
            items += _items(found.body) if found is not None and found.body else (item,)
        return msgspec.structs.replace(node, group=tuple(items))
    found, item = bodies[0], node.group[0]
    body = opened(found.body, definitions, depth + 1)
    place = node.into
    if place.kind == "each":
        return Times(body, "rest", node.span, place.span, None, place.rest, False, item.alias)
    amount = item.amount if item.amount.values != (1,) else _runs(place, found)
    return Times(body, "fixed", node.span, amount.span, amount, None, False, item.alias)


def _runs(place: Place, found: Definition) -> Amount:
    """How often: `3 cross sts` is three, `cross st over next 6 sts` as many as hold six stitches."""
    if place.kind not in ("next", "last") or place.count is None:
        return Amount((1,), place.span)
    if place.bare or place.count.span == place.span or found.uses < 2:
        return place.count
    if all(value is None or value % found.uses == 0 for value in place.count.values):
        values = tuple(None if value is None else value // found.uses for value in place.count.values)
        return msgspec.structs.replace(place.count, values=values)
    return place.count


def _items(body: tuple[Node, ...]) -> tuple[Item, ...]:
    """What a group inside a group in one place comes to: its stitches and chains, all there."""
    items: list[Item] = []
    for node in body:
        if isinstance(node, Chain):
            items.append(Item("chain", node.amount, node.span))
        elif isinstance(node, Work):
            items += [item for item in node.group if item.stitch != "slip_stitch"]
        elif isinstance(node, Times):
            items += _items(node.body)
    return tuple(items)
