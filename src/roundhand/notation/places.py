"""Where the hook goes: from `in next 3 sts` to `in back loop only of each st around`."""

from __future__ import annotations

import msgspec

from roundhand.findings import Span
from roundhand.notation.cursor import Cursor
from roundhand.notation.tree import Amount, Place

_LOOPS = {"back_loop": "back", "front_loop": "front", "both_loops": "both", "third_loop": "third"}
_POSTS = {"front_post": "front", "back_post": "back"}
# Words between "in" and the place itself: "of the back loop only of".
_LONGEST_LEAD = 12
_UNIT_WORDS = ("stitch", "space", "row_end")
_LOWER = ("down", "under", "lower", "beneath", "prior", "earlier", "back")
# Where chains were made over stitches that were passed over.
_OPENINGS = (
    "underarm",
    "underarms",
    "thumb",
    "opening",
    "openings",
    "armhole",
    "armholes",
    "buttonhole",
    "buttonholes",
)
# Stitches that the hook went past before and now comes back to.
_LEFT_BEFORE = ("skipped", "missed", "unworked", "unused", "held")
_DASHES = ("-", "\u2013")


def read_loop(cursor: Cursor) -> str | None:
    """A loop of the stitch (`back`, `front`, `third`, `both`) if one stands here, else None."""
    token = cursor.token
    if token is not None and token.kind == "word" and token.value in _LOOPS:
        cursor.position += 1
        cursor.take_name("only")
        return _LOOPS[token.value]
    return None


def read_unit(cursor: Cursor) -> str | None:
    """What a place is called: a stitch, a space, a chain, a row end; moves over it. None where no such word stands."""
    token = cursor.token
    if token is not None and token.kind == "name" and token.text.lower() in _OPENINGS:
        # "the 6 underarm ch"
        cursor.position += 1
        unit = read_unit(cursor)
        cursor.position -= unit is None
        return unit
    if token is None:
        return None
    if token.kind == "stitch" and token.value == "chain":
        return _chain_unit(cursor)
    if token.kind in ("stitch", "defined"):
        cursor.position += 1
        if cursor.take_word("space"):
            return "space"
        cursor.take_word("stitch")
        return "stitch"
    if token.kind == "word" and token.value in ("increase", "decrease"):
        cursor.position += 1
        return "stitch"
    if token.kind == "word" and token.value in _UNIT_WORDS:
        cursor.position += 1
        return token.value
    if token.kind == "word" and token.value == "turning_chain":
        cursor.position += 1
        return "turning_chain"
    return None


def _chain_unit(cursor: Cursor) -> str:
    """`ch`, `ch-2 sp`, `ch 2 space`, `ch-sp`: a single chain or the space under some."""
    cursor.position += 1
    start = cursor.position
    if cursor.mark(*_DASHES):
        cursor.position += 1
    if cursor.take_word("space"):
        return "space"
    token = cursor.token
    if token is not None and token.kind == "number":
        cursor.position += 1
        # "in next ch-1" often means the space over it; a chain of the turn is a stitch's own.
        return "space" if cursor.take_word("space") or (token.number or 0) < 3 else "turning_chain"
    cursor.position = start
    return "chain"


