"""The rhythm of a shaping: on which rows it falls and how often, `each end of next and every foll alt row 6 times`."""

from __future__ import annotations

import msgspec

from roundhand.notation.binding_off import read_pairs
from roundhand.notation.cursor import Cursor
from roundhand.notation.tree import Amount, Beat
from roundhand.notation.whole_row import read_where

_ROWS = ("row", "round", "row_or_round")
_AFTER = ("after", "thereafter", "afterwards", "on", "following", "there", "that")
# Phrases of one shaping longer than this are a mistake.
_MOST = 12


class _When(msgspec.Struct, frozen=True):
    """The rows of one phrase. `first` is counted from where the schedule begins, or is a label. `apart` is true where
    the words part the first row from those after it, "Row 10, then every 10th row", so that a number of times is of
    those after it."""

    first: Amount | None = None
    labelled: bool = False
    every: Amount | None = None
    times: Amount | None = None
    apart: bool = False
    side: str = ""


def read_rhythms(cursor: Cursor, before: Beat | None) -> list[Beat]:
    """The shaping at the cursor with its rhythm, or a further rhythm of the shaping before; empty (nothing taken)
    where the words tell no rhythm."""
    start = cursor.position
    beats: list[Beat] = []
    model = before
    if cursor.word("increase", "decrease", "bind_off") and (paired := _pairs(cursor)):
        return paired
    if cursor.word("increase", "decrease", "bind_off"):
        model = _shaping(cursor)
    elif before is None:
        return []
    if model is None:
        cursor.position = start
        return []
    fresh = model is not before
    for _ in range(_MOST):
        at = cursor.position
        if beats or not fresh:
            _lead(cursor)
        beat = _beat(cursor, model, start, fresh and not beats)
        if beat is None and beats and (other := _other_shaping(cursor, model)) is not None:
            # "Dec 2 sts each end of next row, then 1 st each end of every alt row".
            beat = _beat(cursor, other, start, False)
            model = other if beat is not None else model
        if beat is None:
            cursor.position = at
            break
        beat = _by_so_many(cursor, beat)
        beats.append(msgspec.structs.replace(beat, then=bool(beats) or not fresh))
        fresh = True
        if beat.labelled and beat.every is None and beat.times is None:
            beats += _further_rows(cursor, beat)
    if not beats and fresh and model.act == "bind_off" and model.where == "ends":
        # "Bind off 5 sts each side" is the next row.
        one = Amount((1,), model.span)
        return [msgspec.structs.replace(model, first=one)]
    if not beats:
        cursor.position = start
    return beats


def _other_shaping(cursor: Cursor, model: Beat) -> Beat | None:
    """`1 st each end of …` behind a rhythm of the same act: another number; None (nothing taken) for other words."""
    start = cursor.position
    amount = cursor.amount()
    if amount is None or not (cursor.take_word("stitch") or cursor.at("stitch")):
        cursor.position = start
        return None
    if cursor.at("stitch"):
        cursor.position += 1
    where, _ = _where(cursor)
    return msgspec.structs.replace(model, amount=amount, where=where or model.where, every=None, times=None, first=None)


def _by_so_many(cursor: Cursor, beat: Beat) -> Beat:
    """`increase every rnd by 6 sts`: the number behind the rhythm."""
    start = cursor.position
    if cursor.take_name("by"):
        amount = cursor.amount()
        if amount is not None and (cursor.take_word("stitch") or cursor.at("stitch")):
            if cursor.at("stitch"):
                cursor.position += 1
            many = any(value is not None and value > 2 for value in amount.values)
            where = "spread" if many and beat.where == "start" else beat.where
            return msgspec.structs.replace(beat, amount=amount, where=where, span=beat.span.to(cursor.since(start)))
    cursor.position = start
    return beat


def _further_rows(cursor: Cursor, beat: Beat) -> list[Beat]:
    """`, 9, 13 and 17` behind a row named by its label: the shaping falls there too."""
    found: list[Beat] = []
    end = cursor.position
    while len(found) < _MOST:
        if cursor.mark(",", ";"):
            cursor.position += 1
        cursor.take_word("and")
        cursor.take_word(*_ROWS)
        token = cursor.token
        if token is None or token.kind != "number" or token.number is None:
            break
        cursor.position += 1
        found.append(msgspec.structs.replace(beat, first=Amount((token.number,), token.span)))
        end = cursor.position
    cursor.position = end
    return found


