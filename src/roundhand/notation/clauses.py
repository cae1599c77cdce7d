"""The words of a row, read clause by clause into nodes.

Reading never fails: a clause that makes no sense becomes an `Unread` node, and the reader goes on at the next
separator. A sentence that asks for no stitch, count or colour becomes a `Note`.
"""

from __future__ import annotations

import msgspec

from roundhand.findings import Span
from roundhand.notation import yarns
from roundhand.notation.counts import bracket_count, trailing_count
from roundhand.notation.cursor import Cursor
from roundhand.notation.places import read_loop, read_place, read_unit, to_separator
from roundhand.notation.references import read_copy, read_plain
from roundhand.notation.tree import (
    Amount,
    Chain,
    Evenly,
    Item,
    Join,
    Node,
    Note,
    Place,
    Ring,
    Skip,
    Stated,
    Times,
    Turn,
    Unread,
    Work,
    Yarn,
)
from roundhand.stitches import dictionary

_DEPTH = 32
_SILENT = (Note, Unread)


class _Star(msgspec.Struct, frozen=True):
    """A star that opens (or closes) a repeat; gone once the sentence is folded."""

    span: Span
    double: bool


class _Again(msgspec.Struct, frozen=True):
    """`rep from * …`: how often what stands between is worked; gone once folded."""

    span: Span
    mode: str
    amount: Amount | None
    rest: Amount | None
    starred: bool


class _Loop(msgspec.Struct, frozen=True):
    """`in back loops only` said for the rest of the row."""

    loop: str
    span: Span


_Piece = Node | _Star | _Again | _Loop


def read_clauses(cursor: Cursor, first: bool = True) -> tuple[list[Node], list[Stated]]:
    """The nodes of the words at the cursor up to the end of its line, and the counts that they state."""
    pieces: list[_Piece] = []
    while cursor.position < cursor.end:
        start = cursor.position
        sentence = _sentence(cursor, pieces, first)
        if sentence and all(isinstance(piece, _SILENT) for piece in sentence):
            unread = [piece for piece in sentence if isinstance(piece, Unread) and piece.stitch]
            sentence = list(unread) if unread and not _is_prose(cursor, start) else [Note(cursor.since(start))]
        pieces += sentence
        if cursor.position == start:
            cursor.position += 1
    nodes = _fold(pieces)
    stated = [node for node in nodes if isinstance(node, Stated)]
    return [node for node in nodes if not isinstance(node, Stated)], stated


def _is_prose(cursor: Cursor, start: int) -> bool:
    """Whether the words from `start` read like a sentence to a person: most of them unknown to the trade."""
    words = [token for token in cursor.tokens[start : cursor.position] if token.kind != "mark"]
    unknown = sum(token.kind == "name" for token in words)
    return len(words) > 3 and unknown * 2 > len(words)


def _sentence(cursor: Cursor, before: list[_Piece], first: bool) -> list[_Piece]:
    """The pieces up to the next full stop outside brackets."""
    note = _opening_note(cursor)
    if note is not None:
        return [note]
    pieces: list[_Piece] = []
    while (token := cursor.token) is not None:
        if token.kind == "mark" and token.text == ".":
            cursor.position += 1
            break
        _clause(cursor, pieces, first and not _worked(before) and not _worked(pieces), 0)
    return pieces


def _worked(pieces: list[_Piece]) -> bool:
    return any(isinstance(piece, Work | Times | Evenly | Chain | Unread | _Star) for piece in pieces)


# Words that open a sentence for the maker rather than the hook.
_NOTE_OPENERS = ("marker", "weave", "gather", "note", "seam")
_NOTE_NAMES = frozenset(
    ("mark", "note", "notes", "block", "stuff", "steam", "wash", "tip", "you", "it", "if", "be", "see", "remember",
     "for", "fold", "try", "wear", "enjoy", "check", "place", "hide", "continue", "push", "hold", "pin", "lay",
     "thread", "these", "this", "when", "always", "count", "piece", "hat", "cap", "band", "body")
)  # fmt: skip


def _opening_note(cursor: Cursor) -> Note | None:
    """A whole sentence that opens like a word to the maker and holds no stitch to work."""
    start = cursor.position
    token = cursor.token
    if token is None:
        return None
    opens = (token.kind == "word" and token.value in _NOTE_OPENERS) or token.text.lower() in _NOTE_NAMES
    after = cursor.ahead()
    if token.kind == "word" and token.value == "turn" and after is not None:
        opens = after.kind in ("word", "name") and after.text.lower() in ("the", "your", "it", "work", "piece", "band", "right", "hat")
    if token.kind == "word" and token.value == "skip":
        opens = any(other.text.lower() == "behind" for other in _rest_of_sentence(cursor))
    if token.kind == "stitch" and token.value == "chain" or token.text.lower() in ("turning", "beginning", "starting"):
        rest = _rest_of_sentence(cursor)
        opens = any(other.kind == "word" and other.value in ("counts", "counts_not") for other in rest) and not any(
            other.text in "([" for other in rest
        ) and not any(other.text == "," for other in rest)
    if not opens:
        return None
    if token.text.lower() in ("for", "continue", "count", "you", "place", "it", "this") and any(
        other.kind in ("stitch", "defined") or (other.kind == "word" and other.value in ("increase", "decrease", "repeat"))
        for other in _rest_of_sentence(cursor)
    ):
        return None
    depth = 0
    while (token := cursor.token) is not None:
        cursor.position += 1
        if token.text in ("(", "[", "{"):
            depth += 1
        elif token.text in (")", "]", "}"):
            depth -= 1
        elif token.text == "." and depth <= 0:
            break
    return Note(cursor.since(start))


