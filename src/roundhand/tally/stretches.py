"""The colours of a row as stretches of stitches, and how far apart two places of a piece lie, counted in stitches."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

import msgspec

from roundhand.findings import Span
from roundhand.notation.tree import Pattern, Turn
from roundhand.stitches import dictionary
from roundhand.tally.model import RowTally, Run, Worked, flat


class Stretch(msgspec.Struct, frozen=True):
    """Stitches made one after the other in one colour: the `first` and `last` of them, counted from 1 in the row.

    A stretch of chains alone lies between two stitches; its `last` is one less than its `first`. `span` are the words
    of its first stitches."""

    colour: str
    first: int
    last: int
    span: Span

    @property
    def stitches(self) -> int:
        """How many stitches it is long."""
        return self.last - self.first + 1


def strands_in(colour: str) -> Mapping[str, int]:
    """How many strands of each yarn are worked as one, from the colour of a run.

    >>> strands_in("A"), strands_in("A+B+A")
    ({'A': 1}, {'A': 2, 'B': 1})
    """
    found: dict[str, int] = {}
    for label in colour.split("+"):
        found[label] = found.get(label, 0) + 1
    return found


def in_hand_now(said: str, in_hand: str) -> str:
    """The strands that words put into the hand: pluses alone are so many strands of the yarn in hand.

    >>> in_hand_now("B", "A"), in_hand_now("+", "A"), in_hand_now("+", "A+A+A"), in_hand_now("+", "")
    ('B', 'A+A', 'A+A', '+')
    """
    if not said or said.strip("+"):
        return said
    return "+".join([in_hand.partition("+")[0]] * (len(said) + 1))


def as_held(pattern: Pattern, colour: str, part: str) -> str:
    """The strands that a stitch of a part is worked with, where a note of the pattern holds several together and its
    row names one yarn.

    >>> from roundhand.notation import read
    >>> head = "Cap\\n\\nYarn A: oat\\nYarn B: kelp\\nNotes: A is held double throughout.\\n\\nCAP\\n"
    >>> pattern, _ = read(head + "Rnd 1: With A, 6 sc in a magic ring.")
    >>> as_held(pattern, "A", "Cap"), as_held(pattern, "B", "Cap")
    ('A+A', 'B')
    """
    if not pattern.held or "+" in colour:
        return colour
    for near in (True, False):
        for note in pattern.held:
            if bool(note.part) is near and note.part in ("", part):
                if not note.strands.strip("+"):
                    return in_hand_now(note.strands, colour)
                if colour in strands_in(note.strands) or not colour:
                    return note.strands
    return colour


def stretches(worked: Worked) -> tuple[Stretch, ...]:
    """The colours of a row in working order. Chains before its first stitch and behind its last are left out: they
    are of the colour beside them or climb to the next row."""
    found: list[Stretch] = []
    waiting: list[Run] = []
    made = 0
    for run in flat(worked.made):
        if not run.count:
            continue
        if not run.counts:
            if made:
                waiting.append(run)
            continue
        for chain in waiting:
            _lay(found, chain.colour, made, 0, chain.span)
        waiting.clear()
        known = dictionary().get(run.stitch)
        number = run.count * (known.makes if known is not None else 1)
        _lay(found, run.colour, made, number, run.span)
        made += number
    return tuple(found)


def _lay(found: list[Stretch], colour: str, made: int, number: int, span: Span) -> None:
    """So many stitches more in a colour behind those made: part of the last stretch, or a new one."""
    if found and found[-1].colour == colour:
        found[-1] = msgspec.structs.replace(found[-1], last=made + number)
    else:
        found.append(Stretch(colour, made + 1, made + number, span))


def sideways(rows: Sequence[RowTally], size: int, left: tuple[int, int], taken: tuple[int, int]) -> int:
    """How many stitches lie between where a yarn was left and where it is taken up again.

    Both are a row, by its position, and a stitch of it: the last one made with the yarn, and the first one made with it
    again. In one row that is the number of stitches between them. From row to row both places are taken as shares of
    their rows, since these may differ in length; a turned row runs the other way, and in rounds the shorter way counts.
    """
    (first, last_made), (second, next_made) = left, taken
    if first == second:
        return max(0, next_made - 1 - last_made)
    before, after = rows[first].results[size], rows[second].results[size]
    if before is None or after is None or not before.count or not after.count:
        return 0
    at = Fraction(last_made, before.count)
    to = Fraction(next_made - 1, after.count)
    if sum(is_turned(rows[one], size) for one in range(first, second)) % 2:
        to = 1 - to
    apart = abs(at - to)
    if rows[first].kind == "round" and rows[second].kind == "round":
        apart = min(apart, 1 - apart)
    return round(apart * after.count)


def is_turned(row: RowTally, size: int) -> bool:
    """Whether the work is turned at the end of a row: as its words say, else rows are turned and rounds are not."""
    said = [node.made for node in row.nodes[size] or () if isinstance(node, Turn)]
    result = row.results[size]
    if said:
        return said[-1]
    return row.kind == "row" or (result is not None and result.turned)
