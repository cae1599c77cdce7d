"""The counts of a sizing section on a page: what was aimed at, what came out, what is next, and what clashes."""

from __future__ import annotations

from collections.abc import Sequence

from roundhand.cli.screen.letters import wrapped
from roundhand.cli.screen.line import BLANK, Line, line
from roundhand.cli.screen.tables import Grid, Section, fitting
from roundhand.measures import Length, say_number
from roundhand.sizing import Answer, Solution
from roundhand.workshop import Reading
from roundhand.workshop.solving import unsolved

_NONE = "-"


def solved_tables(reading: Reading, found: Solution, size: int | None, cells: int | None) -> list[Grid]:
    """A section for each count: its values, what was aimed at, the measure and the distance, and the next counts."""
    if not found.answers:
        return []
    sizes = range(len(reading.sizes)) if size is None else (size,)
    return list(fitting(lambda some: _grid(reading, found, some), sizes, cells))


def _grid(reading: Reading, found: Solution, sizes: Sequence[int]) -> Grid:
    names = ("",) if len(reading.sizes) == 1 else tuple(reading.sizes[size] for size in sizes)
    head = ("", *names, "")
    sections = tuple(Section(one.name, _rows(one, sizes, _unit(reading))) for one in found.answers)
    return Grid(head, frozenset(range(1, len(head) - 1)), sections, "faint")


def _rows(answer: Answer, sizes: Sequence[int], unit: str) -> tuple[tuple[str, ...], ...]:
    own = {one.size: one for one in answer.choices}
    chosen = [own.get(size) for size in sizes]
    rows = [("count", *(str(one.count) if one is not None else _NONE for one in chosen), "")]
    if not answer.solved:
        return tuple(rows)
    rows.append(("aimed at", *(f"{float(one.target):.1f}" if one is not None else _NONE for one in chosen), ""))
    if answer.each is not None:
        lengths = [one.length if one is not None else None for one in chosen]
        rows.append(
            ("measures", *(f"{float(Length(mm).to(unit)):.2f}" if mm is not None else _NONE for mm in lengths), unit)
        )
        off = [f"{float(Length(one.off).to(unit)):+.2f}" if one is not None else _NONE for one in chosen]
        rows.append(("off by", *off, unit))
    rows.append(
        ("next down", *(str(one.fewer) if one is not None and one.fewer is not None else _NONE for one in chosen), "")
    )
    rows.append(("next up", *(str(one.more) if one is not None else _NONE for one in chosen), ""))
    return tuple(rows)


def solved_remarks(reading: Reading, found: Solution, cells: int) -> list[Line]:
    """What a repeat more or less makes, what keeps counts from their nearest multiple, and what could not be solved."""
    page: list[Line] = []
    for one in found.answers:
        if one.solved and one.each is not None:
            step = Length(one.each * one.multiple).to(_unit(reading))
            many = f"{one.multiple} more or fewer" if one.multiple > 1 else "One more or fewer"
            words = f"{one.name}: {many} changes it by {say_number(step)} {_unit(reading)}."
            page += [line(words, "faint")]
        for choice in one.choices:
            if choice.because:
                words = f"{one.name}, {reading.sizes[choice.size]}: {choice.because}."
                page += [line(part, "faint") for part in wrapped(words, cells)]
    for clash in found.clashes:
        rules = " and ".join(f"“{rule}”" for rule in clash.rules) or "its targets"
        words = f"{clash.name}: no counts keep {rules}; {clash.needed}."
        page += [line(part, "error") for part in wrapped(words, cells)]
    for said in unsolved(found):
        page += [line(part, "warning") for part in wrapped(said, cells)]
    return [BLANK, *page] if page else []


def _unit(reading: Reading) -> str:
    """The unit of the first length in the head of the page, else inches."""
    for fact in reading.pattern.facts:
        for length in fact.lengths:
            if length is not None and length.unit in ("in", "cm"):
                return length.unit
    return "in"
