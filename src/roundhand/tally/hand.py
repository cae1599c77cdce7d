"""The hand that works a row: one body, one size, one reading of every choice, from the places that the row below offers.

Rows are worked by run lengths. A repeat to the end of a row without chain spaces is worked once and multiplied.
"""

from __future__ import annotations

from collections.abc import Mapping

from roundhand.findings import Span
from roundhand.notation.tree import (
    Amount,
    Chain,
    Definition,
    Evenly,
    Item,
    Join,
    Node,
    Place,
    Ring,
    Skip,
    Times,
    Turn,
    Unread,
    Work,
    Yarn,
)
from roundhand.stitches import dictionary
from roundhand.tally.model import Block, LeftOver, Missing, Offer, Run, Segment, Worked

_STITCH, _SPACE = ord("s"), ord("o")
# A repeat that goes on for ever is stopped here; no row of the limits of DESIGN is longer.
_LONGEST = 200_000


class Hand:
    """Works the nodes of one row. `readings` gives the reading taken for the words that begin at an offset."""

    def __init__(
        self,
        offer: Offer,
        size: int,
        colour: str,
        readings: Mapping[int, str],
        definitions: Mapping[str, Definition],
        depth: int,
        overrides: Mapping[int, int] | None = None,
    ) -> None:
        self.offer = offer
        self.size = size
        self.colour = colour
        self.readings = readings
        self.definitions = definitions
        self.depth = depth
        self.overrides = overrides or {}
        self.at = 0
        self.used = 0
        self.lacking = 0
        self.count = 0
        self.made: list[Run | Block] = []
        self.layout = bytearray()
        self.spaces = False
        self.chains = 0
        self.segments: list[Segment] = []
        self.left_over: list[LeftOver] = []
        self.missing: list[Missing] = []
        self.turned = False
        self.trailing: Chain | None = None
        self.repeats = 0
        self.unread = 0
        self.chain_counted = 0
        self.jumped = 0
        self.unknown = False
        self.stitched = False
        self.ends: tuple[int, int] | None = None
        self.base = ""
        self._ran: dict[int, int] = {}

    # The row as a whole.

    def work(self, nodes: tuple[Node, ...]) -> Worked | None:
        """The row worked to its end; None where a number is missing in this size."""
        self.base = _main_stitch(nodes) or self.offer.main or "single"
        self._turning(nodes)
        for node in nodes:
            before = (self.used, self.count, len(self.made))
            self._node(node)
            if self.unknown:
                return None
            if isinstance(node, Work | Times | Skip | Evenly):
                self._segment(node, before[0], before[1])
        left = 0
        if self.offer.kind in ("row", "chain", "ends"):
            left = max(0, self.offer.total - self._passed())
        made = tuple(self.made)
        colours = _colours(made)
        offer = self._offers()
        return Worked(
            made,
            self.count,
            self.used,
            left,
            self.lacking,
            offer,
            tuple(self.segments),
            tuple(self.left_over),
            tuple(self.missing),
            colours,
            self.colour,
            self.turned,
            self.repeats,
            self.unread,
            self.ends,
            self.chain_counted,
            self.jumped,
        )

    def _segment(self, node: Node, used: int, count: int) -> None:
        times = self._times_of(node) if isinstance(node, Times) else 1
        uses, makes = self.used - used, self.count - count
        each = max(times, 1)
        self.segments.append(Segment(node, node.span, uses, makes, times, uses // each, makes // each))

    def _times_of(self, node: Times) -> int:
        return self._ran.get(node.span.start, 1)

    def _passed(self) -> int:
        """Stitches of the row below that the hand has gone past."""
        if not self.offer.layout:
            return self.at
        return self.offer.layout.count(b"s", 0, min(self.at, len(self.offer.layout)))

    def _offers(self) -> Offer:
        layout = bytes(self.layout) if self.spaces else b""
        if self.turned:
            layout = layout[::-1]
        trailing = self._amount(self.trailing.amount) if self.trailing is not None else None
        return Offer(
            "row",
            self.count,
            layout,
            self.chains,
            self.base if not self.made else _most(tuple(self.made)) or self.base,
            trailing or 0,
            self.trailing.counts if self.trailing is not None else None,
        )

    def _amount(self, amount: Amount | None) -> int | None:
        if amount is None:
            return None
        if amount.span.start in self.overrides:
            return self.overrides[amount.span.start]
        return amount.at(self.size)

    # The chain at the start.

    def _turning(self, nodes: tuple[Node, ...]) -> None:
        """A chain made at the end of the row below, where this row does not begin with one of its own."""
        if not self.offer.turning:
            return
        first = next((node for node in nodes if isinstance(node, Work | Times | Chain | Evenly | Skip)), None)
        if isinstance(first, Chain):
            return
        if self._chain_counts(self.offer.turning, -1, self.offer.turning_counts, None):
            self._counted_chain(nodes[0].span if nodes else Span(0, 0))

    def _chain_counts(self, amount: int, key: int, said: bool | None, node: Chain | None) -> bool:
        if said is not None:
            return said
        reading = self.readings.get(key)
        if reading is not None:
            return reading == "counts"
        return self.readings.get(-2 - amount, "counts" if amount >= 3 else "") == "counts"

    def _counted_chain(self, span: Span) -> None:
        """A turning chain that counts stands over the first place and is the first stitch of the row."""
        self.count += 1
        self.chain_counted = 1
        self.layout.append(_STITCH)
        self.made.append(Run("turning_chain", 1, self.colour, span, counts=True, uses=1))
        if self.offer.kind in ("row", "chain") and self.offer.total and self.offer.kind == "row":
            self._pass(1)

    # Nodes.

    def _node(self, node: Node) -> None:
        if isinstance(node, Work):
            self._work(node)
        elif isinstance(node, Times):
            self._times(node)
        elif isinstance(node, Chain):
            self._chain(node)
        elif isinstance(node, Skip):
            self._skip(node)
        elif isinstance(node, Evenly):
            self._evenly(node)
        elif isinstance(node, Yarn):
            if node.act in ("with", "change", "stay", "join") and node.colour and node.colour != "*":
                self.colour = node.colour
        elif isinstance(node, Turn):
            self.turned = self.turned or node.made
        elif isinstance(node, Unread):
            self.unread += 1
        elif isinstance(node, Ring):
            self.trailing = None
        elif isinstance(node, Join):
            pass

    def _chain(self, node: Chain) -> None:
        amount = self._amount(node.amount)
        if amount is None:
            self.unknown = True
            return
        if amount == 0:
            return
        self.trailing = node
        if not self.stitched and not self.chain_counted:
            # Nothing is worked yet: this is the chain that climbs to the row's height.
            if self._chain_counts(amount, node.span.start, node.counts, node):
                self._counted_chain(node.span)
                self.trailing = None
            self.made.append(Run("chain", amount, self.colour, node.span, counts=False))
            self.trailing = None
            return
        self.made.append(Run("chain", amount, self.colour, node.span, counts=False))

    def _settle_chain(self) -> None:
        """A chain with stitches behind it is a space."""
        if self.trailing is not None and self.stitched:
            amount = self._amount(self.trailing.amount) or 0
            self.layout.append(_SPACE)
            self.spaces = True
            self.chains += amount
        self.trailing = None

    def _skip(self, node: Skip) -> None:
        amount = self._amount(node.amount)
        if amount is None:
            self.unknown = True
            return
        if node.what == "space":
            for _ in range(amount):
                self._to_space(node.span)
            return
        self._pass(amount)

    def _pass(self, stitches: int) -> None:
        """Moves past so many stitches of the row below, and the spaces in front of them."""
        if stitches <= 0:
            return
        if self.offer.kind in ("ring", "none"):
            return
        if not self.offer.layout:
            beyond = max(0, self.at + stitches - max(self.offer.total, self.at))
            self.at += stitches
            self.used += stitches - beyond
            self.lacking += beyond
            return
        for _ in range(stitches):
            found = self.offer.layout.find(b"s", self.at)
            if found < 0:
                self.lacking += 1
            else:
                self.at = found + 1
                self.used += 1

    def _to_space(self, span: Span) -> bool:
        found = self.offer.layout.find(b"o", self.at)
        if found < 0:
            self.missing.append(Missing(span, "space", 1, 0))
            return False
        self.at = found + 1
        return True

    def _remaining(self) -> int:
        if self.offer.kind == "none":
            return 0
        # The chains of a ring are places as well: "sc in each ch around".
        return max(0, self.offer.total - self._passed())

    # Stitches.

    def _work(self, node: Work) -> None:
        place = node.into
        depth = self._depth(node)
        if place.kind == "ring":
            self._ring_work(node, place)
            return
        if place.kind == "layers":
            self._make(node, max(self.offer.total, 0), depth)
            return
        if place.kind == "from_hook":
            self._from_hook(node, place)
            return
        uses = self._uses(node)
        times: int | None
        if place.what == "space" and self.offer.kind == "row":
            self._into_spaces(node, place, depth)
            return
        if place.kind == "each" or place.kind == "row_ends":
            rest = self._amount(place.rest) if place.rest is not None else 0
            if rest is None:
                self.unknown = True
                return
            room = self._remaining() - rest
            if self.readings.get(place.span.start) == "chains" and self.offer.chains:
                room += self.offer.chains
            times = max(0, room) // max(uses, 1)
            if room < 0:
                self.lacking += -room
            if place.kind == "row_ends" or self.offer.kind == "ends":
                self.ends = (times * uses, self.offer.total)
        elif place.kind == "same":
            self._make(node, 1, depth)
            return
        else:
            times = self._amount(place.count) if place.count is not None else 1
            if times is None:
                self.unknown = True
                return
            if place.kind == "nth":
                self._pass(times - 1)
                times = 1
            elif place.kind == "first" and self.at > 0:
                self._make(node, times, depth)
                return
            elif place.kind == "last":
                jump = self._remaining() - times * uses
                if jump > 0:
                    self.jumped += jump
                    self.at += jump if not self.offer.layout else 0
                    if self.offer.layout:
                        self._pass(jump)
                        self.used -= jump
        self._make(node, times, depth)
        self._pass(times * uses)

    def _depth(self, node: Work) -> int:
        """How many rows lower the stitches are worked, 1 for the row below; missing rows are noted."""
        deep = 0
        if node.into.below is not None:
            deep = self._amount(node.into.below) or 0
        else:
            for item in node.group:
                found = self.definitions.get(item.alias) or self.definitions.get(item.stitch)
                if found is not None:
                    deep = max(deep, found.below)
        if deep > 1 and deep > self.depth:
            self.missing.append(Missing(node.span, "row", deep, self.depth))
        return max(deep, 1)

    def _uses(self, node: Work) -> int:
        """Places of the row below that one run of the group goes past."""
        if len(node.group) == 1:
            item = node.group[0]
            if item.together:
                return item.together
            if item.stitch:
                return dictionary()[item.stitch].uses if item.stitch in dictionary() else 1
            found = self.definitions.get(item.alias)
            if found is not None and found.stitch is not None:
                return found.stitch.uses
        return 1

    def _make(self, node: Work, times: int, depth: int) -> None:
        if times <= 0:
            return
        self._settle_chain()
        runs: list[Run] = []
        stitches = 0
        layout = bytearray()
        for item in node.group:
            for stitch, number in self._stitches_of(item):
                if number <= 0:
                    continue
                if stitch == "chain":
                    runs.append(Run("chain", number, self.colour, item.span, counts=False))
                    layout.append(_SPACE)
                    self.chains += number * times
                    continue
                makes = dictionary()[stitch].makes if stitch in dictionary() else 1
                uses = dictionary()[stitch].uses if stitch in dictionary() else 1
                runs.append(Run(stitch, number, self.colour, node.span, node.into.loop, depth, uses))
                stitches += number * makes
                layout += b"s" * (number * makes)
        if self.unknown:
            return
        self.stitched = True
        if b"o" in layout:
            self.spaces = True
        self._lay(layout, times)
        self.count += stitches * times
        if len(runs) == 1:
            run = runs[0]
            self.made.append(
                Run(run.stitch, run.count * times, run.colour, run.span, run.loop, run.below, run.uses, run.counts)
            )
        elif runs:
            self.made.append(Block(times, tuple(runs), node.span))

    def _lay(self, layout: bytearray, times: int) -> None:
        self.layout += layout * times

    def _stitches_of(self, item: Item) -> list[tuple[str, int]]:
        """The stitches that an item makes in one place, with their numbers."""
        number = self._amount(item.amount)
        if number is None:
            self.unknown = True
            return []
        if item.together:
            name = f"{self.base}_{item.together}_together"
            return [(name if name in dictionary() else self.base, number)]
        if item.stitch:
            return [(item.stitch, number)]
        found = self.definitions.get(item.alias)
        if found is not None:
            if found.stitch is not None:
                return [(found.stitch.id, number)]
            inner: list[tuple[str, int]] = []
            for part in found.group:
                inner += [(stitch, count * number) for stitch, count in self._stitches_of(part)]
            if inner:
                return inner
        return [(self.base, number)]

    def _ring_work(self, node: Work, place: Place) -> None:
        self._make(node, 1, 1)
        if self.offer.kind in ("row", "chain") and self.offer.total:
            # A ring said while a row or chain lies below: everything of it is closed up in the ring.
            self.at = self.offer.total if not self.offer.layout else len(self.offer.layout)

    def _from_hook(self, node: Work, place: Place) -> None:
        """`in 3rd ch from hook`: the chains in front of it are passed, and stand for a stitch where they count."""
        nth = self._amount(place.count) or 1
        if self.offer.kind != "chain":
            self._make(node, 1, 1)
            return
        if self.readings.get(node.span.start) == "counts" or self.readings.get(place.span.start) == "counts":
            self.count += 1
            self.chain_counted = 1
            self.layout.append(_STITCH)
            self.made.append(Run("turning_chain", 1, self.colour, place.span, counts=True))
        self.at = max(self.at, nth - 1)
        if self.at >= self.offer.total:
            self.lacking += self.at + 1 - self.offer.total
            self.missing.append(Missing(place.span, "chain", nth, self.offer.total))
        self._make(node, 1, 1)
        self.at += 1
        self.used += 1

    def _into_spaces(self, node: Work, place: Place, depth: int) -> None:
        times: int | None = 1
        if place.kind == "each":
            times = self.offer.layout.count(b"o", self.at)
            if place.rest is not None:
                times -= self._amount(place.rest) or 0
        elif place.kind == "same":
            self._make(node, 1, depth)
            return
        elif place.count is not None:
            times = self._amount(place.count)
        if times is None:
            self.unknown = True
            return
        for _ in range(times):
            if not self._to_space(place.span):
                break
        self._make(node, times, depth)

    # Repeats.

    def _times(self, node: Times) -> None:
        if node.mode == "rest":
            self._rest(node)
            return
        amount = self._amount(node.amount)
        if amount is None:
            self.unknown = True
            return
        times = amount
        if node.mode == "over":
            group = self._measure(node)
            if self.unknown:
                return
            times, over = divmod(amount, max(group, 1))
            if over:
                self.left_over.append(LeftOver(node, amount, group, over))
        elif node.mode == "more" or (node.mode == "unsaid" and self.readings.get(node.words.start, "more") == "more"):
            times = amount + 1
        self._ran[node.span.start] = times
        if not self.repeats and times > 1:
            self.repeats = times
        self._again(node, min(times, _LONGEST))

    def _again(self, node: Times, times: int) -> None:
        """Works the body so many times: written out where places differ, multiplied where they are alike."""
        if times <= 0:
            return
        if self.offer.layout or _changes_colour(node.body) or self.trailing is not None or not self.stitched:
            self._body(node)
            times -= 1
            if times <= 0:
                return
        if self.offer.layout:
            for _ in range(times):
                before = (self.at, self.count)
                self._body(node)
                if self.unknown or (self.at, self.count) == before:
                    return
            return
        self._multiplied(node, times)

    def _multiplied(self, node: Times, times: int) -> None:
        made, layout, at, used, count = self.made, self.layout, self.at, self.used, self.count
        lacking, chains, segments = self.lacking, self.chains, len(self.segments)
        self.made, self.layout = [], bytearray()
        self._body(node)
        if self.unknown:
            return
        trailing = self.trailing
        inner = tuple(self.made)
        step = self.at - at
        if times > 1:
            self._settle_chain()
        body_layout = bytes(self.layout)
        self.made, self.layout = made, layout
        del self.segments[segments:]
        if inner:
            self.made.append(Block(times, inner, node.span))
        self.layout += body_layout * times
        self.count = count + (self.count - count) * times
        self.chains = chains + (self.chains - chains) * times
        if times > 1 and trailing is not None and self.trailing is None:
            # The chain of the last group waits to see whether a stitch follows it.
            del self.layout[-1:]
            self.chains -= self._amount(trailing.amount) or 0
            self.trailing = trailing
        if self.offer.kind in ("ring", "none"):
            return
        self.at = at + step * times
        inside = max(0, min(self.at, self.offer.total) - min(at, self.offer.total))
        self.used = used + min(inside, step * times)
        self.lacking = lacking + max(0, self.at - max(self.offer.total, at))

    def _body(self, node: Times) -> None:
        for inner in node.body:
            self._node(inner)
            if self.unknown:
                return

    def _rest(self, node: Times) -> None:
        """A repeat to the end, less the places that the words keep back."""
        rest = self._amount(node.rest) if node.rest is not None else 0
        if rest is None:
            self.unknown = True
            return
        room = self._remaining() - rest
        group = self._measure(node)
        if self.unknown:
            return
        if self.offer.layout:
            times = self._walk(node, rest)
            self._ran[node.span.start] = times
            self.repeats = self.repeats or times
            return
        if group <= 0:
            self._again(node, 1)
            return
        times, over = divmod(max(room, 0), group)
        self._ran[node.span.start] = times
        self.repeats = self.repeats or times
        self._again(node, times)
        if over and self.readings.get(-1 - node.span.start) == "cut" and self._cut(node, over):
            return
        if over or room < 0:
            self.left_over.append(LeftOver(node, max(room, 0), group, over))

    def _measure(self, node: Times) -> int:
        """The places that one run of the body uses."""
        trial = Hand(
            Offer("row", _LONGEST, b"", 0, self.offer.main),
            self.size,
            self.colour,
            self.readings,
            self.definitions,
            self.depth,
            self.overrides,
        )
        trial.base = self.base
        trial.stitched = True
        if self.offer.layout:
            trial.offer = Offer("row", 0, b"so" * 2000, 0, self.offer.main)
        trial._body(node)
        self.unknown = trial.unknown
        return trial.at

    def _walk(self, node: Times, rest: int) -> int:
        """Runs of the body while the places below last, where spaces make them differ."""
        times = 0
        while self._remaining() > rest or (rest == 0 and self.offer.layout.find(b"o", self.at) >= 0):
            state = (self.at, self.count, self.used, len(self.made), len(self.missing), self.lacking, bytes(self.layout), self.chains, self.trailing)
            self._body(node)
            failed = self.lacking > state[5] or len(self.missing) > state[4] or self._remaining() < rest
            if self.unknown:
                return times
            if failed and times:
                over = self.offer.layout.count(b"s", state[0])
                self.at, self.count, self.used = state[0], state[1], state[2]
                del self.made[state[3] :]
                del self.missing[state[4] :]
                self.lacking = state[5]
                self.layout = bytearray(state[6])
                self.chains, self.trailing = state[7], state[8]
                if over - rest > 0:
                    self.left_over.append(LeftOver(node, self.offer.total, 0, over - rest))
                return times
            times += 1
            if self.at == state[0]:
                break
        return times

    def _cut(self, node: Times, over: int) -> bool:
        """The last group cut off where the round ends; True if its phrases use exactly the places left."""
        for inner in node.body:
            if over <= 0:
                break
            before = self.at
            if isinstance(inner, Work) and inner.into.kind == "next" and len(inner.group) == 1 and inner.into.count is not None:
                wanted = self._amount(inner.into.count) or 0
                uses = self._uses(inner)
                if wanted * uses > over:
                    self._make(inner, over // uses, 1)
                    self._pass(over // uses * uses)
                    over -= self.at - before
                    break
            self._node(inner)
            over -= self.at - before
        return over == 0

    # Evenly.

    def _evenly(self, node: Evenly) -> None:
        amount = self._amount(node.amount) if node.amount is not None else None
        if node.amount is not None and amount is None:
            self.unknown = True
            return
        stitch = node.stitch or self.base
        room = self._remaining()
        self._settle_chain()
        self.stitched = True
        if node.act == "work":
            number = room if amount is None else amount
            if self.offer.kind == "ends":
                self.ends = (min(number, room), room)
            self._run(stitch, number, node.span)
            self._pass(room)
            return
        assert amount is not None or node.amount is None
        number = amount or 1
        if node.act == "increase":
            self._run(stitch, room + number, node.span)
            self._pass(room)
            if number > room:
                self.missing.append(Missing(node.span, "stitch", number, room))
            return
        plain = room - 2 * number
        if plain < 0:
            self.lacking += -plain
            plain = 0
        together = f"{stitch}_2_together"
        self._run(stitch, plain, node.span)
        self._run(together if together in dictionary() else stitch, number, node.span)
        self._pass(room)

    def _run(self, stitch: str, number: int, span: Span) -> None:
        if number <= 0:
            return
        self.made.append(Run(stitch, number, self.colour, span, "", 1, 1))
        self.count += number
        self.layout += b"s" * min(number, _LONGEST)


def _changes_colour(nodes: tuple[Node, ...]) -> bool:
    """Whether a body leaves another colour on the hook than it found, so that its first run may differ."""
    return any(isinstance(node, Yarn) and node.colour for node in nodes) or any(
        isinstance(node, Times) and _changes_colour(node.body) for node in nodes
    )


def _main_stitch(nodes: tuple[Node, ...]) -> str:
    """The first plain stitch that the words name: what `inc` and `dec` in this row are made of."""
    for node in nodes:
        if isinstance(node, Work):
            for item in node.group:
                if item.stitch and item.stitch not in ("chain", "slip_stitch") and item.stitch in dictionary():
                    return dictionary()[item.stitch].family
        elif isinstance(node, Times):
            found = _main_stitch(node.body)
            if found:
                return found
        elif isinstance(node, Evenly) and node.stitch:
            return dictionary()[node.stitch].family
    return ""


def _most(made: tuple[Run | Block, ...]) -> str:
    """The plain stitch that a row is mostly made of."""
    counts: dict[str, int] = {}

    def add(runs: tuple[Run | Block, ...], times: int) -> None:
        for run in runs:
            if isinstance(run, Block):
                add(run.runs, times * run.times)
            elif run.counts and run.stitch in dictionary():
                family = dictionary()[run.stitch].family
                counts[family] = counts.get(family, 0) + run.count * times

    add(made, 1)
    return max(counts, key=lambda name: counts[name]) if counts else ""


def _colours(made: tuple[Run | Block, ...]) -> tuple[str, ...]:
    """The colours of the stitches in order of use, each once."""
    seen: dict[str, None] = {}

    def add(runs: tuple[Run | Block, ...]) -> None:
        for run in runs:
            if isinstance(run, Block):
                add(run.runs)
            elif run.counts and run.colour:
                seen.setdefault(run.colour)

    add(made)
    return tuple(seen)
