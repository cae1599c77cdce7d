"""What happens to the yarns: with A, change to B in last st of Rnd 5, cut B after Rnd 23, fasten off with a tail."""

from __future__ import annotations

from fractions import Fraction

from roundhand.findings import Span
from roundhand.measures import Length, length_unit
from roundhand.notation.cursor import Cursor
from roundhand.notation.tree import Amount, Node, Note, Tail, Yarn

ACTS = frozenset(
    ("with", "colour", "change", "cut", "fasten_off", "carry", "drop", "pick_up", "attach", "stay")
)  # fmt: skip
_NAMES = {"with": "with", "colour": "with", "attach": "with", "pick_up": "with", "join": "with"}
_ENDS = frozenset((",", ";", ".", ":", ")", "]", "*"))


def bare_colour(cursor: Cursor) -> Yarn:
    """A yarn named alone: `A: sc in each st`, `Rnd 5 (B)`."""
    token = cursor.take()
    return Yarn("with", token.value, token.span)


def read_yarn(cursor: Cursor) -> list[Node]:
    """What the words at the cursor do to a yarn, and the tail they leave; a note if they name none."""
    start = cursor.position
    act = cursor.take().value
    if act == "in":
        act = "with"
    colour = _colour(cursor)
    if act in ("fasten_off", "cut"):
        return _ending(cursor, start, act, colour)
    if act in ("carry", "drop"):
        _rest(cursor)
        return [Yarn(act, colour, cursor.since(start))]
    if not colour:
        if act in ("change", "stay", "pick_up", "attach"):
            _rest(cursor)
            return [Note(cursor.since(start))]
        return []
    at, words = _when(cursor)
    name = _NAMES.get(act, act)
    if name == "stay":
        return [Yarn("stay", colour, cursor.since(start))]
    if cursor.word("only", "throughout"):
        cursor.position += 1
        return [Yarn("stay", colour, cursor.since(start))]
    return [Yarn(name, colour, cursor.since(start), at, words)]


def _colour(cursor: Cursor) -> str:
    """The yarn that is named within the next few words."""
    for _ in range(5):
        if cursor.at("colour"):
            return cursor.take().value
        token_now = cursor.token
        if token_now is None or token_now.kind == "mark":
            break
        if (token_now.kind == "word" and token_now.value in ("to", "in", "the", "colour", "with", "of", "work")) or (
            token_now.text.lower() in ("off", "new", "main", "contrasting", "contrast", "back", "both", "working", "on")
        ):
            cursor.position += 1
            if token_now.text.lower() == "both":
                return "*"
            continue
        break
    return ""


def _when(cursor: Cursor) -> tuple[Amount | None, Span | None]:
    """`in last st of Rnd 5`, `at end of Row 8`, `after Rnd 23 (29)`: the row it belongs to, if the words name one."""
    start = cursor.position
    at: Amount | None = None
    words: Span | None = None
    depth = 0
    while (token := cursor.token) is not None:
        if token.kind == "mark":
            if token.text in ("(", "["):
                depth += 1
            elif token.text in (")", "]") and depth > 0:
                depth -= 1
            elif token.text in _ENDS and depth == 0:
                break
        if token.kind == "word" and token.value in ("row", "round", "row_or_round"):
            cursor.position += 1
            amount = cursor.amount()
            if amount is not None:
                at = amount
                words = Span(token.start, amount.span.end)
            continue
        if token.kind in ("stitch", "defined") and not _part_of_place(cursor):
            break
        if token.kind == "word" and token.value in ("join", "turn", "repeat", "work", "skip", "increase", "decrease"):
            break
        if token.kind == "number" and (after := cursor.ahead()) is not None and after.kind == "stitch":
            break
        if token.kind == "word" and token.value == "with" and cursor.position > start:
            break
        cursor.position += 1
        if token.kind == "colour":
            break
    return at, words


def _part_of_place(cursor: Cursor) -> bool:
    """Whether a stitch word here only names a place: `in last hdc`, `of the last sc`."""
    before = cursor.ahead(-1)
    return (
        before is not None
        and before.kind == "word"
        and before.value in ("last", "the", "of", "first", "each", "next", "same")
    )


def _ending(cursor: Cursor, start: int, act: str, colour: str) -> list[Node]:
    """The end of a yarn, with the row it comes after and the tail it leaves."""
    if not colour and cursor.at("colour"):
        colour = cursor.take().value
    nodes: list[Node] = []
    at: Amount | None = None
    words: Span | None = None
    others: list[str] = []
    while (token := cursor.token) is not None:
        if (token.kind == "mark" and token.text in (".", ";")) or (token.kind == "mark" and token.text in (")", "]")):
            break
        if token.kind == "word" and token.value in ("row", "round", "row_or_round"):
            cursor.position += 1
            amount = cursor.amount()
            if amount is not None:
                at, words = amount, Span(token.start, amount.span.end)
            continue
        if token.kind == "colour":
            before = cursor.ahead(-1)
            if before is not None and before.kind == "word" and before.value in ("with", "join", "attach", "change"):
                break
            others.append(token.value)
        if token.kind == "word" and token.value in ("change", "join", "attach", "turn") and cursor.position > start:
            break
        tail = _tail(cursor)
        if tail is not None:
            nodes.append(tail)
            continue
        cursor.position += 1
    span = cursor.since(start)
    if not colour and others:
        colour = others.pop(0)
    ended = "cut" if colour else "fasten"
    if act == "fasten_off" and not colour:
        ended = "fasten"
    found: list[Node] = [Yarn(ended, colour, span, at, words)]
    found += [Yarn("cut", other, span, at, words) for other in others if other != colour]
    return found + nodes


def _tail(cursor: Cursor) -> Tail | None:
    """`a 23 (24, 26, 28, 29) in tail`: lengths in front of a unit; whole numbers, as tails are."""
    start = cursor.position
    amount = cursor.amount()
    if amount is None:
        return None
    if cursor.mark("-", "\u2013"):
        cursor.position += 1
    token = cursor.token
    unit = length_unit(token.text) if token is not None else None
    if token is not None and unit is None and token.kind == "word" and token.value == "in":
        unit = "in"
    if unit is None:
        cursor.position = start
        return None
    cursor.position += 1
    lengths = tuple(Length.of(Fraction(value), unit) if value is not None else None for value in amount.values)
    return Tail(lengths, cursor.since(start))


def _rest(cursor: Cursor) -> None:
    """The rest of a phrase that changes nothing."""
    while (token := cursor.token) is not None and not (token.kind == "mark" and token.text in _ENDS):
        cursor.position += 1
