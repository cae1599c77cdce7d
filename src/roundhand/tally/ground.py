"""The places that the row below offers, and how far along them the hand has come."""

from __future__ import annotations

from bisect import bisect_left

import msgspec

from roundhand.findings import Span
from roundhand.tally.model import Missing, Offer

# More longest spaces than any motif has corners are no corners.
MOST_CORNERS = 12
_SPACE = ord("o")


class Ground:
    """What a row is worked into: `at` is the position of the hand, `gone` the stitches behind it.

    `used` of the places were worked into or passed over in words (`skipped` of them the latter), `lacking` were asked
    for and are not there.
    """

    def __init__(self, offer: Offer) -> None:
        self.offer = offer
        self.at = 0
        self.gone = 0
        self.used = 0
        self.lacking = 0
        self.skipped = 0
        # Places of further edges that the row goes on along, and what was left on edges behind it.
        self.beyond = 0
        self.left_behind = 0
        # Whether the last place that was worked into is a space.
        self.on_space = False
        # The position of the first place worked into in a chain, and how many were used when it was turned over.
        self.first = 0
        self.sides = 0
        self.missing: list[Missing] = []

    @property
    def endless(self) -> bool:
        """Whether places never run out: a ring, or nothing below that could be counted."""
        return self.offer.kind in ("ring", "none")

    def remaining(self) -> int:
        """Places that are left; the chains of a ring are places as well: "sc in each ch around"."""
        if self.offer.kind == "none":
            return 0
        return max(0, self.offer.total - self.gone)

    def pass_by(self, stitches: int) -> None:
        """Moves past so many stitches of the row below, and the spaces in front of them."""
        if stitches <= 0 or self.endless:
            return
        if not self.offer.layout:
            beyond = max(0, self.at + stitches - max(self.offer.total, self.at))
            self.at += stitches
            self.gone += stitches
            self.used += stitches - beyond
            self.lacking += beyond
            return
        layout, left = self.offer.layout, stitches
        while left and self.at < len(layout):
            space = layout.find(b"o", self.at)
            run = min(left, (space if space >= 0 else len(layout)) - self.at)
            self.at += run or 1
            self.gone += run
            self.used += run
            left -= run
        self.lacking += left

    def stand_over(self, stitches: int) -> tuple[str, int]:
        """Moves past what so many long stitches stand over: the chain space that is next, which all of them span, else
        so many stitches; what was passed, and how much of it."""
        if stitches > 0 and self.offer.layout[self.at : self.at + 1] == b"o":
            self.at += 1
            return "space", 1
        self.pass_by(stitches)
        return "stitch", stitches

    def before_spaces(self, spaces: int) -> int:
        """The position in the layout where the last so many spaces begin; its end where there are none to keep."""
        at = len(self.offer.layout)
        for _ in range(spaces):
            found = self.offer.layout.rfind(b"o", 0, at)
            if found < 0:
                break
            at = found
        return at

    def jump(self, stitches: int) -> None:
        """Moves past stitches that no word speaks of: "sc in last st" before the others are used."""
        used = self.used
        self.pass_by(stitches)
        self.used = used

    def to_space(self, span: Span, chains: int | None = None) -> bool:
        """Moves past the next chain space, of so many chains if the words say so and there is one; False, and noted as
        missing, where there is none."""
        found = self.next_space(chains)
        if found < 0:
            self.missing.append(Missing(span, "space", 1, 0))
            return False
        self.go_to(found + 1)
        self.on_space = True
        return True

    def next_space(self, chains: int | None = None) -> int:
        """The position of the next chain space, of so many chains if there is one; negative where there is none."""
        found = self.offer.layout.find(b"o", self.at)
        if found < 0 or chains is None or not self.offer.lengths:
            return found
        number, at = self.offer.layout.count(b"o", 0, found), found
        while at >= 0:
            if self.offer.lengths[number] == chains:
                return at
            number, at = number + 1, self.offer.layout.find(b"o", at + 1)
        return found

    def go_to(self, position: int) -> None:
        """Moves on to a position past stitches that are not worked into, as between two chain spaces."""
        if self.offer.layout:
            self.gone += self.offer.layout.count(b"s", self.at, position)
        else:
            self.gone += position - self.at
        self.at = position

    def corners(self) -> tuple[int, ...]:
        """The positions of the corners below: those the words made, else the longest chain spaces of a round."""
        if self.offer.corners or not self.offer.lengths:
            return self.offer.corners
        longest = max(self.offer.lengths)
        places = [at for at, place in enumerate(self.offer.layout) if place == _SPACE]
        found = [at for at, chains in zip(places, self.offer.lengths, strict=False) if chains == longest]
        return tuple(found) if len(found) <= MOST_CORNERS else ()

    def next_corner(self) -> int | None:
        """The position of the next corner; None where no corner lies ahead."""
        corners = self.corners()
        at = bisect_left(corners, self.at)
        return corners[at] if at < len(corners) else None

    def pass_place(self) -> None:
        """Moves past the place at hand, which is worked into."""
        self.on_space = self.offer.layout[self.at : self.at + 1] == b"o"
        self.at += 1
        if not self.on_space:
            self.gone += 1
            self.used += 1

    def go_along(self, offer: Offer) -> None:
        """The work goes on along another edge. What is left of this one stays behind; one that nothing was worked into
        is another edge than the one meant."""
        if self.at:
            self.left_behind += self.remaining()
            self.beyond += offer.total
        else:
            self.beyond += offer.total - self.offer.total
        self.offer = offer
        self.at = self.gone = self.first = self.sides = 0

    def start_at(self, position: int) -> None:
        """The round begins at a position: the places before it come last."""
        offer = self.offer
        total = len(offer.layout) or offer.total
        if not 0 < position < total:
            return
        spaces = offer.layout.count(b"o", 0, position)
        turned = tuple(sorted((corner - position) % total for corner in offer.corners))
        self.offer = msgspec.structs.replace(
            offer,
            layout=offer.layout[position:] + offer.layout[:position],
            lengths=offer.lengths[spaces:] + offer.lengths[:spaces],
            corners=turned,
        )
        self.at = self.gone = 0

    def leave_spaces(self) -> bool:
        """Behind the last chain space moves past the stitches that end the row, where the hook has gone into spaces
        alone: they belong to the space as those in front of the others do. False where more than that are left."""
        layout = self.offer.layout
        if layout.find(b"o", self.at) >= 0:
            return False
        left = len(layout) - self.at
        if left > max(map(len, layout.split(b"o")[:-1]), default=0):
            return False
        self.gone += left
        self.at = len(layout)
        return True

    def past_to_edge(self) -> None:
        """Behind the last chain space moves past the stitches in front of the edge, where the hook has gone into spaces
        alone: `V-st in sp of each V-st across, dc in top of tch`."""
        layout = self.offer.layout
        left = len(layout) - self.at
        if layout.find(b"o", self.at) < 0 and 1 < left <= max(map(len, layout.split(b"o")[:-1]), default=0):
            self.gone += left - 1
            self.at += left - 1

    def turn_over(self, rounded: bool) -> None:
        """The work goes on along the other side of a chain: every chain worked into is there once more, without the
        one at the end, and without the first where more than one stitch went round it already."""
        if self.offer.kind != "chain" or self.sides:
            return
        usable = self.at - self.first
        self.sides = usable
        further = max(0, usable - 1 - rounded)
        self.beyond += further
        self.offer = msgspec.structs.replace(self.offer, total=self.at + further)

    def close_up(self) -> None:
        """Everything below is gathered up in a ring."""
        self.at = self.offer.total if not self.offer.layout else len(self.offer.layout)
        self.gone = self.offer.total


def shortened(offer: Offer, stitches: int) -> Offer:
    """A row without its last so many stitches, and what lies between them.

    >>> shortened(Offer("row", 5, b"ssosss"), 2).layout
    b'ssos'
    """
    layout = offer.layout
    if layout:
        keep = offer.total - stitches
        at = 0
        while at < len(layout) and keep:
            keep -= layout[at : at + 1] == b"s"
            at += 1
        layout = layout[:at]
    return msgspec.structs.replace(
        offer,
        total=max(0, offer.total - stitches),
        layout=layout,
        lengths=offer.lengths[: layout.count(b"o")],
        corners=tuple(at for at in offer.corners if at < (len(layout) or offer.total - stitches)),
    )


def ending(offer: Offer, stitches: int) -> Offer:
    """The last so many stitches of a row, and what lies between them, as a row of their own.

    >>> ending(Offer("row", 5, b"ssosss"), 2).layout
    b'ss'
    """
    layout = offer.layout
    if layout:
        kept = len(shortened(offer, stitches).layout)
        layout = layout[kept:]
        layout = layout[max(layout.find(b"s"), 0) :]
    return Offer("row", min(stitches, offer.total), layout, 0, offer.main)
