"""Stars, repeats and loops said for a whole row, folded into the nodes they speak of."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from roundhand.notation.endings import belongs, ended
from roundhand.notation.pieces import Again, Ending, Loop, Piece, Star, Whole
from roundhand.notation.tree import Chain, Evenly, Join, Node, Note, Rejoin, Ring, Stated, Times, Turn, Work, Yarn
from roundhand.notation.whole_row import spelled


def fold(pieces: Sequence[Piece]) -> list[Node]:
    """Stars and their repeats become `Times`; a star without a repeat is passed over."""
    out: list[Piece] = []
    stars: list[int] = []
    ending: Ending | None = None
    behind: list[Piece] = []
    for piece in pieces:
        if ending is not None:
            if belongs(piece, ending):
                behind.append(piece)
                continue
            ended(out, ending, behind)
            ending, behind = None, []
        if isinstance(piece, Ending):
            ending = piece
        elif isinstance(piece, Star):
            _star(out, stars, piece)
        elif isinstance(piece, Again):
            _again(out, stars, piece)
        elif isinstance(piece, Evenly) and piece.act != "work":
            _evenly(out, piece)
        elif isinstance(piece, Whole):
            out += spelled(piece, _plain_before(out))
        else:
            out.append(piece)
    if ending is not None:
        ended(out, ending, behind)
    return _with_loops(out)


def _star(out: list[Piece], stars: list[int], star: Star) -> None:
    """A second star with work before it closes the first: `*sc 3, inc*`."""
    if star.double:
        out.append(star)
        return
    if not stars or not _closes(out, stars[-1]):
        stars.append(len(out))
        out.append(star)
        return
    opening = stars.pop()
    span = out[opening].span.to(star.span)
    body = nodes_of(out[opening + 1 :])
    kept = [piece for piece in out[opening + 1 :] if isinstance(piece, Loop | Stated)]
    del out[opening:]
    out.append(
        Times(tuple(node for node in body if not isinstance(node, Stated)), "rest", span, span, None, None, True)
    )
    out += kept


def _closes(out: list[Piece], star: int) -> bool:
    """Whether a second star closes the first: something stands between them."""
    return any(not isinstance(piece, Note | Stated) for piece in out[star + 1 :])


def _again(out: list[Piece], stars: list[int], again: Again) -> None:
    at = stars.pop() if stars else _double(out, again)
    if at is not None:
        span = out[at].span.to(again.span)
        inside = out[at + 1 :]
        body = [node for node in nodes_of(inside) if not isinstance(node, Stated)]
        kept = [piece for piece in inside if isinstance(piece, Stated | Loop)]
        head = next((inside[:end] for end, piece in enumerate(inside) if isinstance(piece, Star)), [])
        del out[at:]
        times = Times(tuple(body), again.mode, span, again.span, again.amount, again.rest, True)
        out.append(msgspec.structs.replace(times, until=again.until, length=again.length))
        if again.cut:
            # The last run stops at the doubled star: what stands before it is worked once more at the end.
            out += nodes_of(head)
        out += kept
        return
    last = out[-1] if out else None
    if isinstance(last, Times) and last.words == last.span:
        # A bracket or a pair of stars, then "rep around" or "rep from * 5 more times".
        mode = again.mode
        out[-1] = Times(last.body, mode, last.span.to(again.span), again.span, again.amount, again.rest, True)
        return
    at = 0
    while at < len(out) and isinstance(out[at], Star | Chain | Yarn | Note | Turn | Ring | Loop | Join):
        at += 1
    body = [node for node in nodes_of(out[at:]) if not isinstance(node, Stated)]
    if not body:
        return
    kept = [piece for piece in out[at:] if isinstance(piece, Stated | Loop)]
    span = body[0].span.to(again.span)
    del out[at:]
    out.append(
        Times(
            tuple(body), again.mode, span, again.span, again.amount, again.rest, False, lost=again.lost or again.starred
        )
    )
    out += kept


def _double(out: list[Piece], again: Again) -> int | None:
    """The doubled star that a repeat goes back to where the row has no single one."""
    if not again.starred:
        return None
    return next((at for at in range(len(out) - 1, -1, -1) if isinstance(out[at], Star)), None)


def _evenly(out: list[Piece], evenly: Evenly) -> None:
    """`hdc around, increasing 6 evenly`: the plain stitches before are the ones among which it is spread."""
    last = out[-1] if out else None
    if isinstance(last, Work) and last.into.kind == "each" and len(last.group) == 1 and last.into.rest is None:
        stitch = evenly.stitch or last.group[0].stitch
        out[-1] = Evenly(evenly.act, evenly.amount, stitch, evenly.along, last.span.to(evenly.span))
        return
    out.append(evenly)


def _plain_before(out: list[Piece]) -> Work | None:
    """`sc around` in front of a phrase that shapes the whole row: taken away, since the phrase is worked among it."""
    last = out[-1] if out else None
    if isinstance(last, Work) and last.into.kind == "each" and len(last.group) == 1 and last.into.rest is None:
        out.pop()
        return last
    return None


def nodes_of(pieces: Sequence[Piece]) -> list[Node]:
    """The nodes among the pieces, without the marks between them."""
    return [piece for piece in pieces if not isinstance(piece, Star | Again | Ending | Loop | Whole)]


def _with_loops(pieces: Sequence[Piece]) -> list[Node]:
    """The loop said for the whole row, given to every stitch that names none."""
    nodes = nodes_of(pieces)
    loops = [_loop_of(piece) for piece in pieces if isinstance(piece, Loop) or joins_loops(piece)]
    if not loops:
        return nodes
    whole = len(loops) == 1
    given = []
    for node in nodes:
        said = loops if whole else [loop for loop in loops if loop.span.start <= node.span.start]
        given.append(give_loop(node, said[-1]) if said else node)
    return given


def joins_loops(piece: Piece) -> bool:
    """Whether a yarn is joined in loops that a row left free."""
    return isinstance(piece, Rejoin) and piece.what == "loops"


def _loop_of(piece: Piece) -> Loop:
    if isinstance(piece, Rejoin):
        return Loop(piece.loop, piece.span, piece.row, True)
    assert isinstance(piece, Loop)
    return piece


def with_joined_loops(nodes: Sequence[Node], joined: Rejoin) -> tuple[Node, ...]:
    """The first row behind a yarn joined in free loops, `join A in any free loop of Rnd 3`, worked along them."""
    return tuple(give_loop(node, _loop_of(joined)) for node in nodes)


def give_loop(node: Node, loop: Loop) -> Node:
    """The same node, worked into a loop where its words name none; loops of one name are those of the row named."""
    if isinstance(node, Work) and node.into.kind not in ("made", "between") and node.into.row is None:
        into = node.into
        if into.loop and into.loop != loop.loop and loop.loop:
            return node
        if into.loop and not (loop.row is not None or loop.free):
            return node
        if not into.loop and into.free and not loop.row:
            return node
        into = msgspec.structs.replace(into, loop=into.loop or loop.loop, row=loop.row, free=into.free or loop.free)
        return msgspec.structs.replace(node, into=into)
    if isinstance(node, Times):
        return msgspec.structs.replace(node, body=tuple(give_loop(inner, loop) for inner in node.body))
    return node
