"""Work along edges: from edge to edge, and how many stitches go along one."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from math import ceil, floor

from roundhand.findings import Span
from roundhand.notation.tree import Along, Definition, Evenly, Join, Note, Place, Work, Yarn
from roundhand.tally.edges import Edges, EndRates, along_row_ends, chain_offer, ends_offer, exactly_along, shared_out
from roundhand.tally.model import Offer, Open
from roundhand.tally.repeating import Steps
from roundhand.tally.seeking import Seeking

# What a phrase along one side may name, where the work goes round a piece with corners.
_ONE_SIDE = ("edge", "side", "row_ends", "top", "chain")


class Edging(Seeking):
    """Works along edges. `edges` are those of what was worked before, None where they are not known."""

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
        super().__init__(offer, size, colour, readings, definitions, depth, overrides, steps)
        self.edges = edges
        # How many stitches each phrase makes, in turn, that leaves their number open, where a count has settled it.
        self.even = even
        self.ends: tuple[int, int] | None = None
        self.left_open: list[Open] = []
        self.opened = offer.open
        self.rounded = False
        # What the start of the row was carried to by slip stitches.
        self.carried = ""
        # Phrases that were worked together with one before them.
        self.done: set[Span] = set()
        self.topped = self.over_foundation = False

    # From edge to edge.

    def along(self, node: Along) -> None:
        """The work goes on along the edge that the words name."""
        if node.edge == "rotate":
            if self.offer.kind == "chain" and not self.sides:
                self.turn_over(self.rounded)
        elif node.edge in ("chain", "foundation"):
            self.other_side(node.edge, node.span)
        elif node.edge == "row_ends":
            self.row_ends()
        elif node.edge == "top" and self.edges is not None and self.offer.kind in ("ends", "chain"):
            self.go_along(self.edges.top)

    def other_side(self, said: str = "other_side", span: Span | None = None) -> None:
        """Goes on along the other side of the chain, if the work is not there already. A chain that is only named, and
        not its other side, is the one that the row is worked into."""
        if self.offer.kind == "chain":
            if not self.sides and (said != "foundation" or not self.remaining()):
                self.turn_over(self.rounded)
        elif self.offer.kind not in ("around", "ring") and not self.over_foundation:
            if self.edges is None or not self.edges.foundation:
                self.unknown = self.unknown or self.edges is None
                if span is not None and self.edges is not None and self.edges.lacks("foundation"):
                    self.doubt(span, "foundation", 1, 0)
                return
            self.go_along(chain_offer(self.edges))
            self.over_foundation = True

    def row_ends(self) -> None:
        """Goes on along row ends, if the work is not there already."""
        if self.offer.kind == "around" or (self.offer.kind == "ends" and self.remaining()):
            return
        if self.edges is None:
            self.unknown = self.offer.kind != "ends"
        elif self.edges.rows:
            self.go_along(ends_offer(self.edges))

    def next_edge(self, place: Place) -> None:
        """`sc in each row end, sc in each ch`: an edge used up is left for the one that the place belongs to."""
        if self.offer.kind == "ends" and not self.remaining() and place.what in ("stitch", "chain"):
            if place.what == "chain":
                self.over_foundation = False
                self.other_side()
            elif self.edges is not None and not self.topped:
                self.topped = True
                self.go_along(self.edges.top)

    # Stitches along an edge.

    def work_evenly(self, node: Evenly) -> None:
        """A number of stitches along an edge, or as many as lie flat there."""
        amount = self.amount(node.amount) if node.amount is not None else None
        if node.amount is not None and amount is None:
            self.unknown = True
            return
        self.settle_chain()
        self.stitched = True
        stitch = node.stitch or self.base
        if node.along == "row_ends":
            self.row_ends()
        elif node.along == "chain":
            self.other_side(span=node.span)
        if self.unknown:
            return
        corner = self._corner_behind()
        if self.corners() and (corner is not None or node.along == "sides"):
            self._sides(node, stitch, amount, corner)
        elif self.corners() and node.along in _ONE_SIDE:
            self._side(node, stitch, amount)
        else:
            room = self.remaining()
            made = amount if amount is not None else room
            if amount is None and self.offer.kind == "ends":
                made = self._share(node, self.offer.even, 1)
            elif amount is None and self.offer.kind == "around":
                made = self._share(node, room, 2)
            if self.offer.kind == "ends":
                self.ends = (min(made, room), room)
            self.run(stitch, made, node.span)
            self.pass_by(room)

    def _share(self, node: Evenly, flat: int, sides: int) -> int:
        """How many stitches a phrase makes that leaves their number open: as many as lie flat, or as the row's stated
        count has settled. A rate for row ends along so many sides leaves only its rounding open."""
        least, most = -(-flat // 2), 2 * flat
        if node.rates and self.edges is not None:
            rates = self.rates_of(node)
            exact, rounded = exactly_along(self.edges.rows, rates), along_row_ends(self.edges.rows, rates)
            flat = flat if sides == 2 else rounded
            least, most = flat + sides * (floor(exact) - rounded), flat + sides * (ceil(exact) - rounded)
        if least == most or self.offer.kind == "row":
            # Along stitches, "evenly" is one in each of them.
            return flat
        at = len(self.left_open)
        number = self.even[at] if at < len(self.even) else flat
        self.left_open.append(Open(number, least, most, not node.rates))
        return number

    def rates_of(self, node: Evenly) -> EndRates:
        """The rates of a phrase in this size, as stitches for one row end; rows that are not there are noted."""
        found: dict[str, Fraction] = {}
        there = {stitch for stitch, _ in self.edges.rows} if self.edges is not None else set()
        for rate in node.rates:
            stitches = self.amount(rate.stitches)
            if stitches is None:
                self.unknown = True
                return ()
            if rate.of and there and rate.of not in there and self.edges is not None and self.edges.flat:
                self.doubt(rate.span, "rows of", 1, 0, rate.of)
            share = Fraction(stitches, rate.rows)
            if rate.of not in found:
                found[rate.of] = share
        return tuple(found.items())

    def _side(self, node: Evenly, stitch: str, amount: int | None) -> None:
        """Stitches along one side, up to the next corner or the end."""
        corner = self.next_corner()
        stop = corner if corner is not None else (len(self.offer.layout) or self.offer.total)
        sides = 1 if node.along == "row_ends" else 0
        self.run(stitch, self._share(node, stop - self.at, sides) if amount is None else amount, node.span)
        self._use_up(stop)

    def _sides(self, node: Evenly, stitch: str, amount: int | None, corner: Work | None) -> None:
        """All sides, with the corners between them: each as long as said, or all of them in proportion."""
        total = len(self.offer.layout) or self.offer.total
        corners = [at for at in self.corners() if at >= self.at]
        stops = [*corners, total]
        lengths, begin = [], self.at
        for stop in stops:
            lengths.append(max(0, stop - begin))
            begin = stop + 1
        if amount is not None and node.along == "sides":
            shares = self._each_side(node, amount, len(corners))
        else:
            whole = sum(lengths) if amount is None else amount
            shares = shared_out(self._share(node, whole, 2) if amount is None else whole, tuple(lengths))
        for share, stop in zip(shares, stops, strict=True):
            self.run(stitch, share, node.span)
            self._use_up(stop)
            if stop < total:
                self._in_corner(corner, node)

    def _each_side(self, node: Evenly, amount: int, sides: int) -> tuple[int, ...]:
        """`40 sc along each side and 60 sc along top and bottom, 3 sc in each corner`: the number on each."""
        others = []
        for behind in self.following:
            if not isinstance(behind, Evenly) or behind.along not in ("sides", "top and bottom"):
                break
            others.append(self.amount(behind.amount) or 0)
            self.done.add(behind.span)
        turns = (*others, amount) if others else (amount,)
        return (*(turns[at % len(turns)] for at in range(sides)), 0)

    def _in_corner(self, corner: Work | None, node: Evenly) -> None:
        if corner is not None:
            self.make(corner, 1, 1)
            self.done.add(corner.span)
        else:
            self.made_corners.append(self.extent)
            self.run(node.stitch or self.base, 1, node.span)
        self.pass_place()

    def _use_up(self, stop: int) -> None:
        """Moves on to a position; the places up to it are shared by the stitches just made."""
        before = self.gone
        self.go_to(stop)
        self.used += self.gone - before

    def _corner_behind(self) -> Work | None:
        """`…, 3 sc in each corner` behind a phrase that goes all the way round."""
        for node in self.following:
            if isinstance(node, Work) and node.into.kind == "each" and node.into.what == "corner":
                return node
            sides = isinstance(node, Evenly) and node.along in ("sides", "top and bottom")
            if not isinstance(node, Note | Yarn | Join) and not sides:
                return None
        return None
