"""What happens to the yarns: with A, change to B in last st of Rnd 5, cut B after Rnd 23, fasten off with a tail."""

from __future__ import annotations

from fractions import Fraction

from roundhand.findings import Span
from roundhand.measures import Length, length_unit
from roundhand.notation.cursor import Cursor
from roundhand.notation.strands import read_part, read_strands
from roundhand.notation.tree import Amount, Node, Note, Tail, Yarn

ACTS = frozenset(
    ("with", "colour", "change", "cut", "fasten_off", "bind_off", "carry", "drop", "pick_up", "attach", "stay")
)  # fmt: skip
_NAMES = {"with": "with", "colour": "with", "attach": "with", "pick_up": "with", "join": "with"}
_ENDS = frozenset((",", ";", ".", ":", ")", "]", "*"))
_JOINS = ("join", "attach")
# What the words behind "carry" say of its way; the first that is said holds.
_WAYS = (
    ("up", frozenset(("up", "side", "edge"))),
    ("behind", frozenset(("behind", "back", "across", "float", "floats", "stranding", "floating", "ws", "wrong side"))),
    (
        "over",
        frozenset(("over", "inside", "along", "within", "under", "top", "encased", "encasing", "covering", "through")),
    ),
)
# Words for a yarn that is not in use.
_RESTING = frozenset(("unused", "resting", "idle", "other", "carried", "non-working", "nonworking", "dropped"))


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
    if act == "bind_off":
        act = "fasten_off"
    part = read_part(cursor) if act in ("fasten_off", "cut", "drop") else 0
    colour = _colour(cursor)
    if act in ("fasten_off", "cut"):
        return _ending(cursor, start, act, colour, part)
    if act in ("carry", "drop"):
        if not colour:
            colour = _named_before_end(cursor)
        _rest(cursor)
        return [Yarn(act, colour, cursor.since(start), how=_way(cursor, start), strands=part)]
    if not colour:
        if act in ("change", "stay", "pick_up", "attach"):
            _rest(cursor)
            return [Note(cursor.since(start))]
        return []
    behind = cursor.position
    at, words = _when(cursor)
    place, nth = _place(cursor, behind)
    name = _NAMES.get(act, act)
    if name == "stay":
        return [Yarn("stay", colour, cursor.since(start))]
    if cursor.word("only", "throughout"):
        cursor.position += 1
        return [Yarn("stay", colour, cursor.since(start))]
    how = "join" if act in _JOINS else ""
    of_row = at is not None or _begins_sentence(cursor, start)
    return [Yarn(name, colour, cursor.since(start), at, words, how, 0, place, nth, of_row)]


def read_over(cursor: Cursor) -> Yarn | None:
    """`working over A`, `crochet over the unused colour`, the first word taken: a yarn that the stitches are worked
    over; None, and nothing taken, where they are worked over anything else."""
    start = cursor.position
    if not cursor.word("over"):
        return None
    end = start
    while end < cursor.end and not (cursor.tokens[end].kind == "mark" and cursor.tokens[end].text in _ENDS):
        end += 1
    inside = cursor.tokens[start:end]
    colour = next((token.value for token in inside if token.kind == "colour"), "")
    rests = any(token.text.lower() in _RESTING for token in inside) and any(
        token.value in ("colour", "strand", "strands", "thread") for token in inside
    )
    if not (colour or rests) or any(token.kind in ("stitch", "number", "defined") for token in inside):
        return None
    cursor.position = end
    return Yarn("carry", colour, cursor.since(start - 1), how="over")


def _way(cursor: Cursor, start: int) -> str:
    """How a yarn is carried, by the words from `start` to the cursor."""
    said = {token.text.lower() for token in cursor.tokens[start : cursor.position]}
    return next((way for way, words in _WAYS if said & words), "")


def _named_before_end(cursor: Cursor) -> str:
    """The yarn named further on in the phrase, `carry the resting strand of A`."""
    at = cursor.position
    while at < cursor.end and not (cursor.tokens[at].kind == "mark" and cursor.tokens[at].text in _ENDS):
        if cursor.tokens[at].kind == "colour":
            return cursor.tokens[at].value
        at += 1
    return ""


def _colour(cursor: Cursor) -> str:
    """The yarn, or the strands held together, that are named within the next few words."""
    for _ in range(5):
        strands = read_strands(cursor)
        if strands:
            return strands
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


def _place(cursor: Cursor, start: int) -> tuple[str, int]:
    """The stitch that the words from `start` to the cursor name for a change, and its number from the front: the first,
    the next, the third; 0 for the last, which is where a change falls that names no stitch.

    A stitch of the next row lies behind the end of this one, and one counted from the end has no number here."""
    words = cursor.tokens[start : cursor.position]
    named = ("first", "next", "last")
    at = next((at for at, one in enumerate(words) if one.kind == "ordinal" or one.value in named), None)
    if at is None:
        return "", 0
    behind = [one.value for one in words[at + 1 :]]
    if any(one in ("row", "round", "row_or_round") for one in behind) and "next" in [words[at].value, *behind]:
        return "", 0
    if words[at].kind == "ordinal":
        number = words[at].number or 0
        return ("", 0) if "last" in behind or "from" in behind or "end" in behind else ("nth", number)
    place = words[at].value
    return place, int(place != "last")


def _begins_sentence(cursor: Cursor, start: int) -> bool:
    """Whether the words at `start` begin a sentence, and so speak of the row and not of the phrase before them."""
    return start == 0 or cursor.tokens[start - 1].text in (".", ";")


def _part_of_place(cursor: Cursor) -> bool:
    """Whether a stitch word here only names a place: `in last hdc`, `of the last sc`."""
    before = cursor.ahead(-1)
    return (
        before is not None
        and before.kind == "word"
        and before.value in ("last", "the", "of", "first", "each", "next", "same")
    )


def _ending(cursor: Cursor, start: int, act: str, colour: str, part: int) -> list[Node]:
    """The end of a yarn, or of some strands of it, with the row it comes after and the tail it leaves."""
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
    found: list[Node] = [Yarn(ended, colour, span, at, words, strands=part)]
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