def read_below(cursor: Cursor) -> Amount | None:
    """`3 rnds below`, `2 rows down`: how many rows lower, counted so that 1 is the row below; None where not said."""
    start = cursor.position
    cursor.take_name("from", "on", "of", "the")
    amount = cursor.amount()
    if (
        amount is not None
        and cursor.take_word("row", "round", "row_or_round")
        and (cursor.take_word("below") or cursor.take_name(*_LOWER))
    ):
        return amount
    cursor.position = start
    return None


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
            elif token is not None and token.kind == "word" and token.value in _POSTS:
                self.post = _POSTS[token.value]
                cursor.position += 1
                led = True
            elif not (
                cursor.take_word("of", "the", "through", "top", "work")
                or (looped and cursor.take_word("in"))
                or (led and cursor.take_name("post", "posts", "in", "under", "free", "only", "corresponding", "both"))
            ):
                break
        place = self._core(led, looped)
        if place is None:
            cursor.position = self.start
        return place

    def _goes_on(self) -> bool:
        """Whether words follow that make "around" lead to a place: `around the post of next st`, `around next dc`."""
        cursor = self.cursor
        return (
            cursor.word("post", "next", "each", "same", "the", "first", "last", "front_post", "back_post", "row_end")
            or (cursor.at("stitch") or cursor.word("stitch"))
            or (cursor.at("number") and cursor.ahead() is not None)
        )

    def _made(self, kind: str, count: Amount | None = None, rest: Amount | None = None, what: str = "stitch") -> Place:
        """The place, with the depth and the loop that may stand behind it."""
        cursor = self.cursor
        below = self.below if self.below is not None else read_below(cursor)
        late = read_loop(cursor)
        if late is None:
            at = cursor.position
            late = read_loop(cursor) if cursor.take_word("in", "through") else None
            if late is None:
                cursor.position = at
        loop = self.loop if late is None else late
        _of_opening(cursor)
        place = Place(
            kind, cursor.since(self.start), count, rest, loop if loop != "both" else "", self.post, below, what
        )
        return _with_chains(cursor, place)

    def _core(self, led: bool, looped: bool) -> Place | None:
        cursor = self.cursor
        self.below = read_below(cursor)
        if self.below is not None:
            cursor.take_word("of", "the")
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
            amount = cursor.amount()
            unit = read_unit(cursor)
            if unit is None and amount is None and not led:
                return None
            return self._made(kind, amount, what=unit or "stitch")
        if cursor.take_word("remaining"):
            amount = cursor.amount()
            unit = read_unit(cursor)
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
        amount = cursor.amount()
        if amount is None and cursor.at("ordinal"):
            # "in every 3rd st" is another matter than the third.
            return None
        skipped = amount is not None and self._skipped()
        unit = None if skipped else read_unit(cursor)
        if amount is not None:
            kind = which if which in ("first", "last") else "next"
            return self._made(kind, amount, what="skipped" if skipped else unit or "stitch")
        if unit is None and self._skipped():
            return self._made("each", what="skipped")
        if unit is None and not cursor.word("around", "across", "next"):
            return None
        rest = read_to_last(cursor)
        return self._made("each" if unit != "row_end" else "row_ends", rest=rest, what=unit or "stitch")

    def _next(self) -> Place | None:
        cursor = self.cursor
        amount = cursor.amount()
        if self._skipped():
            return self._made("next", amount, what="skipped")
        unit = read_unit(cursor)
        if amount is None and unit is None and cursor.word("row", "round", "row_or_round"):
            return None
        return self._made("next", amount, what=unit or "stitch")

    def _skipped(self) -> bool:
        """Moves over `skipped st`, `2 unworked sc`, `sk sts`, if they stand here."""
        cursor = self.cursor
        start = cursor.position
        if (cursor.take_name(*_LEFT_BEFORE) or cursor.take_word("skip")) and read_unit(cursor) == "stitch":
            _of_row(cursor)
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
        amount = cursor.amount()
        cursor.take_name("marked", "center", "centre", "corner", "corresponding")
        if self._skipped():
            return self._made("next", amount, what="skipped")
        unit = read_unit(cursor)
        if amount is None and unit is None:
            return None
        if amount is None and cursor.take_word("around", "across"):
            return self._made("each", what=unit or "stitch")
        return self._made("next", amount, what=unit or "stitch")

    def _all(self) -> Place | None:
        """`in all sts around`, `in all 5 sts`."""
        cursor = self.cursor
        cursor.take_word("the", "remaining")
        amount = cursor.amount()
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
        unit = read_unit(cursor)
        from_hook = cursor.take_word("from_hook")
        if unit is None and not from_hook:
            return None
        if unit == "chain" and not from_hook and cursor.word("of"):
            # A chain of the row's start: "in 3rd ch of tch" is its top.
            at = cursor.position
            cursor.position += 1
            cursor.take_word("the", "beginning")
            if read_unit(cursor) in ("turning_chain", "space", "chain"):
                return self._made("last", what="turning_chain")
            cursor.position = at
        if from_hook or unit == "chain":
            return Place("from_hook", cursor.since(self.start), count, None, self.loop, what="chain")
        return Place("nth", cursor.since(self.start), count, None, self.loop, what=unit or "stitch")


