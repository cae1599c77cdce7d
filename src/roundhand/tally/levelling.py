"""Slip stitches that end a spiral: they step down into the beginning of the round and are no stitches of it.

A round worked in a spiral is one row higher at its end than at its beginning. `Sc in each st around, sl st in next 2
sts to level` works the slip stitches into the first stitches of the same round, so they use no place of the row below.
That this is how a spiral is closed is common practice.
"""

from __future__ import annotations

import msgspec

from roundhand.notation.tree import Chain, Join, Node, Note, Stated, Turn, Work, Yarn

_BEHIND = (Chain, Join, Note, Stated, Turn, Yarn)


def levelled(nodes: tuple[Node, ...]) -> tuple[Node, ...]:
    """A round with the slip stitches at its very end marked: where no place is left for them they level its step."""
    found = list(nodes)
    marked = False
    for at in range(len(nodes) - 1, 0, -1):
        node = nodes[at]
        if isinstance(node, Work) and is_slip(node) and node.into.kind in ("next", "first"):
            found[at] = msgspec.structs.replace(node, into=msgspec.structs.replace(node.into, onward=True))
            marked = True
        elif not isinstance(node, _BEHIND):
            break
    return tuple(found) if marked else nodes


def is_slip(node: Work) -> bool:
    """Whether a phrase makes slip stitches alone."""
    return all(item.stitch == "slip_stitch" for item in node.group)
