"""Repeats whose star is lost, `sc in next 3 sts, inc, sc in next st; rep from around`: where they begin again.

Programs that take stars for marks of slanted type eat them. Any phrase of the row may be the one that the repeat goes
back to; the first of them is the usual one, and the counts tell where it is another.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import msgspec

from roundhand.notation.tree import Evenly, Node, Skip, Times, Work
from roundhand.tally.model import Choice

FIRST = "first phrase"
# Readings in the order of the phrases; a longer row is not searched further.
READINGS = (FIRST, *(f"{nth} phrase" for nth in ("second", "third", "fourth", "fifth", "sixth", "seventh", "eighth")))
# Keys of these choices lie below all others.
_KEY = -10_000_000


def lost_star(nodes: tuple[Node, ...]) -> Times | None:
    """The repeat of a row whose star is lost."""
    return next((node for node in nodes if isinstance(node, Times) and node.lost), None)


def choices_of_stars(nodes: tuple[Node, ...]) -> Iterator[Choice]:
    """Where a repeat without its star may begin again."""
    node = lost_star(nodes)
    if node is not None and len(_phrases(node)) > 1:
        yield Choice("repeat from", node.words, READINGS[: len(_phrases(node))], _KEY - node.words.start)


def with_star(nodes: tuple[Node, ...], readings: Mapping[int, str]) -> tuple[Node, ...]:
    """The nodes of a row with the repeat as it is read: what stands before its star is worked once."""
    node = lost_star(nodes)
    if node is None:
        return nodes
    reading = readings.get(_KEY - node.words.start, FIRST)
    at = _phrases(node)[READINGS.index(reading)] if reading in READINGS else 0
    group = msgspec.structs.replace(
        node, body=node.body[at:], span=node.body[at].span.to(node.span), lost=False, star=True
    )
    where = nodes.index(node)
    return (*nodes[:where], *node.body[:at], group, *nodes[where + 1 :])


def _phrases(node: Times) -> list[int]:
    """The positions in a body of the phrases that a repeat can begin with."""
    found = [at for at, inner in enumerate(node.body) if isinstance(inner, Work | Skip | Times | Evenly)]
    return [0, *found[1:]][: len(READINGS)] if found else [0]
