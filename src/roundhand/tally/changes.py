"""Where every change of colour falls. It belongs to the stitch before: the last yarn over of the last stitch in the old
colour is drawn in the new one (common practice)."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise

import msgspec

from roundhand.findings import Span
from roundhand.notation.tree import Join, Node, Rejoin, Times, Yarn
from roundhand.tally.model import PieceTally, RowTally, Tally
from roundhand.tally.stretches import Stretch, stretches


class Change(msgspec.Struct, frozen=True):
    """A change from colour `before` to `after`, in one size.

    `row` and `stitch`, counted from 1, are where it falls. `how`: `stitch` (on the last yarn over of that stitch),
    `join` (on the slip stitch that joins the round, behind that stitch) or `anew` (the new yarn is joined at the
    beginning of `row`, and `stitch` is 0). `said` is true where the words ask for it there, and false where it follows
    from the colour of the stitches behind it. `told` is the stitch that the words name for it, `first`, `next`,
    `nth` or `last`, or empty. `used` is false where no stitch is made in the new colour. `span` are the words.
    """

    piece: str
    row: RowTally
    stitch: int
    before: str
    after: str
    how: str
    said: bool
    span: Span
    told: str = ""
    used: bool = True


def changes(tally: Tally, size: int) -> tuple[Change, ...]:
    """Every change of colour in one size, in working order.

    >>> from roundhand.notation import read
    >>> from roundhand.tally import count
    >>> rows = "Rnd 1: With A, 6 sc in a magic ring.\\nRnd 2: With B, sc in each st around."
    >>> pattern, _ = read("Cap\\n\\nYarn A: oat\\nYarn B: kelp\\n\\nCAP\\n" + rows)
    >>> [(one.row.label, one.stitch, one.before, one.after) for one in changes(count(pattern)[0], 0)]
    [('Rnd 1', 6, 'A', 'B')]
    """
    return tuple(one for piece in tally.pieces for one in _changes(piece, size))


def _changes(piece: PieceTally, size: int) -> Iterator[Change]:
    last: tuple[int, str] | None = None
    for at, row in enumerate(piece.rows):
        worked = row.results[size]
        if worked is None:
            continue
        found = stretches(worked)
        if last is not None and not row.rejoined[size] and not (found and found[0].colour == last[1]):
            yield from _between(piece, size, last, at, found)
        elif last is not None:
            yield from _unused(piece, size, last, found[0].colour if found else "")
        for one, other in pairwise(found):
            yield _within(piece.name, row, size, one, other)
        if found:
            last = (at, found[-1].colour)
    if last is not None:
        yield from _unused(piece, size, last, "")


def _within(piece: str, row: RowTally, size: int, one: Stretch, other: Stretch) -> Change:
    """The change between two stretches of a row, with the words that put it into a stitch by its number."""
    said = [
        node
        for node in _flat(row.nodes[size] or ())
        if isinstance(node, Yarn) and node.act == "change" and node.nth and node.colour == other.colour
    ]
    node = said[0] if len(said) == 1 else None
    span, place = (node.span, node.place) if node is not None else (other.span, "")
    return Change(piece, row, one.last, one.colour, other.colour, "stitch", node is not None, span, place)


def _between(
    piece: PieceTally, size: int, last: tuple[int, str], at: int, found: tuple[Stretch, ...]
) -> Iterator[Change]:
    """The change between the last stitch of one row and the first of the next."""
    before, colour = last
    row = piece.rows[before]
    worked = row.results[size]
    if worked is None or not found:
        return
    new = found[0].colour
    told = _told(row.nodes[size] or (), new) if worked.colour == new else None
    if told is None:
        yield from _unused(piece, size, last, new)
    if told is not None:
        node, joined = told
        how = "join" if joined else "stitch"
        yield Change(piece.name, row, worked.count, colour, new, how, True, node.span, node.place)
        return
    lead = _lead(piece, size, before, at, new)
    span = lead.span if lead is not None else found[0].span
    if _anew(piece, size, before, at, new):
        yield Change(piece.name, piece.rows[at], 0, colour, new, "anew", lead is not None, span)
    else:
        yield Change(piece.name, row, worked.count, colour, new, "stitch", False, span)


def _unused(piece: PieceTally, size: int, last: tuple[int, str], following: str) -> Iterator[Change]:
    """A change at the end of a row whose colour does not begin the next one."""
    at, colour = last
    row = piece.rows[at]
    worked = row.results[size]
    if worked is None or worked.colour in (colour, following, ""):
        return
    told = _told(row.nodes[size] or (), worked.colour)
    if told is not None and told[0].act == "change":
        node, joined = told
        how = "join" if joined else "stitch"
        yield Change(piece.name, row, worked.count, colour, worked.colour, how, True, node.span, node.place, used=False)


def _told(nodes: tuple[Node, ...], colour: str) -> tuple[Yarn, bool] | None:
    """The last words of a row that change to a colour, and whether they stand behind the join of the round."""
    found: tuple[Yarn, bool] | None = None
    joined = False
    for node in _flat(nodes):
        if isinstance(node, Join):
            joined = True
        elif isinstance(node, Yarn) and node.colour == colour and node.act in ("change", "with"):
            in_stitch = node.place == "last" or not joined
            found = (node, not in_stitch)
    return found


def _lead(piece: PieceTally, size: int, before: int, at: int, colour: str) -> Yarn | None:
    """The words that name the colour of a row at its beginning, or in a line of its own between two rows."""
    nodes: list[Node] = [
        node for step in piece.steps if before < step.after <= at for node in step.step.nodes if step.step.sizes
    ]
    nodes += piece.rows[at].nodes[size] or ()
    return next((node for node in nodes if isinstance(node, Yarn) and node.colour == colour), None)


def _anew(piece: PieceTally, size: int, before: int, at: int, colour: str) -> bool:
    """Whether the work was ended before a row, or its yarn is joined in a place of its own."""
    if any(event.act == "fasten" and before <= event.row < at for event in piece.events[size]):
        return True
    lead = _lead(piece, size, before, at, colour)
    if any(isinstance(node, Rejoin) for node in piece.rows[at].nodes[size] or ()):
        return True
    return lead is not None and lead.how == "join"


def _flat(nodes: Iterable[Node]) -> Iterator[Node]:
    """All nodes of a row, those of its repeats among them."""
    for node in nodes:
        if isinstance(node, Times):
            yield from _flat(node.body)
        else:
            yield node