def _rest_of_sentence(cursor: Cursor) -> list[object]:
    rest = []
    for token in cursor.tokens[cursor.position :]:
        if token.kind == "mark" and token.text == ".":
            break
        rest.append(token)
    return rest  # type: ignore[return-value]


def _clause(cursor: Cursor, pieces: list[_Piece], first: bool, depth: int) -> None:
    """Reads one clause into `pieces`; always moves on."""
    start = cursor.position
    token = cursor.tokens[start]
    if token.kind == "mark":
        _mark(cursor, pieces, first, depth)
    elif token.kind in ("number", "stitch", "defined"):
        if not _number_or_stitch(cursor, pieces, first):
            cursor.position = max(cursor.position, start + 1)
    elif token.kind == "colour":
        pieces.append(yarns.bare_colour(cursor))
    elif token.kind == "word":
        _word(cursor, pieces, first, depth)
    elif token.kind == "ordinal":
        cursor.position += 1
    else:
        _name(cursor, pieces)
    if cursor.position == start:
        cursor.position += 1


def _mark(cursor: Cursor, pieces: list[_Piece], first: bool, depth: int) -> None:
    token = cursor.tokens[cursor.position]
    if token.text.startswith("*"):
        cursor.position += 1
        pieces.append(_Star(token.span, len(token.text) > 1))
    elif token.text in "([{":
        _bracket(cursor, pieces, first, depth)
    elif token.text in "=-\u2013\u2014\u2212" and not first:
        stated = trailing_count(cursor, first)
        if stated is not None:
            pieces.append(stated)
        else:
            cursor.position += 1
    else:
        cursor.position += 1


# Brackets.


def _bracket(cursor: Cursor, pieces: list[_Piece], first: bool, depth: int) -> None:
    start = cursor.position
    close = cursor.closing(start)
    if close is None or depth >= _DEPTH:
        cursor.position += 1
        return
    if _counting_aside(cursor, pieces, start, close):
        return
    stated = bracket_count(cursor, _worked(pieces) or not first)
    if stated is not None:
        pieces.append(stated)
        return
    inner: list[_Piece] = []
    cursor.position = start + 1
    end, cursor.end = cursor.end, close
    while cursor.position < close:
        _clause(cursor, inner, first and not _worked(inner), depth + 1)
    cursor.end = end
    cursor.position = close + 1
    span = cursor.since(start)
    nodes = [node for node in _fold(inner) if not isinstance(node, Stated)]
    counts = [piece for piece in inner if isinstance(piece, Stated)]
    if not nodes or all(isinstance(node, _SILENT) for node in nodes):
        pieces += counts or [Note(span)]
        return
    if all(isinstance(node, Yarn | Note) for node in nodes):
        pieces += nodes
        return
    _after_group(cursor, pieces, tuple(nodes), start, span)


def _after_group(cursor: Cursor, pieces: list[_Piece], nodes: tuple[Node, ...], start: int, span: Span) -> None:
    """What follows a bracketed group: how often, or the place it is worked into."""
    words = cursor.position
    if cursor.mark(","):
        cursor.position += 1
        if not (cursor.word("repeat") and not _repeats_rows(cursor)):
            cursor.position = words
    if cursor.word("repeat") and not _repeats_rows(cursor):
        again = _again(cursor)
        if again is not None:
            pieces.append(
                Times(nodes, again.mode, span.to(again.span), again.span, again.amount, again.rest, again.starred)
            )
            return
        cursor.position = words
    times = cursor.times()
    if times is not None:
        mode, amount, said = times
        pieces.append(Times(nodes, mode, cursor.since(start), said, amount))
        return
    if cursor.word("around", "across", "to", "until") and not _post_follows(cursor):
        place = read_place(cursor)
        if place is not None and place.kind == "each":
            pieces.append(Times(nodes, "rest", cursor.since(start), place.span, None, place.rest))
            return
        cursor.position = words
    place = read_place(cursor)
    group = _items(nodes)
    if place is not None and group is not None:
        pieces.append(Work(group, place, cursor.since(start)))
        return
    cursor.position = words
    pieces.append(Times(nodes, "fixed", span, span, Amount((1,), span)))


def _post_follows(cursor: Cursor) -> bool:
    after = cursor.ahead()
    return after is not None and after.kind == "word" and after.value in ("post", "next", "each", "same")


def _items(nodes: tuple[Node, ...]) -> tuple[Item, ...] | None:
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


