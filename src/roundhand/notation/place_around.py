"""What stands around a place: the loops and layers it is taken through, how deep it lies, and words that go past it."""

from __future__ import annotations

from roundhand.notation.cursor import Cursor
from roundhand.notation.depths import read_below
from roundhand.notation.named_places import read_named_row
from roundhand.notation.reach import pass_row, to_separator
from roundhand.notation.tree import Amount
from roundhand.notation.units import read_unit

# Stitches that the hook went past before and now comes back to.
_LEFT_BEFORE = ("skipped", "missed", "unworked", "unused", "held")

# The parts of work from corner to corner, and which of them.
_BLOCK = ("block", "blocks", "tile", "tiles", "square", "squares")
_BEFORE_LAYERS = frozenset(("through", "in", "of", "on", "together", "and", "with", "plus"))
_LOWER = frozenset(("below", "beneath", "under", "underneath"))
_WHICH = ("previous", "prev", "preceding", "corresponding", "following", "second")


class Around:
    """The words around one place, with what they have said of it so far."""

    cursor: Cursor
    start: int
    loop: str
    below: Amount | None
    row: Amount | None
    free: bool
    from_next: bool

    def _plural(self) -> bool:
        """Whether the loops named since the start are more than one."""
        taken = self.cursor.tokens[self.start : self.cursor.position]
        return any(
            token.kind == "word" and token.text.lower().endswith(("loops", "lps", "lps only")) for token in taken
        )

    def _layers_lead(self) -> bool:
        """`through both layers of next st`: the stitches are named behind the layers, as behind a loop."""
        cursor = self.cursor
        start = cursor.position
        cursor.position += 1
        cursor.take_word("of", "in")
        if cursor.word("next", "first", "last") or (cursor.word("each") and not self._all_layers()):
            self.loop = "layers"
            return True
        cursor.position = start
        return False

    def _all_layers(self) -> bool:
        """`through both layers of each st around` and no more."""
        cursor = self.cursor
        start = cursor.position
        cursor.position += 1
        read_unit(cursor)
        plain = cursor.word("around", "across") or cursor.token is None
        cursor.position = start
        return plain

    def _goes_on(self) -> bool:
        """Whether words follow that make "around" lead to a place: `around the post of next st`, `around next dc`."""
        cursor = self.cursor
        return (
            cursor.word("post", "next", "each", "same", "the", "first", "last", "front_post", "back_post", "row_end")
            or is_any(cursor, "corresponding", "center", "centre", "middle")
            or (cursor.at("stitch") or cursor.word("stitch"))
            or (cursor.at("number") and cursor.ahead() is not None)
        )

    def _late_below(self) -> Amount | None:
        """`in st 2 rows below`, `in st 2 rows below next st`: the depth that stands behind the place."""
        cursor = self.cursor
        below = read_below(cursor)
        start = cursor.position
        if below is not None and below.what == "below":
            cursor.take_word("the")
            if cursor.take_word("next") and read_unit(cursor) == "stitch":
                self.from_next = True
                return below
        cursor.position = start
        return below

    def _behind_layers(self) -> bool:
        """`in next 5 sts through both layers`."""
        cursor = self.cursor
        if not cursor.leads(_BEFORE_LAYERS):
            return False
        at = cursor.position
        if (cursor.take_word("through", "in", "of") or cursor.take_name("on")) and cursor.take_word("layers"):
            return True
        cursor.position = at
        cursor.take_word("together")
        if (cursor.take_word("and", "with") or cursor.take_name("plus")) and not cursor.word("next", "each"):
            # "in next st and corresponding ch of foundation ch".
            cursor.take_word("the", "in")
            if cursor.take_name("corresponding", "matching"):
                to_separator(cursor)
                return True
        cursor.position = at
        return False

    def _of_block(self) -> None:
        """Moves over `of previous block`, `of next block below`: a block has one space, and the words have named it."""
        cursor = self.cursor
        start = cursor.position
        if cursor.take_word("of", "from") or cursor.take_name("on", "from"):
            while cursor.take_word("the", "next", "first", "last", "each", "same") or is_any(cursor, *_WHICH):
                cursor.position += is_any(cursor, *_WHICH)
            if is_any(cursor, *_BLOCK):
                cursor.position += 1
                cursor.take_word("below")
                return
        cursor.position = start

    def _row_follows(self) -> bool:
        """Whether the row of the place is named before the end of it: `in each st of Rnd 1 around`."""
        at = self.cursor.position
        self.row = self.row or read_named_row(self.cursor, self.free)
        return self.cursor.position != at

    def _row_below_next(self) -> Amount | None:
        """`in the row below the next st`, `in st below next st`: one row lower than the place that is next."""
        cursor = self.cursor
        if cursor.said.isdisjoint(_LOWER):
            return None
        start = cursor.position
        cursor.take_word("the", "next")
        named = cursor.take_word("row", "round") or read_unit(cursor) == "stitch"
        lower = cursor.take_word("below") or cursor.take_name("beneath", "under", "underneath")
        if named and lower:
            cursor.take_word("the")
            if cursor.word("next", "stitch") or cursor.at("stitch"):
                self.from_next = True
                return Amount((1,), cursor.since(start), what="below")
        cursor.position = start
        return None

    def _skipped(self) -> bool:
        """Moves over `skipped st`, `2 unworked sc`, `sk sts`, if they stand here."""
        cursor = self.cursor
        start = cursor.position
        if (cursor.take_name(*_LEFT_BEFORE) or cursor.take_word("skip")) and read_unit(cursor) == "stitch":
            pass_row(cursor)
            return True
        cursor.position = start
        return False

    def _closes_row(self) -> bool:
        """Whether "first" or "last" here belongs to other words, such as "last rnd"."""
        after = self.cursor.ahead()
        return after is None or (after.kind == "word" and after.value in ("row", "round", "row_or_round", "repeat"))


def is_any(cursor: Cursor, *words: str) -> bool:
    """Whether one of these words stands at the cursor, whatever it means."""
    token = cursor.token
    return token is not None and token.text.lower() in words
