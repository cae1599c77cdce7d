"""Places left for later and taken up again: `leave rem sts unworked`, `work on these 20 sts only`, `rejoin yarn`."""

from __future__ import annotations

import msgspec

from roundhand.findings import Span
from roundhand.notation.cursor import Cursor
from roundhand.notation.named_places import read_free_loops
from roundhand.notation.pieces import Pieces
from roundhand.notation.places import read_place
from roundhand.notation.reach import to_separator
from roundhand.notation.tree import Amount, Item, Leave, Node, Place, Rejoin, Skip, Work, Yarn
from roundhand.notation.units import read_unit

_UNWORKED = frozenset(("unworked", "unused", "hold", "waiting", "aside", "holder"))
_ONLY = frozenset(("only", "alone", "for"))
_SKIPPED = frozenset(("skipped", "missed", "skip", "missing", "held", "underarm", "opening"))
# What is left in other senses than stitches: loops, tails, gaps.
_OTHERS = frozenset(("tail", "loop", "loops", "lp", "lps", "end", "ends", "gap", "opening", "inches", "cm", "inch"))
_ROWS = ("row", "round", "row_or_round")
_LOOPS = ("back_loop", "front_loop", "both_loops", "third_loop", "loop", "tail")
# A phrase about what is left is no longer than this.
_LONGEST = 14


def read_leave(cursor: Cursor) -> Leave | None:
    """`leave rem sts unworked`, `leaving last 5 sts unworked`, `leaving 7`; None (nothing taken) for tails, loops."""
    start = cursor.position
    cursor.position += 1
    rest = False
    while cursor.word("the", "last", "next", "each", "of") or cursor.take_name("any", "all"):
        cursor.position += cursor.word("the", "last", "next", "each", "of")
    if cursor.take_word("remaining") or cursor.take_name("other"):
        rest = True
    amount = cursor.amount()
    rest = cursor.take_word("remaining") or rest
    unit = read_unit(cursor)
    words = _phrase(cursor)
    if unit in ("row_end", "space") or _speaks_of_others(cursor, words):
        cursor.position = start
        return None
    said = any(token.text.lower() in _UNWORKED or token.value == "unworked" for token in cursor.tokens[slice(*words)])
    counted = amount is not None and (unit is not None or words[0] == words[1])
    if not (counted or (said and (rest or unit is not None)) or (rest and unit is not None)):
        cursor.position = start
        return None
    cursor.position = words[1]
    return Leave(cursor.since(start), amount)


def read_left(cursor: Cursor) -> Leave | None:
    """`5 sts left unworked`, `rem sts unworked`, `(last 4 sts unworked)`; None (nothing taken) for anything else."""
    start = cursor.position
    cursor.take_word("the", "with")
    cursor.take_word("the")
    rest = cursor.take_word("remaining", "last")
    amount = cursor.amount()
    rest = cursor.take_word("remaining") or rest
    unit = read_unit(cursor) if amount is not None or rest else None
    while cursor.word("remaining") or (
        cursor.token is not None and cursor.token.text.lower() in ("left", "remain", "are", "is", "on", "still")
    ):
        cursor.position += 1
    token = cursor.token
    if (amount is None and not rest) or unit != "stitch" or token is None or token.text.lower() not in _UNWORKED:
        cursor.position = start
        return None
    cursor.position += 1
    return Leave(cursor.since(start), amount)


def read_only(cursor: Cursor) -> Leave | None:
    """`work on these 20 sts only`, `working over first 12 sts only`; None (nothing taken) where "only" is not said."""
    if cursor.said.isdisjoint(_ONLY):
        return None
    start = cursor.position
    if not (cursor.take_word("work") or cursor.take_name("continue", "continuing", "cont", "continued")):
        cursor.take_word("stay")
    cursor.take_name("working")
    if not (cursor.take_word("in", "over", "across") or cursor.take_name("on", "with", "across", "along", "over")):
        cursor.position = start
        return None
    while cursor.word("the", "first", "next", "last", "of", "remaining", "each"):
        cursor.position += 1
    amount = cursor.amount()
    unit = read_unit(cursor)
    alone = cursor.take_word("only") or cursor.take_name("only", "alone")
    if unit != "stitch" or not (alone or cursor.take_word("for")) or (amount is None and not alone):
        cursor.position = start
        return None
    if not alone:
        to_separator(cursor)
    return Leave(cursor.since(start), amount, only=True)


