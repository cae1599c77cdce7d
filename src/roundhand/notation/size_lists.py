"""Lists with a value for each size, as they are typed: `60 (66, 72)`, `60 [66: 72]`, `60/66/72`, `60 (66-72)`,
`83 (89) 95`, `60, 66, 72 sts`, `(60, 66, 72) sts`, `60 for S, 66 for M`, with a dash where a size has none."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

from roundhand.findings import Span

if TYPE_CHECKING:
    from roundhand.notation.cursor import Cursor
    from roundhand.notation.tokens import Token

# The values of a list with the places where they stand.
Listed = tuple[list[int | None], list[Span]]

_OPEN = frozenset("([{")
_CLOSE = frozenset(")]}")
_LIST_MARKS = frozenset(",:;/|")
_HYPHENS = ("-", "\u2013")
_AND = frozenset(("and", "or", "&"))
# Marks that may stand between the values of a list without brackets.
_BETWEEN = ("/", ":", "|")
_NONE_MARKS = frozenset("-\u2013\u2014\u2212")
_ENDS = frozenset(".;)]")


def read_list(cursor: Cursor) -> Listed | None:
    """The number at the cursor, with those of the further sizes where a list goes on; None, and nothing taken, where
    neither number nor list stands here."""
    if cursor.position >= cursor.end:
        return None
    token = cursor.tokens[cursor.position]
    if token.sizes:
        cursor.position += 1
        return list(token.sizes), [token.span] * len(token.sizes)
    if token.kind == "number" and token.number is not None:
        named = _named(cursor, 1) or _named(cursor, 2)
        if named is not None:
            return named
        start = cursor.position
        cursor.position += 1
        values: list[int | None] = [token.number]
        spans = [token.span]
        _go_on(cursor, values, spans, start)
        return values, spans
    if token.kind != "mark":
        return _named(cursor, 0) if cursor.low[cursor.position] in size_words(cursor.names) else None
    if token.text in _NONE_MARKS:
        return _from_none(cursor)
    return _whole(cursor) if token.text in _OPEN else None


def _go_on(cursor: Cursor, values: list[int | None], spans: list[Span], start: int) -> None:
    """Adds the values that stand behind the first."""
    count = len(cursor.names)
    if cursor.position >= cursor.end or cursor.tokens[cursor.position].kind not in ("mark", "number"):
        return
    if cursor.mark(*_BETWEEN) and _slashes(cursor, values, spans):
        return
    if cursor.mark(*_HYPHENS) and _hyphens(cursor, values, spans):
        return
    if count > 2 and (_several(cursor, values, spans) or _commas(cursor, values, spans)):
        return
    while cursor.mark("(", "[", "{") and len(values) < max(count, 2):
        found = _items(cursor, cursor.position)
        if found is None or (len(found[0]) == 1 and _may_be_count(cursor, found[2])):
            break
        if len(values) == 1 and count > 1 and len(found[0]) == count and _may_be_count(cursor, found[2]):
            # "(sc 4/5/6, inc) x 6 [36/42/48]": a value for every size, behind a number for all.
            break
        if cursor.mark("{") and len(found[0]) + len(values) not in (count, len(cursor.active)):
            break
        values += found[0]
        spans += found[1]
        cursor.position = found[2] + 1
    # The European way of three sizes: 83 (89) 95.
    token = cursor.token
    european = len(values) == 2 and count == 3 and cursor.position > start + 1
    if european and token is not None and token.kind == "number":
        values.append(token.number)
        spans.append(token.span)
        cursor.position += 1


def _from_none(cursor: Cursor) -> Listed | None:
    """A dash that opens a size list, `- (-, 3, 6) rows`; two of them are one dash typed twice."""
    start = cursor.position
    while cursor.position < cursor.end and cursor.tokens[cursor.position].text in _NONE_MARKS:
        cursor.position += 1
    span = cursor.since(start)
    if cursor.mark("(", "[") and _items(cursor, cursor.position) is not None:
        values: list[int | None] = [None]
        spans = [span]
        _go_on(cursor, values, spans, start)
        return values, spans
    cursor.position = start
    return None


def _whole(cursor: Cursor) -> Listed | None:
    """A list that stands in its bracket from the first value on, `(60, 66, 72) sts`, one value for each size."""
    found = _items(cursor, cursor.position)
    if found is None or len(found[0]) not in (len(cursor.names), len(cursor.active)):
        return None
    before, after = cursor.ahead(-1), cursor.tokens[found[2] + 1] if found[2] + 1 < cursor.end else None
    asked = (
        before is not None and before.kind in ("word", "stitch") and before.value in ("next", "chain", "skip", "last")
    )
    unit = after is not None and (
        (after.kind == "word" and after.value in ("stitch", "times", "space", "row", "round", "row_end"))
        or (after.kind == "stitch" and before is not None and before.value in ("next", "last"))
    )
    if not unit and not asked:
        return None
    cursor.position = found[2] + 1
    return list(found[0]), list(found[1])


def _several(cursor: Cursor, values: list[int | None], spans: list[Span]) -> bool:
    """Values in two or more brackets, `54 (60) (66, 72)`, if there is one for each size."""
    found: list[int | None] = []
    places: list[Span] = []
    at = cursor.position
    brackets = 0
    while at < cursor.end and cursor.tokens[at].text in ("(", "["):
        items = _items(cursor, at)
        if items is None:
            break
        found += items[0]
        places += items[1]
        at = items[2] + 1
        brackets += 1
        if len(found) + 1 >= len(cursor.names):
            break
    if brackets < 2 or len(found) + 1 != len(cursor.names):
        return False
    values += found
    spans += places
    cursor.position = at
    return True


def _hyphens(cursor: Cursor, values: list[int | None], spans: list[Span]) -> bool:
    """Values after hyphens, `60-66-72`, if there is one for each of three sizes or more; two are a range."""
    found = _run(cursor, _HYPHENS)
    if len(found) < 2 or len(found) + 1 != len(cursor.names):
        return False
    _take(cursor, found, values, spans)
    return True


def _slashes(cursor: Cursor, values: list[int | None], spans: list[Span]) -> bool:
    """Values after slashes or colons, `60/66/72`, `60:66:72`, if there is one for each size."""
    found = _run(cursor, (cursor.tokens[cursor.position].text,))
    if not found:
        return False
    short = len(found) < 2 or len(cursor.names) < 3
    if len(found) + 1 not in (len(cursor.names), len(cursor.active)) and short:
        # Three values and more are a list even where it is too short; two may be a fraction or a range.
        return False
    _take(cursor, found, values, spans)
    return True


def _commas(cursor: Cursor, values: list[int | None], spans: list[Span]) -> bool:
    """Values after commas alone, `60, 66, 72 sts`, `60, 66 and 72`, if there is one for each of three sizes or more and
    the phrase goes on with what is counted, or ends."""
    found = _run(cursor, (",",))
    if len(found) < 2 or len(found) + 1 != len(cursor.names):
        return False
    at = next(place for place, token in enumerate(cursor.tokens) if token is found[-1]) + 1
    after = cursor.tokens[at] if at < cursor.end else None
    counted = after is not None and after.kind == "word" and after.value in ("stitch", "times", "space", "row_end")
    if after is not None and not counted and after.text not in _ENDS:
        return False
    _take(cursor, found, values, spans)
    return True


def _run(cursor: Cursor, marks: tuple[str, ...]) -> list[Token]:
    """The numbers that follow one another from the cursor on with one of these marks, or "and", between them."""
    found: list[Token] = []
    at = cursor.position
    while at + 1 < cursor.end:
        token = cursor.tokens[at]
        if token.text in marks:
            at += 1
            at += marks == (",",) and at < cursor.end and cursor.tokens[at].text.lower() in _AND
        elif marks == (",",) and found and token.text.lower() in _AND:
            at += 1
        else:
            break
        if at >= cursor.end or cursor.tokens[at].kind != "number" or cursor.tokens[at].number is None:
            break
        found.append(cursor.tokens[at])
        at += 1
    return found


def _take(cursor: Cursor, found: list[Token], values: list[int | None], spans: list[Span]) -> None:
    values += [token.number for token in found]
    spans += [token.span for token in found]
    while cursor.tokens[cursor.position] is not found[-1]:
        cursor.position += 1
    cursor.position += 1


def _items(cursor: Cursor, position: int) -> tuple[list[int | None], list[Span], int] | None:
    """The values of a bracket that holds numbers and dashes alone, their places, and the position of its end."""
    close = cursor.closing(position)
    if close is None or close == position + 1:
        return None
    if position not in cursor.lists:
        cursor.lists[position] = _listed(cursor, position, close)
    return cursor.lists[position]


def _listed(cursor: Cursor, position: int, close: int) -> tuple[list[int | None], list[Span], int] | None:
    inside = cursor.tokens[position + 1 : close]
    if inside[0].kind != "number" and inside[0].text not in _NONE_MARKS:
        return None
    hyphens = _parted_by_hyphens(cursor, inside)
    values: list[int | None] = []
    spans: list[Span] = []
    want_value = True
    for token in inside:
        if want_value and token.kind == "number":
            if token.number is None:
                return None
            values.append(token.number)
        elif want_value and token.text in _NONE_MARKS:
            values.append(None)
        elif token.text.lower() in _AND and values:
            # "(66, and 72)"
            want_value = True
            continue
        elif not want_value and token.kind == "word" and token.value == "times":
            # "(twice, 3 times)"
            continue
        elif want_value or not (token.text in _LIST_MARKS or (hyphens and token.text in _HYPHENS)):
            return None
        else:
            want_value = True
            continue
        spans.append(token.span)
        want_value = False
    return (values, spans, close) if values and not want_value else None


def _parted_by_hyphens(cursor: Cursor, inside: Sequence[Token]) -> bool:
    """Whether the hyphens of a bracket part the values of a list, `60 (66-72)`: one value for each further size, all
    parted so."""
    if len(inside) < 2 or inside[1].text not in _HYPHENS:
        return False
    numbers = sum(token.kind == "number" for token in inside)
    parted = len(inside) == 2 * numbers - 1 and all(token.text in _HYPHENS for token in inside[1::2])
    return numbers > 1 and parted and numbers + 1 in (len(cursor.names), len(cursor.active))


def _may_be_count(cursor: Cursor, close: int) -> bool:
    """Whether a bracket with one number is rather the count at the end of a row than a list of sizes.

    With two sizes `ch 12 (16)` is a list; only at the very end of a row, with no other count behind it, is the
    number a count. With more sizes one number makes no list, unless it goes on as `83 (89) 95` or stands in the
    middle of a phrase, where it is a list too short.
    """
    after = cursor.tokens[close + 1] if close + 1 < cursor.end else None
    two = len(cursor.names) == 2 or len(cursor.active) == 2
    if after is not None and after.text in _CLOSE and two:
        # A list inside a bracket, as in the count "(80 (96))".
        return False
    if two:
        return cursor.states and all(token.kind == "mark" for token in cursor.tokens[close + 1 : cursor.end])
    if after is None:
        return True
    if len(cursor.names) == 3 and after.kind == "number":
        return False
    return after.kind not in ("word", "stitch", "defined")


@lru_cache(maxsize=32)
def size_words(names: tuple[str, ...]) -> frozenset[str]:
    """All beginnings of the names of sizes, and the words that lead to one.

    >>> sorted(size_words(("S", "2XL")))
    ['2', '2x', '2xl', 'for', 's', 'size']
    """
    low = [name.lower() for name in names]
    return frozenset(("size", "for", *(name[:end] for name in low for end in range(1, len(name) + 1))))


def _named(cursor: Cursor, form: int) -> Listed | None:
    """Values that each name their size, `S: 60, M: 66`, `60 for S, 66 for M, 72 for L`, `60 (S), 66 (M)`; sizes that
    are not named have none. None where fewer than two are named."""
    token = cursor.token
    assert token is not None
    if cursor.end - cursor.position < _FEWEST:
        return None
    last = cursor.tokens[min(cursor.end, cursor.position + 12 * len(cursor.names)) - 1].end
    at, named = token.start, 0
    pattern = _patterns(cursor.names)[form]
    if pattern.match(cursor.text, at, last) is None:
        return None
    values: list[int | None] = [None] * len(cursor.names)
    spans = [token.span] * len(cursor.names)
    while (found := pattern.match(cursor.text, at, last)) is not None:
        size = next(place for place, name in enumerate(cursor.names) if name.lower() == found["name"].lower())
        values[size], spans[size] = int(found["value"]), Span(*found.span("value"))
        named += 1
        at = found.end()
        cut = _CUT.match(cursor.text, at, last)
        if cut is None or pattern.match(cursor.text, cut.end(), last) is None:
            break
        at = cut.end()
    if named < 2:
        return None
    while cursor.position < cursor.end and cursor.tokens[cursor.position].start < at:
        cursor.position += 1
    return values, spans


# Tokens of the shortest two values that name their sizes, "S:6,M:8".
_FEWEST = 6
_CUT = re.compile(r"\s*(?:[,;/]|\band\b|\bor\b)\s*(?:(?:and|or)\b\s*)?", re.IGNORECASE)


@lru_cache(maxsize=32)
def _patterns(names: tuple[str, ...]) -> tuple[re.Pattern[str], re.Pattern[str], re.Pattern[str]]:
    """The forms `S: 60`, `60 for S` and `60 (S)` for sizes of these names."""
    name = "(?P<name>" + "|".join(re.escape(one) for one in sorted(names, key=len, reverse=True)) + r")(?!\w)"
    value = r"(?P<value>\d{1,6})"
    forms = (
        rf"(?:for\s+)?(?:the\s+)?(?:sizes?\s+)?{name}\s*[:=]\s*{value}(?![\d./])",
        rf"{value}(?:\s+(?:sts?|stitches|times))?\s*(?:for|in)\s+(?:the\s+)?(?:sizes?\s+)?{name}(?:\s+size)?",
        rf"{value}\s*\(\s*(?:sizes?\s+)?{name}\s*\)",
    )
    front, back, bracket = (re.compile(form, re.IGNORECASE) for form in forms)
    return front, back, bracket