def _counting_aside(cursor: Cursor, pieces: list[_Piece], start: int, close: int) -> bool:
    """`(does not count as a st here and throughout)` behind a chain, `(counts as dc)`, `(skipped ch count as dc)`."""
    inside = cursor.tokens[start + 1 : close]
    said = [token.value for token in inside if token.kind == "word"]
    if "counts" not in said and "counts_not" not in said:
        return False
    counts = "counts_not" not in said and not ("not" in said and "counts" in said)
    cursor.position = close + 1
    span = cursor.since(start)
    for at in range(len(pieces) - 1, -1, -1):
        piece = pieces[at]
        if isinstance(piece, Chain):
            pieces[at] = msgspec.structs.replace(
                piece, counts=counts, throughout=piece.throughout or "throughout" in said, counts_span=span
            )
            return True
        if isinstance(piece, Work) and piece.into.kind == "from_hook":
            pieces.insert(at, Chain(Amount((0,), span), span, counts, "throughout" in said, span))
            return True
    pieces.append(Note(span))
    return True


# Words with a meaning of their own.


def _word(cursor: Cursor, pieces: list[_Piece], first: bool, depth: int) -> None:
    start = cursor.position
    token = cursor.tokens[start]
    concept = token.value
    if concept == "repeat":
        _repeat(cursor, pieces)
    elif concept == "skip":
        _skip(cursor, pieces)
    elif concept == "join":
        _join(cursor, pieces)
    elif concept == "turn":
        cursor.position += 1
        pieces.append(Turn(token.span))
    elif concept == "not":
        _not(cursor, pieces)
    elif concept in ("increase", "decrease"):
        _shape(cursor, pieces, None, "")
    elif concept in yarns.ACTS:
        pieces += yarns.read_yarn(cursor)
    elif concept in ("counts", "counts_not"):
        _counting_words(cursor, pieces)
    elif concept == "ring":
        cursor.position += 1
        pieces.append(Ring(token.span))
    elif concept in ("back_loop", "front_loop", "both_loops", "third_loop"):
        loop = read_loop(cursor) or ""
        if cursor.at("stitch") or cursor.at("number"):
            _number_or_stitch(cursor, pieces, first, loop)
        else:
            pieces.append(_Loop(loop, token.span))
    elif concept in ("front_post", "back_post"):
        cursor.position += 1
        _posted(cursor, pieces, first, concept)
    elif concept == "evenly":
        cursor.position += 1
    elif concept in ("work", "plain", "as"):
        _work(cursor, pieces, first)
    elif concept in ("in", "each", "next", "over"):
        _place_first(cursor, pieces, first, depth)
    elif concept in ("marker", "weave", "gather", "seam"):
        span = to_separator(cursor)
        pieces.append(Note(span))
    elif concept == "around" or concept == "across":
        # "… , around": what was worked just before goes on to the end.
        cursor.position += 1
    else:
        cursor.position += 1
        if concept == "total":
            stated = trailing_count(cursor, False)
            if stated is not None:
                pieces.append(stated)


def _posted(cursor: Cursor, pieces: list[_Piece], first: bool, post: str) -> None:
    """`front post` apart from its stitch: `front post sc` is one word, `fp around next 2 sts` a half double's."""
    if cursor.at("stitch"):
        base = cursor.tokens[cursor.position].value
        if f"{post}_{base}" in dictionary():
            token = cursor.take()
            _stitch_phrase(cursor, pieces, f"{post}_{base}", None, token.span, "", "")
            return
    _number_or_stitch(cursor, pieces, first)


def _repeats_rows(cursor: Cursor) -> bool:
    """Whether "rep" here is followed by rows rather than by a star or a place."""
    at = cursor.position + 1
    while at < cursor.end and cursor.tokens[at].kind == "word" and cursor.tokens[at].value in ("the", "last", "from", "each"):
        at += 1
    if at < cursor.end and cursor.tokens[at].kind in ("number",) and at + 1 < cursor.end:
        at += 1
    return at < cursor.end and cursor.tokens[at].kind == "word" and cursor.tokens[at].value in (
        "row",
        "round",
        "row_or_round",
    )


def _repeat(cursor: Cursor, pieces: list[_Piece]) -> None:
    copy = read_copy(cursor) if _repeats_rows(cursor) else None
    if copy is not None:
        pieces.append(copy)
        return
    again = _again(cursor)
    if again is not None:
        pieces.append(again)
    else:
        cursor.position += 1


