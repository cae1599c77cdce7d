"""The smallest edit: one number of a row changed so that everything the page says of the row agrees.

Every number of the row is tried, none by name. An edit is offered only where all sizes that have the row come out:
the stitches below used up, the stated count reached.
"""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from roundhand.findings import Span
from roundhand.notation.tree import Amount, Chain, Definition, Evenly, Node, Skip, Times, Work
from roundhand.tally import RowTally
from roundhand.tally.hand import Hand

_REACH = 12


class Mend(msgspec.Struct, frozen=True):
    """A number to be exchanged: its words and its new value."""

    span: Span
    old: int
    new: int
    times: bool


def mends(row: RowTally, definitions: dict[str, Definition]) -> list[Mend]:
    """All single numbers of a row whose exchange makes it come out in every size, the nearest first."""
    sizes = [size for size, result in enumerate(row.results) if result is not None and row.stated[size] is not None]
    if not sizes:
        return []
    found: list[Mend] = []
    seen: set[Span] = set()
    nodes = row.nodes[sizes[0]] or ()
    for amount, times in _amounts(nodes):
        if len(amount.values) != 1 or amount.span in seen or amount.values[0] is None:
            continue
        seen.add(amount.span)
        old = amount.values[0]
        for new in sorted(range(max(0, old - _REACH), old + _REACH + 1), key=lambda value: abs(value - old)):
            if new != old and all(_comes_out(row, size, {amount.span.start: new}, definitions) for size in sizes):
                found.append(Mend(amount.span, old, new, times))
                break
    return sorted(found, key=lambda mend: (abs(mend.new - mend.old), mend.span))


def _comes_out(row: RowTally, size: int, overrides: dict[int, int], definitions: dict[str, Definition]) -> bool:
    offer = row.below[size]
    body = row.nodes[size]
    if offer is None or body is None:
        return False
    readings = {chosen.choice.key: chosen.reading for chosen in row.chosen}
    worked = Hand(offer, size, "", readings, definitions, 99, overrides).work(body)
    return (
        worked is not None
        and worked.count == row.stated[size]
        and not worked.lacking
        and not worked.left_over
        and not worked.left
    )


def _amounts(nodes: tuple[Node, ...]) -> Iterator[tuple[Amount, bool]]:
    """Every number of a row, and whether it says how often."""
    for node in nodes:
        if isinstance(node, Times):
            if node.amount is not None and node.words != node.span:
                yield node.amount, True
            if node.rest is not None:
                yield node.rest, False
            yield from _amounts(node.body)
        elif isinstance(node, Work):
            for item in node.group:
                yield item.amount, False
            for amount in (node.into.count, node.into.rest):
                if amount is not None:
                    yield amount, False
        elif isinstance(node, Skip) or (isinstance(node, Evenly) and node.amount is not None):
            if node.amount is not None:
                yield node.amount, False
        elif isinstance(node, Chain):
            continue
