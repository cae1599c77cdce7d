"""What a text makes and says, without its words: a plant that leaves this as it was is no fault, and is redrawn."""

from __future__ import annotations

import msgspec

from roundhand.findings import Span
from roundhand.notation.tree import RowLine, Stated
from roundhand.tally import Worked, flat
from roundhand.workshop import Reading
from tests.edit.marks import lines, within

# Fields that hold words of the page, or a place on it.
_WORDS = ("text", "words", "word", "near", "label", "name")


def fabric(reading: Reading) -> object:
    """The rows of every size with their stitches, places and colours, and all that the page states."""
    pattern, tally = reading.pattern, reading.tally
    pieces = [
        (
            [(row.kind, row.labels, [_worked(one) for one in row.results]) for row in piece.rows],
            [[_worked(one) for one in step.results] for step in piece.steps],
            [[(event.act, event.colour, event.row, event.strands) for event in own] for own in piece.events],
            piece.make,
        )
        for piece in tally.pieces
    ]
    stated = [[_bare(node) for node in within((_counts(line), line.nodes), Stated)] for line in lines(reading)]
    facts = [(fact.key, fact.lists, [_mm(one) for one in fact.lengths]) for fact in pattern.facts]
    head = [(yarn.label, yarn.balls, yarn.mass_g, _bare(yarn.length)) for yarn in pattern.yarns]
    joins = [
        [type(node).__name__ for node in line.nodes if type(node).__name__ in ("Join", "Turn")]
        for line in lines(reading)
    ]
    return reading.sizes, pieces, stated, facts, head, [_bare(one) for one in pattern.gauges], joins


def _worked(result: Worked | None) -> object:
    """The stitches of a row one after the other, however the words group them, and how it ends."""
    if result is None:
        return None
    runs: list[list[object]] = []
    for run in flat(result.made):
        key = [run.stitch, run.colour, run.loop, run.below, run.counts, run.uses, run.lead, run.trail]
        if runs and runs[-1][1:] == key:
            runs[-1][0] = int(str(runs[-1][0])) + run.count
        else:
            runs.append([run.count, *key])
    lost = [(one.over, one.group) for one in result.left_over], [(one.what, one.wanted) for one in result.missing]
    said = result.count, result.used, result.left, result.lacking, result.said_left, result.attached, result.turned
    return runs, lost, said, result.stands, _bare(result.offer)


def _counts(line: object) -> object:
    return line.stated if isinstance(line, RowLine) else ()


def _mm(length: object) -> object:
    return getattr(length, "mm", None)


def _bare(value: object) -> object:
    """A value without places on the page and without its words."""
    if isinstance(value, Span):
        return None
    if isinstance(value, msgspec.Struct):
        fields = [name for name in value.__struct_fields__ if name not in _WORDS and "span" not in name]
        return (type(value).__name__, *(_bare(getattr(value, name)) for name in fields))
    if isinstance(value, tuple | list):
        return tuple(_bare(one) for one in value)
    if isinstance(value, dict):
        return tuple((key, _bare(one)) for key, one in sorted(value.items(), key=lambda item: str(item[0])))
    return value
