"""How many stitches go along row ends, where the words give a rate: `2 sc in each dc row`, `3 sc for every 2 rows`."""

from __future__ import annotations

from roundhand.notation.cursor import Cursor
from roundhand.notation.edges import edge_named, read_along
from roundhand.notation.pieces import Pieces
from roundhand.notation.tree import Along, Amount, Evenly, Rate
from roundhand.stitches import dictionary

_TO = frozenset(("in", "into", "for", "per", "over", "to", "at", "along", "on", "through"))
_OF_EACH = frozenset(("each", "every", "per"))
_SIDES = frozenset(("the", "of", "side", "sides", "end", "ends", "edge", "edges", "in", "into"))
# "every other row", "every second row".
_OTHERS = frozenset(("other", "second", "2nd", "alternate"))
_LEADS = frozenset(
    ("working", "work", "placing", "making", "putting", "with", "at", "a", "the", "rate", "ratio", "of", "using", "by",
     "evenly", "approximately", "approx", "about", "roughly", "and", "spacing", "sts", "stitches", "them")
)  # fmt: skip
_ABOUT = frozenset(("approximately", "approx", "about", "roughly"))
_JOINS = frozenset(("and", "&", ",", "/", "or"))
# Words of a rate and of what leads to it; more than any page has.
_LONGEST = 24


def read_rate_clause(cursor: Cursor, pieces: Pieces) -> bool:
    """`3 sc for every 2 rows along the side`, `1 sc in each sc row and 2 sc in each dc row`: stitches along row ends at
    a rate; False (and nothing taken) for any other words."""
    if not _rows_ahead(cursor):
        return False
    start = cursor.position
    led = bool(pieces) and isinstance(pieces[-1], Along)
    rates = _rates(cursor, led)
    if not rates or not (led or any(rate.of or rate.rows > 1 for rate in rates)):
        cursor.position = start
        return False
    _pass_edge(cursor)
    stitch = next((rate.stitch for rate in rates if rate.stitch), "")
    pieces.append(Evenly("work", None, stitch, "row_ends", cursor.since(start), rates))
    return True


def read_rates_behind(cursor: Cursor, around: bool) -> tuple[Rate, ...]:
    """The rates behind stitches along an edge: `…, working 1 sc in each sc row`, `… (3 sc for every 2 rows)`; none (and
    nothing taken) where none stand. `around` is true where the edge is that of the whole piece."""
    if not _rows_ahead(cursor):
        return ()
    start = cursor.position
    bracket = cursor.mark("(", "[")
    if bracket or cursor.mark(",", ":", "-", "\u2013", "\u2014", ";"):
        cursor.position += 1
    about = False
    while (token := cursor.token) is not None and token.text.lower() in _LEADS:
        about = about or token.text.lower() in _ABOUT
        cursor.position += 1
    if around:
        _pass_each_stitch(cursor)
    rates = _rates(cursor, True)
    if rates and bracket:
        if cursor.mark(")", "]"):
            cursor.position += 1
        else:
            rates = ()
    if not rates:
        cursor.position = start
        return ()
    if not bracket:
        _pass_edge(cursor)
    # What is only about so many leaves the number as open as "evenly".
    return () if about else rates


def _rows_ahead(cursor: Cursor) -> bool:
    """Whether rows or row ends are named before the sentence ends."""
    if cursor.last_row < cursor.position:
        return False
    for token in cursor.tokens[cursor.position : min(cursor.position + _LONGEST, cursor.end)]:
        if token.kind == "mark" and token.text in (".", ";", "*"):
            return False
        if token.kind == "word" and token.value in ("row", "row_end"):
            return True
    return False


def _rates(cursor: Cursor, led: bool) -> tuple[Rate, ...]:
    found: list[Rate] = []
    end = cursor.position
    while (rate := _rate(cursor, led)) is not None:
        found.append(rate)
        end = cursor.position
        while (token := cursor.token) is not None and token.text.lower() in (*_JOINS, "working"):
            cursor.position += 1
    cursor.position = end
    return tuple(found)


