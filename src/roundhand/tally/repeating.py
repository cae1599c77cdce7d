"""Groups worked again and again: multiplied where all runs are alike, written out where places differ."""

from __future__ import annotations

from collections.abc import Hashable, Mapping

import msgspec

from roundhand.notation.tree import Definition, Evenly, Leave, Node, Skip, Times, Work, Yarn
from roundhand.tally.grouping import body_kind
from roundhand.tally.how_often import means_more
from roundhand.tally.model import Block, Grouped, LeftOver, Missing, Offer
from roundhand.tally.past import Floor
from roundhand.tally.trying import Trying

# The row on which one run of a repeat is tried, to see how many places it uses.
_TRIAL = 200_000
_TRIAL_WITH_SPACES = b"so" * 2_000
# A group that goes from corner to corner is written out, up to this often.
_MOST_WRITTEN = 200


class Steps:
    """Counts the phrases that have been worked, over all rows of a pattern, and keeps how many places the groups use
    that have been tried: sizes that share a row mostly share that as well."""

    def __init__(self) -> None:
        self.all = 0
        self.measured: dict[Hashable, tuple[int, bool, bool]] = {}


class Repeating(Trying):
    """Works groups again. What a single phrase does is known to the hand that is built upon this."""

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
        self.readings = readings
        self.depth = depth
        self.steps = steps or Steps()
        self.steps_before = self.steps.all
        self.left_over: list[LeftOver] = []
        self.repeats = 0
        self.jumped = 0
        self.following: tuple[Node, ...] = ()
        self.nesting = 0
        # Whether any number of the row differs by size.
        self.listed = True
        self.ran: dict[int, int] = {}
        # The rows below, where the words of the row come back to them.
        self.past: Floor | None = None
        # Places that are sought and not found, by their words and kind.
        self.doubts: dict[tuple[int, str], Missing] = {}
        # How many rows lower the row lies that the whole of this one stands on.
        self.stands = 1

    def node(self, node: Node) -> None:
        """Works one node of the row."""
        raise NotImplementedError

    def times(self, node: Times) -> None:
        if node.mode == "rest":
            self._rest(node)
            return
        amount = self.amount(node.amount)
        if amount is None:
            self.unknown = True
            return
        times = amount
        if node.mode == "over":
            group = self.measure(node)
            if self.unknown:
                return
            times, over = divmod(amount, max(group, 1))
            if over:
                self.left_over.append(LeftOver(node, amount, group, over))
        elif means_more(node, self.readings):
            times = amount + 1
        self.ran[node.span.start] = times
        if not self.repeats and times > 1:
            self.repeats = times
        self.again(node, times)

    def again(self, node: Times, times: int) -> None:
        """Works the body so many times: written out where places differ, multiplied where they are alike."""
        if times <= 0:
            return
        if self.corners_in(node):
            while times > 0 and not self.unknown and times < _MOST_WRITTEN:
                made = len(self.made)
                self.once(node)
                self.gather(node, made)
                times -= 1
            if times <= 0 or self.unknown:
                return
        if (
            self.offer.layout
            or _changes_colour(node.body)
            or self.change is not None
            or self.trailing is not None
            or not self.stitched
        ):
            self.once(node)
            times -= 1
        if self.offer.layout:
            # Written out while there are places below; from then on all runs are alike.
            while times > 0 and not self.unknown and self.at < len(self.offer.layout):
                before, made = (self.at, self.count), len(self.made)
                self.once(node)
                self.gather(node, made)
                times -= 1
                if (self.at, self.count) == before:
                    return
                if self.at == before[0]:
                    break
        if times > 0 and not self.unknown:
            self._multiplied(node, times)

    def corners_in(self, node: Times) -> bool:
        """Whether a body goes from corner to corner or from edge to edge, so that its runs differ."""
        raise NotImplementedError

    def gather(self, node: Times, start: int) -> None:
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
        lacking, chains, waiting = self.lacking, self.chains, self.trailing
        skipped, groups = self.skipped, len(self.groups)
        laid, jumped, lengths = self.extent, self.jumped, len(self.lengths)
        corners, peaks = len(self.made_corners), len(self.peaks)
        self.made = []
        self.once(node)
        if self.unknown or not self.fits((self.count - count) * (times - 1)):
            return
        if times > 1 and ((waiting is None and self.trailing is not None) or self.jumped > jumped):
            # The chain at the end of each run becomes a space with the next, or the first run went to the last stitch:
            # it is unlike the others.
            self.made = [*made, *self.made]
            self._multiplied(node, times - 1)
            return
        inner, step = tuple(self.made), self.at - at
        self.made = made
        if inner:
            self.made.append(Block(times, inner, node.span))
        if times == 1:
            return
        self.groups[groups:] = [Grouped(one.kind, one.times * times) for one in self.groups[groups:]]
        _repeat(self.made_corners, corners, self.extent - laid, times)
        _repeat(self.peaks, peaks, self.extent - laid, times)
        if self.spaces:
            self.lay(bytes(self.layout[laid:]), times - 1, bytes(self.lengths[lengths:]))
        self.count = count + (self.count - count) * times
        self.chains = chains + (self.chains - chains) * times
        self.skipped = skipped + (self.skipped - skipped) * times
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

    def once(self, node: Times) -> None:
        outer = self.following
        self.nesting += 1
        # Words in a run of the repeat speak of its own stitches.
        self.phrase = None
        for at, inner in enumerate(node.body):
            self.following = node.body[at + 1 :]
            self.node(inner)
            if self.unknown:
                break
        self.nesting -= 1
        self.following = outer
        if node.name:
            self.keep_group(body_kind(self.definitions[node.name].name), 1)

    def kept_back(self) -> tuple[int, bool]:
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
            elif isinstance(node, Leave):
                kept += 0 if node.only else self.amount(node.amount) or 0
            elif isinstance(node, Times | Evenly):
                break
        return kept, False

    def round_corners(self, node: Times) -> bool:
        """Works a repeat once for every corner; False where it speaks of none."""
        raise NotImplementedError

    def _rest(self, node: Times) -> None:
        """A repeat to the end, less the places that the words keep back."""
        if self.round_corners(node):
            return
        rest = self.amount(node.rest) if node.rest is not None else 0
        if rest is None:
            self.unknown = True
            return
        open_end = False
        if node.rest is None:
            rest, open_end = self.kept_back()
        room = self.remaining() - rest - self.shared(node)
        group = self.measure(node)
        if self.unknown:
            return
        if node.until and (stop := self.stop_of(node)) is not None:
            times = self._along(node, rest, stop)
            self.ran[node.span.start] = times
            self.repeats = self.repeats or times
            return
        if self.offer.layout:
            spaces = node.rest is not None and node.rest.what == "space"
            times = self._along(node, rest, self.before_spaces(rest) if spaces else None)
            self.ran[node.span.start] = times
            self.repeats = self.repeats or times
            return
        if group <= 0:
            self.again(node, 1)
            return
        times, over = divmod(max(room, 0), group)
        self.ran[node.span.start] = times
        self.repeats = self.repeats or times
        self.again(node, times)
        if over and self.readings.get(-1 - node.span.start) == "cut" and self._cut(node, over):
            return
        if (over or room < 0) and not open_end:
            self.left_over.append(LeftOver(node, max(room, 0), group, over))

    def stop_of(self, node: Times) -> int | None:
        """The position of the corner or space that a repeat goes up to; None where none lies ahead."""
        if node.until == "corner":
            return self.next_corner()
        found = self.next_space(node.length)
        return found if found >= 0 else None

    def measure(self, node: Times) -> int:
        """The places that one run of the body uses."""
        if self.past is not None or self.overrides:
            return self._tried(node)
        key = (
            node,
            self.size if self.listed else -1,
            self.offer.kind == "ends",
            bool(self.offer.layout),
            self.offer.main,
            self.colour,
            self.base,
            self.depth,
            self.nesting,
            self.stands,
            self.free,
            tuple(self.readings.items()),
        )
        known = self.steps.measured.get(key)
        if known is None:
            at = self._tried(node)
            self.steps.measured[key] = at, self.unknown, self.too_long
            return at
        at, self.unknown, self.too_long = known
        return at

    def _tried(self, node: Times) -> int:
        """The places that one run of the body uses, worked on a row that is long enough for any."""
        offer = Offer("ends" if self.offer.kind == "ends" else "row", _TRIAL, b"", 0, self.offer.main)
        if self.offer.layout:
            offer = Offer("row", len(_TRIAL_WITH_SPACES) // 2, _TRIAL_WITH_SPACES, 0, self.offer.main)
        trial = type(self)(
            offer, self.size, self.colour, self.readings, self.definitions, self.depth, self.overrides, self.steps
        )
        trial.steps_before = self.steps_before
        trial.base, trial.listed = self.base, self.listed
        trial.past, trial.stands, trial.free = self.past, self.stands, self.free
        trial.stitched = True
        trial.nesting = self.nesting
        trial.once(node)
        self.unknown = trial.unknown
        self.too_long = trial.too_long
        return trial.at

    def _along(self, node: Times, rest: int, stop: int | None) -> int:
        """Runs of the body while the places below last, where spaces make them differ: until `rest` stitches are left,
        or up to the position `stop` where spaces are kept back."""
        times, begun = 0, self.used
        layout_below = self.offer.layout
        if stop is not None:
            rest = layout_below.count(b"s", stop)
        # What stands before the spaces that are kept back is passed by on the way to them.
        to_spaces = stop is not None and self.opens_on_space(node)
        while (
            self.at < stop and not (to_spaces and layout_below.find(b"o", self.at) >= stop)
            if stop is not None
            else self.remaining() > rest or (rest == 0 and self.offer.layout.find(b"o", self.at) >= 0)
        ):
            if (
                self.from_space
                and self.on_space
                and self.offer.layout.find(b"o", self.at) < 0
                and self.opens_on_space(node)
            ):
                # Round to the space that the round was carried to: what is left lies between two spaces.
                break
            before, made, at = self.standing(), len(self.made), self.at
            self.once(node)
            if self.unknown:
                return times
            beyond = self.at > stop if stop is not None else self.remaining() < rest
            if (self.failed_since(before) or beyond) and times:
                over = self.offer.layout.count(b"s", at)
                self.stand(before)
                if self.used == begun and not rest and self.leave_spaces():
                    return times
                if not rest and stop is None and self._last_side(node):
                    return times
                # What goes from space to space passes the stitches between them.
                if over - rest > 0 and not (node.until and self.opens_on_space(node)):
                    self.left_over.append(LeftOver(node, self.offer.total, 0, over - rest))
                return times
            self.gather(node, made)
            times += 1
            if self.at == at:
                break
        return times

    def _last_side(self, node: Times) -> bool:
        """The side of a round that runs over the join: `*sc in each st and ch-1 sp across, 3 sc in ch-2 sp; rep from *
        around, join` ends on the phrases in front of the corner. False, and nothing done, where they do not end it."""
        sides: list[Node] = []
        for inner in node.body:
            if not isinstance(inner, Work) or inner.into.kind != "each" or inner.into.rest is not None:
                break
            sides.append(inner)
        if not sides or len(sides) == len(node.body) or not self.closed:
            return False
        before, made = self.standing(), len(self.made)
        self.once(msgspec.structs.replace(node, body=tuple(sides)))
        if self.failed_since(before) or self.remaining() or self.offer.layout.find(b"o", self.at) >= 0:
            self.stand(before)
            return False
        self.gather(node, made)
        return True

    @property
    def closed(self) -> bool:
        """Whether the row is a round that is joined."""
        raise NotImplementedError

    def opens_on_space(self, node: Times) -> bool:
        """Whether a body goes into a chain space before it goes into any stitch."""
        first = next((inner for inner in node.body if isinstance(inner, Work)), None)
        return first is not None and first.into.what in ("space", "corner")

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
            self.node(inner)
            over -= self.at - before
        return over == 0


# No row has more corners and peaks than are worth keeping.
_MOST_PEAKS = 60


def _repeat(places: list[int], start: int, step: int, times: int) -> None:
    """Places found in one run of a group, found again in each of its further runs."""
    inner = places[start:]
    for time in range(1, times if inner else 1):
        if len(places) > _MOST_PEAKS:
            return
        places += [place + step * time for place in inner]


def _changes_colour(nodes: tuple[Node, ...]) -> bool:
    """Whether a body leaves another colour on the hook than it found, so that its first run may differ."""
    return any(isinstance(node, Yarn) and node.colour for node in nodes) or any(
        isinstance(node, Times) and _changes_colour(node.body) for node in nodes
    )