def _pairs(cursor: Cursor) -> list[Beat]:
    """`bind off 1 x 5, 2 x 3 and 7 x 1 sts on both sides in every 2nd row`: a rhythm for each pair, one behind the
    other; empty (nothing taken) where no pair stands."""
    start = cursor.position
    act = cursor.take().value
    where, _ = _where(cursor)
    when = _when(cursor)
    where = where or _where(cursor)[0]
    pairs = read_pairs(cursor)
    if not pairs:
        cursor.position = start
        return []
    where = where or _where(cursor)[0]
    when = when or _when(cursor)
    where = where or _where(cursor)[0]
    every = when.every if when is not None and when.every is not None else Amount((1,), cursor.since(start))
    first = when.first if when is not None else None
    span = cursor.since(start)
    return [
        Beat(act, where or "start", stitches, span, first if not at else None, False, every, times, "", at > 0)
        for at, (times, stitches) in enumerate(pairs)
    ]


def _lead(cursor: Cursor) -> None:
    """`and`, `, then`, between two rhythms of one shaping."""
    if cursor.mark(",", ";"):
        cursor.position += 1
    while cursor.take_word("and") or cursor.take_name("then", "again"):
        pass


def _shaping(cursor: Cursor) -> Beat | None:
    """`dec 1 st each end`, `inc 6 sts evenly`, `decrease 1 st at neck edge`: what is shaped, and where in the row."""
    start = cursor.position
    word = cursor.take()
    as_set = _pass_as_set(cursor)
    stitch = cursor.take().value if cursor.at("stitch") else ""
    amount = cursor.amount()
    if amount is not None and (cursor.word("times") or cursor.word(*_ROWS)):
        cursor.position -= 1
        amount = None
    cursor.take_word("stitch")
    if cursor.at("stitch"):
        stitch = cursor.take().value
    where = edge = ""
    if cursor.take_word("evenly"):
        cursor.take_name("spaced")
        cursor.take_word("around", "across", "over")
        where = "spread"
    elif cursor.word("around", "across"):
        cursor.position += 1
        where = "spread"
    else:
        at = cursor.position
        where, every = _where(cursor)
        if where in ("start", "end"):
            edge = " ".join(token.text.lower() for token in cursor.tokens[at : cursor.position])
        if every:
            one = amount or Amount((1,), word.span)
            return Beat(word.value, where, one, cursor.since(start), every=Amount((1,), word.span), stitch=stitch)
    as_set = _pass_as_set(cursor) or as_set
    if as_set and not where and amount is None:
        # Where and how much is told by the rows shaped before.
        return Beat(word.value, "as set", Amount((1,), word.span), cursor.since(start), stitch=stitch)
    one = amount or Amount((1,), word.span)
    if not where:
        where = "spread" if any(value is not None and value > 2 for value in one.values) else "start"
    return Beat(word.value, where, one, cursor.since(start), stitch=stitch, edge=edge)


def _pass_as_set(cursor: Cursor) -> bool:
    """Moves over `as set`, `as established`, `in this manner`, which name no row."""
    start = cursor.position
    if cursor.take_word("as") and cursor.take_name("set", "established", "est", "before", "above"):
        return True
    cursor.position = start
    if cursor.take_word("in"):
        cursor.take_word("the", "same")
        cursor.take_name("this", "same")
        if cursor.take_name("way", "manner", "fashion", "same way", "this way"):
            return True
    cursor.position = start
    return False


def _where(cursor: Cursor) -> tuple[str, bool]:
    """Where in the row, and whether the words go on "of every row", which is one phrase of the trade."""
    start = cursor.position
    cursor.take_name("at", "on")
    both = cursor.take_word("each") or cursor.take_name("both")
    token = cursor.token
    if token is not None and token.value == "row_end" and both:
        cursor.position += 1
        lower = token.text.lower()
        if cursor.at("number"):
            # "each end of rows 5, 9 and 13" names them.
            return "ends", False
        return "ends", "every" in lower or "each" in lower or lower.endswith("rows")
    cursor.position = start
    return read_where(cursor) or "", False


