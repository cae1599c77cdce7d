"""Which side of the work faces the maker in every row, and how what she does there looks from the right side.

A row follows from the row before it by whether the work was turned in between. Rows to and fro are turned unless the
words say otherwise, rounds are not unless they say so. That a piece in the round begins with its right side facing is
common practice; of rows nothing is supposed before a label says it.
"""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from roundhand.notation.tree import Evenly, Node, RowLine, Times, Turn, Work, Yarn
from roundhand.tally.model import PieceTally, RowTally

_STITCHES = (Work, Times, Evenly)
_OTHER = {"RS": "WS", "WS": "RS", "": ""}
_SEEN: Mapping[str, str] = {"front": "back", "back": "front"}


def turns(nodes: tuple[Node, ...]) -> tuple[bool | None, bool | None]:
    """Whether the work is turned before the first stitch of a row and behind its last; None where it is not said.

    A row that only says where it is turned, without a stitch, counts as turned at its end.
    """
    before: bool | None = None
    after: bool | None = None
    stitches = any(isinstance(node, Work | Times | Evenly) for node in nodes)
    worked = not stitches
    for node in nodes:
        if isinstance(node, Work | Times | Evenly):
            worked = True
        elif isinstance(node, Turn):
            if worked:
                after = node.made
            else:
                before = node.made
    return before, after


def turned_between(previous: RowTally, row: RowTally, size: int) -> bool | None:
    """Whether the words turn the work between two rows; None where they do not say."""
    before = turns(row.nodes[size] or ())[0]
    return before if before is not None else turns(previous.nodes[size] or ())[1]


def sides(piece: PieceTally, size: int) -> tuple[str, ...]:
    """The side that faces the maker in every row of a piece: `RS`, `WS`, or empty where nobody says.

    >>> from roundhand.notation import read
    >>> from roundhand.tally import count
    >>> text = "Cuff\\n\\nRnd 1: 9 sc in a magic ring, join, turn.\\nRnd 2: Ch 1, sc in each st around, join, turn."
    >>> sides(count(read(text)[0])[0].pieces[0], 0)
    ('RS', 'WS')
    """
    rows = piece.rows
    steps = _turned_in_steps(piece)
    found: list[str] = []
    said = [said_side(row, size) for row in rows]
    for at, row in enumerate(rows):
        before = rows[at - 1] if at else None
        turned = before is not None and _is_turned(before, row, size) != steps.get(at, False)
        if said[at]:
            found.append(said[at])
        elif before is not None and not _begins_anew(row, before, size):
            found.append(_OTHER[found[-1]] if turned else found[-1])
        else:
            found.append("RS" if row.kind == "round" and not any(said) else "")
    # What a later label says holds backwards to where the yarn was taken up.
    for at in range(len(rows) - 1, 0, -1):
        if found[at] and not found[at - 1] and not _begins_anew(rows[at], rows[at - 1], size):
            turned = _is_turned(rows[at - 1], rows[at], size) != steps.get(at, False)
            found[at - 1] = _OTHER[found[at]] if turned else found[at]
    return tuple(found)


def with_turn(line: RowLine) -> RowLine:
    """A round with the turn behind it that a note asks for, where its own words say nothing of turning."""
    if any(isinstance(node, Turn) for node in line.nodes) or not any(
        isinstance(node, _STITCHES) for node in line.nodes
    ):
        return line
    last = line.nodes[-1].span
    return msgspec.structs.replace(line, nodes=(*line.nodes, Turn(last)))


def said_side(row: RowTally, size: int) -> str:
    """The side that a row's own label names; empty where it names none, or speaks of the first row of a range."""
    return row.line.label.side if row.number == 0 and row.labels[size] is not None else ""


def seen_from_right_side(way: str, side: str) -> str:
    """How a `front` or `back` post, or loop, of a row looks from the right side; on a wrong side row they change.

    >>> seen_from_right_side("front", "WS"), seen_from_right_side("back", "RS")
    ('back', 'back')
    """
    return _SEEN.get(way, way) if side == "WS" else way


def _is_turned(before: RowTally, row: RowTally, size: int) -> bool:
    said = turned_between(before, row, size)
    return said if said is not None else row.kind == "row" and before.kind == "row"


def _begins_anew(row: RowTally, before: RowTally, size: int) -> bool:
    """Whether a row does not go on from the row before it: the yarn was taken up elsewhere, or cut and joined."""
    if row.rejoined and row.rejoined[size]:
        return True
    return any(isinstance(node, Yarn) and node.act == "fasten" for node in before.nodes[size] or ())


def _turned_in_steps(piece: PieceTally) -> dict[int, bool]:
    """Rows before which a step of its own turns the work, `Turn.`, by the position of the row."""
    found: dict[int, bool] = {}
    for step in piece.steps:
        made = sum(isinstance(node, Turn) and node.made for node in step.step.nodes)
        if made % 2:
            found[step.after] = not found.get(step.after, False)
    return found
