"""Where a hand changes its yarn: from here on, or in the stitch that the words name."""

from __future__ import annotations

from roundhand.notation.tree import Yarn
from roundhand.tally.leading import Leading
from roundhand.tally.recolouring import recoloured, stitches_in
from roundhand.tally.stretches import in_hand_now


class Changing(Leading):
    """Changes the yarn while a row is worked."""

    def change_yarn(self, node: Yarn) -> None:
        """Another yarn from here on, or from behind the stitch that the words name: its last yarn over is drawn in the
        new colour (common practice)."""
        self.change = None
        yarn = in_hand_now(node.colour, self.colour)
        begin = 0 if node.of_row and not self.nesting else self.phrase
        if node.act != "change" or not node.nth:
            self.colour = yarn
        elif node.place == "next" or begin is None or not self.stitched:
            self.change = (node.nth, yarn)
        else:
            self.change_within(begin, node.nth, yarn)
            # There are not so many stitches: the change comes behind the last of them.
            self.colour, self.change = yarn, None

    def change_within(self, begin: int, nth: int, colour: str) -> None:
        """A change of colour in the n-th stitch since `begin`, or as many stitches later as there are too few."""
        made = self.made[begin:]
        number = stitches_in(made)
        if number < nth:
            self.change = (nth - number, colour)
            return
        self.made[begin:] = recoloured(made, nth, self.colour, colour)
        self.colour, self.change = colour, None

    def end_changes(self) -> None:
        """The end of a row: a change in the next stitch, of which the row has no more, comes here."""
        if self.change is not None:
            self.colour, self.change = self.change[1], None
