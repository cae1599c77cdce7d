"""A stitch that joins a round in place of the last chains of a space: `ch 1, dc in first dc`, `ch 2, hdc in top of beg
ch-3`. It is as high as the chains that it stands for, and is no stitch of the round."""

from __future__ import annotations

from roundhand.notation.tree import Chain, Join, Node, Note, Times, Turn, Work, Yarn


def with_joining_stitch(nodes: tuple[Node, ...], words: str) -> tuple[Node, ...]:
    """The instructions of a round whose last stitch, behind a chain, goes into the beginning of the same round, with
    that stitch as its join; the same instructions where none does so. `words` are the text that spans point into."""
    at = len(nodes) - 1
    joined = False
    while at > 0 and isinstance(nodes[at], Join | Turn | Note | Yarn):
        joined = joined or isinstance(nodes[at], Join)
        at -= 1
    last = nodes[at] if at > 0 else None
    if not isinstance(last, Work) or not isinstance(nodes[at - 1], Chain) or len(last.group) != 1:
        return nodes
    item = last.group[0]
    if item.stitch in ("slip_stitch", "chain") or item.amount.values != (1,):
        return nodes
    if not any(isinstance(node, Work | Times) for node in nodes[: at - 1]):
        return nodes
    target = _target(last, words, joined)
    if target is None:
        return nodes
    rest = tuple(node for node in nodes[at + 1 :] if not isinstance(node, Join))
    return (*nodes[:at], Join(last.span, target, item.stitch), *rest)


def _target(last: Work, words: str, joined: bool) -> str | None:
    """What the last stitch of a round joins to, `stitch`, `chain`, or empty where that is not said; None where it is a
    stitch like the others."""
    place = last.into
    said = words[place.span.start : place.span.end].lower()
    if place.what == "turning_chain" or (place.kind == "last" and place.nth is not None):
        # The chain at the beginning of this round; one of the round below is "the turning chain".
        return "chain" if "beg" in said or joined else None
    if place.kind == "first" or "beg" in said.split():
        return "stitch"
    # "Ch 2, dc to join."
    return "" if joined and place.kind == "next" and place.span == last.group[0].amount.span else None
