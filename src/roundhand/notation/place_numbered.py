"""Places that count from something known: the stitch just made, the same one, a chain or stitch by its number."""

from __future__ import annotations

from abc import ABC, abstractmethod

from roundhand.notation.named_places import read_group_behind
from roundhand.notation.place_around import Around, is_any
from roundhand.notation.reach import to_separator
from roundhand.notation.tree import Amount, Group, Place
from roundhand.notation.units import read_unit

# Behind a stitch: it is the one that has just been made.
JUST_MADE = ("made", "worked", "completed", "formed")


class Numbered(Around, ABC):
    """Reads places that are known by what was made, or by a number."""

    length: int | None

    @abstractmethod
    def _made(
        self,
        kind: str,
        count: Amount | None = None,
        rest: Amount | None = None,
        what: str = "stitch",
        group: Group | None = None,
        nth: int | None = None,
    ) -> Place:
        """The place, with the depth, the row and the loop that may stand behind it."""

    @abstractmethod
    def _unit(self) -> str | None:
        """What the place is called; None where no such word stands."""

    def _side(self) -> Place | None:
        """`in side of last dc`, `around post of dc just made`: the side of the stitch made last."""
        cursor = self.cursor
        start = cursor.position
        token = cursor.token
        side = token is not None and token.text.lower() in ("side", "sides") and token.kind in ("word", "name")
        if side:
            cursor.position += 1
            if not cursor.take_word("of"):
                cursor.position = start
                return None
        while cursor.word("the", "last", "same") or is_any(cursor, "previous", "prev"):
            cursor.position += 1
        if read_unit(cursor) == "stitch":
            cursor.take_name("just")
            if cursor.take_name(*JUST_MADE) or side:
                return self._made("made")
        cursor.position = start
        return None

    def _same(self) -> Place:
        """`in same st`, `in same place as joining`, the first word taken."""
        cursor = self.cursor
        cursor.take_word("place")
        cursor.take_name("place")
        unit = read_unit(cursor)
        if cursor.take_word("as"):
            to_separator(cursor)
        return self._made("same", what=unit or "stitch")

    def _ordinal(self) -> Place | None:
        """`in 2nd ch from hook`, `in 3rd st`, `in 3rd ch of beg ch-4`."""
        cursor = self.cursor
        token = cursor.take()
        count = Amount((token.number,), token.span)
        group = read_group_behind(cursor, token.number or 1)
        if group is not None:
            # "in 4th of 7 dc".
            return self._made("within", group=group)
        if self._skipped():
            # "in first skipped st, in 2nd skipped st": each is the next of those skipped.
            return self._made("next", what="skipped")
        unit = read_unit(cursor)
        from_hook = cursor.take_word("from_hook")
        if unit is None and not from_hook:
            return None
        if unit == "chain" and not from_hook and cursor.word("of"):
            at = cursor.position
            place = self._chain_of(token.number or 1)
            if place is not None:
                return place
            cursor.position = at
        if from_hook or unit == "chain":
            return Place("from_hook", cursor.since(self.start), count, None, self.loop, what="chain")
        if unit == "stitch" and (group := read_group_behind(cursor, token.number or 1)) is not None:
            return self._made("within", group=group)
        return self._made("nth", count, what=unit or "stitch")

    def _chain_of(self, nth: int) -> Place | None:
        """`in 3rd ch of tch`, `in 4th ch of ch-5`: the chain of the row's start; of a space where "next" is said."""
        cursor = self.cursor
        cursor.position += 1
        spaced = False
        while cursor.word("the", "beginning", "next", "each", "same") or is_any(cursor, "turning", "corner"):
            spaced = cursor.word("next", "each") or is_any(cursor, "corner") or spaced
            cursor.position += 1
        unit = self._unit()
        if unit not in ("turning_chain", "space", "chain"):
            return None
        if spaced:
            cursor.take_word("around")
            return self._made("next", what="space", nth=nth)
        return self._made("last", what="turning_chain", nth=nth)
