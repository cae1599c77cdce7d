"""Rows that are told and not written: `dec 1 st each end of 2nd row and every 3rd row after until 45 sts rem`.

A schedule says by which rhythm rows are shaped, which rows are worked again, or how a round grows from the one before,
and where that ends: at a count, at a length, after so many rows. What the words hold is kept as it stands; the tally
writes the rows out, since only there the counts are known. That `every 3rd row after` counts from the row named before
it, and that rows between are worked even, is common practice.
"""

from __future__ import annotations

import msgspec

from roundhand.findings import Span
from roundhand.notation.cursor import Cursor
from roundhand.notation.goals import Draft, read_ending, read_rows, read_until
from roundhand.notation.references import read_copy
from roundhand.notation.rhythms import read_rhythms
from roundhand.notation.stripes import read_stripes
from roundhand.notation.tree import Amount, Beat, Plan
from roundhand.notation.whole_row import read_where

_ROWS = ("row", "round", "row_or_round")
_MARKS = (",", ";", ":", "-", "\u2013", "\u2014")
# Words that lead over from one part of a schedule to the next and say nothing of their own.
_LEADS = frozenset(
    (
        "continue", "cont", "continuing", "in", "continue in", "continuing in", "this", "way", "manner", "fashion",
        "pattern", "patt", "as", "established", "set", "before", "and", "then", "also", "same", "the", "by", "with",
        "having", "adding", "working", "work", "while", "to", "keeping", "on", "but", "until", "for", "thus", "even",
        "straight", "so", "worked", "sc", "all", "est", "the same", "keep", "this way", "same way", "rep", "repeating",
    )
)  # fmt: skip
_MORE = ("more", "additional", "extra")
_LESS = ("less", "fewer")


def read_plan(cursor: Cursor, bare: bool = False, ranged: bool = False) -> Plan | None:
    """A schedule that begins at the cursor; None (nothing taken) where the words tell no rows.

    `ranged` is true where a label says how many rows there are.

    `bare` is true where the schedule stands behind the words of a row that it speaks of, and need not say what is
    worked."""
    start = cursor.position
    draft = Draft()
    draft.plain = bare
    ends = start
    _purpose(cursor)
    before = -1
    while before < cursor.position < cursor.end:
        before = cursor.position
        if draft.ended() and draft.whole() and _next_phase(cursor):
            break
        if _part(cursor, draft):
            ends = cursor.position
        elif not _lead(cursor, draft):
            break
    if ranged and draft.goes_on and ends == start:
        # "Rnds 4-10: Increase as set."
        ends = cursor.position
    cursor.position = ends
    if ranged and draft.goes_on and ends > start:
        draft.plain = True
    if not (draft.whole() or (ranged and draft.goes_on)) or ends == start:
        cursor.position = start
        return None
    return Plan(
        cursor.since(start),
        tuple(draft.beats),
        draft.base,
        draft.grows,
        draft.every,
        draft.goal,
        draft.unit,
        draft.goal_span or cursor.since(start),
        draft.rows,
        draft.rows_upto,
        draft.lengths,
        draft.upto,
        draft.since,
        draft.side,
        draft.at_once,
        draft.stitch,
        draft.stripes,
        draft.last,
        draft.goes_on,
        draft.even,
    )


def _next_phase(cursor: Cursor) -> bool:
    """Whether the words go on with rows of another kind, `, then work even until …`; moves over nothing."""
    start = cursor.position
    while cursor.mark(",", ";", "."):
        cursor.position += 1
    led = False
    while (token := cursor.token) is not None and token.text.lower() in ("then", "and", "and then", "next", "now"):
        led = led or token.text.lower() != "and"
        cursor.position += 1
    after = cursor.token
    found = (
        led
        and after is not None
        and (
            after.value in ("work", "repeat", "plain", "increase", "decrease", "bind_off", "evenly")
            or after.text.lower() in ("continue", "cont", "continuing")
        )
    )
    cursor.position = start
    return found


def _alternating(cursor: Cursor, draft: Draft) -> bool:
    """`[work 3 rows even, inc 1 st each end of next row] 5 times`: a rhythm told by its rows; False (nothing taken)
    for other words."""
    start = cursor.position
    bracket = cursor.closing(start) if cursor.mark("(", "[", "{") else None
    star = cursor.mark("*")
    if bracket is None and not star:
        return False
    cursor.position += 1
    shaped: Beat | None = None
    even: Amount | None = None
    first = True
    for _ in range(2):
        begin = cursor.position
        cursor.take_word("work")
        if cursor.word("increase", "decrease") and shaped is None:
            found = read_rhythms(cursor, None)
            if len(found) != 1 or found[0].every is not None or found[0].times is not None:
                break
            shaped, first = found[0], even is None
        elif even is None and (even := cursor.amount()) is not None:
            if not cursor.take_word(*_ROWS) or not cursor.take_word("plain", "evenly"):
                even = None
                break
        else:
            cursor.position = begin
            break
        while cursor.mark(",", ";", "."):
            cursor.position += 1
        while cursor.take_word("and") or cursor.take_name("then"):
            pass
    often = None
    if shaped is not None and even is not None and len(set(even.values)) == 1:
        if bracket is not None and cursor.position == bracket:
            cursor.position += 1
            often = cursor.times()
        elif star:
            often = _star_again(cursor)
    if often is None or shaped is None or even is None or even.values[0] is None:
        cursor.position = start
        return False
    mode, amount, _ = often
    if mode == "more" or (star and mode == "fixed"):
        amount = Amount(tuple(value + 1 if value is not None else None for value in amount.values), amount.span)
    step = even.values[0] + 1
    span = cursor.since(start)
    draft.beats.append(
        msgspec.structs.replace(
            shaped,
            first=Amount((1 if first else step,), even.span),
            labelled=False,
            every=Amount((step,), even.span),
            times=amount,
            mode="in all",
            span=span,
        )
    )
    if first:
        # The even rows behind the last shaping belong to it.
        total = tuple(value * step if value is not None else None for value in amount.values)
        draft.rows = Amount(total, span)
    return True


