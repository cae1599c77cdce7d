"""Places that have to be found by name: loops left free, a row by its label, a stitch of a group, a gap."""

from __future__ import annotations

from roundhand.notation.cursor import Cursor
from roundhand.notation.tree import Amount, Group
from roundhand.notation.units import read_loop, read_unit
from roundhand.stitches import dictionary

_FREE = frozenset(
    ("unused", "free", "unworked", "remaining", "rem", "exposed", "available", "leftover", "empty", "spare")
)
_LEFT = frozenset(("left", "unused", "free", "unworked", "exposed"))
_BEFORE_ROW = frozenset(("of", "from", "in", "across", "on", "along"))
_GROUPS = frozenset(
    (
        *("group", "groups", "grp", "grps", "gr", "grs", "shell", "shells", "fan", "fans", "scallop", "scallops"),
        *("set", "sets", "block", "blocks", "cluster", "clusters", "petal", "petals", "bunch", "bunches", "pair"),
        *("pairs", "v", "v-stitch", "v-stitches", "trio", "trios"),
    )
)
_DASHES = ("-", "\u2013")
_WHICH = ("next", "same", "first", "last", "remaining")


def read_loops_left(cursor: Cursor) -> str | None:
    """`unused front loops`, `free loops`, `remaining back loop`: which loop (empty where it is not said); None, and
    nothing taken, where no loops are said to be free."""
    start = cursor.position
    if start >= cursor.end or cursor.low[start] not in _FREE:
        return None
    if cursor.take_name(*_FREE):
        cursor.take_name(*_FREE)
        loop = read_loop(cursor)
        if loop is not None:
            return loop if loop != "both" else ""
        if cursor.take_word("loop"):
            return ""
    cursor.position = start
    return None


def read_left_free(cursor: Cursor) -> bool:
    """`left unworked`, `left free in Rnd 4` behind loops: they are those that a row left."""
    if cursor.said.isdisjoint(_LEFT):
        return False
    start = cursor.position
    cursor.take_name("that", "which", "were", "are", "was")
    if cursor.take_name(*_LEFT):
        while cursor.take_name(*_LEFT):
            pass
        if cursor.word("in") or cursor.take_name("by", "from", "when"):
            at = cursor.position
            cursor.take_word("in")
            cursor.take_name("working", "you")
            if read_label(cursor) is None:
                cursor.position = at
        return True
    cursor.position = start
    return False


def read_label(cursor: Cursor) -> Amount | None:
    """`Rnd 3`, `the 3rd round`, `Row 12`: the number of a row that the words name; None, and nothing taken, if none."""
    start = cursor.position
    cursor.take_word("the")
    if cursor.take_word("row", "round", "row_or_round"):
        amount = cursor.amount()
        if amount is not None:
            return Amount(amount.values, cursor.since(start))
    elif cursor.at("ordinal"):
        token = cursor.take()
        if cursor.take_word("row", "round", "row_or_round") and not cursor.word("below"):
            return Amount((token.number,), cursor.since(start))
    cursor.position = start
    return None


def read_named_row(cursor: Cursor, free: bool = False) -> Amount | None:
    """`of Rnd 3`, `from Row 2`, `on Rnd 5`, `in Row 1`: the row that a place lies in; None, nothing taken, if none.

    `free` is true behind loops that are free, which may be those of the foundation chain; its number is 0."""
    if not cursor.leads(_BEFORE_ROW):
        return None
    start = cursor.position
    if cursor.take_word("of", "from", "in", "across") or cursor.take_name("on", "from", "along"):
        found = read_label(cursor)
        if found is not None:
            return found
        if free and _foundation(cursor):
            return Amount((0,), cursor.since(start))
    cursor.position = start
    return None


def _foundation(cursor: Cursor) -> bool:
    """Moves over `the foundation ch`, `starting chain`, `beg ch`."""
    cursor.take_word("the")
    while cursor.take_word("beginning") or cursor.take_name("foundation", "base", "original", "first"):
        pass
    return cursor.at("stitch", "chain") and read_unit(cursor) == "chain"


