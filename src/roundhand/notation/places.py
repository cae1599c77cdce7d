"""Where the hook goes: from `in next 3 sts` to `in back loop only of each st around`."""

from __future__ import annotations

import msgspec

from roundhand.notation.cursor import Cursor
from roundhand.notation.depths import read_below
from roundhand.notation.edges import read_along, read_foundation, read_other_side
from roundhand.notation.named_places import (
    read_gap,
    read_group_behind,
    read_left_free,
    read_loops_left,
    read_named_row,
)
from roundhand.notation.place_numbered import JUST_MADE, Numbered
from roundhand.notation.reach import pass_opening, read_to_last, to_separator, with_chains
from roundhand.notation.tree import Amount, Group, Place
from roundhand.notation.units import (
    CENTRES,
    OPENINGS,
    centre_ahead,
    read_count,
    read_length,
    read_loop,
    read_to_corner,
    read_to_place,
    read_unit,
)
from roundhand.stitches import dictionary

_POSTS = {"front_post": "front", "back_post": "back"}
# Words between "in" and the place itself: "of the back loop only of".
_LONGEST_LEAD = 12
# Marks behind which no word belongs to a place any more.
_CLOSES = frozenset((",", ";", ".", ")", "]", "*"))
_MIDDLE = ("center", "centre", "middle", "central")


def read_place(cursor: Cursor, loop: str = "", led: bool = False) -> Place | None:
    """The place that stands at the cursor, with or without `in`; None (and nothing taken) where none stands. `led` is
    true where a word before it leads to a place already, as in `sl st to`."""
    return _Finder(cursor, loop).place(led)