def read_rejoin(cursor: Cursor) -> list[Node] | None:
    """`rejoin yarn in next unworked st of Row 24`, `join B in 3rd st from marker`, `attach yarn to first skipped st`.

    None (nothing taken) where the yarn is joined to the row that is being worked."""
    start = cursor.position
    words = _phrase(cursor, stop_at_stitches=True)
    tokens = cursor.tokens[slice(*words)]
    low = [token.text.lower() for token in tokens]
    again = low[0].startswith(("rejoin", "re-join"))
    yarn = again or any(
        token.kind == "colour" or (token.kind == "word" and token.value == "colour") for token in tokens
    )
    if (loops := _in_loops(cursor, start, words[1])) is not None:
        return loops
    if not yarn or any(token.kind == "word" and token.value in _LOOPS for token in tokens):
        return None
    if any(token.kind == "word" and token.value in ("ring", "row_end", "edge", "chain_other_side") for token in tokens):
        return None
    left = any(word in _UNWORKED for word in low)
    skipped = any(word in _SKIPPED for word in low)
    counted = any(token.kind == "ordinal" for token in tokens) and any(
        token.kind == "word" and token.value in ("marker", "marked") for token in tokens
    )
    if not (again or left or skipped or counted or _behind_skip(cursor, start)):
        return None
    if not (left or skipped or counted) and not any(token.kind in ("stitch", "word") for token in tokens[1:]):
        return None
    colour = next((token for token in tokens if token.kind == "colour"), None)
    nodes: list[Node] = []
    if colour is not None:
        nodes.append(Yarn("with", colour.value, Span(tokens[0].start, colour.end)))
    nth = next((token for token in tokens if token.kind == "ordinal"), None)
    row: Amount | None = None
    for at in range(*words):
        if cursor.tokens[at].kind == "word" and cursor.tokens[at].value in _ROWS:
            cursor.position = at + 1
            row = cursor.amount()
            break
    cursor.position = max(words[1], cursor.position)
    count = Amount((nth.number,), nth.span) if nth is not None and nth.number is not None else None
    what = "left" if left else "skipped" if skipped else ""
    nodes.append(Rejoin(cursor.since(start), count, row, what))
    return nodes


def _in_loops(cursor: Cursor, start: int, end: int) -> list[Node] | None:
    """`join A in any free front loop of Rnd 3`: the loops into which the stitches behind it go."""
    colour = next((token for token in cursor.tokens[start:end] if token.kind == "colour"), None)
    cursor.position = start
    found = read_free_loops(cursor, min(cursor.end, end + 1))
    if found is None:
        cursor.position = start
        return None
    span = cursor.since(start)
    nodes: list[Node] = []
    if colour is not None:
        nodes.append(Yarn("join", colour.value, Span(cursor.tokens[start].start, colour.end)))
    nodes.append(Rejoin(span, None, found[1], "loops", found[0]))
    to_separator(cursor)
    return nodes


def read_also_left(cursor: Cursor) -> Span | None:
    """`including the 5 unworked sts`, `and in the sts left unworked of Row 2`, behind a place; None where not said."""
    start = cursor.position
    if cursor.mark(",", "("):
        cursor.position += 1
    led = cursor.take_name("including", "incl", "inc.", "plus") or cursor.take_word("and", "over")
    if not led:
        cursor.position = start
        return None
    words = _phrase(cursor, stop_at_stitches=True)
    if not any(token.text.lower() in _UNWORKED for token in cursor.tokens[slice(*words)]):
        cursor.position = start
        return None
    cursor.position = words[1]
    return cursor.since(start)


def with_left(node: Node) -> Node:
    """The same node, its stitches worked on into what was left unworked before."""
    if isinstance(node, Work):
        return msgspec.structs.replace(node, into=msgspec.structs.replace(node.into, also="left"))
    return node


def goes_on(cursor: Cursor, pieces: Pieces) -> bool:
    """`continue in sc in each st`, `skip 12 sts, continue in next st`: the work goes on behind a gap, to the end if no
    more is said; False (nothing taken) where a yarn is meant."""
    start = cursor.position
    word = cursor.take()
    after = cursor.token
    if after is not None and after.kind == "stitch":
        return True
    cursor.take_word("in")
    ended = cursor.position > start + 1 or word.text.lower().endswith((" in", " with"))
    if cursor.take_word("next"):
        cursor.take_word("stitch")
    elif ended and not cursor.word("around", "across"):
        cursor.position = start
        return False
    place = read_place(cursor) if cursor.word("around", "across", "to", "until") else None
    gap = any(isinstance(piece, Skip) for _, piece in pieces.backwards())
    if not gap or (cursor.token is not None and cursor.token.kind != "mark"):
        cursor.position = start
        return False
    span = cursor.since(start)
    pieces.append(Work((Item("", Amount((1,), span), span),), place or Place("each", span), span))
    return True


def _behind_skip(cursor: Cursor, start: int) -> bool:
    """Whether the line began by passing stitches over: `Skip next 12 sts, join yarn in next st`."""
    return any(token.kind == "word" and token.value == "skip" for token in cursor.tokens[:start]) and not any(
        token.kind == "stitch" for token in cursor.tokens[:start]
    )


def _speaks_of_others(cursor: Cursor, words: tuple[int, int]) -> bool:
    return any(
        token.text.lower() in _OTHERS or (token.kind == "word" and token.value in _LOOPS)
        for token in cursor.tokens[slice(*words)]
    )


def _phrase(cursor: Cursor, stop_at_stitches: bool = False) -> tuple[int, int]:
    """The positions of the words up to the next separator."""
    at = cursor.position
    while at < min(cursor.end, cursor.position + _LONGEST):
        token = cursor.tokens[at]
        if token.kind == "mark" and token.text in (",", ";", ".", ":", "(", ")", "[", "]", "*"):
            break
        if at > cursor.position and token.kind == "word" and token.value in ("turn", "join", "repeat"):
            break
        if stop_at_stitches and at > cursor.position and token.kind == "word" and token.value == "and":
            break
        at += 1
    return cursor.position, at
