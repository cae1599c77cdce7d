"""Groups in brackets: what they hold, how often they are worked, and the place that they are worked into."""

from __future__ import annotations

from collections.abc import Callable

from roundhand.findings import Span
from roundhand.notation.counts import bracket_count
from roundhand.notation.cursor import Cursor
from roundhand.notation.folding import fold
from roundhand.notation.joins import read_counting_aside
from roundhand.notation.limits import LIMITS, too_deep
from roundhand.notation.phrases import take_all
from roundhand.notation.pieces import SILENT, Pieces
from roundhand.notation.places import read_place
from roundhand.notation.repeats import read_again, repeats_rows, settled
from roundhand.notation.row_counts import read_row_counts
from roundhand.notation.tree import Amount, Chain, Item, Leave, Node, Note, Place, Stated, Times, Work, Yarn

# Nobody works a group more often into one place.
_MOST_IN_ONE = 60

Clause = Callable[[Cursor, Pieces, bool, int], None]


def read_bracket(cursor: Cursor, pieces: Pieces, first: bool, depth: int, clause: Clause) -> None:
    """A bracket at the cursor: an aside, a count, or a group with what follows it. `clause` reads what is inside."""
    start = cursor.position
    close = cursor.closing(start)
    if close is None or depth >= LIMITS["nesting"]:
        if close is not None and all(found.name != "limit-reached" for found in cursor.findings):
            cursor.findings.append(too_deep(cursor.tokens[start].span))
        cursor.position += 1
        return
    if _at_base(cursor, close):
        cursor.position = close + 1
        pieces.append(Note(cursor.since(start)))
        return
    if read_row_counts(cursor, pieces, close):
        return
    stated = bracket_count(cursor, pieces.worked or not first)
    if stated is not None and stated.counts[0][1] == "chain":
        # "(3 ch count as dc)" speaks of the chains and counts nothing.
        after, cursor.position = cursor.position, start
        if read_counting_aside(cursor, pieces, close):
            return
        cursor.position = after
    if stated is not None:
        pieces.append(stated)
        return
    if read_counting_aside(cursor, pieces, close):
        return
    inner = Pieces()
    cursor.position = start + 1
    end, cursor.end = cursor.end, close
    while cursor.position < close:
        if cursor.mark("."):
            cursor.position += 1
        else:
            clause(cursor, inner, first and not inner.worked, depth + 1)
    cursor.end = end
    cursor.position = close + 1
    span = cursor.since(start)
    nodes = [node for node in fold(inner) if not isinstance(node, Stated)]
    if not nodes or all(isinstance(node, SILENT) for node in nodes):
        counts = [piece for piece in inner if isinstance(piece, Stated)]
        pieces += counts or [Note(span)]
        return
    if all(isinstance(node, Yarn | Note | Leave) for node in nodes):
        pieces += nodes
        return
    _after_group(cursor, pieces, tuple(nodes), start, span)


def _at_base(cursor: Cursor, close: int) -> bool:
    """`(at base of ch-3)`, `(same st as joining)` behind a stitch: where it goes, said once more."""
    inside = [token.text.lower() for token in cursor.tokens[cursor.position + 1 : close]]
    return bool(inside) and inside[0] in ("at", "same", "the", "in") and ("base" in inside or "join" in inside[-1])


def _after_group(cursor: Cursor, pieces: Pieces, nodes: tuple[Node, ...], start: int, span: Span) -> None:
    """What follows a bracketed group: how often, or the place it is worked into."""
    words = cursor.position
    if cursor.mark(",") and (after := cursor.ahead()) is not None and after.kind == "word" and after.value == "repeat":
        cursor.position += 1
    if cursor.word("repeat") and not repeats_rows(cursor):
        again = read_again(cursor, True)
        pieces.append(
            Times(nodes, again.mode, span.to(again.span), again.span, again.amount, again.rest, again.starred)
        )
        return
    cursor.position = words
    times = cursor.times() or _starred_times(cursor)
    if times is not None:
        mode, amount, said = times
        if mode == "fixed" and _again_in_one(cursor, pieces, nodes, amount, start):
            return
        pieces.append(Times(nodes, settled(mode), cursor.since(start), said, amount))
        return
    group = items_of(nodes)
    if group is not None:
        take_all(cursor)
    if cursor.word("around", "across", "to", "until", "each") or (group is None and cursor.word("in", "over")):
        place = read_place(cursor)
        if place is not None and place.kind == "each" and not (group is not None and _into(cursor, words)):
            pieces.append(Times(nodes, "rest", cursor.since(start), place.span, None, place.rest))
            return
        cursor.position = words
    if cursor.word("over") and _spread(cursor, pieces, nodes, start):
        return
    place = read_place(cursor)
    if place is not None and group is not None:
        pieces.append(Work(group, place, cursor.since(start)))
        return
    cursor.position = words
    pieces.append(Times(nodes, "fixed", span, span, Amount((1,), span)))