def _again(cursor: Cursor) -> _Again | None:
    """`rep from * around`, `rep from * 5 more times`, `rep from * to last 3 sts`, `repeat to end`."""
    start = cursor.position
    cursor.position += 1
    starred = False
    while (token := cursor.token) is not None:
        if token.text.startswith("*"):
            starred = True
            # A star right after the words of a repeat's start is its own; "from * to *" names two.
            cursor.position += 1
            if cursor.take_name("s"):
                continue
        elif token.kind == "word" and token.value in ("from", "the", "between") or token.text in ("'s", "this", "these", "sequence", "pattern", "instructions", "bracket", "brackets", "section", "once"):
            if token.text == "once":
                break
            cursor.position += 1
        elif token.kind == "word" and token.value == "to" and (after := cursor.ahead()) is not None and after.text.startswith("*"):
            cursor.position += 1
        elif token.kind == "mark" and token.text in ("'", '"', "(", ")", "[", "]") and starred and token.text not in ("(", "["):
            cursor.position += 1
        else:
            break
    if cursor.mark(","):
        cursor.position += 1
    times = cursor.times()
    if times is not None:
        mode, amount, _ = times
        span = cursor.since(start)
        unsaid = mode == "fixed" and starred
        return _Again(span, "unsaid" if unsaid else mode, amount, None, starred)
    words = cursor.position
    place = read_place(cursor)
    if place is not None and place.kind == "each":
        return _Again(cursor.since(start), "rest", None, place.rest, starred)
    cursor.position = words
    if cursor.take_word("until") or cursor.take_word("for"):
        cursor.position = words
        to_separator(cursor)
    return _Again(cursor.since(start), "rest", None, None, starred)


def _skip(cursor: Cursor, pieces: list[_Piece]) -> None:
    start = cursor.position
    cursor.position += 1
    while cursor.take_word("the", "next", "over", "first", "last", "each", "of"):
        pass
    token = cursor.token
    if token is not None and token.kind == "ordinal":
        # "sk 1st" is one stitch.
        amount: Amount | None = Amount((1,), token.span)
        cursor.position += 1
    else:
        amount = cursor.amount()
    unit = read_unit(cursor) or "stitch"
    if cursor.take_name("behind"):
        to_separator(cursor)
        pieces.append(Note(cursor.since(start)))
        return
    pieces.append(Skip(amount or Amount((1,), cursor.since(start)), cursor.since(start), unit))


def _join(cursor: Cursor, pieces: list[_Piece]) -> None:
    start = cursor.position
    cursor.position += 1
    if cursor.at("colour") or (cursor.word("colour") and cursor.ahead() is not None):
        cursor.position = start
        pieces += yarns.read_yarn(cursor)
        return
    target = ""
    ring = False
    depth_end = cursor.position
    while (token := cursor.token) is not None and not (token.kind == "mark" and token.text in (",", ";", ".", ":", "(", "[", ")", "]", "=", "*")):
        if token.kind == "stitch" and token.value == "chain":
            target = "chain"
        elif token.kind == "word" and token.value == "turning_chain":
            target = "chain"
        elif token.kind in ("stitch", "defined") and token.value != "slip_stitch":
            target = target or "stitch"
        elif token.kind == "word" and token.value == "ring":
            ring = True
        elif token.kind == "colour":
            target = "colour"
        if token.kind == "word" and token.value in ("turn", "change") and cursor.position > depth_end:
            break
        if token.kind == "mark" and token.text in "-\u2013" and (after := cursor.ahead()) is not None and after.kind == "number" and cursor.token is not None and cursor.tokens[cursor.position - 1].end < token.start:
            break
        cursor.position += 1
    span = cursor.since(start)
    chains = next((piece for piece in reversed(pieces) if isinstance(piece, Chain)), None)
    only_chains = chains is not None and not any(isinstance(piece, Work | Times) for piece in pieces)
    if ring or (only_chains and target == "chain"):
        pieces.append(Ring(span, chains.amount if chains is not None else None))
        return
    pieces.append(Join(span, target))


def _not(cursor: Cursor, pieces: list[_Piece]) -> None:
    start = cursor.position
    cursor.position += 1
    token = cursor.token
    if token is not None and token.kind == "word":
        if token.value == "turn":
            cursor.position += 1
            pieces.append(Turn(cursor.since(start), made=False))
            return
        if token.value in ("cut", "fasten_off", "carry", "drop"):
            cursor.position += 1
            colour = cursor.take().value if cursor.at("colour") else ""
            to_separator(cursor)
            pieces.append(Yarn("keep", colour, cursor.since(start)))
            return
        if token.value in ("counts",):
            _counting_words(cursor, pieces, counts=False)
            return
    to_separator(cursor)
    pieces.append(Note(cursor.since(start)))


def _counting_words(cursor: Cursor, pieces: list[_Piece], counts: bool | None = None) -> None:
    """`Ch 2, counts as first hdc, …` without brackets."""
    start = cursor.position
    token = cursor.take()
    does = token.value == "counts" if counts is None else counts
    to_separator(cursor)
    span = cursor.since(start)
    throughout = any(t.kind == "word" and t.value == "throughout" for t in cursor.tokens[start : cursor.position])
    if pieces and isinstance(pieces[-1], Chain):
        pieces[-1] = msgspec.structs.replace(pieces[-1], counts=does, throughout=throughout, counts_span=span)
    else:
        pieces.append(Note(span))