def _beat(cursor: Cursor, model: Beat, start: int, told: bool) -> Beat | None:
    """One rhythm: when it begins, how many rows it takes from one to the next, how often it is worked. `told` is true
    where the words before may have told the rhythm already, "each end of every row"."""
    at = cursor.position
    times = _times(cursor)
    when = _when(cursor)
    if when is None:
        if told and model.every is not None:
            return _with_times(model, times, cursor, start)
        cursor.position = at
        return None
    beat = msgspec.structs.replace(
        model,
        first=when.first,
        labelled=when.labelled,
        every=when.every,
        times=when.times,
        side=when.side,
        mode="more" if when.times is not None and when.apart else "",
    )
    if when.times is None:
        times = times or _times(cursor)
    if when.apart and times is not None and times[0] == "unsaid":
        times = "more", times[1]
    return _with_times(beat, times, cursor, start)


def _with_times(beat: Beat, times: tuple[str, Amount] | None, cursor: Cursor, start: int) -> Beat:
    span = cursor.since(start)
    if times is None:
        return msgspec.structs.replace(beat, span=span)
    return msgspec.structs.replace(beat, times=times[1], mode=times[0], span=span)


def _times(cursor: Cursor) -> tuple[str, Amount] | None:
    """`7 times`, `5 more times`, `twice`."""
    start = cursor.position
    cursor.take_word("for")
    found = cursor.times()
    if found is not None:
        mode, amount, _ = found
        cursor.take_name("in")
        return ("more" if mode == "more" else "in all" if mode == "in_all" else "unsaid"), amount
    cursor.position = start
    return None


def _when(cursor: Cursor) -> _When | None:
    """The rows that a phrase names; None (nothing taken) for other words."""
    start = cursor.position
    first = _first(cursor)
    if first is not None:
        amount, labelled = first
        at = cursor.position
        _lead(cursor)
        led = cursor.position > at
        apart = any(token.text.lower() == "then" for token in cursor.tokens[at : cursor.position])
        times = _times(cursor) if led else None
        every = _every(cursor) if led else None
        if every is None:
            cursor.position = at
            return _When(amount, labelled)
        _after(cursor)
        return _When(amount, labelled, every, times[1] if times is not None else None, apart or times is not None)
    cursor.position = start
    side = _every_side(cursor)
    if side is not None:
        return side
    every = _every(cursor)
    if every is not None:
        _after(cursor)
        return _When(every=every)
    cursor.position = start
    return _counted_rows(cursor)


def _every_side(cursor: Cursor) -> _When | None:
    """`every RS row`, `on each WS row`: every other row, of that side; None (nothing taken) for other words."""
    start = cursor.position
    cursor.take_name("on", "of", "at")
    cursor.take_word("in", "of")
    if cursor.take_word("each") and cursor.word("right_side", "wrong_side"):
        word = cursor.take()
        if cursor.take_word(*_ROWS):
            _after(cursor)
            return _When(every=Amount((2,), word.span), side="RS" if word.value == "right_side" else "WS")
    cursor.position = start
    return None


def _first(cursor: Cursor) -> tuple[Amount, bool] | None:
    """`2nd row`, `Row 10`, `next row`, `next` before "and every": the row a rhythm begins with."""
    start = cursor.position
    cursor.take_name("on", "at", "from", "foll")
    cursor.take_word("in", "of", "from")
    cursor.take_word("the")
    cursor.take_name("this")
    token = cursor.token
    if token is None:
        return None
    if cursor.take_word("next"):
        here = Amount((1,), token.span)
        number = cursor.token
        if number is not None and number.kind == "ordinal" and number.number is not None:
            cursor.position += 1
            here = Amount((number.number,), number.span)
        if cursor.take_word(*_ROWS) or (cursor.word("and") and _is_every(cursor, 1)):
            return here, False
    elif token.kind == "ordinal" and token.number is not None:
        cursor.position += 1
        after = cursor.position
        if cursor.take_word(*_ROWS) or (cursor.word("and") and _is_every(cursor, 1)):
            return Amount((token.number,), token.span), False
        cursor.position = after
    elif cursor.take_word(*_ROWS) or (token.kind == "number" and _behind_rows(cursor)):
        amount = _row_number(cursor)
        if amount is not None:
            return amount, True
    cursor.position = start
    return None


