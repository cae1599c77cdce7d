"""How the last run of a repeat differs: `ending last rep with sc in last st`, `ending dc in tch`, `omitting last ch 2`.

What ends the repeat stands behind it in the tree, and the repeat keeps how many nodes that are. How much of the last
run is worked before them is told by what the row below holds, so that is left to the tally. That such words are read so
is common practice.
"""

from __future__ import annotations

import msgspec

from roundhand.notation.cursor import Cursor
from roundhand.notation.pieces import Ending, Piece
from roundhand.notation.tree import Chain, Evenly, Node, Skip, Times, Work

_ENDS = ("ending", "end", "ends", "finishing")
_OMITS = ("omitting", "omit")
_WORKED = (Work, Chain, Skip, Times, Evenly)
_CLOSING = (".", ";", ")", "]")


def read_ending(cursor: Cursor) -> Ending | None:
    """The words that lead to how a repeat ends, a comma before them as well; None (nothing taken) for other words."""
    start = cursor.position
    if cursor.mark(",", ";"):
        cursor.position += 1
    words = cursor.position
    how = ""
    if cursor.take_name(*_ENDS):
        how = "last" if _last_run(cursor) else "after"
        cursor.take_word("with", "in")
        if cursor.take_name("by", "at"):
            how = "omit" if cursor.take_name(*_OMITS) else ""
    elif cursor.take_name(*_OMITS):
        how = "omit"
    if how == "omit":
        cursor.take_word("the")
        cursor.take_word("last")
    if not how or not _leads_work(cursor):
        cursor.position = start
        return None
    return Ending(cursor.since(words), how, _until(cursor))


def _last_run(cursor: Cursor) -> bool:
    """Moves over `last rep`, `the last repeat`; True if they stand here."""
    start = cursor.position
    cursor.take_word("the")
    if cursor.take_word("last") and cursor.take_word("repeat"):
        return True
    cursor.position = start
    return False


def _leads_work(cursor: Cursor) -> bool:
    """Whether stitches, chains or a bracket with them stand here."""
    at = cursor.position
    while at < cursor.end and (
        cursor.tokens[at].text in "([{" or cursor.tokens[at].kind == "number" or cursor.tokens[at].value in ("a", "the")
    ):
        at += 1
    if at >= cursor.end:
        return False
    token = cursor.tokens[at]
    return token.kind in ("stitch", "defined") or token.value in ("increase", "decrease", "skip")


def _until(cursor: Cursor) -> int:
    """The offset where the sentence, or the part of it, ends."""
    depth = 0
    for token in cursor.tokens[cursor.position : cursor.end]:
        if token.kind == "mark":
            if token.text in _CLOSING and not depth:
                return token.start
            depth += (token.text in "([{") - (token.text in ")]}")
    return cursor.tokens[cursor.end - 1].end


def ended(out: list[Piece], ending: Ending, behind: list[Piece]) -> None:
    """The repeat at the end of `out` with what the pieces behind the words say of its last run, which are put behind
    it, or dropped where they name what is left out."""
    at = next((at for at in range(len(out) - 1, -1, -1) if isinstance(out[at], Times)), None)
    times = out[at] if at is not None else None
    if at is None or not isinstance(times, Times) or times.mode != "rest" or not behind:
        out += behind
        return
    words = times.words.to(ending.span)
    tail, how = len(behind), ending.how
    if how == "omit":
        tail = _left_out(times.body, behind[0])
        if tail < 0:
            out += behind
            return
        words = times.words.to(behind[-1].span)
    out[at] = msgspec.structs.replace(times, span=times.span.to(words), words=words, ends=how, tail=tail)
    if how != "omit":
        # Marks that stood between the repeat and its ending are none of it.
        out += behind


def _left_out(body: tuple[Node, ...], named: Piece) -> int:
    """The position of the last node of a body that is of the kind named; -1 where none is."""
    for at in range(len(body) - 1, -1, -1):
        node = body[at]
        if isinstance(node, Work) and isinstance(named, Work):
            if node.group[0].stitch == named.group[0].stitch:
                return at
        elif type(node) is type(named):
            return at
    return -1


def belongs(piece: Piece, ending: Ending) -> bool:
    """Whether a piece behind the words is what they lead to."""
    return isinstance(piece, _WORKED) and piece.span.start < ending.until