def _work(cursor: Cursor, pieces: list[_Piece], first: bool) -> None:
    """`work …`: rows worked even, rows worked as others, or only a word in front of a stitch."""
    start = cursor.position
    plain = read_plain(cursor)
    if plain is not None:
        pieces.append(plain)
        return
    copy = read_copy(cursor)
    if copy is not None:
        pieces.append(copy)
        return
    token = cursor.take()
    if token.value == "plain":
        place = read_place(cursor) or Place("each", token.span)
        item = Item("", Amount((1,), token.span), token.span)
        pieces.append(Work((item,), place, cursor.since(start)))
        return
    if token.value == "work":
        cursor.take_word("the")
        if cursor.word("ring"):
            ring = cursor.take()
            pieces.append(Ring(ring.span))
            return
        loop_start = cursor.position
        if cursor.take_word("in"):
            loop = read_loop(cursor)
            if loop is not None and (cursor.token is None or cursor.mark(",", ".", ":", ";") or cursor.word("throughout", "around", "across")):
                cursor.take_word("throughout", "around", "across")
                pieces.append(_Loop(loop, cursor.since(start)))
                return
            cursor.position = loop_start


def _place_first(cursor: Cursor, pieces: list[_Piece], first: bool, depth: int) -> None:
    """A place before its stitches: `in next st, (sc, ch 2, sc)`, `in back loops only, sc in each st around`."""
    start = cursor.position
    if cursor.take_word("in"):
        loop = read_loop(cursor)
        if loop is not None and not cursor.word("of", "next", "each", "the"):
            pieces.append(_Loop(loop, cursor.since(start)))
            return
        if cursor.at("colour"):
            cursor.position = start
            pieces += yarns.read_yarn(cursor)
            return
        cursor.position = start
    place = read_place(cursor)
    if place is None:
        cursor.position = start + 1
        return
    if cursor.mark(","):
        cursor.position += 1
    cursor.take_word("work")
    if cursor.mark("(", "["):
        inner: list[_Piece] = []
        _bracket(cursor, inner, first, depth)
        nodes = inner[0].body if inner and isinstance(inner[0], Times) else ()
        group = _items(nodes)
        if group is not None:
            pieces.append(Work(group, place, cursor.since(start)))
            return
        pieces += inner
        return
    inner = []
    if (cursor.at("number") or cursor.at("stitch") or cursor.word("increase")) and _number_or_stitch(
        cursor, inner, first
    ):
        work = inner[-1] if inner else None
        if isinstance(work, Work) and work.into.kind == "next" and len(inner) == 1:
            item = work.group[0]
            if work.into.count is not None and item.amount.values == (1,):
                item = msgspec.structs.replace(item, amount=work.into.count)
            pieces.append(Work((item,), place, cursor.since(start)))
            return
        pieces += inner


# Stitches.


def _number_or_stitch(cursor: Cursor, pieces: list[_Piece], first: bool, loop: str = "") -> bool:
    """A phrase that begins with a number or a stitch; False (and the cursor put back) where there is none."""
    start = cursor.position
    if not first:
        stated = trailing_count(cursor, first)
        if stated is not None:
            pieces.append(stated)
            return True
    amount = cursor.amount()
    if amount is not None:
        cursor.take_word("more") if cursor.ahead() is not None and cursor.ahead().kind == "stitch" else None  # type: ignore[union-attr]
        if cursor.word("times"):
            cursor.position += 1
            if cursor.mark(":"):
                cursor.position += 1
            if cursor.mark("(", "[", "*"):
                return _times_first(cursor, pieces, amount, start, first)
            return True
        if cursor.word("increase", "decrease"):
            _shape(cursor, pieces, amount, "", start=start)
            return True
        inner_loop = read_loop(cursor)
        loop = loop if inner_loop is None else inner_loop
        if not (cursor.at("stitch") or cursor.at("defined")):
            if cursor.word("stitch") and _bare_stitches(cursor, pieces, amount, start, loop):
                return True
            if cursor.at("name") and _misspelt(cursor, pieces, amount, start, loop):
                return True
            cursor.position = start + 1
            return False
    token = cursor.take()
    stitch = token.value if token.kind == "stitch" else ""
    alias = token.value if token.kind == "defined" else ""
    if token.kind not in ("stitch", "defined"):
        cursor.position = start
        return False
    if stitch == "chain" and _chain(cursor, pieces, amount, start):
        return True
    if stitch == "slip_stitch" and _slip_join(cursor, pieces, start):
        return True
    if cursor.take_name("st", "sts"):
        pass
    if cursor.word("increase", "decrease"):
        _shape(cursor, pieces, amount, stitch, start=start)
        return True
    _stitch_phrase(cursor, pieces, stitch, amount, token.span, loop, alias, start)
    return True


def _times_first(cursor: Cursor, pieces: list[_Piece], amount: Amount, start: int, first: bool) -> bool:
    """`6 x (sc 3, inc)`."""
    if cursor.mark("*"):
        return True
    words = cursor.since(start)
    inner: list[_Piece] = []
    _bracket(cursor, inner, first, 1)
    for piece in inner:
        if isinstance(piece, Times) and piece.mode == "fixed" and piece.words == piece.span:
            pieces.append(Times(piece.body, "fixed", cursor.since(start), words, amount))
        else:
            pieces.append(piece)
    return True


def _bare_stitches(cursor: Cursor, pieces: list[_Piece], amount: Amount, start: int, loop: str) -> bool:
    """`2 sts in next st`: stitches of the fabric, a number of them in each place."""
    cursor.position += 1
    place = read_place(cursor, loop)
    if place is None:
        cursor.position -= 1
        return False
    pieces.append(Work((Item("", amount, cursor.since(start)),), place, cursor.since(start)))
    return True