def pass_purpose(cursor: Cursor) -> None:
    """Moves over what chains or skips are for: `for underarm`, `for the thumb opening`, `over the skipped sts`."""
    start = cursor.position
    if not cursor.word("for", "over"):
        return
    while (token := cursor.token) is not None and token.kind != "mark":
        if token.kind in ("number", "stitch", "defined", "colour"):
            cursor.position = start
            return
        cursor.position += 1


def _of_row(cursor: Cursor) -> None:
    """Moves over `of Row 1`, `from Rnd 24`, `left on Row 3` behind stitches that were passed over before."""
    start = cursor.position
    cursor.take_name("left", "unworked")
    if cursor.take_word("of", "from", "in") or cursor.take_name("on", "from"):
        cursor.take_word("the")
        cursor.take_word("last")
        if cursor.take_word("row", "round", "row_or_round"):
            cursor.amount()
            return
    cursor.position = start


def _of_opening(cursor: Cursor) -> None:
    """Moves over `of underarm`, `at the thumb opening`, behind a place."""
    start = cursor.position
    if cursor.take_word("of", "over", "across") or cursor.take_name("of", "at", "along", "over"):
        cursor.take_word("the", "each")
        if cursor.take_name(*_OPENINGS):
            cursor.take_name("opening", "gap")
            return
    cursor.position = start


def _with_chains(cursor: Cursor, place: Place) -> Place:
    """`in each st and ch`, `in each st and in each ch`: the place, with every chain as well where that is said."""
    start = cursor.position
    if place.kind == "each" and place.what == "stitch" and not place.post and cursor.take_word("and"):
        cursor.take_word("in")
        cursor.take_word("each")
        cursor.take_word("the", "of")
        if cursor.at("stitch", "chain") and read_unit(cursor) == "chain" and not cursor.word("from_hook"):
            rest = read_to_last(cursor) or place.rest
            return msgspec.structs.replace(place, span=cursor.since(start).to(place.span), also="chain", rest=rest)
    cursor.position = start
    return place


def read_to_last(cursor: Cursor) -> Amount | None:
    """`around`, `across`, `to last 3 sts`, `until 3 sts remain` behind a place: how many it leaves; None for none."""
    start = cursor.position
    cursor.take_word("around", "across")
    if not cursor.take_word("to", "until"):
        return None
    cursor.take_name("within")
    cursor.take_word("the")
    last = cursor.take_word("last", "first")
    amount = cursor.amount()
    if amount is None:
        # "to last st" leaves one; other ends ("to marker", "to corner") are named places.
        what = read_unit(cursor) if last else None
        if what is not None:
            return Amount((1,), cursor.since(start), what=what)
        cursor.position = start
        cursor.take_word("around", "across")
        return None
    amount = msgspec.structs.replace(amount, what=read_unit(cursor) or "stitch")
    cursor.take_word("of")
    cursor.take_word("the", "end")
    cursor.take_word("remaining")
    cursor.take_name("left", "remain", "before", "unworked", "end")
    return amount


def to_separator(cursor: Cursor) -> Span:
    """Moves to the next separator outside brackets and gives the span passed over."""
    start = cursor.position
    depth = 0
    while (token := cursor.token) is not None:
        if token.kind == "mark":
            if token.text in "([{":
                depth += 1
            elif token.text in ")]}":
                if depth == 0:
                    break
                depth -= 1
            elif depth == 0 and token.text in (",", ";", ".", ":"):
                break
        cursor.position += 1
    return cursor.since(start)
