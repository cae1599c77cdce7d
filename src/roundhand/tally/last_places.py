"""The last places of a row below, where the words name them apart from the others: `2 dc in each ch-1 sp, 2 dc in sp
made by tch`, `rep from * to last 3 hdc, hdc in last 3 hdc, hdc in tch`."""

from __future__ import annotations

from roundhand.notation.tree import Chain, Node, Note, Skip, Turn, Work, Yarn

_OF_THE_CHAIN = ("turning_chain", "turning_space")


def last_spaces(following: tuple[Node, ...]) -> int:
    """How many spaces at the end are kept back from "each space", since the words behind it go into them."""
    behind = next((node for node in following if not isinstance(node, Turn | Yarn | Note)), None)
    if not isinstance(behind, Work):
        return 0
    place = behind.into
    last = place.what == "turning_space" or (place.what == "space" and place.kind == "last")
    return (place.count.values[0] or 1) if last and place.count is not None else int(last)


def beyond_the_last(following: tuple[Node, ...], rest: int, size: int) -> int:
    """How many places of a turning chain the words behind a repeat go into, beyond the `rest` stitches that it was told
    to leave: "to last 3 hdc, hdc in last 3 hdc, hdc in tch" leaves four places where the chain counts as one. 0 where
    the stitches told take the chain in."""
    stitches = chains = 0
    for node in following:
        if isinstance(node, Skip) and node.what == "stitch":
            stitches += node.amount.at(size) or 0
        elif isinstance(node, Work) and node.into.what in _OF_THE_CHAIN:
            chains += 1
        elif isinstance(node, Work) and node.into.kind in ("next", "last") and node.into.what == "stitch":
            if any(item.together for item in node.group):
                return 0
            stitches += (node.into.count.at(size) or 0) if node.into.count is not None else 1
        elif isinstance(node, Work):
            return 0
    return chains if stitches == rest else 0


def bridges(nodes: tuple[Node, ...]) -> bool:
    """Whether a row ends on a chain over stitches that it skips, `ch 30, skip 12 sts`, as a handle of a bag does."""
    chained = skipped = False
    for node in nodes:
        if isinstance(node, Skip):
            skipped = node.what == "stitch"
        elif not isinstance(node, Note | Yarn):
            chained, skipped = isinstance(node, Chain), False
    return chained and skipped


def over_a_gap(node: Node, chains: int) -> bool:
    """Whether stitches skipped behind a chain at the start of a round are those that it goes over, `ch 4, skip next 4
    sts`: as many as it has chains, and not the one that a turning chain stands on."""
    return isinstance(node, Skip) and node.what == "stitch" and not node.first and node.amount.values[0] == chains
