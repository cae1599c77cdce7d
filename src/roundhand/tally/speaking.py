"""What the words of a row bear on, beside the places right below it: edges, and rows further down."""

from __future__ import annotations

from collections.abc import Mapping

from roundhand.notation.tree import Along, Definition, Evenly, Node, Times, Work
from roundhand.tally.readings import walk

Body = tuple[Node, ...]
# Places that lie along an edge or in a corner of what was worked before.
_EDGES = ("row_end", "corner", "other_side", "foundation")


def speaks_of_edges(body: Body) -> bool:
    """Whether a row goes along an edge, round a corner or all round a piece."""
    for node in body:
        if isinstance(node, Along) or (isinstance(node, Evenly) and node.along != "row"):
            return True
        if isinstance(node, Work):
            place = node.into
            if place.kind == "row_ends" or place.until or place.what in _EDGES:
                return True
        if isinstance(node, Times) and speaks_of_edges(node.body):
            return True
    return False


def says_depth(body: Body, definitions: Mapping[str, Definition]) -> bool:
    """Whether the words of a row, or of a stitch in it, send the hook into a row further down."""
    deep = {name for name, found in definitions.items() if found.deep is not None}
    return any(
        isinstance(node, Work)
        and (
            node.into.below is not None
            or (deep and any(item.alias in deep or item.stitch in deep for item in node.group))
        )
        for node in walk(body)
    )
