"""Where a row begins: slip stitches that carry its start along, `sl st in next 2 dc and in ch-2 sp, ch 3`."""

from __future__ import annotations

from roundhand.notation.tree import Chain, Join, Node, Note, Times, Work, Yarn
from roundhand.tally.cornering import Cornering
from roundhand.tally.model import Run


class Starting(Cornering):
    """Carries the start of a row along. What a single phrase does is known to the hand that is built upon this."""

    def start(self, nodes: tuple[Node, ...]) -> tuple[Node, ...]:
        """What is left to work of a row when its start has been carried along; in a round the places that were passed
        come last."""
        if self.offer.kind not in ("row", "around"):
            return self._in_corner_of_edge(nodes)
        rest = list(nodes)
        joined = any(isinstance(node, Join) for node in nodes)
        if not _slips_to_start(nodes):
            same = _same_space(nodes)
            first = _first_work(nodes)
            into = first.into if first is not None and first.into.kind == "next" else None
            if joined and into is not None and into.what in ("corner", "space") and self.offer.kind == "row":
                # The round begins in a corner or space; what lies before the first of them comes last.
                found = self.next_corner() if into.what == "corner" else self.next_space(into.length)
                self.start_at(found or 0)
                self.from_space = True
            elif same is not None and (self.offer.layout or self.offer.corners):
                # The yarn was joined there, or slip stitches behind the round before have led there.
                self._carry(same, made=False)
                self._begin(rest, joined)
            return nodes
        while rest and (_slips(rest[0]) or isinstance(rest[0], Note | Yarn)):
            node = rest.pop(0)
            if isinstance(node, Work):
                self._carry(node)
            else:
                self.node(node)
        self._begin(rest, joined)
        return tuple(rest)

    def _in_corner_of_edge(self, nodes: tuple[Node, ...]) -> tuple[Node, ...]:
        """A yarn joined in the corner where an edge begins: the slip stitch is no stitch along it."""
        first = next((node for node in nodes if not isinstance(node, Note | Yarn)), None)
        if not isinstance(first, Work) or not _slips(first) or first.into.what != "corner":
            return nodes
        self.made.append(Run("slip_stitch", 1, self.colour, first.span, counts=False))
        return tuple(node for node in nodes if node is not first)

    def _begin(self, rest: list[Node], joined: bool) -> None:
        """The row begins in the place that was slipped into last."""
        last = max(0, self.at - 1)
        if joined:
            self.at = self.gone = self.used = self.skipped = 0
            self.start_at(last)
            if _begins_there(rest):
                self.pass_place()
        self.slipped = True
        self.from_space = self.carried in ("space", "corner")

    def _carry(self, node: Work, made: bool = True) -> None:
        """One phrase of slip stitches: on to the place it names."""
        place = node.into
        number = (self.amount(place.count) if place.count is not None else 1) or 0
        self.carried = "corner" if place.what == "corner" or place.until else place.what
        if place.what in ("chain", "loop") and self.offer.layout:
            # "sl st in next 3 ch, sl st to centre of first loop": the chains are those of the next space.
            self.carried = "space"
        if place.what == "corner" or place.until:
            number, found = 1, self.next_corner()
        elif self.carried == "space":
            number = number if place.what == "chain" else 1
            found = self.next_space(place.length)
        else:
            self.made.append(Run("slip_stitch", number, self.colour, node.span, counts=False))
            self.pass_by(number)
            self.skipped += number
            return
        if made:
            self.made.append(Run("slip_stitch", number, self.colour, node.span, counts=False))
        if found is not None and found >= 0:
            self.go_to(found)
            self.pass_place()


def _slips_to_start(nodes: tuple[Node, ...]) -> bool:
    """Whether a row opens with slip stitches that only carry its start along: a chain to climb follows them, or work in
    the same place."""
    seen = False
    for node in nodes:
        if _slips(node):
            seen = True
        elif not isinstance(node, Note | Yarn):
            return seen and (isinstance(node, Chain) or (isinstance(node, Work) and node.into.kind == "same"))
    return False


def _begins_there(rest: list[Node]) -> bool:
    """Whether the row works into the place that it was carried to: a chain that stands for a stitch stands there, or
    `in same sp` follows."""
    for node in rest:
        if isinstance(node, Chain):
            if node.counts or (node.counts is None and (node.amount.values[0] or 0) >= 3):
                return True
        elif isinstance(node, Work):
            return node.into.kind == "same"
        elif not isinstance(node, Note | Yarn):
            return False
    return False


def _first_work(nodes: tuple[Node, ...]) -> Work | None:
    """The first stitches of a row that go into places of the row below one by one."""
    for node in nodes:
        if isinstance(node, Work):
            return node
        if isinstance(node, Times):
            return _first_work(node.body)
        if not isinstance(node, Chain | Note | Yarn):
            return None
    return None


def _same_space(nodes: tuple[Node, ...]) -> Work | None:
    """The group that a round begins with in a space that only "same" names: `ch 3, (2 dc, ch 2, 3 dc) in same sp`."""
    for node in nodes:
        if isinstance(node, Work):
            return node if node.into.kind == "same" and node.into.what in ("space", "corner") else None
        if not isinstance(node, Chain | Note | Yarn):
            return None
    return None


def _slips(node: Node) -> bool:
    return (
        isinstance(node, Work)
        and all(item.stitch == "slip_stitch" for item in node.group)
        and node.into.kind in ("next", "each", "first", "last")
        and node.into.rest is None
    )