def _misspelt(cursor: Cursor, pieces: list[_Piece], amount: Amount | None, start: int, loop: str) -> bool:
    """A word where a stitch must stand: worked as the stitch it is nearest to, and reported."""
    token = cursor.tokens[cursor.position]
    near, stitch = nearest(token.value, cursor)
    after = cursor.ahead()
    stands = after is not None and (
        after.kind in ("number", "mark") or (after.kind == "word" and after.value in ("in", "around", "each", "across", "next"))
    )
    if not stitch and not (stands and amount is not None) and not (after is not None and after.kind == "word" and after.value == "in"):
        return False
    if not stands and not stitch:
        return False
    cursor.position += 1
    pieces.append(Unread(token.span, token.text, near, stitch=True))
    _stitch_phrase(cursor, pieces, stitch, amount, token.span, loop, "", start)
    return True


def nearest(word: str, cursor: Cursor) -> tuple[str, str]:
    """The stitch word that a misspelt word is closest to, and its stitch; empty where none is close."""
    from rapidfuzz import process  # Imported late: most patterns have no misspelt word.
    from rapidfuzz.distance import OSA

    spellings = {name: stitch for name, stitch in cursor.lexicon.words.stitch_words() if " " not in name}
    limit = 1 if len(word) < 6 else 2
    best = process.extractOne(word, spellings.keys(), scorer=OSA.distance, score_cutoff=limit) if len(word) > 1 else None
    return (best[0], spellings[best[0]]) if best is not None else ("", "")


def _name(cursor: Cursor, pieces: list[_Piece]) -> None:
    """A word without a meaning here: filler is passed over, anything else is kept as unread."""
    token = cursor.tokens[cursor.position]
    if token.value in cursor.lexicon.words.filler:
        cursor.position += 1
        return
    before = cursor.ahead(-1)
    heads = before is None or before.kind == "mark" or (before.kind == "word" and before.value in ("and", "work"))
    if heads and _misspelt(cursor, pieces, None, cursor.position, ""):
        return
    cursor.position += 1
    pieces.append(Unread(token.span, token.text))


def _chain(cursor: Cursor, pieces: list[_Piece], amount: Amount | None, start: int) -> bool:
    """`ch 3`, `3 ch`, `chain 2`."""
    after = amount
    if after is None:
        if cursor.mark("-", "\u2013") and (number := cursor.ahead()) is not None and number.kind == "number":
            cursor.position += 1
        after = cursor.amount()
    if after is None:
        cursor.position = start + 1
        after = Amount((1,), cursor.since(start))
    cursor.take_name("sts", "st", "chs")
    pieces.append(Chain(after, cursor.since(start)))
    return True


def _slip_join(cursor: Cursor, pieces: list[_Piece], start: int) -> bool:
    """`sl st in first sc`, `sl st to join`, `ss to top of ch 3`: a slip stitch that closes the round."""
    worked = any(isinstance(piece, Work | Times | Evenly | _Again) for piece in pieces)
    target = ""
    closes = False
    at = cursor.position
    while at < cursor.end:
        token = cursor.tokens[at]
        if token.kind == "mark" and token.text not in "-\u2013":
            break
        if token.kind == "word" and token.value in ("join", "beginning"):
            closes = True
        if token.kind == "word" and token.value == "first" and (worked or not pieces):
            closes = worked
        if token.kind == "word" and token.value in ("top", "turning_chain") and worked:
            closes, target = True, "chain"
        if token.kind == "ordinal" and worked:
            closes = True
        if token.kind == "stitch" and token.value == "chain":
            target = "chain"
        elif token.kind == "stitch":
            target = target or "stitch"
        if token.kind == "word" and token.value in ("change", "turn"):
            break
        at += 1
    if not closes:
        return False
    ring = any(token.kind == "word" and token.value == "ring" for token in cursor.tokens[cursor.position : at])
    cursor.position = at
    span = cursor.since(start)
    chains = next((piece for piece in reversed(pieces) if isinstance(piece, Chain)), None)
    if chains is not None and not worked and (ring or target == "chain"):
        pieces.append(Ring(span, chains.amount))
    else:
        pieces.append(Join(span, target))
    return True