class _Finder(Numbered):
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
        self.called = ""

    def place(self, led: bool = False) -> Place | None:
        cursor = self.cursor
        # Words that lead to a place ("in", "over") let a bare number or stitch name one; a loop alone does not.
        led = led or cursor.take_word("in", "over") or cursor.take_name("around", "over", "through", "across")
        if not led and cursor.word("total") and cursor.token is not None and cursor.token.text.lower() == "in all":
            # "in all 5 sts" is a place, "24 in all" a count.
            cursor.position += 1
            return self._all()
        first = cursor.tokens[self.start].value if self.start < len(cursor.tokens) else ""
        if led and first in ("around", "across") and not self._goes_on():
            # A bare "around" is the whole round.
            cursor.position = self.start
            led = False
        if led:
            start = cursor.position
            cursor.take_word("the")
            if read_other_side(cursor):
                return self._made("each", what="other_side")
            cursor.position = start
        looped = False
        # "Next" and "each" stand in front of the place itself; nothing leads to them any more.
        for _ in range(0 if cursor.word("next", "each") else _LONGEST_LEAD):
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
        if unit in ("space", "corner", "turning_chain") and length is not None:
            self.length = length
        if unit == "stitch" and token is not None:
            several = token.kind == "stitch" and dictionary()[token.value].makes > 1
            self.named = token.value if several or token.kind == "defined" else ""
            self.called = token.value if token.kind in ("stitch", "defined") else ""
        return unit

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
        below, loop = self.below, self.loop
        if cursor.position < cursor.end and cursor.low[cursor.position] not in _CLOSES:
            if what == "space":
                self._of_block()
            below = self.below if self.below is not None else self._late_below()
            kind, rest = self._in_row(kind, count, rest)
            late = self._late_loop()
            loop = self.loop if late is None else late
            pass_opening(cursor)
        if kind in ("between", "made"):
            loop = kind
        words = cursor.tokens[self.start : cursor.position]
        if what == "corner" and kind == "next" and any(one.kind == "word" and one.value == "each" for one in words):
            # "in center st of each corner".
            kind = "each"
        until = "corner" if kind == "each" and rest is None and read_to_corner(cursor) else ""
        to_place = None
        if kind == "each" and rest is None and not until and what == "stitch":
            # "dc in each dc to ch-2 sp, ch 2, skip ch-2 sp": these are worked up to that space.
            to_place = read_to_place(cursor)
        opening = what == "chain" and any(one.kind == "name" and one.text.lower() in OPENINGS for one in words)
        if opening and kind == "next" and count is None:
            # "2 sc in underarm ch": over the chain and not into one of its links.
            what, opening = "space", False
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
            to_place[1] if to_place is not None else self.length,
            nth,
            self.from_next,
            self.named if group is None else "",
            until,
            called=self.called,
            opening=opening and kind == "each",
            to_space=to_place is not None,
        )
        return with_chains(cursor, place)

    def _in_row(self, kind: str, count: Amount | None, rest: Amount | None) -> tuple[str, Amount | None]:
        """The row that is named behind a place; with it "in each free loop of Rnd 3 around" is each of them."""
        cursor = self.cursor
        if self.row is None:
            self.row = read_named_row(cursor, self.free)
        self.free = read_left_free(cursor) or self.free
        if self.row is not None and kind in ("next", "each", "row_ends"):
            if kind != "next" and rest is None:
                rest = read_to_last(cursor)
            elif count is None and cursor.take_word("around", "across"):
                kind = "each"
        return kind, rest

    def _late_loop(self) -> str | None:
        """The loop, or the layers, that are said behind a place."""
        cursor = self.cursor
        late = read_loop(cursor)
        if late is None:
            at = cursor.position
            late = read_loop(cursor) if cursor.take_word("in", "through") else None
            if late is None:
                cursor.position = at
        return "layers" if late is None and self._behind_layers() else late

    def _gap(self, group: Group, count: Amount | None) -> Place:
        """A gap between stitches; where it lies right here, the place of the stitch before is not left."""
        if group.size is not None and group.size.values == (0,):
            return msgspec.structs.replace(self._made("same"), loop="between")
        return self._made("between", count, group=group)

    def _core(self, led: bool, looped: bool) -> Place | None:
        cursor = self.cursor
        if cursor.word("next", "each"):
            self.below = self._row_below_next()
        else:
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
        if led and cursor.token is not None and cursor.token.text.lower() == "end":
            # "in end ch" is the last one.
            at = cursor.position
            cursor.position += 1
            unit = read_unit(cursor)
            if unit is not None:
                return self._made("last", what=unit)
            cursor.position = at
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
                if kind == "last" and cursor.take_name(*JUST_MADE):
                    return self._made("made")
            if unit == "chain" and self.row is None and read_foundation(cursor):
                unit = "foundation"
            return self._made(kind, amount, what=unit or "stitch")
        if cursor.take_word("remaining"):
            amount = read_count(cursor)
            unit = self._unit()
            cursor.take_word("around", "across")
            return self._made("next" if amount is not None else "each", amount, what=unit or "stitch")
        if cursor.at("ordinal"):
            return self._ordinal()
        if cursor.take_word("ring"):
            self.length = self._chains_of_ring()
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
        if (looped or not led) and read_to_corner(cursor):
            return msgspec.structs.replace(self._made("each"), until="corner")
        if (looped or not led) and self._across_opening():
            return self._made("each", what="chain")
        if cursor.word("around", "across") and (looped or not led):
            rest = read_to_last(cursor)
            return self._made("each", rest=rest)
        if cursor.word("to", "until"):
            rest = read_to_last(cursor)
            return self._made("each", rest=rest) if rest is not None else None
        return self._named(led, looped)

    def _across_opening(self) -> bool:
        """Moves over `across underarm ch`, `along the underarm chs`; else False (nothing taken)."""
        cursor = self.cursor
        start = cursor.position
        if cursor.take_word("across", "around", "over") or cursor.take_name("along", "over"):
            cursor.take_word("the")
            read_count(cursor)
            if cursor.take_name(*OPENINGS) and cursor.at("stitch", "chain") and read_unit(cursor) == "chain":
                return True
        cursor.position = start
        return False

    def _chains_of_ring(self) -> int | None:
        """`of 6 chain`, `of ch 6` behind a ring: of how many chains it is."""
        cursor = self.cursor
        start = cursor.position
        if cursor.take_word("of"):
            led = cursor.at("stitch", "chain")
            cursor.position += led
            number = cursor.take().number if cursor.at("number") else None
            behind = not led and cursor.at("stitch", "chain")
            cursor.position += behind
            if number is not None and (led or behind):
                return number
        cursor.position = start
        return None

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
        if amount is None and not which and read_other_side(cursor):
            return self._made("each", what="other_side")
        skipped = self._skipped() if amount is not None else False
        marked = cursor.take_word("marked")
        unit = None if skipped else self._unit()
        if unit == "corner" and not which:
            # "in each of the 4 corners" is in each of them.
            return self._made("each", what=unit)
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
        if unit is not None:
            at = cursor.position
            along = read_along(cursor)
            if along is not None and along[0] in ("chain", "foundation") and unit != "row_end":
                what = "other_side" if along[0] == "chain" else "foundation"
                return self._made("each", rest=read_to_last(cursor), what=what)
            if along is not None and along[0] not in ("edge", "top", "row_ends", "chain"):
                cursor.position = at
        rest = None if self._row_follows() else read_to_last(cursor)
        return self._made("each" if unit != "row_end" else "row_ends", rest=rest, what=unit or "stitch")

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
        token = cursor.token
        if led and token is not None and token.text.lower() in CENTRES and centre_ahead(cursor):
            return self._made("next", amount, what=read_unit(cursor) or "corner")
        if amount is None and led and cursor.take_name(*_MIDDLE):
            unit = self._unit()
            if unit == "chain" and cursor.word("of") and (chain := self._chain_of(0)) is not None:
                return chain
            group = read_group_behind(cursor, 0)
            if group is not None and unit in ("stitch", None):
                return self._made("within", group=group)
            return self._made("next", None, what=unit, group=group) if unit is not None else None
        marked = cursor.take_word("marked")
        cursor.take_name(*CENTRES, "corresponding", "any")
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
