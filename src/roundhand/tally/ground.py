"""The places that the row below offers, and how far along them the hand has come."""

from __future__ import annotations

import msgspec

from roundhand.findings import Span
from roundhand.tally.model import Missing, Offer


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

    def to_space(self, span: Span) -> bool:
        """Moves past the next chain space; False, and noted as missing, where there is none."""
        found = self.offer.layout.find(b"o", self.at)
        if found < 0:
            self.missing.append(Missing(span, "space", 1, 0))
            return False
        self.gone += self.offer.layout.count(b"s", self.at, found)
        self.at = found + 1
        return True

    def turn_over(self, rounded: bool) -> None:
        """The work goes on along the other side of a chain: every chain worked into is there once more, without the
        one at the end, and without the first where more than one stitch went round it already."""
        if self.offer.kind != "chain" or self.sides:
            return
        usable = self.at - self.first
        self.sides = usable
        further = max(0, usable - 1 - rounded)
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
    return msgspec.structs.replace(offer, total=max(0, offer.total - stitches), layout=layout)


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