def _again_in_one(cursor: Cursor, pieces: Pieces, nodes: tuple[Node, ...], amount: Amount, start: int) -> bool:
    """`[dc, ch 1] 4 times in next st`: all of them in one place, so often as the words say."""
    words = cursor.position
    group = items_of(nodes)
    number = amount.at(0)
    take_all(cursor)
    if group is None or len(set(amount.values)) > 1 or not number or number > _MOST_IN_ONE or not cursor.word("in"):
        cursor.position = words
        return False
    place = read_place(cursor)
    one = place is not None and place.kind in ("next", "same", "ring", "first", "last", "nth") and _single(place)
    if place is None or not one or any(_placed(node) for node in nodes):
        cursor.position = words
        return False
    pieces.append(Work(group * number, place, cursor.since(start)))
    return True


def _single(place: Place) -> bool:
    return place.count is None or set(place.count.values) == {1}


def _placed(node: Node) -> bool:
    """Whether a stitch of the group has a place of its own, so that the group moves on."""
    if not isinstance(node, Work):
        return False
    said = node.into.count.span if node.into.count is not None else node.into.span
    return said != node.into.span


def _starred_times(cursor: Cursor) -> tuple[str, Amount, Span] | None:
    """`(sc 3, inc) * 6`: a star as the sign of multiplication."""
    start, after, behind = cursor.position, cursor.ahead(), cursor.ahead(2)
    if not cursor.mark("*") or after is None or after.kind != "number":
        return None
    if behind is not None and not (behind.kind == "mark" and behind.text in ".,;()[]=-"):
        return None
    cursor.position += 1
    amount = cursor.amount()
    return ("fixed", amount, cursor.since(start)) if amount is not None else None


def _into(cursor: Cursor, words: int) -> bool:
    """Whether the place behind a group was led to by "each" or "in": worked into, not along."""
    return cursor.tokens[words].value in ("in", "each")


def _spread(cursor: Cursor, pieces: Pieces, nodes: tuple[Node, ...], start: int) -> bool:
    """`(2 sc in next st, sc in next st) over next 12 sts`: a group worked again over a stretch of the row."""
    words = cursor.position
    place = read_place(cursor)
    if place is None or place.kind != "next" or place.count is None:
        cursor.position = words
        return False
    # How often is settled by how much one run uses; the stretch is kept as what the repeat may use.
    pieces.append(Times(nodes, "over", cursor.since(start), place.span, place.count))
    return True


def items_of(nodes: tuple[Node, ...]) -> tuple[Item, ...] | None:
    """The stitches of a group worked in one place: `3 dc, ch 2, 3 dc`; None if the group holds anything else."""
    items: list[Item] = []
    for node in nodes:
        if isinstance(node, Chain):
            items.append(Item("chain", node.amount, node.span))
        elif isinstance(node, Work) and node.into.kind in ("next", "same") and len(node.group) == 1:
            item = node.group[0]
            count = node.into.count
            if count is not None and count.values != (1,):
                if item.amount.values != (1,):
                    return None
                item = Item(item.stitch, count, node.span, item.together, item.alias)
            items.append(item)
        elif not isinstance(node, Note | Yarn):
            return None
    return tuple(items) or None


def read_times_first(cursor: Cursor, pieces: Pieces, first: bool, depth: int, clause: Clause) -> bool:
    """`6 x (sc 3, inc)`, `[2x: inc, sc 2]`: how often in front of what; False (nothing taken) for any other number."""
    start = cursor.position
    times = cursor.times()
    if times is None:
        return False
    mode, amount, words = times
    colon = cursor.mark(":")
    if colon:
        cursor.position += 1
    inner = Pieces()
    if cursor.mark("*"):
        return True
    if cursor.mark("(", "["):
        read_bracket(cursor, inner, first, depth + 1, clause)
    elif cursor.token is not None and cursor.token.kind in ("stitch", "word", "defined") and cursor.position > start:
        clause(cursor, inner, first, depth + 1)
        while colon and cursor.position < cursor.end and not cursor.mark("."):
            clause(cursor, inner, first and not inner.worked, depth + 1)
    body: tuple[Node, ...] = tuple(node for node in fold(inner) if not isinstance(node, Stated))
    if not body:
        cursor.position = start
        return False
    only, several = body[0], len(body) > 1
    if len(body) == 1 and isinstance(only, Times) and only.mode == "fixed" and only.words == only.span:
        body = only.body
    if colon and several:
        # Which of the phrases the number speaks of is for the counts to tell.
        span = words.to(body[-1].span)
        pieces.append(Times(body, settled(mode), span, words, amount, colon=True))
    else:
        pieces.append(Times(body, settled(mode), cursor.since(start), words, amount))
    pieces += [piece for piece in inner if isinstance(piece, Stated)]
    return True