def _stitch_phrase(
    cursor: Cursor,
    pieces: list[_Piece],
    stitch: str,
    amount: Amount | None,
    stitch_span: Span,
    loop: str,
    alias: str,
    start: int | None = None,
) -> None:
    """What follows a stitch: how many, which loop, where."""
    begin = cursor.position - 1 if start is None else start
    one = Amount((1,), stitch_span)
    uses = dictionary()[stitch].uses if stitch else 1
    late = read_loop(cursor)
    loop = late if late is not None else loop
    said = amount
    over = False
    if said is None:
        times = cursor.times()
        if times is not None:
            said = times[1]
            if cursor.word("in", "each"):
                pass
        else:
            said = cursor.amount()
            if said is not None and cursor.word("stitch") and (cursor.take_word("stitch") or True):
                if cursor.take_word("together"):
                    joined = said.at(0) or 2
                    _append(pieces, _together(stitch, joined), one, Place("next", cursor.since(begin), one), cursor.since(begin), alias)
                    return
            if said is not None and cursor.take_word("together"):
                _append(pieces, _together(stitch, said.at(0) or 2), one, Place("next", cursor.since(begin), one), cursor.since(begin), alias)
                return
    late = read_loop(cursor)
    loop = late if late is not None else loop
    if said is not None and cursor.word("evenly"):
        pieces.append(_evenly(cursor, begin, "work", said, stitch))
        return
    if cursor.word("evenly"):
        pieces.append(_evenly(cursor, begin, "work", None, stitch))
        return
    over = cursor.word("over")
    place_at = cursor.position
    place = read_place(cursor, loop)
    if place is not None and cursor.take_word("together"):
        joined = (place.count.at(0) if place.count is not None else None) or 2
        _append(pieces, _together(stitch, joined), one, Place("next", cursor.since(begin), one, None, loop), cursor.since(begin), alias)
        return
    if place is not None and cursor.word("evenly") and said is not None:
        cursor.position = place_at
        pieces.append(_evenly(cursor, begin, "work", said, stitch))
        return
    # Behind the place: "sc in next st twice", "2 sc in next st 3 times".
    times = None
    if place is not None and place.kind in ("next", "same") and not cursor.mark(",", ".", ";"):
        times = cursor.times()
    span = cursor.since(begin)
    if place is None:
        if said is None and _row_has_evenly(cursor):
            pieces.append(_evenly(cursor, begin, "work", None, stitch))
            return
        place = Place("next", said.span if said is not None else stitch_span, said or one, None, loop)
        _append(pieces, stitch, one, place, span, alias)
        return
    if place.kind == "each" and said is not None and place.what == "stitch" and not _says_each(cursor, place_at):
        # "18 sc around": so many stitches in all, not so many in each.
        if said.values != (1,):
            pieces.append(Evenly("work", said, stitch, "row", span))
            return
    if uses > 1 and place.kind == "next" and place.count is not None:
        place = _runs_of(place, uses, over)
    if times is not None and place.count is None:
        place = msgspec.structs.replace(place, count=times[1])
    _append(pieces, stitch, said or one, place, span, alias)


def _says_each(cursor: Cursor, start: int) -> bool:
    return any(token.kind == "word" and token.value == "each" for token in cursor.tokens[start : cursor.position])


def _row_has_evenly(cursor: Cursor) -> bool:
    token, after = cursor.token, cursor.ahead()
    return token is not None and token.kind == "word" and token.value == "around" and after is not None and after.value == "evenly"


