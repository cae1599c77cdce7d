"""How often a group is worked where the words can be read two ways.

`*sc 3, inc; rep from * 5 times` is once and five times more, or five times in all; of `(sc 3, inc), repeat 5 times` the
same can be asked, and by usage a bracket is worked so often in all. `2x: inc, sc 2` is two increases and two stitches,
or both of them twice. `3 dec` is three decreases, or one that joins three stitches.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import msgspec

from roundhand.notation.tree import Amount, Node, Note, Times, Turn, Work, Yarn
from roundhand.tally.lost_stars import with_star
from roundhand.tally.model import Choice

MORE, IN_ALL = "more", "in all"
_FIRST, _WHOLE = "first phrase", "whole group"
# Pieces of a body that are no phrase a number could speak of.
_SILENT = (Note, Yarn, Turn)
# Keys of what stands in front of a colon lie apart from those of how often, which begin with the same words.
_COLON = -20_000_000
# Keys of "every 6th stitch" lie apart as well.
_NTH = -30_000_000
LAST, FIRST = "last of each", "first of each"
# The key of all decreases of a row with a number in front, which are read alike.
DECREASES = -2_000
SO_MANY, ONE = "so many", "one of so many"
# Nobody joins more stitches in one.
_MOST_JOINED = 6


def readings_of_times(node: Times) -> tuple[str, str]:
    """Both readings of a number of times, the usual one first: a bracket is worked so often in all, unless that is
    once."""
    alone = node.amount is not None and set(node.amount.values) == {1}
    return (MORE, IN_ALL) if node.star or node.lost or alone else (IN_ALL, MORE)


def means_more(node: Times, readings: Mapping[int, str]) -> bool:
    """Whether a group is worked once more than the number of its words says."""
    if node.mode == "more":
        return True
    return node.mode == "unsaid" and readings.get(node.words.start, readings_of_times(node)[0]) == MORE


def choice_of_times(node: Times) -> Choice | None:
    """The choice that the words of a group leave open, None where they leave none."""
    if node.mode != "unsaid":
        return None
    kind = "repeat times" if node.star or node.lost else "bracket times"
    return Choice(kind, node.words, readings_of_times(node), node.words.start)


def choices_before_colons(nodes: tuple[Node, ...], inside: bool = False) -> Iterator[Choice]:
    """What numbers in front of a colon may speak of: inside a bracket usually of the first phrase, in front of a row
    of all that follows."""
    for node in nodes:
        if not isinstance(node, Times):
            continue
        if node.colon and _phrases(node.body) > 1:
            order = (_FIRST, _WHOLE) if inside else (_WHOLE, _FIRST)
            yield Choice("before colon", node.words, order, _COLON - node.words.start)
        yield from choices_before_colons(node.body, True)


def without_colons(nodes: tuple[Node, ...], readings: Mapping[int, str], inside: bool = False) -> tuple[Node, ...]:
    """The nodes with every number in front of a colon given to what it is read to speak of."""
    if not any(isinstance(node, Times) for node in nodes):
        return nodes
    found: list[Node] = []
    for node in nodes:
        if not isinstance(node, Times):
            found.append(node)
            continue
        body = without_colons(node.body, readings, True)
        reading = readings.get(_COLON - node.words.start, _FIRST if inside else _WHOLE)
        if not node.colon:
            found.append(node if body is node.body else msgspec.structs.replace(node, body=body))
        elif reading == _WHOLE or _phrases(body) < 2:
            found.append(msgspec.structs.replace(node, body=body, colon=False))
        else:
            first = next(at for at, inner in enumerate(body) if not isinstance(inner, _SILENT)) + 1
            span = node.words.to(body[first - 1].span)
            found.append(msgspec.structs.replace(node, body=body[:first], colon=False, span=span))
            found += body[first:]
    kept = tuple(found)
    return nodes if kept == nodes else kept


def choices_of_every(nodes: tuple[Node, ...]) -> Iterator[Choice]:
    """Which stitch of each group an increase "in every 6th st" stands in: by usage the last, and a rest is plain."""
    for node in nodes:
        if isinstance(node, Times) and node.every and len(node.body) > 1:
            yield Choice("every nth", node.words, (LAST, FIRST), _NTH - node.words.start)


def _first_of_each(nodes: tuple[Node, ...], readings: Mapping[int, str]) -> tuple[Node, ...]:
    """The nodes with the increase of every group at its front: one in the first stitch, the others as they were."""
    if not any(isinstance(node, Times) and node.every for node in nodes):
        return nodes
    found: list[Node] = []
    for node in nodes:
        if isinstance(node, Times) and node.every and readings.get(_NTH - node.words.start) == FIRST:
            found.append(node.body[-1])
        found.append(node)
    return tuple(found)


def as_read(nodes: tuple[Node, ...], readings: Mapping[int, str]) -> tuple[Node, ...]:
    """The nodes of a row as they are worked: stars that were lost, numbers in front of colons and of decreases as they
    are read."""
    found = _first_of_each(without_colons(with_star(nodes, readings), readings), readings)
    return _joined(found) if readings.get(DECREASES) == ONE else found


def is_number_of_decreases(node: Node) -> bool:
    """`3 dec` with no place said: three of them, or one over three stitches."""
    if not isinstance(node, Work) or len(node.group) != 1 or node.into.kind != "next":
        return False
    item, count = node.group[0], node.into.count
    bare = count is not None and count.span == node.into.span and item.amount.values == (1,)
    if not bare or count is None or item.stitch or item.together != 2:
        return False
    return len(count.values) == 1 and all(value is not None and 2 <= value <= _MOST_JOINED for value in count.values)


def _joined(nodes: tuple[Node, ...]) -> tuple[Node, ...]:
    """The nodes with each number of decreases as one decrease of so many stitches."""
    found: list[Node] = []
    for node in nodes:
        if isinstance(node, Times):
            node = msgspec.structs.replace(node, body=_joined(node.body))
        elif isinstance(node, Work) and is_number_of_decreases(node) and node.into.count is not None:
            number, span = node.into.count.values[0] or 2, node.into.count.span
            item = msgspec.structs.replace(node.group[0], together=number)
            into = msgspec.structs.replace(node.into, count=Amount((1,), span))
            node = msgspec.structs.replace(node, group=(item,), into=into)
        found.append(node)
    return tuple(found)


def _phrases(body: tuple[Node, ...]) -> int:
    return sum(not isinstance(node, _SILENT) for node in body)
