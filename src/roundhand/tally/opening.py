"""How a row opens: what a counted chain at its start holds beyond the stitch it stands for, and skipped chains.

`Ch 5 (counts as dc and ch 2)` is a double and a space of two chains. A foundation row that begins in the ninth chain is
a double, a space of two, and the chains under them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from roundhand.notation.tree import Chain, Definition, Node, Skip, Times, Work
from roundhand.stitches import dictionary


def space_of_chain(
    node: Chain,
    amount: int,
    base: str,
    size: int,
    after: Node | None,
    row: tuple[Node, ...],
    definitions: Mapping[str, Definition],
) -> int:
    """The chains of a space that a counted chain holds, 0 for none: as the words say, else what it has beyond the
    height of the stitch it stands for, where places are skipped behind it or the row has spaces of that length."""
    if node.space is not None:
        return node.space.at(size) or 0
    high = height(base)
    while isinstance(after, Times) and after.body:
        after = after.body[0]
    if high is None or amount <= high:
        return 0
    beyond = amount - high
    return beyond if isinstance(after, Skip) or beyond in spaces_in(row, size, definitions) else 0


def space_of_skipped(
    skipped: int, stitch: str, size: int, row: tuple[Node, ...], definitions: Mapping[str, Definition]
) -> int:
    """The chains of the space that skipped chains at a foundation's start hold beside the stitch they stand for: what
    is left of them lies half above the row's foot and half below, with a chain for the stitch's own foot or without."""
    said = next((node for node in row if isinstance(node, Chain) and node.amount.values == (0,)), None)
    if said is not None and said.space is not None:
        return said.space.at(size) or 0
    high = height(stitch)
    if high is None:
        return 0
    beyond = skipped - high
    return next((one for one in spaces_in(row, size, definitions) if beyond in (2 * one, 2 * one + 1)), 0)


def height(stitch: str) -> int | None:
    """The chains that stand for a stitch at the start of a row."""
    return dictionary()[stitch].turning_chain if stitch in dictionary() else None


def _slips(node: Node) -> bool:
    """Whether a phrase only slips to where the row begins."""
    return isinstance(node, Work) and all(item.stitch == "slip_stitch" for item in node.group)


def spaces_in(nodes: tuple[Node, ...], size: int, definitions: Mapping[str, Definition]) -> Iterator[int]:
    """The lengths of the chains between the stitches of a row, in order; the chain that opens it is none of them."""
    opens = next((node for node in nodes if isinstance(node, Chain | Work | Times) and not _slips(node)), None)
    for node in nodes:
        if isinstance(node, Times):
            inner = node.body
            # A chain that begins a repeat lies between stitches all the same.
            if inner and isinstance(inner[0], Chain):
                yield inner[0].amount.at(size) or 0
            yield from spaces_in(inner, size, definitions)
        elif isinstance(node, Chain):
            if node is not opens and node.amount.values != (0,):
                yield node.amount.at(size) or 0
        elif isinstance(node, Work):
            for item in node.group:
                found = definitions.get(item.alias)
                inner_items = found.group if found is not None else (item,)
                yield from (one.amount.at(size) or 0 for one in inner_items if one.stitch == "chain")