def _rate(cursor: Cursor, led: bool) -> Rate | None:
    """One rate; nothing is taken where none stands. `led` is true where an edge has been named before it."""
    start = cursor.position
    amount = cursor.amount()
    if amount is None and not cursor.at("stitch"):
        return None
    stitch = cursor.take().value if cursor.at("stitch") else ""
    cursor.take_word("stitch")
    rows = _of_rows(cursor, led)
    if rows is None or stitch in ("chain", "slip_stitch"):
        cursor.position = start
        return None
    number, of = rows
    return Rate(amount or Amount((1,), cursor.since(start)), number, of, stitch, cursor.since(start))


def _of_rows(cursor: Cursor, led: bool) -> tuple[int, str] | None:
    """`for every 2 rows`, `in end of each dc row`, `per row`: how many rows, and of which stitch."""
    if cursor.token is None or cursor.token.text.lower() not in _TO | _OF_EACH:
        return None
    each = cursor.token.text.lower() in _OF_EACH
    over = cursor.token.text.lower() in ("over", "to")
    cursor.position += 1
    number = 1
    while (token := cursor.token) is not None:
        lower = token.text.lower()
        if lower in _OF_EACH:
            each = True
        elif each and lower in _OTHERS:
            number = 2
        elif lower not in _SIDES:
            break
        cursor.position += 1
    if cursor.at("number"):
        number = cursor.take().number or 1
    of = ""
    if cursor.at("stitch"):
        of = dictionary()[cursor.take().value].family
        if cursor.mark("-"):
            cursor.position += 1
    ends = cursor.word("row_end")
    several = cursor.position < cursor.end and cursor.low[cursor.position].endswith("s")
    if not (cursor.take_word("row", "row_end") and (each or (over and number > 1 and led) or (of and several))):
        return None
    cursor.take_name("end", "ends", "edge", "edges")
    of = of or _rows_of(cursor)
    plain = not of and number == 1
    return None if plain and not led and ends else (number, of)


def _rows_of(cursor: Cursor) -> str:
    """`on sc rows`, `for the dc rows` behind a row end: the stitch of the rows that the rate is for, else empty."""
    start = cursor.position
    if cursor.take_name("on", "of", "in", "for", "along", "at"):
        cursor.take_word("the")
        if cursor.at("stitch"):
            of = dictionary()[cursor.take().value].family
            if cursor.mark("-"):
                cursor.position += 1
            if cursor.take_word("row"):
                return of
    cursor.position = start
    return ""


def _pass_each_stitch(cursor: Cursor) -> None:
    """Moves over `1 sc in each st and`, where rates of row ends follow: along the last row it is one in each anyway."""
    start = cursor.position
    amount = cursor.amount()
    if cursor.at("stitch"):
        cursor.position += 1
    one = amount is None or amount.values == (1,)
    if one and cursor.take_word("in") and cursor.take_word("each") and (cursor.word("stitch") or cursor.at("stitch")):
        cursor.position += 1
        while (token := cursor.token) is not None and token.text.lower() in _JOINS:
            cursor.position += 1
        if cursor.at("number") or cursor.at("stitch"):
            return
    cursor.position = start


def _pass_edge(cursor: Cursor) -> None:
    """Moves over the edge named behind a rate: `along the side`, `up other side to corner`, `across`."""
    start = cursor.position
    if read_along(cursor) is not None:
        return
    cursor.position = start
    words: list[str] = []
    while (token := cursor.token) is not None and token.kind != "mark" and len(words) < _LONGEST:
        if token.kind in ("number", "stitch"):
            break
        words.append(token.text)
        cursor.position += 1
    said = " ".join(words)
    if said and not (edge_named(said) or said.lower() in ("across", "along", "evenly", "around")):
        cursor.position = start
