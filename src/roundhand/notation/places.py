"""Where the hook goes: from `in next 3 sts` to `in back loop only of each st around`."""

from __future__ import annotations

import msgspec

from roundhand.notation.cursor import Cursor
from roundhand.notation.depths import read_below
from roundhand.notation.named_places import (
    read_gap,
    read_group_behind,
    read_left_free,
    read_loops_left,
    read_named_row,
)
from roundhand.notation.reach import pass_opening, pass_row, read_to_last, to_separator, with_chains
from roundhand.notation.tree import Amount, Group, Place
from roundhand.notation.units import read_count, read_length, read_loop, read_unit
from roundhand.stitches import dictionary

_POSTS = {"front_post": "front", "back_post": "back"}
# Words between "in" and the place itself: "of the back loop only of".
_LONGEST_LEAD = 12
# Stitches that the hook went past before and now comes back to.
_LEFT_BEFORE = ("skipped", "missed", "unworked", "unused", "held")
# Behind a stitch: it is the one that has just been made.
_JUST_MADE = ("made", "worked", "completed", "formed")
_MIDDLE = ("center", "centre", "middle", "central")


def read_place(cursor: Cursor, loop: str = "") -> Place | None:
    """The place that stands at the cursor, with or without `in`; None (and nothing taken) where none stands."""
    return _Finder(cursor, loop).place()


