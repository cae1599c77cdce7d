"""Rows worked once and known again: the same words from the same places in the same reading come to the same."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from roundhand.notation.tree import Chain, Evenly, Node, Pattern, Times, Work
from roundhand.tally.alike import AlikeRows, Shape, said_from, start_of
from roundhand.tally.edges import Edges, around_offer, shared_out
from roundhand.tally.entering import entered
from roundhand.tally.hand import Hand
from roundhand.tally.how_often import as_read
from roundhand.tally.model import Offer, Open, Worked
from roundhand.tally.past import Floor
from roundhand.tally.readings import said_of_hook
from roundhand.tally.repeating import Steps

Body = tuple[Node, ...]
_Free = tuple[int, ...]
_Key = tuple[int, Offer, str, int, int, int, tuple[tuple[int, str], ...], Edges | None, _Free]
# Deeper than this no stitch is worked, so rows further up need not be told apart.
_DEEPEST = 20


class Bench:
    """Works rows of one pattern and remembers them. `too_long` is true where the last row went beyond the limits."""

    def __init__(self, pattern: Pattern, rules: Mapping[int, bool], alike: AlikeRows | None = None) -> None:
        self.definitions = pattern.definitions
        self.said: dict[int, str] = {}
        for number in range(1, 9):
            rule = rules.get(number, rules.get(0))
            if rule is not None:
                # What the notes say of turning chains stands under -2 less the number of chains.
                self.said[-2 - number] = "counts" if rule else "does not count"
        self.too_long = False
        self.steps = Steps()
        self._known: dict[_Key, tuple[Worked | None, bool]] = {}
        self._alike = alike if alike is not None else AlikeRows()
        self._alike.begin(self.definitions, self.said)
        self._shapes: dict[int, Shape] = {}
        self._kept: list[Body | Floor] = []

    def work(
        self,
        body: Body,
        offer: Offer,
        size: int,
        colour: str,
        readings: Mapping[int, str],
        depth: int,
        past: Floor | None = None,
        edges: Edges | None = None,
        stated: int | None = None,
    ) -> Worked | None:
        """One row in one size; None where a number is missing there, or the row is endlessly long.

        `past` are the rows below; they matter only where the words of the row come back to them. `edges` are those of
        what was worked before. Where the words leave a number open, "evenly", a `stated` count settles it, if it lies
        near what the edge takes."""
        worked = self._one(body, offer, size, colour, readings, depth, past, edges, ())
        if worked is None or stated is None or worked.count == stated:
            return worked
        if offer.kind == "around" and offer.corners and edges is not None and not edges.between:
            # Corners made between the edges of a piece, and not in its first and last stitches.
            between = msgspec.structs.replace(edges, between=True)
            ground = around_offer(between)
            found = self._one(body, ground, size, colour, readings, depth, past, between, ())
            if found is not None and found.count == stated and not found.lacking:
                return msgspec.structs.replace(found, base=ground)
        settled = settled_by(worked.free, stated - worked.count) if worked.free else None
        if settled is None:
            return worked
        return self._one(body, offer, size, colour, readings, depth, past, edges, settled)

    def work_evenly(
        self,
        body: Body,
        offer: Offer,
        size: int,
        colour: str,
        readings: Mapping[int, str],
        depth: int,
        past: Floor | None,
        edges: Edges | None,
        even: tuple[int, ...],
    ) -> Worked | None:
        """One row in one size with so many stitches for each of its phrases that leave their number open."""
        return self._one(body, offer, size, colour, readings, depth, past, edges, even)

    def _one(
        self,
        body: Body,
        offer: Offer,
        size: int,
        colour: str,
        readings: Mapping[int, str],
        depth: int,
        past: Floor | None,
        edges: Edges | None,
        free: _Free,
    ) -> Worked | None:
        shape = self._shapes.get(id(body))
        if shape is None:
            shape = self._shapes[id(body)] = self._alike.shape(body)
            # The body is kept so that its id stays its own.
            self._kept.append(body)
        seen, lower = 0, None
        if past is not None and (far := shape.reach):
            lower = past
            seen = id(past) if far == "far" else id(past.nodes)
        if not shape.edged:
            edges = None
        at = size if shape.listed else -1
        # How many rows lie below matters to a row that is worked into one of them, and to no other.
        known_depth = min(depth, _DEEPEST) if lower is not None or shape.deep else 0
        key = (id(body), offer, colour, at, known_depth, seen, tuple(readings.items()), edges, free)
        known = self._known.get(key)
        if known is None:
            if lower is not None:
                # Kept like the body, so that its id stays its own.
                self._kept.append(lower)
                known = self._worked(body, offer, size, colour, readings, depth, lower, edges, free)
            else:
                known = self._as_alike(body, key, offer, size, colour, readings, depth, edges, free)
            self._known[key] = known
        self.too_long = known[1]
        return known[0]

    def _as_alike(
        self,
        body: Body,
        key: _Key,
        offer: Offer,
        size: int,
        colour: str,
        readings: Mapping[int, str],
        depth: int,
        edges: Edges | None,
        free: _Free,
    ) -> tuple[Worked | None, bool]:
        """One row that asks nothing of the rows below but what they offer: as one of the same words was worked."""
        said = said_from(readings, start_of(body))
        if said is None:
            return self._worked(body, offer, size, colour, readings, depth, None, edges, free)
        alike = (self._shapes[id(body)].number, *key[1:6], said, edges, free)
        known = self._alike.find(alike, body)
        if known is None:
            known = self._worked(body, offer, size, colour, readings, depth, None, edges, free)
            self._alike.keep(alike, body, known)
        return known

    def _worked(
        self,
        body: Body,
        offer: Offer,
        size: int,
        colour: str,
        readings: Mapping[int, str],
        depth: int,
        past: Floor | None,
        edges: Edges | None,
        free: _Free,
    ) -> tuple[Worked | None, bool]:
        words = body
        nodes = body = as_read(body, readings)
        if offer.kind == "chain" and works_from_hook(body):
            # A foundation chain made in the row itself is what the row is worked into.
            first = next((node for node in body if isinstance(node, Work | Times | Evenly) or climbs(node)), None)
            if isinstance(first, Chain) and offer.total == first.amount.at(size):
                nodes = tuple(node for node in body if node is not first)
        hook = said_of_hook(body)
        known = {**self.said, **hook, **readings} if hook or readings else self.said
        offer = entered(offer, body, readings)
        hand = Hand(offer, size, colour, known, self.definitions, depth, None, self.steps, edges, free)
        hand.past = past
        hand.listed = self._shapes[id(words)].listed
        return hand.work(nodes), hand.too_long


def climbs(node: Node) -> bool:
    """Whether a node makes chains; an aside on skipped chains makes none."""
    return isinstance(node, Chain) and node.amount.values != (0,)


def works_from_hook(body: Body) -> bool:
    """Whether a row begins in a chain counted from the hook."""
    return any(isinstance(node, Work) and node.into.kind == "from_hook" for node in body)


def goes_around(body: Body) -> bool:
    """Whether a row goes all round a piece: `sc evenly around`, or from corner to corner."""
    for node in body:
        if isinstance(node, Evenly) and node.act == "work" and node.along in ("around", "sides"):
            return True
        slips = isinstance(node, Work) and all(item.stitch == "slip_stitch" for item in node.group)
        if isinstance(node, Work) and not slips and (node.into.what == "corner" or node.into.until):
            # A yarn joined in a corner with a slip stitch goes round nothing yet.
            return True
        if isinstance(node, Times) and goes_around(node.body):
            return True
    return False


def settled_by(free: tuple[Open, ...], more: int) -> _Free | None:
    """The stitches whose number is left open, so many more in all; None where that is beyond what the words can mean:
    nobody means less than half or more than twice of what lies flat by "evenly"."""
    numbers = list(shared_out(max(0, sum(one.number for one in free) + more), tuple(one.number for one in free)))
    numbers = [min(max(number, one.least), one.most) for number, one in zip(numbers, free, strict=True)]
    over = sum(one.number for one in free) + more - sum(numbers)
    for at, one in enumerate(free):
        step = max(one.least - numbers[at], min(one.most - numbers[at], over))
        numbers[at] += step
        over -= step
    return tuple(numbers) if not over else None
