"""The hand that works a row: one body, one size, one reading of every choice, from the places that the row below offers.

Rows are worked by run lengths. A repeat to the end of a row without chain spaces is worked once and multiplied.
"""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from roundhand.findings import Span
from roundhand.notation.tree import (
    Chain,
    Definition,
    Evenly,
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
from roundhand.tally.readings import BARE, is_bare_number
from roundhand.tally.stitching import Stitching, colours_of, main_stitch, mostly

# The row on which one run of a repeat is tried, to see how many places it uses.
_TRIAL = 200_000
_TRIAL_WITH_SPACES = b"so" * 2_000


# How many phrases may be worked for one row and for one pattern: far more than any has, so that repeats inside
# repeats inside repeats come to an end.
_MOST_STEPS_A_ROW = 20_000
_MOST_STEPS = 2_000_000


class Steps:
    """Counts the phrases that have been worked, over all rows of a pattern."""

    def __init__(self) -> None:
        self.all = 0


class Hand(Stitching):
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
        steps: Steps | None = None,
    ) -> None:
        super().__init__(offer, size, colour, definitions, overrides)
        self.steps = steps or Steps()
        self.steps_before = self.steps.all
        self.readings = readings
        self.depth = depth
        self.segments: list[Segment] = []
        self.left_over: list[LeftOver] = []
        self.turned = False
        self.joined = False
        self.repeats = 0
        self.unread = 0
        self.jumped = 0
        self.ends: tuple[int, int] | None = None
        self.following: tuple[Node, ...] = ()
        self.nesting = 0
        self.chain_inside = False
        self.each_from: int | None = None
        self._ran: dict[int, int] = {}

    # The row as a whole.

    def work(self, nodes: tuple[Node, ...]) -> Worked | None:
        """The row worked to its end; None where a number is missing in this size, or the row is endlessly long."""
        self.base = main_stitch(nodes) or self.offer.main or "single"
        self._turning(nodes)
        for at, node in enumerate(nodes):
            used, count = self.used, self.count
            self.following = nodes[at + 1 :]
            self._node(node)
            if self.unknown:
                return None
            if isinstance(node, Work | Times | Skip | Evenly):
                self._segment(node, used, count)
        if self.trailing is not None and not self.turned and (self.joined or self.chain_inside):
            # The last chain of a round is a space like the others; only one made before a turn climbs to the next row.
            self.settle_chain()
        left = self.remaining() if self.offer.kind in ("row", "chain", "ends") else 0
        made = tuple(self.made)
        return Worked(
            made,
            self.count,
            self.used,
            left,
            self.lacking,
            self._offers(made),
            tuple(self.segments),
            tuple(self.left_over),
            tuple(self.missing),
            colours_of(made),
            self.colour,
            self.turned,
            self.repeats,
            self.unread,
            self.ends,
            self.chain_counted,
            self.jumped,
        )

    def _segment(self, node: Node, used: int, count: int) -> None:
        times = self._ran.get(node.span.start, 1) if isinstance(node, Times) else 1
        uses, makes = self.used - used, self.count - count
        each = max(times, 1)
        self.segments.append(Segment(node, node.span, uses, makes, times, uses // each, makes // each))

    def _offers(self, made: tuple[Run | Block, ...]) -> Offer:
        layout = bytes(self.layout) if self.spaces else b""
        if self.turned:
            layout = layout[::-1]
        trailing = self.amount(self.trailing.amount) if self.trailing is not None else None
        return Offer(
            "row",
            self.count,
            layout,
            self.chains,
            mostly(made) or self.base,
            trailing or 0,
            self.trailing.counts if self.trailing is not None else None,
        )

    # The chain at the start.

    def _turning(self, nodes: tuple[Node, ...]) -> None:
        """A chain made at the end of the row below, where this row does not begin with one of its own."""
        if not self.offer.turning:
            return
        first = next((node for node in nodes if isinstance(node, Work | Times | Chain | Evenly | Skip)), None)
        if isinstance(first, Chain):
            return
        if self._chain_counts(self.offer.turning, -1, self.offer.turning_counts):
            self.counted_chain(nodes[0].span if nodes else Span(0, 0))

    def _chain_counts(self, amount: int, key: int, said: bool | None) -> bool:
        if said is not None:
            return said
        reading = self.readings.get(key)
        if reading is not None:
            return reading == "counts"
        return self.readings.get(-2 - amount, "counts" if amount >= 3 else "") == "counts"

    # Nodes.

    def _node(self, node: Node) -> None:
        self.steps.all += 1
        if self.steps.all - self.steps_before > _MOST_STEPS_A_ROW or self.steps.all > _MOST_STEPS:
            self.unknown = self.too_long = True
            return
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
            self.joined = True

    def _chain(self, node: Chain) -> None:
        amount = self.amount(node.amount)
        if amount is None:
            self.unknown = True
            return
        if amount == 0:
            return
        if not self.stitched and not self.chain_counted:
            # Nothing is worked yet: this is the chain that climbs to the row's height.
            if self._chain_counts(amount, node.span.start, node.counts):
                self.counted_chain(node.span)
        else:
            self.trailing = node
            self.chain_inside = self.nesting > 0
        self.made.append(Run("chain", amount, self.colour, node.span, counts=False))

    def _skip(self, node: Skip) -> None:
        amount = self.amount(node.amount)
        if amount is None:
            self.unknown = True
            return
        if node.first and self.chain_counted and not self.stitched:
            # The counted chain stands on the first stitch already.
            amount -= 1
        if node.what == "space":
            for _ in range(amount):
                if not self.to_space(node.span):
                    break
            return
        self.pass_by(amount)

    # Stitches.

    def _work(self, node: Work) -> None:
        place = node.into
        depth = self._depth(node)
        if place.kind == "ring":
            self.make(node, 1, 1)
            if self.offer.kind in ("row", "chain") and self.offer.total:
                # A ring said while a row or chain lies below: everything of it is closed up in the ring.
                self.close_up()
        elif place.kind == "layers":
            self.make(node, self.offer.total, depth)
        elif place.kind == "from_hook":
            self._from_hook(node, place)
        elif place.what == "space" and self.offer.kind == "row":
            self._into_spaces(node, place, depth)
        elif place.kind in ("each", "row_ends"):
            self._each(node, place, depth)
        elif place.kind == "same" and (self.stitched or self.chain_counted):
            self.make(node, 1, depth)
        else:
            self._next(node, place, depth)

    def _each(self, node: Work, place: Place, depth: int) -> None:
        uses = max(self.uses(node), 1)
        rest = self.amount(place.rest) if place.rest is not None else 0
        if rest is None:
            self.unknown = True
            return
        if place.rest is None and self.following:
            after = self.following[0]
            if isinstance(after, Work) and (after.into.kind == "last" or after.into.what == "turning_chain"):
                rest = (self.amount(after.into.count) if after.into.count is not None else 1) or 0
        room = self.remaining() - rest
        if self.readings.get(place.span.start) == "with chains" and self.offer.chains:
            room += self.offer.chains
        self.each_from = self.at
        if room < 0:
            self.lacking += -room
        times = max(0, room) // uses
        if place.kind == "row_ends" or self.offer.kind == "ends":
            self.ends = (times * uses, self.offer.total)
        self.make(node, times, depth)
        self.pass_by(min(times * uses, self.remaining()))

    def _next(self, node: Work, place: Place, depth: int) -> None:
        uses = self.uses(node)
        times = self.amount(place.count) if place.count is not None else 1
        if times is None:
            self.unknown = True
            return
        if place.kind == "nth":
            self.pass_by(times - 1)
            times = 1
        elif place.kind == "first" and self.at > 0:
            self.make(node, times, depth)
            return
        elif place.kind == "last":
            jump = self.remaining() - times * uses
            if jump > 0 and not self.endless:
                self.jumped += jump
                self.jump(jump)
        if place.bare and self.readings.get(BARE) == "all in one" and is_bare_number(node) and uses == 1:
            # "2 sc" as an increase: all of them in one stitch.
            item = msgspec.structs.replace(node.group[0], amount=place.count)
            self.make(msgspec.structs.replace(node, group=(item,)), 1, depth)
            self.pass_by(1)
            return
        self.make(node, times, depth)
        if place.what == "turning_chain" and not self.remaining():
            # The chain at the edge did not count; it is one place more than the row has stitches.
            return
        self.pass_by(times * uses)

    def _depth(self, node: Work) -> int:
        """How many rows lower the stitches are worked, 1 for the row below; missing rows are noted."""
        deep = 0
        if node.into.below is not None:
            deep = self.amount(node.into.below) or 0
        else:
            for item in node.group:
                found = self.definitions.get(item.alias) or self.definitions.get(item.stitch)
                if found is not None:
                    deep = max(deep, found.below)
        if deep > 1 and deep > self.depth:
            self.missing.append(Missing(node.span, "row", deep, self.depth))
        return max(deep, 1)

    def _from_hook(self, node: Work, place: Place) -> None:
        """`in 3rd ch from hook`: the chains in front of it are passed, and stand for a stitch where they count."""
        nth = self.amount(place.count) or 1
        if self.trailing is not None and self.stitched and all(item.stitch == "slip_stitch" for item in node.group):
            # A picot: the chain just made is closed on itself and is no stitch and no space.
            self.made.append(Run("slip_stitch", 1, self.colour, node.span, counts=False))
            self.trailing = None
            return
        if self.offer.kind != "chain":
            self.make(node, 1, 1)
            return
        if self.readings.get(node.span.start) == "counts" or self.readings.get(place.span.start) == "counts":
            self.lay(b"s", 1)
            self.count += 1
            self.chain_counted = 1
            self.made.append(Run("turning_chain", 1, self.colour, place.span, counts=True))
        self.at = self.gone = max(self.at, nth - 1)
        if self.at >= self.offer.total:
            self.lacking += self.at + 1 - self.offer.total
            self.missing.append(Missing(place.span, "chain", nth, self.offer.total))
        self.make(node, 1, 1)
        self.at += 1
        self.gone += 1
        self.used += 1

    def _into_spaces(self, node: Work, place: Place, depth: int) -> None:
        times: int | None = 1
        if place.kind == "each":
            # "in each dc and in each ch-1 sp": the spaces between the stitches just worked into.
            start = self.at if self.each_from is None else min(self.at, self.each_from)
            times = self.offer.layout.count(b"o", start)
            if start < self.at:
                self.make(node, times, depth)
                return
            if place.rest is not None:
                times -= self.amount(place.rest) or 0
        elif place.kind == "same":
            self.make(node, 1, depth)
            return
        elif place.count is not None:
            times = self.amount(place.count)
        if times is None:
            self.unknown = True
            return
        for _ in range(times):
            if not self.to_space(place.span):
                break
        self.make(node, times, depth)

    # Repeats.

    def _times(self, node: Times) -> None:
        if node.mode == "rest":
            self._rest(node)
            return
        amount = self.amount(node.amount)
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
        self._again(node, times)

    def _again(self, node: Times, times: int) -> None:
        """Works the body so many times: written out where places differ, multiplied where they are alike."""
        if times <= 0:
            return
        if self.offer.layout or _changes_colour(node.body) or self.trailing is not None or not self.stitched:
            self._body(node)
            times -= 1
        if self.offer.layout:
            # Written out while there are places below; from then on all runs are alike.
            while times > 0 and not self.unknown and self.at < len(self.offer.layout):
                before, made = (self.at, self.count), len(self.made)
                self._body(node)
                self._gather(node, made)
                times -= 1
                if (self.at, self.count) == before:
                    return
                if self.at == before[0]:
                    break
        if times > 0 and not self.unknown:
            self._multiplied(node, times)

    def _gather(self, node: Times, start: int) -> None:
        """Runs made since `start` joined to those before them where they are alike."""
        new = tuple(self.made[start:])
        last = self.made[start - 1] if start else None
        if not new or not isinstance(last, Block) or last.span != node.span:
            if new:
                self.made[start:] = [Block(1, new, node.span)]
            return
        if last.runs == new:
            self.made[start - 1 :] = [Block(last.times + 1, new, node.span)]
        else:
            self.made[start:] = [Block(1, new, node.span)]

    def _multiplied(self, node: Times, times: int) -> None:
        made, at, used, count = self.made, self.at, self.used, self.count
        lacking, chains, segments, waiting = self.lacking, self.chains, len(self.segments), self.trailing
        laid = len(self.layout) if self.spaces else count
        self.made = []
        self._body(node)
        if self.unknown or not self.fits((self.count - count) * (times - 1)):
            return
        if times > 1 and waiting is None and self.trailing is not None:
            # The chain at the end of each run becomes a space with the next; so the first run is unlike the others.
            self.made = [*made, *self.made]
            self._multiplied(node, times - 1)
            return
        inner, step = tuple(self.made), self.at - at
        self.made = made
        del self.segments[segments:]
        if inner:
            self.made.append(Block(times, inner, node.span))
        if self.spaces:
            self.lay(bytes(self.layout[laid:]), times - 1)
        self.count = count + (self.count - count) * times
        self.chains = chains + (self.chains - chains) * times
        if self.endless:
            return
        self.at = at + step * times
        if self.offer.layout:
            self.lacking = lacking + (self.lacking - lacking) * times
            return
        self.gone = self.at
        inside = max(0, min(self.at, self.offer.total) - min(at, self.offer.total))
        self.used = used + min(inside, step * times)
        self.lacking = lacking + max(0, self.at - max(self.offer.total, at))

    def _body(self, node: Times) -> None:
        outer = self.following
        self.nesting += 1
        for at, inner in enumerate(node.body):
            self.following = node.body[at + 1 :]
            self._node(inner)
            if self.unknown:
                break
        self.nesting -= 1
        self.following = outer

    def _kept_back(self) -> tuple[int, bool]:
        """Places that the words behind a repeat to the end use up themselves, and whether they take all that is left:
        `rep from * around, sc in last 2 sts`, `… , sc in each remaining st`."""
        kept = 0
        for node in self.following:
            if isinstance(node, Skip):
                kept += self.amount(node.amount) or 0
            elif isinstance(node, Work):
                place = node.into
                if place.kind == "each":
                    return kept, True
                slips = all(item.stitch == "slip_stitch" for item in node.group)
                if place.kind not in ("next", "last") or place.what == "space" or slips:
                    break
                number = self.amount(place.count) if place.count is not None else 1
                kept += (number or 0) * self.uses(node)
            elif isinstance(node, Times | Evenly):
                break
        return kept, False

    def _rest(self, node: Times) -> None:
        """A repeat to the end, less the places that the words keep back."""
        rest = self.amount(node.rest) if node.rest is not None else 0
        if rest is None:
            self.unknown = True
            return
        open_end = False
        if node.rest is None:
            rest, open_end = self._kept_back()
        room = self.remaining() - rest
        group = self._measure(node)
        if self.unknown:
            return
        if self.offer.layout:
            times = self._along(node, rest)
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
        if (over or room < 0) and not open_end:
            self.left_over.append(LeftOver(node, max(room, 0), group, over))

    def _measure(self, node: Times) -> int:
        """The places that one run of the body uses."""
        offer = Offer("row", _TRIAL, b"", 0, self.offer.main)
        if self.offer.layout:
            offer = Offer("row", len(_TRIAL_WITH_SPACES) // 2, _TRIAL_WITH_SPACES, 0, self.offer.main)
        trial = Hand(
            offer, self.size, self.colour, self.readings, self.definitions, self.depth, self.overrides, self.steps
        )
        trial.steps_before = self.steps_before
        trial.base = self.base
        trial.stitched = True
        trial.nesting = self.nesting
        trial._body(node)
        self.unknown = trial.unknown
        self.too_long = trial.too_long
        return trial.at

    def _along(self, node: Times, rest: int) -> int:
        """Runs of the body while the places below last, where spaces make them differ."""
        times = 0
        while self.remaining() > rest or (rest == 0 and self.offer.layout.find(b"o", self.at) >= 0):
            at, gone, count, used, lacking = self.at, self.gone, self.count, self.used, self.lacking
            made, missing, layout = len(self.made), len(self.missing), len(self.layout)
            chains, trailing = self.chains, self.trailing
            self._body(node)
            if self.unknown:
                return times
            failed = self.lacking > lacking or len(self.missing) > missing or self.remaining() < rest
            if failed and times:
                over = self.offer.layout.count(b"s", at)
                self.at, self.gone, self.count, self.used, self.lacking = at, gone, count, used, lacking
                del self.made[made:], self.missing[missing:], self.layout[layout:]
                self.chains, self.trailing = chains, trailing
                if over - rest > 0:
                    self.left_over.append(LeftOver(node, self.offer.total, 0, over - rest))
                return times
            self._gather(node, made)
            times += 1
            if self.at == at:
                break
        return times

    def _cut(self, node: Times, over: int) -> bool:
        """The last group cut off where the round ends; True if its phrases use exactly the places left."""
        for inner in node.body:
            if over <= 0:
                break
            before = self.at
            if isinstance(inner, Work) and inner.into.kind == "next" and len(inner.group) == 1:
                wanted = self.amount(inner.into.count) if inner.into.count is not None else 1
                uses = max(self.uses(inner), 1)
                if (wanted or 0) * uses > over:
                    self.make(inner, over // uses, 1)
                    self.pass_by(over // uses * uses)
                    over -= self.at - before
                    break
            self._node(inner)
            over -= self.at - before
        return over == 0

    # Evenly.

    def _evenly(self, node: Evenly) -> None:
        amount = self.amount(node.amount) if node.amount is not None else None
        if node.amount is not None and amount is None:
            self.unknown = True
            return
        stitch = node.stitch or self.base
        room = self.remaining()
        self.settle_chain()
        self.stitched = True
        if node.act == "work":
            if self.offer.kind == "ends":
                self.ends = (room if amount is None else min(amount, room), room)
            self.run(stitch, room if amount is None else amount, node.span)
            self.pass_by(room)
            return
        number = 1 if amount is None else amount
        if node.act == "increase":
            self.run(stitch, room + number, node.span)
            self.pass_by(room)
            if number > room:
                self.missing.append(Missing(node.span, "stitch", number, room))
            return
        plain = room - 2 * number
        if plain < 0:
            self.lacking += -plain
            plain = 0
        together = f"{stitch}_2_together"
        self.run(stitch, plain, node.span)
        self.run(together if together in dictionary() else stitch, number, node.span)
        self.pass_by(room)


def _changes_colour(nodes: tuple[Node, ...]) -> bool:
    """Whether a body leaves another colour on the hook than it found, so that its first run may differ."""
    return any(isinstance(node, Yarn) and node.colour for node in nodes) or any(
        isinstance(node, Times) and _changes_colour(node.body) for node in nodes
    )
