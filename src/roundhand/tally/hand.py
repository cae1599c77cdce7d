"""The hand that works a row: one body, one size, one reading of every choice, from what the row below offers.

Rows are worked by run lengths. A repeat to the end of a row without chain spaces is worked once and multiplied.
"""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from roundhand.findings import Span
from roundhand.notation.tree import (
    Along,
    Attach,
    Chain,
    Definition,
    Evenly,
    Join,
    Leave,
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
from roundhand.tally.changing import Changing
from roundhand.tally.edges import Edges
from roundhand.tally.ground import shortened
from roundhand.tally.last_places import beyond_the_last, bridges, last_spaces, over_a_gap
from roundhand.tally.leading import is_work
from roundhand.tally.model import Block, Missing, Offer, Run, Segment, Worked
from roundhand.tally.opening import height, space_of_chain, space_of_skipped
from roundhand.tally.readings import BARE, is_bare_number
from roundhand.tally.repeating import Steps
from roundhand.tally.stitching import colours_of, main_stitch, mostly

# How many phrases may be worked for one row and for one pattern: far more than any has, so that repeats inside
# repeats inside repeats come to an end.
_MOST_STEPS_A_ROW = 20_000
_MOST_STEPS = 2_000_000


class Hand(Changing):
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
        edges: Edges | None = None,
        even: tuple[int, ...] = (),
    ) -> None:
        super().__init__(offer, size, colour, readings, definitions, depth, overrides, steps, edges, even)
        self.segments: list[Segment] = []
        self.turned = False
        self.joined = False
        self.unread = 0
        self.attached = 0
        # Whether the row is of Tunisian stitches, whose first is the loop on the hook.
        self.on_hook = False
        self.each_from: int | None = None
        # How many stitches were skipped last, to which a crossed stitch may come back.
        self.crossed = 0
        # What lies behind the long stitches just made, and how many of it.
        self.behind = ("", 0)
        # Stitches at the end of the row below that are kept out of it, and what the words say of those left.
        self.kept_out = 0
        self.leaves = False
        self.bound = False
        self.said_left: int | None = None
        # Runs of stitches passed over under chains, and the number of a skip that waits for its chains.
        self.aside: list[tuple[int, int]] = []
        self.passed = 0
        # All nodes of the row that is worked.
        self.row: tuple[Node, ...] = ()
        # The chains made last, and those of them that a chain standing off the row has left to be worked back along.
        self.just_chained = self.on_chain = 0

    # The row as a whole.

    def work(self, nodes: tuple[Node, ...]) -> Worked | None:
        """The row worked to its end; None where a number is missing in this size, or the row is endlessly long."""
        self.begin(nodes)
        self.base = main_stitch(nodes) or self.offer.main or "single"
        self._turning(nodes)
        self.face_first(nodes)
        nodes = self.start(nodes)
        tunisian = self._loop_on_hook(nodes)
        for at, node in enumerate(nodes):
            used, count = self.used, self.count
            self.following = nodes[at + 1 :]
            self.node(node)
            if self.unknown:
                return None
            if isinstance(node, Work | Times | Skip | Evenly):
                self._segment(node, used, count)
        self.end_changes()
        over = self.joined or self.chain_inside or bridges(nodes)
        if self.trailing is not None and not self.turned and over:
            # The last chain of a round is a space like the others; only one made before a turn climbs to the next row.
            self.settle_chain()
        if self.joined and self.on_space and self.offer.layout.find(b"o", self.at) < 0 and self.stitched:
            # A round that ends on a chain space goes past the stitches up to where it began, as between two spaces.
            self.go_to(len(self.offer.layout))
        if tunisian and not self.chain_counted and not self.leaves and self.remaining() + self.jumped == 1:
            # "Tss in next 18 bars, tss in last bar" of twenty: the bar that no word speaks of has the loop on the hook.
            jumped, self.jumped = self.jumped, 0
            self.used += jumped
            self.counted_chain(nodes[0].span, 1 - jumped)
        if self.offer.kind == "ends" and self.ends is None:
            self.ends = (self.used - self.skipped, self.offer.total)
        left = self.remaining() if self.offer.kind in ("row", "chain", "ends", "around") else 0
        left += self.kept_out
        made = tuple(self.made)
        return Worked(
            made,
            self.count,
            self.used,
            left + self.left_behind,
            self.lacking,
            self._offers(made, left),
            tuple(self.segments),
            tuple(self.left_over),
            (*self.missing, *self.doubts.values()),
            colours_of(made),
            self.colour,
            self.turned,
            self.repeats,
            self.unread,
            self.ends,
            self.chain_counted,
            self.jumped,
            self.leaves,
            self.said_left,
            tuple(self.aside),
            self.stands,
            self.offer if self.stands > 1 else None,
            None if self.crowded else tuple(self.groups),
            self.beyond,
            tuple(self.left_open),
            self.attached,
            self.corner_arm,
        )

    @property
    def closed(self) -> bool:
        """Whether the row is a round that is joined."""
        return any(isinstance(node, Join) for node in self.row)

    def _segment(self, node: Node, used: int, count: int) -> None:
        times = self.ran.get(node.span.start, 1) if isinstance(node, Times) else 1
        uses, makes = self.used - used, self.count - count
        each = max(times, 1)
        self.segments.append(Segment(node, node.span, uses, makes, times, uses // each, makes // each))

    def _offers(self, made: tuple[Run | Block, ...], left: int) -> Offer:
        layout = bytes(self.layout) if self.spaces else b""
        goes_back = self.offer.kind == "row" and (self.turned or self.leaves)
        lengths = bytes(self.lengths) if len(self.lengths) == layout.count(b"o") else b""
        corners = self.corners_made()
        if self.turned:
            layout, lengths = layout[::-1], lengths[::-1]
            corners = tuple(self.extent - 1 - at for at in reversed(corners))
        trailing = self.amount(self.trailing.amount) if self.trailing is not None else None
        return Offer(
            "row",
            self.count,
            layout,
            self.chains,
            mostly(made) or self.base,
            trailing or 0,
            self.trailing.counts if self.trailing is not None else None,
            # The work goes back the way it came: what lay behind its beginning now lies beyond its end.
            after=self.offer.before if goes_back else 0,
            before=self.offer.after + (0 if self.bound else left) if goes_back else 0,
            put_aside=self.offer.put_aside or (self.leaves and self.said_left is None),
            corners=corners,
            lengths=lengths,
            peaks=bool(self.peaks),
            open=self.opened or (bool(self.left_open) and not self.even),
        )

    # The chain at the start.

    def _turning(self, nodes: tuple[Node, ...]) -> None:
        """A chain made at the end of the row below, where this row does not begin with one of its own."""
        self.row = nodes
        if not self.offer.turning:
            return
        first = next((node for node in nodes if isinstance(node, Work | Times | Chain | Evenly | Skip)), None)
        if isinstance(first, Chain):
            return
        if self._chain_counts(self.offer.turning, -1, self.offer.turning_counts):
            self.counted_chain(nodes[0].span if nodes else Span(0, 0))

    def _loop_on_hook(self, nodes: tuple[Node, ...]) -> bool:
        """In Tunisian work the loop on the hook is the first stitch of a row and stands over the first bar, which the
        words skip; True where a row goes along such stitches."""
        self.on_hook = main_stitch(nodes).startswith("tunisian")
        if not self.on_hook:
            return False
        first = next((node for node in nodes if isinstance(node, Work | Times | Chain | Evenly | Skip)), None)
        if isinstance(first, Skip) and first.first and self.offer.kind == "row":
            self.counted_chain(first.span)
        return self.offer.kind == "row"

    def _chain_counts(self, amount: int, key: int, said: bool | None) -> bool:
        if said is not None:
            return said
        reading = self.readings.get(key)
        if reading is not None:
            return reading == "counts"
        return self.readings.get(-2 - amount, "counts" if amount >= 3 else "") == "counts"

    # Nodes.

    def node(self, node: Node) -> None:
        self.steps.all += 1
        if self.steps.all - self.steps_before > _MOST_STEPS_A_ROW or self.steps.all > _MOST_STEPS:
            self.unknown = self.too_long = True
            return
        if self.done and isinstance(node, Work | Evenly) and node.span in self.done:
            return
        begin = len(self.made)
        self._worked(node)
        if isinstance(node, Work | Times | Evenly):
            self.phrase = begin
            if self.change is not None:
                self.change_within(begin, *self.change)

    def _worked(self, node: Node) -> None:
        """Works one node, whatever it is."""
        if isinstance(node, Work):
            self._work(node)
        elif isinstance(node, Times):
            self.times(node)
        elif isinstance(node, Chain):
            self._chain(node)
        elif isinstance(node, Skip):
            self._skip(node)
        elif isinstance(node, Evenly):
            self._evenly(node)
        elif isinstance(node, Yarn):
            if node.act in ("with", "change", "stay", "join") and node.colour and node.colour != "*":
                self.change_yarn(node)
        elif isinstance(node, Turn):
            self.turned = self.turned or node.made
        elif isinstance(node, Leave):
            self._leave(node)
        elif isinstance(node, Unread):
            self.unread += 1
        elif isinstance(node, Ring):
            self.trailing = None
        elif isinstance(node, Join):
            self.joined = True
            if node.stitch and self.trailing is not None:
                # "Ch 1, dc in first dc" is a space of four: the stitch stands for the chains of its height.
                self.attached_chains += height(node.stitch) or 0
                self.settle_chain()
        elif isinstance(node, Along):
            self.along(node)
        elif isinstance(node, Attach):
            self._attach(node)

    def _attach(self, node: Attach) -> None:
        """A stitch into another motif lies in the chain space it is made in, `ch 1, sl st in corner of first motif,
        ch 1`: the space goes on behind it, one chain longer for the stitch."""
        self.attached += 1
        if self.trailing is not None:
            chains = self.amount(self.trailing.amount) or 0
            self.attached_chains += chains + 1
            self.chains += chains
            self.trailing = None
        self.made.append(Run("slip_stitch", 1, self.colour, node.span, counts=False))

    def _chain(self, node: Chain) -> None:
        amount = self.amount(node.amount)
        if amount is None:
            self.unknown = True
            return
        if amount == 0:
            return
        self.just_chained, self.on_chain = amount, 0
        # A chain that begins a repeat comes again with it and lies between stitches; it climbs only where it is said to
        # count, or where each run of the repeat is a row of its own.
        inside = self.nesting > 0 and not node.counts and not any(isinstance(one, Turn) for one in self.following)
        if self.offer.chained and not self.stitched:
            # The row is worked back along this chain, which widens it.
            self.passed = 0
        elif not self.stitched and not self.chain_counted and not inside:
            # Nothing is worked yet: this is the chain that climbs to the row's height.
            if self._chain_counts(amount, node.span.start, node.counts):
                self.counted_chain(node.span)
                self._space_of_counted(node, amount)
            elif amount > 1 and self.following and over_a_gap(self.following[0], amount):
                # "Ch 4, skip next 4 sts, sc in next 20 sts": an opening, as for a thumb.
                self.trailing, self.chain_inside = node, True
        else:
            if self.passed and not self.nesting:
                self.aside.append((self.passed, amount))
            self.trailing = node
            self.chain_inside = self.nesting > 0
        self.passed = 0
        self.made.append(Run("chain", amount, self.colour, node.span, counts=False))

    def _space_of_counted(self, node: Chain, amount: int) -> None:
        """`Ch 4, skip next st`: what a counted chain holds beyond the stitch it stands for is a space."""
        after = self.following[0] if self.following else None
        self._lay_space(space_of_chain(node, amount, self.base, self.size, after, self.row, self.definitions))

    def _lay_space(self, chains: int) -> None:
        if chains:
            self.lay(b"o", 1, bytes((min(chains, 255),)))
            self.chains += chains

    def _count_skipped(self, span: Span, skipped: int, stitch: str) -> None:
        """Chains skipped at the start of a foundation that stand for a stitch, and for the space behind it if there are
        enough of them."""
        self.lay(b"s", 1)
        self.count += 1
        self.chain_counted = 1
        self.made.append(Run("turning_chain", 1, self.colour, span, counts=True))
        self._lay_space(space_of_skipped(skipped, stitch, self.size, self.row, self.definitions))

    def _leave(self, node: Leave) -> None:
        """`leave last 5 sts unworked` tells what is left; `work on first 20 sts only` shuts the rest out."""
        amount = self.amount(node.amount)
        if not node.only:
            self.leaves, self.said_left = True, amount
            self.bound = node.bound
            return
        self.leaves = True
        if amount is None or self.offer.kind != "row":
            return
        out = self.remaining() - amount
        if out < 0:
            self.lacking -= out
            return
        self.kept_out += out
        self.offer = shortened(self.offer, out)

    def _skip(self, node: Skip) -> None:
        amount = self.amount(node.amount)
        if amount is None:
            self.unknown = True
            return
        if node.first and self.chain_counted and not self.stitched:
            # The counted chain stands on the first stitch already.
            amount -= 1
        if node.what in ("slipped", "slipped_space", "all_but"):
            self.slip_over(node, amount)
            return
        if node.what == "corner":
            corner = self.next_corner()
            if corner is not None:
                self.go_to(corner)
                self.pass_place()
            return
        behind, self.behind = self.behind, ("", 0)
        if behind == (node.what, amount):
            # "dc in next st 2 rnds below, skip next st": the place behind the long stitch, which it stands over.
            return
        if node.what == "space":
            for _ in range(amount):
                if not self.to_space(node.span):
                    break
            return
        if node.what == "chain" and self.offer.kind == "ring" and self.offer.total:
            self.gone += amount + (1 if node.first and self.chain_counted and not self.stitched else 0)
        if self.offer.kind == "chain" and not self.stitched and self.readings.get(node.span.start) == "counts":
            self._count_skipped(node.span, amount, main_stitch(self.following) or self.base)
        used = self.used
        self.pass_by(amount)
        self.skipped += self.used - used
        self.crossed = amount
        if self.offer.kind == "row" and amount > 1 and not self.nesting:
            chains = self.amount(self.trailing.amount) if self.trailing is not None else None
            self.passed = 0 if chains else amount
            if chains:
                self.aside.append((amount, chains))

    # Stitches.

    def _work(self, node: Work) -> None:
        place = node.into
        if place.onward and self.stitched and not self.remaining():
            self._level(node, place)
            return
        if place.what == "loop":
            # "in each loop around": of chains where there are any.
            place = msgspec.structs.replace(place, what="space" if self.offer.layout else "stitch")
        if place.what == "turning_space":
            # Under a turning chain that holds chains beside its stitch lies a space; else it is the chain itself.
            space = self.offer.layout.find(b"o", self.at) >= 0
            place = msgspec.structs.replace(place, what="space" if space else "turning_chain", kind="last")
            node = msgspec.structs.replace(node, into=place)
        if self._back_along(node, place):
            return
        depth = self.depth_of(node)
        self.behind = ("", 0)
        self.passed = 0
        if self.leads(node):
            return
        if self.past is not None or place.nth is not None:
            self.look_closely(node, place, depth)
        self.next_edge(place)
        if place.what in ("other_side", "foundation"):
            self.other_side(place.what, place.span)
        elif (place.kind == "row_ends" or place.what == "row_end") and self.offer.kind != "ends":
            self.row_ends()
        if self.unknown:
            return
        if self.offer.kind == "around" and (place.kind == "row_ends" or place.what == "row_end"):
            self._row_ends_around(node, place)
        elif place.kind == "each" and self.sweep(node):
            pass
        elif place.what == "corner":
            self.into_corner(node)
        elif place.kind == "made":
            self.make(node, self.amount(place.count) or 1 if place.count is not None else 1, 1)
        elif place.group is not None and place.what != "space":
            self.in_group(node, place, place.group)
        elif depth == 1 and (called := self.group_called(place)) is not None:
            self.in_group(node, msgspec.structs.replace(place, kind="within"), called)
        elif place.what == "space" and (gaps := self.gaps_for(place)) is not None:
            self.in_group(node, msgspec.structs.replace(place, kind="between", loop="between"), gaps)
        elif place.kind == "ring":
            self.make(node, 1, 1)
            if self.offer.kind in ("row", "chain") and self.offer.total:
                # A ring said while a row or chain lies below: everything of it is closed up in the ring.
                self.close_up()
        elif place.kind == "layers":
            self.make(node, self.offer.total, depth)
            self.pass_by(self.remaining())
        elif place.kind == "from_hook":
            self._from_hook(node, place)
        elif place.what == "space" and self.offer.kind == "row":
            self._into_spaces(node, place, depth)
        elif place.kind in ("each", "row_ends"):
            self._each(node, place, depth)
        elif place.kind == "same" and (self.stitched or self.chain_counted or self.slipped):
            self.make(node, 1, depth)
        else:
            self._next(node, place, depth)

    def _level(self, node: Work, place: Place) -> None:
        """Slip stitches behind the last stitch of a round: they go into its first ones and are none of it."""
        number = self.amount(place.count) if place.count is not None else 1
        self.joined = True
        self.made.append(Run("slip_stitch", number or 0, self.colour, node.span, counts=False))

    def _row_ends_around(self, node: Work, place: Place) -> None:
        """`2 sc in each row end` on the way round a piece: as often as it has rows, up to the next corner."""
        self.make(node, self.offer.even, 1)
        corner = self.next_corner()
        self.go_to(corner if corner is not None else self.offer.total)
        self.used = self.gone

    def _each(self, node: Work, place: Place, depth: int) -> None:
        uses = max(self.uses(node), 1)
        if place.what == "chain" and self.offer.kind == "ring" and self.chain_counted and not self.stitched:
            # A chain joined in a round is worked into chain by chain; the counted one stands on the first.
            self.gone += 1
        rest = self.amount(place.rest) if place.rest is not None else 0
        if rest is None:
            self.unknown = True
            return
        if place.rest is not None and self.chain_counted and self.offer.kind == "row":
            rest += beyond_the_last(self.following, rest, self.size)
        if place.rest is not None and place.rest.what == "space" and self.offer.layout:
            rest = self.offer.layout.count(b"s", self.before_spaces(rest))
        if not rest and self.following:
            after = self.following[0]
            left = next((other for other in self.following if not isinstance(other, Turn | Yarn)), None)
            if isinstance(left, Leave) and not left.only:
                # "sc in each st across, leaving last 5 sts unworked"
                rest = self.amount(left.amount) or 0
            elif isinstance(after, Work) and after.into.what == "skipped" and not place.also:
                # "sc in each st across, sc in next 5 unworked sts"
                rest = (self.amount(after.into.count) or 0) if after.into.count is not None else 0
            elif isinstance(after, Work) and (
                after.into.kind == "last" or after.into.what in ("turning_chain", "turning_space", "marked")
            ):
                rest = (self.amount(after.into.count) if after.into.count is not None else 1) or 0
        room = self.remaining() - rest
        if place.opening and (run := next((run for run in self.offer.runs if run[1] > self.at), None)) is not None:
            # "sc in each underarm ch": those of the next opening alone.
            self.pass_by(max(0, run[0] - self.at))
            room = run[1] - self.at
        if self.readings.get(place.span.start) == "with chains" and self.offer.chains:
            room += self.offer.chains
        self.each_from = self.at
        shared = self.shared(node)
        room -= shared
        self.pass_by(shared)
        if room < 0:
            self.lacking += -room
        times = max(0, room) // uses
        if place.rest is not None and not self.nesting and not any(map(is_work, self.following)):
            # "sc to last 3 sts, turn": these are left on purpose.
            self.leaves, self.said_left = True, rest
        if place.what == "chain" and self.offer.kind == "row" and not room and self.offer.chains:
            # "in each st and in each ch": chains are told apart from the stitches between them.
            times = self.offer.chains // uses
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
        self.pass_by(self.shared(node))
        if place.kind == "nth":
            # "Ch 3, dc in 2nd st": the counted chain stands on the first stitch already.
            stood = self.chain_counted if not self.stitched else 0
            self.pass_by(max(0, times - 1 - stood))
            times = 1
        elif place.kind == "first" and self.at > 0:
            self.make(node, times, depth)
            return
        elif place.what == "turning_chain" and self.on_space and self.offer.layout:
            self.past_to_edge()
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
        if place.what == "skipped" and depth == 1 and times <= self.crossed:
            # "skip next st, dc in next st, dc in skipped st": back to what this row passed over.
            self.crossed -= times
            self.make(node, times, depth)
            return
        if place.what == "chain" and self.offer.kind == "ring" and self.offer.total:
            # A chain joined in a round is worked into chain by chain; the counted one stands on the first.
            self.gone += times * uses + (1 if self.chain_counted and not self.stitched else 0)
        self.make(node, times, depth)
        if not self.remaining() and (place.what == "turning_chain" or (place.kind == "last" and self.sides)):
            # One place more than there are stitches: the chain at the edge did not count, or the round comes back to
            # the chain that it began in.
            return
        if depth > 1 or place.what == "skipped":
            self.behind = self.stand_over(times * uses)
        else:
            self.pass_by(times * uses)

    def _back_along(self, node: Work, place: Place) -> bool:
        """`*ch 6, sl st in 2nd ch from hook, sc in next ch, hdc in next 3 ch, sl st in next st`: stitches worked back
        along a chain that stands off the row, which go into nothing of the row below."""
        chains, self.just_chained = self.just_chained, 0
        if place.kind == "from_hook":
            nth = (self.amount(place.count) if place.count is not None else 1) or 1
            off = self.offer.kind in ("row", "ring", "around") and not self.offer.chained
            self.on_chain = max(0, chains - nth) if off else 0
            return False
        bare = place.bare or place.span == node.span
        if not self.on_chain or place.kind not in ("next", "each") or not (place.what == "chain" or bare):
            self.on_chain = 0
            return False
        uses = max(self.uses(node), 1)
        times = self.on_chain // uses
        if place.kind == "next":
            times = min(times, (self.amount(place.count) if place.count is not None else 1) or 0)
        self.on_chain -= times * uses
        self.make(node, times, 1)
        return True

    def _from_hook(self, node: Work, place: Place) -> None:
        """`in 3rd ch from hook`: the chains in front of it are passed, and stand for a stitch where they count."""
        nth = self.amount(place.count) or 1
        slips = all(item.stitch == "slip_stitch" for item in node.group)
        if slips and (self.offer.kind != "chain" or (self.trailing is not None and self.stitched)):
            # A picot: the chain just made is closed on itself and is no stitch and no space.
            self.made.append(Run("slip_stitch", 1, self.colour, node.span, counts=False))
            self.trailing = None
            return
        if self.offer.kind != "chain" and (not self.offer.chained or self.stitched):
            self.make(node, 1, 1)
            return
        said = self.readings.get(node.span.start), self.readings.get(place.span.start)
        if (self.on_hook and nth == 2) or "counts" in said:
            self._count_skipped(place.span, nth - 1, node.group[0].stitch if node.group else self.base)
        self.at = self.gone = max(self.at, nth - 1)
        if self.at >= self.offer.total:
            self.lacking += self.at + 1 - self.offer.total
            self.missing.append(Missing(place.span, "chain", nth, self.offer.total))
        self.first = self.at
        before = self.count
        self.make(node, 1, 1)
        self.rounded = self.count - before > 1
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
            elif not times:
                self.missing.append(Missing(place.span, "space", 1, 0))
            else:
                times -= min(times, last_spaces(self.following))
        elif place.kind == "same":
            self.make(node, 1, depth)
            return
        elif place.count is not None:
            times = self.amount(place.count)
        if times is None:
            self.unknown = True
            return
        for _ in range(times):
            if not self.to_space(place.span, place.length):
                break
            if place.group is not None:
                self.pass_rest(place.group)
        self.make(node, times, depth)
        ends = place.kind in ("each", "last") and place.rest is None and not self.nesting
        if ends and not any(map(is_work, self.following)):
            self.leave_spaces()

    # Evenly.

    def _evenly(self, node: Evenly) -> None:
        if node.act == "work":
            self.work_evenly(node)
            return
        amount = self.amount(node.amount) if node.amount is not None else None
        if node.amount is not None and amount is None:
            self.unknown = True
            return
        stitch = node.stitch or self.base
        room = self.remaining()
        self.settle_chain()
        self.stitched = True
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
