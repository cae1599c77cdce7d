"""Where a new yarn begins: `join B to any ch-2 sp`, `join A with sc in any corner`, `with C, join in corner sp`."""

from __future__ import annotations

from roundhand.findings import Span
from roundhand.notation.cursor import Cursor
from roundhand.notation.joins import last_chain
from roundhand.notation.pieces import Pieces
from roundhand.notation.places import read_place
from roundhand.notation.strands import read_strands
from roundhand.notation.tree import Amount, Item, Place, Work, Yarn

_PLACES = ("space", "corner")
# What may stand between the verb and the yarn.
_BETWEEN = ("new", "next", "working", "second", "third", "another", "other", "main", "contrasting", "contrast")
# What tells one corner of a piece from the others.
_SIDES = (
    "in",
    "into",
    "the",
    "top",
    "bottom",
    "upper",
    "lower",
    "right",
    "left",
    "hand",
    "right-hand",
    "left-hand",
    "-",
)


def read_yarn_joined(cursor: Cursor, pieces: Pieces) -> bool:
    """A yarn joined at the start of a round in a space or corner, which the round then begins in, or with a stitch that
    is its first; False (and nothing taken) for one joined elsewhere, or with stitches before it."""
    if pieces.stitched or last_chain(pieces) is not None or not cursor.word("join", "attach"):
        return False
    start = cursor.position
    led = cursor.take().text.lower().endswith((" in", " to"))
    yarn = _yarn(cursor)
    stitch = _with_stitch(cursor)
    if stitch is None:
        cursor.position = start
        return False
    place = _place(cursor, led)
    token = cursor.token
    ended = token is None or token.kind == "mark" or token.text.lower() == "and"
    slips = stitch == "slip_stitch"
    if place is None or not ended or (slips and (place.what not in _PLACES or not _climbs(cursor))):
        cursor.position = start
        return False
    span = cursor.since(start)
    if yarn is not None:
        pieces.append(Yarn("with", yarn[0], yarn[1], how="join"))
    pieces.append(Work((Item(stitch, Amount((1,), span), span),), place, span))
    return True


def _climbs(cursor: Cursor) -> bool:
    """Whether a chain follows, which climbs from the place that the yarn was joined in."""
    ahead = cursor.tokens[cursor.position : cursor.end]
    first = next((token for token in ahead if token.kind != "mark" and token.text.lower() != "and"), None)
    return first is not None and first.kind == "stitch" and first.value == "chain"


def _yarn(cursor: Cursor) -> tuple[str, Span] | None:
    """The yarn named behind the verb, with its words; None for one that is only called yarn or colour."""
    while cursor.word("the", "colour") or (
        cursor.token is not None and cursor.token.text.lower() in _BETWEEN and not cursor.at("colour")
    ):
        cursor.position += 1
    begin = cursor.position
    strands = read_strands(cursor) or (cursor.take().value if cursor.at("colour") else "")
    return (strands, cursor.since(begin)) if strands else None


def _with_stitch(cursor: Cursor) -> str | None:
    """`with a sl st`, `with sc`, `with a standing dc`: the stitch it is joined with, a slip stitch where none is said;
    None where other words follow."""
    if not cursor.take_word("with"):
        return "slip_stitch"
    cursor.take_word("the")
    if cursor.at("number") and cursor.tokens[cursor.position].number == 1:
        cursor.position += 1
    return cursor.take().value if cursor.at("stitch") and not cursor.at("stitch", "chain") else None


def _place(cursor: Cursor, led: bool) -> Place | None:
    """`in any ch-1 sp`, `to first corner`, `into same st`: one place, in stitches or between them."""
    led = led or cursor.take_word("to") or cursor.take_name("at", "through", "into")
    if not led and not cursor.word("in"):
        return None
    at = cursor.position
    while cursor.position < cursor.end and cursor.tokens[cursor.position].text.lower() in _SIDES:
        cursor.position += 1
    if cursor.position > at and cursor.word("corner"):
        # "in top right corner" is one of the corners.
        led = True
    else:
        cursor.position = at
    place = read_place(cursor, led=led)
    if place is None or place.kind not in ("next", "first", "last") or place.count is not None or place.row is not None:
        return None
    return place if place.what in ("stitch", *_PLACES) else None
