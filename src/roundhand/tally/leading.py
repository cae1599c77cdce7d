"""Slip stitches that lead past stitches: to where a row begins, or down from the step where a spiral ends.

They are worked and take yarn, but they are no stitches of the row.
"""

from __future__ import annotations

from roundhand.notation.tree import Chain, Evenly, Join, Node, Skip, Times, Work, Yarn
from roundhand.tally.model import Run
from roundhand.tally.readings import SLIPS
from roundhand.tally.starting import Starting


class Leading(Starting):
    """Works slip stitches that lead somewhere."""

    def slip_over(self, node: Skip, amount: int) -> None:
        """`sl st over first 5 sts`; of a mirrored row, over as many as the row does not need."""
        if node.what == "all_but":
            kept, to_the_end = self.kept_back()
            amount = 0 if to_the_end else max(0, self.remaining() - kept)
        if node.what == "slipped_space":
            # The slip stitch that joins a row of blocks to a block below: to its space, and no further.
            self._lead(node, amount, passes=False)
            for _ in range(amount):
                if not self.to_space(node.span):
                    break
            return
        self._lead(node, amount, passes=True)

    def leads(self, node: Work) -> bool:
        """`sl st in next 3 sts, ch 1`, and `sl st in next st` where nothing more is worked: true where slip stitches
        are such, and then they are worked."""
        place = node.into
        slips = len(node.group) == 1 and node.group[0].stitch == "slip_stitch" and place.what == "stitch"
        uncounted = self.readings.get(SLIPS) == "not counted"
        kinds = ("next", "first", "last") if uncounted else ("next", "first")
        if not slips or place.kind not in kinds or self.nesting or self.offer.kind != "row":
            return False
        number = self.amount(place.count) if place.count is not None else 1
        if number and uncounted:
            self._lead(node, number, passes=True)
            return True
        leading = not self.count and bool(self.following) and isinstance(self.following[0], Chain)
        if leading and number == 1 and self._joins_yarn():
            return False
        levelling = self.stitched and not self.remaining() and not any(map(is_work, self.following))
        if not number or not (leading or levelling):
            return False
        # A round comes back to the stitches that were led over; a row leaves them behind.
        round_again = any(isinstance(other, Join) for other in self.following)
        self._lead(node, number, passes=leading and not round_again)
        return True

    def _lead(self, node: Node, amount: int, passes: bool) -> None:
        if amount > 0:
            self.made.append(Run("slip_stitch", amount, self.colour, node.span, counts=False, uses=1))
        if passes:
            used = self.used
            self.pass_by(amount)
            self.skipped += self.used - used

    def _joins_yarn(self) -> bool:
        """Whether the slip stitch is the one that a new yarn is joined with, and stands where the climb does."""
        at = len(self.whole) - len(self.following) - 2
        before = self.whole[at] if at >= 0 else None
        return isinstance(before, Yarn) and before.act == "with"


def is_work(node: Node) -> bool:
    """Whether a node uses places of the row below."""
    return isinstance(node, Work | Times | Skip | Evenly)
