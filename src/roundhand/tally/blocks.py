"""Work from corner to corner: blocks of a chain and a few stitches that lean on the blocks of the row below.

A row that grows begins with a block on chains of its own, `ch 6, dc in 4th ch from hook and in next 2 ch`; every other
block is joined to the chain space of one below, `(sl st, ch 3, 3 dc) in next ch-3 sp`. The slip stitches that join, or
lead past the stitches of a block, are no stitches, and the work is turned after every row (common practice).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import NamedTuple

import msgspec

from roundhand.findings import Span
from roundhand.notation.tree import (
    Amount,
    Attach,
    Chain,
    Definition,
    Item,
    Node,
    Part,
    Pattern,
    Place,
    Plan,
    Ring,
    RowLine,
    Skip,
    Stated,
    Step,
    Times,
    Turn,
    Work,
)
from roundhand.tally.grouping import BLOCK
from roundhand.tally.readings import walk


class Shape(NamedTuple):
    """What a block is made of: so many chains, then so many of one stitch."""

    chains: int
    stitch: str
    stitches: int


def in_blocks(pattern: Pattern) -> Pattern:
    """A pattern of blocks with each block as one group in one place, and its blocks defined as such; in other work a
    count of blocks counts things without a meaning."""
    known = pattern.definitions
    lines = [line for part in pattern.parts for line in part.lines if isinstance(line, RowLine)]
    corners = {found[0] for line in lines for found in _corners(line.nodes)}
    shapes = corners & {shape for line in lines for shape in _joined(line.nodes, known)} if corners else set()
    if len(shapes) == 1:
        writer = _Writer(next(iter(shapes)), known)
        parts = _rewritten(pattern.parts, writer.row)
        return msgspec.structs.replace(pattern, parts=parts, definitions=writer.definitions())
    if BLOCK in known or not any(unit == BLOCK for line in lines for one in line.stated for _, unit in one.counts):
        return pattern
    return msgspec.structs.replace(pattern, parts=_rewritten(pattern.parts, _without_meaning))


def _rewritten(parts: tuple[Part, ...], write: Callable[[RowLine | Step], RowLine | Step]) -> tuple[Part, ...]:
    return tuple(msgspec.structs.replace(part, lines=tuple(map(write, part.lines))) for part in parts)


def _without_meaning(line: RowLine | Step) -> RowLine | Step:
    """A row whose count of blocks counts something else: in filet they are meshes that are filled."""
    if isinstance(line, Step):
        return line
    return msgspec.structs.replace(line, stated=tuple(map(_other, line.stated)))


def _other(stated: Stated) -> Stated:
    if all(unit != BLOCK for _, unit in stated.counts):
        return stated
    counts = tuple((amount, "other" if unit == BLOCK else unit) for amount, unit in stated.counts)
    return msgspec.structs.replace(stated, counts=counts)


# What blocks look like in the words.


def _corners(nodes: Sequence[Node]) -> Iterator[tuple[Shape, int, int]]:
    """The blocks on chains of their own, each with the positions of its first node and of the one behind it."""
    for at, node in enumerate(nodes):
        if isinstance(node, Times):
            yield from ((shape, at, at) for shape, _, _ in _corners(node.body))
            continue
        rest = [(index, one) for index, one in enumerate(nodes[at + 1 :], at + 1) if not isinstance(one, Turn)][:2]
        if not isinstance(node, Chain) or len(rest) < 2:
            continue
        (_, first), (last, more) = rest
        if not isinstance(first, Work) or not isinstance(more, Work):
            continue
        stitch = _only(first)
        nth, further = _number(first.into.count), _number(more.into.count)
        chains = _number(node.amount)
        fits = first.into.kind == "from_hook" and more.into.what == "chain" and more.into.kind in ("next", "each")
        if more.into.kind == "each":
            further = chains - nth
        if fits and stitch and stitch == _only(more) and nth > 2 and further > 0 and nth + further == chains:
            yield Shape(nth - 1, stitch, further + 1), at, last + 1


def _only(work: Work) -> str:
    """The stitch of a phrase that makes one of it in a place; empty for any other."""
    one = len(work.group) == 1 and work.group[0].amount.values == (1,)
    return work.group[0].stitch if one else ""


def _number(amount: Amount | None) -> int:
    return (amount.values[0] or 0) if amount is not None and len(amount.values) == 1 else 1 if amount is None else 0


def _slips(node: Node) -> bool:
    return isinstance(node, Work) and all(item.stitch == "slip_stitch" for item in node.group)


def _leaning(group: Sequence[Item]) -> Shape | None:
    """The block that a group is, with or without the slip stitch that joins it."""
    items = list(group)
    if items and items[0].stitch == "slip_stitch":
        items = items[1:]
    if len(items) != 2 or items[0].stitch != "chain" or items[1].stitch in ("", "chain", "slip_stitch"):
        return None
    return Shape(_number(items[0].amount), items[1].stitch, _number(items[1].amount))


def _joined(nodes: Sequence[Node], known: Mapping[str, Definition]) -> Iterator[Shape]:
    """The blocks that are joined to a space, `(sl st, ch 3, 3 dc)` in it or the same in so many steps."""
    for node in walk(tuple(nodes)):
        if isinstance(node, Work):
            group = known[node.group[0].alias].group if node.group and node.group[0].alias in known else node.group
            shape = _leaning(group)
            if shape is not None and group[0].stitch == "slip_stitch":
                yield shape
        if isinstance(node, Times):
            yield from (shape for shape, _ in _stepwise(node.body))
    yield from (shape for shape, _ in _stepwise(nodes))


def _stepwise(nodes: Sequence[Node]) -> Iterator[tuple[Shape, int]]:
    """`sl st in next ch-3 sp, ch 3, 3 dc in same sp`: blocks in three steps, each with its position."""
    for at in range(len(nodes) - 2):
        slip, chain, work = nodes[at : at + 3]
        joins = isinstance(slip, Work) and _slips(slip) and slip.into.what == "space"
        if joins and isinstance(chain, Chain) and isinstance(work, Work) and work.into.kind == "same":
            shape = _leaning((Item("chain", chain.amount, chain.span), *work.group))
            if shape is not None:
                yield shape, at


class _Writer:
    """Writes rows so that every block is one group in one place."""

    def __init__(self, shape: Shape, known: Mapping[str, Definition]) -> None:
        self.shape = shape
        self.known = known

    def definitions(self) -> dict[str, Definition]:
        """The pattern's definitions, with every one that comes to a block as that group."""
        found: dict[str, Definition] = {}
        for name, one in self.known.items():
            blocks = any(shape == self.shape for shape, _, _ in _corners(one.body)) or any(
                shape == self.shape for shape, _ in _stepwise(one.body)
            )
            group = self._items(one.span) if blocks else one.group
            found[name] = msgspec.structs.replace(one, group=group, body=() if blocks else one.body)
        found.setdefault(BLOCK, Definition(BLOCK, Span(0, 0), None, group=self._items(Span(0, 0))))
        return found

    def row(self, line: RowLine | Step) -> RowLine | Step:
        """A row with its blocks as groups; rows worked up to so many blocks, up to as many stitches as those have."""
        if any(isinstance(node, Plan) and node.unit == BLOCK for node in line.nodes):
            return msgspec.structs.replace(line, nodes=tuple(map(self._up_to, line.nodes)))
        if not isinstance(line, RowLine) or not self._has_blocks(line.nodes):
            return line
        return msgspec.structs.replace(line, nodes=self._written(line.nodes))

    def _up_to(self, node: Node) -> Node:
        if not isinstance(node, Plan) or node.unit != BLOCK or node.goal is None:
            return node
        values = tuple(None if value is None else value * self.shape.stitches for value in node.goal.values)
        return msgspec.structs.replace(node, goal=msgspec.structs.replace(node.goal, values=values), unit="total")

    def _has_blocks(self, body: Sequence[Node]) -> bool:
        return any(shape == self.shape for shape, _, _ in _corners(body)) or self.shape in _joined(body, self.known)

    def _written(self, body: tuple[Node, ...]) -> tuple[Node, ...]:
        nodes = self._nodes(body)
        works = [node for node in nodes if isinstance(node, Work)]
        alone = len(works) == 1 and works[0].into.kind == "made" and not any(isinstance(node, Times) for node in nodes)
        if alone:
            # The first block of the work: nothing lies below it.
            span = works[0].span
            first = [
                msgspec.structs.replace(one, into=Place("next", span)) if one is works[0] else one for one in nodes
            ]
            nodes = [Ring(span), *first]
        # Whether the row before ends with the turn or this one begins with it: it is turned once between the two.
        end = Span(body[-1].span.end, body[-1].span.end)
        turn = next((node for node in reversed(nodes) if isinstance(node, Turn)), Turn(end))
        return (*(node for node in nodes if not isinstance(node, Turn)), turn)

    def _items(self, span: Span) -> tuple[Item, ...]:
        chains, stitches = Amount((self.shape.chains,), span), Amount((self.shape.stitches,), span)
        return Item("chain", chains, span), Item(self.shape.stitch, stitches, span)

    def _nodes(self, nodes: Sequence[Node]) -> list[Node]:
        corners = {at: end for shape, at, end in _corners(nodes) if shape == self.shape and end > at}
        steps = {at for shape, at in _stepwise(nodes) if shape == self.shape}
        found: list[Node] = []
        at = 0
        while at < len(nodes):
            node = nodes[at]
            if at in corners:
                span = node.span.to(nodes[corners[at] - 1].span)
                found.append(Chain(Amount((self.shape.stitches,), node.span), node.span, counts=False))
                found.append(Work(self._items(span), Place("made", span), span))
                at = corners[at]
            elif at in steps and isinstance(node, Work):
                span = node.span.to(nodes[at + 2].span)
                found.append(Work((node.group[0], *self._items(span)), node.into, span))
                at += 3
            elif isinstance(node, Times) and node.mode == "fixed" and node.name and _number(node.amount) == 1:
                # "Beg block": one block by its name.
                found += self._nodes(node.body)
                at += 1
            else:
                found.append(self._node(node))
                at += 1
        return found

    def _node(self, node: Node) -> Node:
        if isinstance(node, Times):
            rest = msgspec.structs.replace(node.rest, what="space") if node.rest is not None else None
            return msgspec.structs.replace(node, body=tuple(self._nodes(node.body)), rest=rest)
        if isinstance(node, Attach):
            # "Sl st in ch-3 sp of last block": to the work itself, and to nothing else.
            return Skip(Amount((1,), node.span), node.span, "slipped_space")
        if not isinstance(node, Work):
            return node
        if _slips(node) and len(node.group) == 1:
            amount = node.into.count or Amount((1,), node.into.span)
            return Skip(amount, node.span, "slipped_space" if node.into.what == "space" else "slipped")
        alias = self.known.get(node.group[0].alias) if len(node.group) == 1 else None
        if alias is not None and _leaning(alias.group) == self.shape and node.into.what == "stitch":
            # "4 blocks": each in the next space.
            return msgspec.structs.replace(node, into=msgspec.structs.replace(node.into, what="space", bare=False))
        return node