class _Finder:
    """Reads one place; puts the cursor back where it finds none."""

    def __init__(self, cursor: Cursor, loop: str) -> None:
        self.cursor = cursor
        self.start = cursor.position
        self.loop = loop
        self.post = ""
        self.below: Amount | None = None
        self.row: Amount | None = None
        self.free = False
        self.length: int | None = None
        self.from_next = False
        self.named = ""

    def place(self) -> Place | None:
        cursor = self.cursor
        # Words that lead to a place ("in", "over") let a bare number or stitch name one; a loop alone does not.
        led = cursor.take_word("in", "over") or cursor.take_name("around", "over", "through", "across")
        if not led and cursor.word("total") and cursor.token is not None and cursor.token.text.lower() == "in all":
            # "in all 5 sts" is a place, "24 in all" a count.
            cursor.position += 1
            return self._all()
        if led and cursor.tokens[self.start].value in ("around", "across") and not self._goes_on():
            # A bare "around" is the whole round.
            cursor.position = self.start
            led = False
        looped = False
        for _ in range(_LONGEST_LEAD):
            found = read_loop(cursor)
            token = cursor.token
            if found is not None:
                self.loop = found
                looped = True
            elif (left := read_loops_left(cursor)) is not None:
                self.loop, self.free = left or self.loop, True
                looped = True
            elif token is not None and token.kind == "word" and token.value in _POSTS:
                self.post = _POSTS[token.value]
                cursor.position += 1
                led = True
            elif led and cursor.word("layers") and self._layers_lead():
                looped = True
            elif not (
                cursor.take_word("of", "the", "through", "top", "work")
                or (led and cursor.take_word("beginning"))
                or (looped and cursor.take_word("in"))
                or (led and cursor.take_name("post", "posts", "in", "under", "free", "only", "corresponding", "both"))
            ):
                break
            if looped and self.row is None:
                self.row = read_named_row(cursor, self.free)
                self.free = read_left_free(cursor) or self.free
        place = self._core(led, looped)
        if place is None and led and looped and self.row is not None:
            # "in front loops of Rnd 1": all of them.
            place = self._made("each" if self._plural() else "next")
        if place is None:
            cursor.position = self.start
        return place

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

    def _unit(self) -> str | None:
        """What the place is called; loops that are free are stitches of their row, and chains may have a number."""
        cursor = self.cursor
        left = read_loops_left(cursor)
        if left is not None:
            self.loop, self.free = left or self.loop, True
            return "stitch"
        length = read_length(cursor)
        loop = read_loop(cursor)
        if loop is not None:
            # "in each front loop", "in next back loop of Rnd 3".
            self.loop = loop
            return "stitch"
        token = cursor.token
        unit = read_unit(cursor)
        if unit in ("space", "turning_chain") and length is not None:
            self.length = length
        if unit == "stitch" and token is not None:
            several = token.kind == "stitch" and dictionary()[token.value].makes > 1
            self.named = token.value if several or token.kind == "defined" else ""
        return unit

    def _goes_on(self) -> bool:
        """Whether words follow that make "around" lead to a place: `around the post of next st`, `around next dc`."""
        cursor = self.cursor
        return (
            cursor.word("post", "next", "each", "same", "the", "first", "last", "front_post", "back_post", "row_end")
            or _is_any(cursor, "corresponding", "center", "centre", "middle")
            or (cursor.at("stitch") or cursor.word("stitch"))
            or (cursor.at("number") and cursor.ahead() is not None)
        )

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
        cursor = self.cursor
        below = self.below if self.below is not None else self._late_below()
        if self.row is None:
            self.row = read_named_row(cursor, self.free)
        self.free = read_left_free(cursor) or self.free
        if self.row is not None and kind in ("next", "each", "row_ends"):
            # "in each free loop of Rnd 3 around".
            if kind != "next" and rest is None:
                rest = read_to_last(cursor)
            elif count is None and cursor.take_word("around", "across"):
                kind = "each"
        late = read_loop(cursor)
        if late is None:
            at = cursor.position
            late = read_loop(cursor) if cursor.take_word("in", "through") else None
            if late is None:
                cursor.position = at
        if late is None and self._behind_layers():
            late = "layers"
        loop = self.loop if late is None else late
        if kind in ("between", "made"):
            loop = kind
        pass_opening(cursor)
        place = Place(
            kind,
            cursor.since(self.start),
            count,
            rest,
            loop if loop != "both" else "",
            self.post,
            below,
            what,
            False,
            "",
            group,
            self.row,
            self.free,
            self.length,
            nth,
            self.from_next,
            self.named if group is None else "",
        )
        return with_chains(cursor, place)

    def _gap(self, group: Group, count: Amount | None) -> Place:
        """A gap between stitches; where it lies right here, the place of the stitch before is not left."""
        if group.size is not None and group.size.values == (0,):
            return msgspec.structs.replace(self._made("same"), loop="between")
        return self._made("between", count, group=group)

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

    def _core(self, led: bool, looped: bool) -> Place | None:
        cursor = self.cursor
        gap = read_gap(cursor, False)
        if gap is not None:
            return self._gap(gap[0], gap[1])
        if led and (made := self._side()) is not None:
            return made
        self.below = read_below(cursor) or self._row_below_next()
        if self.below is not None:
            # "2 rows below the next st": counted from there.
            before = cursor.tokens[cursor.position - 1]
            cursor.take_word("of", "the")
            if cursor.word("next") and before.value == "below":
                self.from_next = True
            cursor.take_name("from")
            led = True
            cursor.take_word("in")
        if cursor.take_word("each"):
            return self._each()
        if cursor.take_word("next"):
            return self._next()
        if cursor.take_word("same"):
            return self._same()
        if led and cursor.take_name("base"):
            to_separator(cursor)
            return self._made("same")
        if cursor.word("first", "last") and (led or looped or not self._closes_row()):
            kind = cursor.take().value
            amount = read_count(cursor)
            if self._skipped():
                # "in first skipped st, in last skipped st": the skipped ones in their order.
                return self._made("next", amount, what="skipped")
            unit = self._unit()
            if unit is None and amount is None and not led:
                return None
            if unit == "stitch" and amount is None:
                group = read_group_behind(cursor, 1 if kind == "first" else -1)
                if group is not None:
                    return self._made("within", group=group)
                if kind == "last" and cursor.take_name(*_JUST_MADE):
                    return self._made("made")
            return self._made(kind, amount, what=unit or "stitch")
        if cursor.take_word("remaining"):
            amount = read_count(cursor)
            unit = self._unit()
            cursor.take_word("around", "across")
            return self._made("next" if amount is not None else "each", amount, what=unit or "stitch")
        if cursor.at("ordinal"):
            return self._ordinal()
        if cursor.take_word("ring"):
            return self._made("ring")
        if cursor.take_word("layers"):
            cursor.take_word("of", "in")
            if cursor.take_word("each"):
                read_unit(cursor)
            cursor.take_word("around", "across")
            return self._made("layers")
        if cursor.take_word("row_end"):
            cursor.take_word("around", "across")
            return self._made("row_ends", what="row_end")
        if cursor.word("around", "across") and (looped or not led):
            rest = read_to_last(cursor)
            return self._made("each", rest=rest)
        if cursor.word("to", "until"):
            rest = read_to_last(cursor)
            return self._made("each", rest=rest) if rest is not None else None
        return self._named(led, looped)

    def _each(self) -> Place | None:
        cursor = self.cursor
        cursor.take_word("of")
        cursor.take_word("the")
        which = cursor.token.value if cursor.word("next", "first", "last", "remaining") and cursor.token else ""
        if which:
            cursor.position += 1
        amount = read_count(cursor)
        if amount is None and cursor.at("ordinal"):
            # "in every 3rd st" is another matter than the third.
            return None
        skipped = self._skipped() if amount is not None else False
        marked = cursor.take_word("marked")
        unit = None if skipped else self._unit()
        if unit == "space" and (gap := read_gap(cursor, which == "")) is not None:
            return self._gap(gap[0], amount if amount is not None else gap[1])
        if marked:
            return self._made("next", amount, what="marked")
        if amount is not None:
            kind = which if which in ("first", "last") else "next"
            return self._made(kind, amount, what="skipped" if skipped else unit or "stitch")
        if unit is None and self._skipped():
            return self._made("each", what="skipped")
        if unit is None and not cursor.word("around", "across", "next"):
            return None
        rest = None if self._row_follows() else read_to_last(cursor)
        return self._made("each" if unit != "row_end" else "row_ends", rest=rest, what=unit or "stitch")

    def _row_follows(self) -> bool:
        """Whether the row of the place is named before the end of it: `in each st of Rnd 1 around`."""
        at = self.cursor.position
        self.row = self.row or read_named_row(self.cursor, self.free)
        return self.cursor.position != at

    def _row_below_next(self) -> Amount | None:
        """`in the row below the next st`, `in st below next st`: one row lower than the place that is next."""
        cursor = self.cursor
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
        while cursor.word("the", "last", "same") or _is_any(cursor, "previous", "prev"):
            cursor.position += 1
        if read_unit(cursor) == "stitch":
            cursor.take_name("just")
            if cursor.take_name(*_JUST_MADE) or side:
                return self._made("made")
        cursor.position = start
        return None

    def _next(self) -> Place | None:
        cursor = self.cursor
        amount = read_count(cursor)
        if self._skipped():
            return self._made("next", amount, what="skipped")
        if cursor.take_word("marked"):
            read_unit(cursor)
            return self._made("next", amount, what="marked")
        unit = self._unit()
        if unit == "turning_chain" and self.length is not None:
            # "in next ch-5" is the space under it.
            unit = "space"
        if unit == "space" and (gap := read_gap(cursor, False)) is not None:
            return self._gap(gap[0], amount if amount is not None else gap[1])
        if amount is None and unit is None and cursor.word("row", "round", "row_or_round"):
            return None
        return self._made("next", amount, what=unit or "stitch")

    def _skipped(self) -> bool:
        """Moves over `skipped st`, `2 unworked sc`, `sk sts`, if they stand here."""
        cursor = self.cursor
        start = cursor.position
        if (cursor.take_name(*_LEFT_BEFORE) or cursor.take_word("skip")) and read_unit(cursor) == "stitch":
            pass_row(cursor)
            return True
        cursor.position = start
        return False

    def _same(self) -> Place:
        cursor = self.cursor
        cursor.take_word("place")
        cursor.take_name("place")
        unit = read_unit(cursor)
        if cursor.take_word("as"):
            to_separator(cursor)
        return self._made("same", what=unit or "stitch")

    def _named(self, led: bool, looped: bool) -> Place | None:
        """`in all sts`, `in 3 sts`, `in dc`, `in top of turning chain`: places without "next"."""
        cursor = self.cursor
        if not (led or looped):
            return None
        if led and cursor.take_name("all"):
            return self._all()
        if looped and not led and not cursor.word("stitch"):
            return None
        amount = read_count(cursor)
        if amount is None and led and cursor.take_name(*_MIDDLE):
            unit = self._unit()
            if unit == "chain" and cursor.word("of") and (chain := self._chain_of(0)) is not None:
                return chain
            group = read_group_behind(cursor, 0)
            if group is not None and unit in ("stitch", None):
                return self._made("within", group=group)
            return self._made("next", None, what=unit, group=group) if unit is not None else None
        marked = cursor.take_word("marked")
        cursor.take_name("center", "centre", "corner", "corresponding")
        if self._skipped():
            return self._made("next", amount, what="skipped")
        unit = self._unit()
        if marked:
            return self._made("next", amount, what="marked")
        if amount is None and unit is None:
            return None
        base = cursor.position
        if unit == "stitch" and cursor.take_name("at"):
            cursor.take_word("the")
            if cursor.take_name("base"):
                to_separator(cursor)
                return self._made("same")
            cursor.position = base
        if unit == "space" and (gap := read_gap(cursor, False)) is not None:
            return self._gap(gap[0], amount if amount is not None else gap[1])
        if unit == "space" and amount is None and (group := read_group_behind(cursor, 0)) is not None:
            return self._made("each" if group.every else "next", what="space", group=group)
        if amount is None and cursor.take_word("around", "across"):
            return self._made("each", what=unit or "stitch")
        return self._made("next", amount, what=unit or "stitch")

    def _all(self) -> Place | None:
        """`in all sts around`, `in all 5 sts`."""
        cursor = self.cursor
        cursor.take_word("the", "remaining")
        amount = read_count(cursor)
        unit = read_unit(cursor)
        if amount is None and unit is None:
            cursor.position = self.start
            return None
        if amount is not None:
            return self._made("next", amount, what=unit or "stitch")
        place = self._made("each", rest=read_to_last(cursor), what=unit or "stitch")
        # Of all stitches none is left unworked.
        return place if place.also else msgspec.structs.replace(place, also="left")

    def _closes_row(self) -> bool:
        """Whether "first" or "last" here belongs to other words, such as "last rnd"."""
        after = self.cursor.ahead()
        return after is None or (after.kind == "word" and after.value in ("row", "round", "row_or_round", "repeat"))

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
        while cursor.word("the", "beginning", "next", "each", "same") or _is_any(cursor, "turning", "corner"):
            spaced = cursor.word("next", "each") or _is_any(cursor, "corner") or spaced
            cursor.position += 1
        unit = self._unit()
        if unit not in ("turning_chain", "space", "chain"):
            return None
        if spaced:
            cursor.take_word("around")
            return self._made("next", what="space", nth=nth)
        return self._made("last", what="turning_chain", nth=nth)


def _is_any(cursor: Cursor, *words: str) -> bool:
    token = cursor.token
    return token is not None and token.text.lower() in words