def _behind_rows(cursor: Cursor) -> bool:
    """Whether the word before ends in "rows", as `each end of rows` does."""
    return cursor.position > 0 and cursor.low[cursor.position - 1].endswith(("rows", "rnds", "rounds"))


def _row_number(cursor: Cursor) -> Amount | None:
    """The number of a row: one of several with commas between them, or that of every size."""
    token = cursor.token
    if token is None or token.kind != "number" or token.number is None:
        return None
    after = cursor.ahead()
    if after is not None and (after.text == "," or after.value == "and"):
        cursor.position += 1
        return Amount((token.number,), token.span)
    return cursor.amount()


def _is_every(cursor: Cursor, steps: int) -> bool:
    token = cursor.ahead(steps)
    return token is not None and (token.value in ("each", "next", "alternate") or token.text.lower() == "then")


def _every(cursor: Cursor) -> Amount | None:
    """Rows from one to the next: `every 3rd row`, `every foll alt row`, `each row`, `every 4 rows`."""
    start = cursor.position
    cursor.take_name("on", "at")
    cursor.take_word("in", "of")
    each = cursor.take_word("each") or cursor.take_name("per")
    cursor.take_word("the")
    cursor.take_word("next")
    cursor.take_name("subsequent")
    token = cursor.token
    if token is None:
        cursor.position = start
        return None
    number = 1
    if cursor.take_word("alternate"):
        number = 2
        each = True
    elif token.kind == "ordinal" and token.number is not None:
        number = token.number
        listed = _ordinals(cursor)
        if listed is not None and each and cursor.take_word(*_ROWS):
            return listed
    elif each and token.kind == "number":
        amount = cursor.amount()
        if amount is not None and cursor.take_word(*_ROWS):
            return amount
    if each and number > 0 and cursor.take_word(*_ROWS):
        return Amount((number,), token.span)
    cursor.position = start
    return None


def _ordinals(cursor: Cursor) -> Amount | None:
    """Moves over an ordinal; a list of them with one for each size, `2nd (3rd, 4th)`, `2nd/3rd/4th`, is given."""
    first = cursor.take()
    values: list[int | None] = [first.number]
    spans = [first.span]
    end = cursor.position
    while len(values) < len(cursor.names):
        while cursor.mark("(", "[", ",", "/", ":", ")", "]"):
            cursor.position += 1
        token = cursor.token
        if token is None or token.kind != "ordinal":
            break
        cursor.position += 1
        values.append(token.number)
        spans.append(token.span)
    if len(values) < 2 or len(values) not in (len(cursor.names), len(cursor.active)):
        cursor.position = end
        return None
    while cursor.mark(")", "]"):
        cursor.position += 1
    return cursor.settle(values, spans, end - 1)


def _counted_rows(cursor: Cursor) -> _When | None:
    """`next 4 rows`, `the foll 3 alt rows`: a number of rows, each or every other."""
    start = cursor.position
    cursor.take_name("on")
    cursor.take_word("in", "of", "over")
    cursor.take_word("the", "each")
    cursor.take_word("of")
    cursor.take_word("the")
    led = cursor.take_word("next")
    amount = cursor.amount()
    if led and amount is not None:
        number = 2 if cursor.take_word("alternate") else 1
        if cursor.take_word(*_ROWS):
            # "On the foll 3 alt rows" has the first one row further on.
            first = None if number > 1 else Amount((1,), amount.span)
            return _When(first, False, Amount((number,), amount.span), amount)
    cursor.position = start
    return None


def _after(cursor: Cursor) -> None:
    """Moves over `thereafter`, `after that`, `from there on`."""
    start = cursor.position
    cursor.take_word("from")
    while cursor.take_name(*_AFTER) or (cursor.word("next") and cursor.take_word("next")):
        pass
    if cursor.position == start + 1 and cursor.tokens[start].value == "from":
        cursor.position = start