def _star_again(cursor: Cursor) -> tuple[str, Amount, Span] | None:
    """`rep from * 4 more times`, `* 5 times` behind the words between stars."""
    if cursor.mark("*"):
        cursor.position += 1
        cursor.take_word("repeat")
        return cursor.times()
    if not cursor.take_word("repeat"):
        return None
    cursor.take_word("from")
    if not cursor.mark("*"):
        return None
    cursor.position += 1
    return cursor.times()


def _purpose(cursor: Cursor) -> None:
    """Moves over what a shaping is for, said in front of it: `For armholes,`, `Shape sleeve:`."""
    start = cursor.position
    if not cursor.take_word("for") and not cursor.take_name("shape"):
        cursor.take_word("to")
        if not cursor.take_name("shape"):
            cursor.position = start
            return
    cursor.take_word("the", "each")
    for _ in range(2):
        if cursor.token is None or cursor.token.kind != "name":
            break
        cursor.position += 1
    if cursor.mark(",", ":", ";"):
        cursor.position += 1
    if not cursor.word("increase", "decrease", "bind_off"):
        cursor.position = start


def _part(cursor: Cursor, draft: Draft) -> bool:
    """One part of a schedule; False (nothing taken) where none stands here."""
    if not draft.beats and _alternating(cursor, draft):
        return True
    if cursor.word("alternate") or _striped(cursor):
        draft.stripes = read_stripes(cursor) or draft.stripes
        if draft.stripes is not None and draft.stripes.span.end == cursor.tokens[cursor.position - 1].end:
            return True
    if _at_once(cursor, draft) or read_until(cursor, draft) or read_ending(cursor, draft) or _growth(cursor, draft):
        return True
    if cursor.word("increase", "decrease", "bind_off") or (draft.beats and draft.goal is None):
        beats = read_rhythms(cursor, draft.beats[-1] if draft.beats else None)
        if beats:
            if draft.then and draft.beats:
                beats[0] = msgspec.structs.replace(beats[0], then=True)
            draft.then = False
            _join(draft, beats)
            return True
    if draft.base is None and not draft.beats and (cursor.word("repeat") or draft.goes_on):
        start = cursor.position
        copy = read_copy(cursor, False)
        if copy is not None:
            draft.base = copy
            return True
        cursor.position = start
    return _even(cursor, draft) or read_rows(cursor, draft)


def _striped(cursor: Cursor) -> bool:
    token = cursor.token
    return token is not None and token.text.lower() in ("stripes", "stripe")


def _join(draft: Draft, beats: list[Beat]) -> None:
    """Adds rhythms to those read so far. Told again behind the first, the same shaping goes on where that ended, unless
    both are said to happen at the same time; once on a row and then on every so many are one rhythm."""
    for beat in beats:
        last = draft.beats[-1] if draft.beats else None
        alike = last is not None and (last.act, last.where, last.edge, last.amount.values) == (
            beat.act,
            beat.where,
            beat.edge,
            beat.amount.values,
        )
        if last is None or draft.apart or not alike or beat.labelled:
            draft.beats.append(beat)
        elif last.every is None and last.times is None and beat.first is None:
            mode = "in all" if beat.mode == "in all" else "more" if beat.times is not None else ""
            one = msgspec.structs.replace(
                last, every=beat.every, times=beat.times, mode=mode, span=last.span.to(beat.span)
            )
            draft.beats[-1] = one
        else:
            draft.beats.append(msgspec.structs.replace(beat, then=True))
        draft.apart = False