def _runs_of(place: Place, uses: int, over: bool) -> Place:
    """`sc2tog over next 4 sts` is two of them: a place named by the stitches that the decreases use up."""
    assert place.count is not None
    values = place.count.values
    if over or values == (uses,):
        values = tuple(value // uses if value is not None else None for value in values)
        return msgspec.structs.replace(place, count=Amount(values, place.count.span))
    return place


def _together(stitch: str, number: int) -> str:
    name = f"{stitch}_{number}_together"
    return name if name in dictionary() else stitch


def _append(
    pieces: list[_Piece], stitch: str, amount: Amount, place: Place, span: Span, alias: str
) -> None:
    pieces.append(Work((Item(stitch, amount, span, 0, alias),), place, span))


def _shape(cursor: Cursor, pieces: list[_Piece], amount: Amount | None, stitch: str, start: int | None = None) -> None:
    """`inc`, `dec`, `3 inc`, `inc x 3`, `inc in next 3 sts`, `inc 6 evenly`, `hdc inc`, `dec over next 2 sts`."""
    begin = cursor.position if start is None else start
    token = cursor.take()
    act = token.value
    one = Amount((1,), token.span)
    named = False
    if cursor.at("stitch") and not stitch:
        # "inc sc", "dec hdc".
        stitch = cursor.take().value
        named = True
    said = amount
    if said is None:
        times = cursor.times()
        said = times[1] if times is not None else cursor.amount()
    units = False
    if said is not None and cursor.word("stitch"):
        cursor.position += 1
        units = True
    if cursor.at("stitch") and said is not None and not named:
        stitch = cursor.take().value
        units = True
    if cursor.word("evenly"):
        pieces.append(_evenly(cursor, begin, act, said, stitch))
        return
    over = cursor.word("over")
    place = read_place(cursor)
    if cursor.word("evenly"):
        pieces.append(_evenly(cursor, begin, act, said, stitch))
        return
    if place is not None and place.kind == "each" and said is not None and not _says_each(cursor, begin):
        # "inc 6 around" is six spread over the round.
        pieces.append(Evenly(act, said, stitch, "row", cursor.since(begin)))
        return
    if place is None:
        place = Place("next", said.span if said is not None else token.span, said or one)
    span = cursor.since(begin)
    if act == "increase":
        two = Amount((2,), token.span)
        pieces.append(Work((Item(stitch, two, token.span, 0),), place, span))
        return
    if place.kind == "next" and place.count is not None and said is None:
        place = _runs_of(place, 2, over)
    elif place.kind == "next" and said is not None:
        place = msgspec.structs.replace(place, count=said)
    if stitch:
        pieces.append(Work((Item(_together(stitch, 2), one, token.span),), place, span))
    else:
        pieces.append(Work((Item("", one, token.span, 2),), place, span))


_ALONG = {"row_end": "row_ends", "edge": "edge", "chain_other_side": "chain"}


def _evenly(cursor: Cursor, start: int, act: str, amount: Amount | None, stitch: str) -> Evenly:
    """The rest of an `evenly` phrase: along which edge, if the words say so."""
    along = "row"
    while (token := cursor.token) is not None:
        if token.kind == "mark" and token.text not in "-\u2013":
            break
        if token.kind == "word" and token.value in _ALONG:
            along = _ALONG[token.value]
        elif token.kind == "word" and token.value in ("change", "turn", "join"):
            break
        elif token.kind == "word" and token.value in ("increase", "decrease") and act == "work":
            break
        elif token.text.lower() in ("band", "brim", "opening", "ribbing", "cuff") and along == "row":
            along = "edge"
        cursor.position += 1
    return Evenly(act, amount, stitch, along, cursor.since(start))


# Folding: stars, repeats and loops said for a whole row.


def _fold(pieces: list[_Piece]) -> list[Node]:
    """Stars and their repeats become `Times`; what is left over is taken as it stands."""
    out: list[_Piece] = []
    stars: list[int] = []
    for piece in pieces:
        if isinstance(piece, _Star):
            if stars and not piece.double and _closes(out, stars[-1]):
                body = _nodes(out[stars[-1] + 1 :])
                star = out[stars[-1]]
                assert isinstance(star, _Star)
                del out[stars.pop() :]
                span = star.span.to(piece.span)
                out.append(Times(tuple(body), "rest", span, span, None, None, True))
            elif not piece.double:
                stars.append(len(out))
                out.append(piece)
            continue
        if isinstance(piece, _Again):
            _fold_again(out, stars, piece)
            continue
        if isinstance(piece, Evenly) and piece.act != "work":
            _fold_evenly(out, piece)
            continue
        out.append(piece)
    return _with_loops(_nodes(out), out)


def _closes(out: list[_Piece], star: int) -> bool:
    """Whether a second star closes the first: something stands between them."""
    return any(not isinstance(piece, Note | Stated) for piece in out[star + 1 :])


def _fold_again(out: list[_Piece], stars: list[int], again: _Again) -> None:
    if stars:
        at = stars.pop()
        star = out[at]
        assert isinstance(star, _Star)
        body = _nodes(out[at + 1 :])
        kept = [piece for piece in out[at + 1 :] if isinstance(piece, Stated)]
        del out[at:]
        span = star.span.to(again.span)
        out.append(Times(tuple(body), again.mode, span, again.span, again.amount, again.rest, True))
        out += kept
        return
    last = out[-1] if out else None
    if isinstance(last, Times) and (last.words == last.span):
        # A bracket or a pair of stars, then "rep around" or "rep from * 5 more times".
        out[-1] = Times(last.body, again.mode, last.span.to(again.span), again.span, again.amount, again.rest, True)
        return
    at = 0
    while at < len(out) and isinstance(out[at], Chain | Yarn | Note | Turn | Ring | _Loop | Join):
        at += 1
    body = _nodes(out[at:])
    if not body:
        return
    first = body[0]
    del out[at:]
    out.append(Times(tuple(body), again.mode, first.span.to(again.span), again.span, again.amount, again.rest, False))


def _fold_evenly(out: list[_Piece], evenly: Evenly) -> None:
    """`hdc around, increasing 6 evenly`: the plain stitches before are the ones among which it is spread."""
    last = out[-1] if out else None
    if isinstance(last, Work) and last.into.kind == "each" and len(last.group) == 1 and last.into.rest is None:
        out[-1] = Evenly(
            evenly.act, evenly.amount, evenly.stitch or last.group[0].stitch, evenly.along, last.span.to(evenly.span)
        )
        return
    out.append(evenly)


def _nodes(pieces: list[_Piece]) -> list[Node]:
    return [piece for piece in pieces if not isinstance(piece, _Star | _Again | _Loop)]


def _with_loops(nodes: list[Node], pieces: list[_Piece]) -> list[Node]:
    """The loop said for the whole row, given to every stitch that names none."""
    loops = [piece for piece in pieces if isinstance(piece, _Loop)]
    if not loops:
        return nodes
    loop = loops[-1]
    return [give_loop(node, loop.loop) if node.span.start >= loop.span.start or len(loops) == 1 else node for node in nodes]


def give_loop(node: Node, loop: str) -> Node:
    """The same node, worked into a loop where its words name none."""
    if isinstance(node, Work) and not node.into.loop:
        return msgspec.structs.replace(node, into=msgspec.structs.replace(node.into, loop=loop))
    if isinstance(node, Times):
        return msgspec.structs.replace(node, body=tuple(give_loop(inner, loop) for inner in node.body))
    return node
