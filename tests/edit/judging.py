"""Whether a planted fault was found: an error or warning on its row or the next that the right text does not have."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from roundhand.findings import Edit, Finding
from roundhand.notation.tree import RowLine
from roundhand.workshop import Reading
from tests.edit import kinds_of_facts, kinds_of_rows, kinds_without_goal
from tests.edit.planting import KINDS, Plant, drawn

# Imported for the kinds that they enter.
_KINDS = kinds_of_rows, kinds_of_facts, kinds_without_goal
GOALS = tuple(name for name, (goal, _) in KINDS.items() if goal)
WITHOUT_GOAL = tuple(name for name in KINDS if name not in GOALS)
# Kinds whose fault is one number: how often the offered edit undoes it is measured.
NUMERIC = ("a number changed in a counted row", "a stated count changed in one size", "a repeat dropped or added")


class Judged(NamedTuple):
    """A plant with what was said of it: the findings that are a hit, and whether an offered edit undoes it."""

    plant: Plant
    hits: tuple[Finding, ...]
    said: tuple[Finding, ...]
    undone: bool
    first_undone: bool

    @property
    def hit(self) -> bool:
        """Whether the fault was found where it stands."""
        return bool(self.hits)


def judge(name: str, trial: int) -> Judged:
    """The plant of a trial, judged."""
    plant = drawn(name, trial)
    said = tuple(new_findings(plant))
    places = _places(plant)
    hits = tuple(one for one in said if any(start <= one.span.start <= end for start, end in places))
    edits = [edit for one in said for edit in one.edits]
    undone = [_undoes(plant, edit) for edit in edits]
    return Judged(plant, hits, said, any(undone), bool(undone) and undone[0])


def findings(reading: Reading) -> list[Finding]:
    """The errors and warnings of a text that do not follow from others."""
    return [one for one in reading.findings if one.severity in ("error", "warning") and not one.follows]


def new_findings(plant: Plant) -> Iterator[Finding]:
    """What is said of the faulty text and was not said of the right one."""
    before = {(one.name, one.headline, plant.change.moved(one.span.start)) for one in findings(plant.clean.reading)}
    for one in findings(plant.reading):
        if (one.name, one.headline, one.span.start) not in before:
            yield one


def _places(plant: Plant) -> list[tuple[int, int]]:
    """The lines where a finding is a hit: the row of the plant and the next one."""
    return [_line_and_next(plant.reading, plant.change.moved(at)) for at in (plant.change.at, *plant.change.also)]


def _line_and_next(reading: Reading, at: int) -> tuple[int, int]:
    text = reading.source.text
    start = text.rfind("\n", 0, at) + 1
    own_end = (text + "\n").find("\n", at)
    lines = sorted(
        (line.span.start, line.span.end, isinstance(line, RowLine))
        for part in reading.pattern.parts
        for line in part.lines
    )
    for begin, end, _ in lines:
        if begin <= at <= end:
            start, own_end = min(start, begin), max(own_end, end)
    for begin, end, is_row in lines:
        if begin > own_end and is_row:
            return start, end
    return start, own_end


def _undoes(plant: Plant, edit: Edit) -> bool:
    """Whether an offered edit gives the right text back."""
    text = plant.reading.source.text
    return text[: edit.span.start] + edit.text + text[edit.span.end :] == plant.clean.text