def read_free_loops(cursor: Cursor, end: int) -> tuple[str, Amount | None] | None:
    """The free loops, and the row they are of, that the words up to the position `end` name: `join A in any free front
    loop of Rnd 3`; None, and nothing taken, where they name none."""
    start = cursor.position
    while cursor.position < end:
        left = read_loops_left(cursor)
        loop = left if left is not None else read_loop(cursor)
        if loop is not None:
            row = read_named_row(cursor, True)
            if left is not None or row is not None or read_left_free(cursor):
                read_left_free(cursor)
                return "" if loop == "both" else loop, row
        cursor.position += loop is None
    cursor.position = start
    return None


def read_group_behind(cursor: Cursor, nth: int) -> Group | None:
    """`of next shell`, `of 7 dc`, `of next 5-dc group`, `of V-st` behind a stitch that is the `nth` of it."""
    start = cursor.position
    if not cursor.take_word("of", "in"):
        return None
    led_in = cursor.tokens[start].value == "in"
    every = False
    which = False
    while cursor.word(*_WHICH, "the", "each"):
        every = cursor.word("each") or every
        which = which or not cursor.word("the")
        cursor.position += 1
    noun = _group(cursor)
    if noun is None or (led_in and noun[0] is None and not noun[1] and not which):
        cursor.position = start
        return None
    flat = cursor.word("across")
    if cursor.take_word("around", "across"):
        every = True
    return Group(cursor.since(start), noun[0], noun[1], nth, every, flat)


def _group(cursor: Cursor) -> tuple[Amount | None, str] | None:
    """`7 dc`, `5-dc shell`, `shell`, `V-st`, `group`: how many stitches, or what it is called."""
    start = cursor.position
    amount = cursor.amount()
    if cursor.mark(*_DASHES):
        cursor.position += 1
    token = cursor.token
    if token is None:
        cursor.position = start
        return None
    if token.kind == "defined":
        cursor.position += 1
        cursor.take_word("stitch")
        return amount, token.value
    if token.text.lower() in _GROUPS and (token.kind != "stitch" or amount is None):
        name = _called(cursor)
        of = cursor.position
        if amount is None and cursor.take_word("of") and (number := cursor.amount()) is not None and read_unit(cursor):
            # "set of 2 dc".
            return number, ""
        cursor.position = of
        return amount, name
    if token.kind == "stitch" and token.value != "chain":
        cursor.position += 1
        cursor.take_word("stitch")
        after = cursor.token
        if after is not None and after.text.lower() in _GROUPS:
            _called(cursor)
            return amount, ""
        if amount is not None and (amount.at(0) or 0) > 1:
            return amount, ""
        if amount is None and dictionary()[token.value].makes > 1:
            return None, token.value
    elif token.kind == "word" and token.value == "stitch" and amount is not None and (amount.at(0) or 0) > 1:
        cursor.position += 1
        if cursor.token is not None and cursor.token.text.lower() in _GROUPS:
            _called(cursor)
        return amount, ""
    cursor.position = start
    return None


def _called(cursor: Cursor) -> str:
    """Moves over the word for a group, `V-st` with its stitch; a stitch of the dictionary gives its id."""
    token = cursor.take()
    if token.text.lower() == "v":
        if cursor.mark(*_DASHES):
            cursor.position += 1
        cursor.take_word("stitch")
    else:
        cursor.take_word("stitch")
    return token.value if token.kind == "stitch" and dictionary()[token.value].makes > 1 else ""


# Gaps.


def read_gap(cursor: Cursor, every: bool) -> tuple[Group, Amount | None] | None:
    """`between next 2 sts`, `between 2nd and 3rd dc of next shell`, `between each pair of sts around`, the word
    itself still ahead: the gap, and how many such gaps if the words say so. `every` is true behind "each space"."""
    start = cursor.position
    if cursor.position and cursor.tokens[cursor.position - 1].value == "space" and cursor.take_name("before", "after"):
        # "in sp before next st".
        at = cursor.position + 1
        if cursor.word("next") and not every:
            cursor.position += 1
            if _group(cursor) is not None and _group_words(cursor, at):
                # The group itself is worked into by the words that follow: the hand stays where it is.
                span = cursor.since(start)
                return Group(span, Amount((0,), span), "", 1), None
            cursor.position = at - 1
        if cursor.take_word("next", "each") and read_unit(cursor) == "stitch":
            span = cursor.since(start)
            return Group(span, Amount((1,), span), "", 1, every), None
        cursor.position = start
        return None
    if not cursor.take_word("between"):
        return None
    found = _counted_gap(cursor, start) or _any_gap(cursor, start, every)
    if found is None:
        cursor.position = start
    return found


