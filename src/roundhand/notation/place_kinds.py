"""What kind of place the hook goes into: the list of all there are, and the kind of a place that was read.

The names are the trade's; "of a group" and "by its row" are ours, for places that the trade says in whole sentences.
"""

from __future__ import annotations

import re

from roundhand.notation.tree import Along, Node, Place, Work
from roundhand.terms import Vocabulary

PLACES = (
    "both loops",
    "front loop",
    "back loop",
    "third loop",
    "free loop",
    "front post",
    "back post",
    "chain",
    "chain space",
    "turning chain",
    "ring",
    "row end",
    "rows below",
    "by its row",
    "between stitches",
    "other side of the chain",
    "through two layers",
    "of a group",
    "skipped stitch",
    "marked stitch",
    "named stitch",
    "side of the last stitch",
)

_LOOPS = {"front": "front loop", "back": "back loop", "third": "third loop"}
_UNITS = {
    "chain": "chain",
    "space": "chain space",
    "turning_chain": "turning chain",
    "turning_space": "turning chain",
    "row_end": "row end",
    "skipped": "skipped stitch",
    "marked": "marked stitch",
    "other_side": "other side of the chain",
    "foundation": "other side of the chain",
}
_KINDS = {"ring": "ring", "row_ends": "row end", "made": "side of the last stitch", "between": "between stitches"}


_WORD = re.compile(r"[a-z]+(?:\d+tog)?|\d+|-")


def kind_of(node: Node, named: str = "") -> str:
    """The kind of place that stitches are worked into, one of `PLACES`; empty for what goes into none.

    Where the words say more than one thing of a place, the one that is sought first names it: the layers before the
    row, the row before the loop, the loop before the stitch. `named` is the stitch that the place is called by, as
    `stitch_named` finds it.
    """
    if isinstance(node, Along):
        return _UNITS["other_side"] if node.edge in ("chain", "foundation") else ""
    if not isinstance(node, Work):
        return ""
    post = next((side for side in ("front", "back") if _round_post(node, side)), "")
    kind = _kind(node.into, post)
    return "named stitch" if named and kind == "both loops" else kind


def stitch_named(place: Place, text: str, words: Vocabulary) -> str:
    """The id of the stitch that a place is called by, "in each dc around"; empty where it is called a stitch alone.

    >>> from roundhand.findings import Span
    >>> from roundhand.terms import vocabulary
    >>> place, us = Place("next", Span(3, 16)), vocabulary("US")
    >>> stitch_named(place, "sc in next 2 hdc", us), stitch_named(place, "sc in next 2 sts", us)
    ('half_double', '')
    """
    if place.what != "stitch" or place.group is not None:
        return ""
    said = _WORD.findall(place.span.of(text).lower())
    at = 0
    found = ""
    while at < len(said):
        meaning = words.find(said, at)
        if meaning is not None and meaning.kind == "stitch":
            if found or not at:
                # Two names, or the stitch that is worked where no place is said.
                return ""
            found = meaning.value
        at += meaning.length if meaning is not None else 1
    return found


def _round_post(node: Work, side: str) -> bool:
    return node.into.post == side or any(item.stitch.startswith(f"{side}_post_") for item in node.group)


def _kind(place: Place, post: str) -> str:
    if place.kind == "layers" or place.loop == "layers":
        return "through two layers"
    if place.kind == "from_hook" or place.nth is not None:
        return "chain"
    if place.kind in _KINDS:
        return _KINDS[place.kind]
    if place.kind == "within":
        return "of a group"
    if place.what in _UNITS:
        return _UNITS[place.what]
    if place.free:
        return "free loop"
    if place.row is not None:
        return "by its row"
    if place.below is not None:
        return "rows below"
    if place.loop in _LOOPS:
        return _LOOPS[place.loop]
    return f"{post} post" if post else "both loops"