def _lead(cursor: Cursor, draft: Draft) -> bool:
    """Moves over a mark or a word that leads on; a full stop only where the next sentence goes on with the schedule."""
    token = cursor.token
    if token is None:
        return False
    if token.text == ".":
        return _goes_on(cursor)
    lower = token.text.lower()
    if not draft.beats and _as_set(cursor):
        draft.goes_on = True
        return True
    if draft.goes_on and not draft.beats and token.value in ("increase", "decrease") and token.kind == "word":
        # "Cont to inc in this manner": how is told behind it.
        cursor.position += 1
        return True
    if token.kind == "mark":
        cursor.position += token.text in _MARKS
        return token.text in _MARKS
    behind_in = cursor.position > 0 and cursor.low[cursor.position - 1].split()[-1] == "in"
    if behind_in and (token.kind == "stitch" or (token.value in _ROWS and lower.endswith("s"))):
        # "Continue in hdc until …", "working in rounds".
        draft.stitch = token.value if token.kind == "stitch" else draft.stitch
        draft.even = draft.even or token.kind == "stitch"
        draft.plain = draft.plain or draft.even
        cursor.position += 1
        return True
    if lower in _LEADS and token.kind in ("word", "name", "stitch"):
        if lower.startswith(("continue", "cont", "continuing", "keep")):
            draft.goes_on = True
        after = cursor.ahead()
        if lower == "work" and after is not None and after.value == "until":
            draft.plain = True
        if token.kind == "stitch":
            draft.stitch = token.value
        draft.then = lower.endswith("then")
        cursor.position += 1
        return True
    return False


def _as_set(cursor: Cursor) -> bool:
    """`inc each side as set`, `increasing as established`, `inc in this manner`: shaping that goes on as it was and
    says no rhythm of its own; False (nothing taken) for other words."""
    start = cursor.position
    if not cursor.take_word("increase", "decrease"):
        return False
    read_where(cursor)
    set_so = cursor.take_word("as") and cursor.take_name("set", "established", "est", "before", "above")
    if not set_so:
        cursor.take_word("in")
        cursor.take_word("the", "same")
        cursor.take_name("this", "same")
        set_so = cursor.take_name("way", "manner", "fashion", "same way", "this way")
    read_where(cursor)
    after = cursor.token
    free = after is None or after.kind == "mark" or after.value in ("until", "to") or after.text.lower() in ("till",)
    if not set_so or not free:
        cursor.position = start
        return False
    return True


def _goes_on(cursor: Cursor) -> bool:
    """Past a full stop where what follows still belongs to the schedule: `At the same time`, `ending with`."""
    start = cursor.position
    cursor.position += 1
    if cursor.take_name("at") and cursor.take_name("the same", "same"):
        cursor.position = start + 1
        return True
    cursor.position = start + 1
    if cursor.take_name("end", "ending", "work even", "then"):
        cursor.position = start + 1
        return True
    cursor.position = start
    return False


def _at_once(cursor: Cursor, draft: Draft) -> bool:
    """`at the same time`."""
    start = cursor.position
    if cursor.take_name("at"):
        cursor.take_name("the")
        if cursor.take_name("the same", "same") and cursor.take_name("time"):
            draft.at_once = draft.apart = draft.plain = True
            return True
    cursor.position = start
    return False


def _even(cursor: Cursor, draft: Draft) -> bool:
    """`work even`, `work even in sc`, `sc in each st across` before a goal."""
    start = cursor.position
    cursor.take_word("work")
    if cursor.take_word("plain", "evenly"):
        if cursor.word("in") and (after := cursor.ahead()) is not None and after.kind == "stitch":
            draft.stitch = after.value
            cursor.position += 2
        draft.plain = draft.even = True
        return True
    if cursor.at("stitch") and not draft.beats:
        stitch = cursor.take().value
        if cursor.take_word("in") and cursor.take_word("each"):
            cursor.take_word("stitch")
        if cursor.take_word("around", "across") or cursor.tokens[cursor.position - 1].value == "stitch":
            draft.stitch = stitch
            draft.plain = draft.even = True
            return True
    cursor.position = start
    return False


def _growth(cursor: Cursor, draft: Draft) -> bool:
    """`adding 1 st between increases each rnd`, `one more sc between incs every other round`."""
    start = cursor.position
    amount = cursor.amount()
    if amount is None:
        return False
    less = cursor.take_name(*_LESS)
    more = cursor.take_word("more") or cursor.take_name(*_MORE)
    if not (cursor.take_word("stitch") or cursor.at("stitch")):
        cursor.position = start
        return False
    if cursor.at("stitch"):
        cursor.position += 1
    less = cursor.take_name(*_LESS) or less
    more = cursor.take_word("more") or cursor.take_name(*_MORE) or more
    if cursor.word("before", "between") or cursor.take_name("before"):
        cursor.take_word("between")
        for _ in range(3):
            if cursor.word("increase", "decrease"):
                break
            cursor.position += 1
        if cursor.take_word("increase", "decrease"):
            _each_row(cursor, draft)
            values = tuple(value if value is None or not less else -value for value in amount.values)
            draft.grows = msgspec.structs.replace(amount, values=values)
            draft.goes_on = True
            return True
    cursor.position = start
    return False


def _each_row(cursor: Cursor, draft: Draft) -> None:
    """`each rnd`, `on every row`, `every other rnd`, `each time`."""
    start = cursor.position
    cursor.take_name("on")
    cursor.take_word("in")
    if cursor.take_word("each"):
        cursor.take_name("subsequent")
        cursor.take_word("next")
        if cursor.take_word("alternate"):
            draft.every = 2
        if cursor.take_word(*_ROWS) or cursor.take_name("time"):
            return
        draft.every = 1
    cursor.position = start