def _counted_gap(cursor: Cursor, start: int) -> tuple[Group, Amount | None] | None:
    """`between 2nd and 3rd dc`, `between first and second st of shell`."""
    at = cursor.position
    cursor.take_word("the")
    nth = _ordinal(cursor)
    if nth is not None and cursor.take_word("and"):
        cursor.take_word("the")
        second = _ordinal(cursor)
        unit = read_unit(cursor)
        if second == nth + 1 and unit is not None:
            behind = read_group_behind(cursor, nth)
            if behind is not None:
                return behind, None
            span = cursor.since(start)
            return Group(span, Amount((nth,), span), "", nth), None
    cursor.position = at
    return None


def _ordinal(cursor: Cursor) -> int | None:
    token = cursor.token
    if token is not None and token.kind == "ordinal":
        cursor.position += 1
        read = token.number
        unit = cursor.position
        if read_unit(cursor) is None or not cursor.word("and"):
            cursor.position = unit
        return read
    if cursor.take_word("first"):
        unit = cursor.position
        if read_unit(cursor) is None or not cursor.word("and"):
            cursor.position = unit
        return 1
    return None


def _any_gap(cursor: Cursor, start: int, every: bool) -> tuple[Group, Amount | None] | None:
    """`between next 2 sts`, `between sts around`, `between next 2 3-dc groups`, `between each pair of sts`."""
    which = ""
    paired = False
    while cursor.word(*_WHICH, "the", "each") or _is(cursor, "all", "two", "adjacent", "every"):
        if cursor.word("each") or _is(cursor, "all", "every"):
            every = True
        elif cursor.word(*_WHICH):
            which = cursor.tokens[cursor.position].value
        elif _is(cursor, "two"):
            break
        cursor.position += 1
    if _is(cursor, "pair", "pairs"):
        cursor.position += 1
        paired = True
        if not cursor.take_word("of"):
            return None
        cursor.take_word("the")
    at = cursor.position
    amount = cursor.amount()
    group = _group(cursor) if amount is None or not cursor.mark(*_DASHES) else None
    if amount is None or group is None:
        cursor.position = at
        group = _group(cursor)
        if group is not None and not _group_words(cursor, at):
            # "between next 2 sts": two plain stitches are no group.
            group = None
            cursor.position = at
        if group is not None:
            amount = None
    if group is not None:
        found = Group(cursor.since(start), group[0], group[1], -1, every)
        return _ended(cursor, start, found, paired), None
    amount = cursor.amount()
    unit = read_unit(cursor)
    if unit is None or unit == "space":
        return None
    if unit == "stitch" and amount is not None and (behind := read_group_behind(cursor, 1)) is not None:
        # "between the 2 dc of next V-st".
        return behind, None
    if cursor.take_word("and"):
        while cursor.word(*_WHICH, "the"):
            cursor.position += 1
        if read_unit(cursor) is None:
            return None
        span = cursor.since(start)
        return Group(span, Amount((1,), span), "", 1), None
    number = amount.at(0) if amount is not None else None
    gaps = Amount((number - 1,), amount.span) if amount is not None and number is not None and number > 2 else None
    span = cursor.since(start)
    found = Group(span, Amount((1,), span), "", 1, every or (not which and amount is None))
    return _ended(cursor, start, found, paired), gaps


def _group_words(cursor: Cursor, start: int) -> bool:
    """Whether the words taken since `start` call a group by a word for one, or join number and stitch by a hyphen."""
    taken = cursor.tokens[start : cursor.position]
    return any(
        token.kind == "defined" or token.text.lower() in _GROUPS or (token.kind == "mark" and token.text in _DASHES)
        for token in taken
    ) or any(token.kind == "stitch" and dictionary()[token.value].makes > 1 for token in taken)


def _ended(cursor: Cursor, start: int, group: Group, paired: bool) -> Group:
    flat = cursor.word("across")
    around = cursor.take_word("around", "across")
    every = group.every or around or paired
    return Group(cursor.since(start), group.size, group.name, group.nth, every, flat)


def _is(cursor: Cursor, *words: str) -> bool:
    token = cursor.token
    return token is not None and token.text.lower() in words
