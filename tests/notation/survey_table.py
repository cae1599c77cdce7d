"""Prints how much of the survey of the trade's notation stands as cases: `python -m tests.notation.survey_table`.

A line of the survey is held where it has a case, every wording of every case of it passes, as written and with numbers
and stitch exchanged, and nothing known of it is left out. What is not held stands in `survey/not_held.csv` with its
reason, and behind the table.
"""

from __future__ import annotations

import csv
from collections import defaultdict

import msgspec

from tests.notation.survey_cases import SURVEY, group_of, judge, line_of, pages, survey, variants

# The groups of the survey and the numbers of their first and last lines.
GROUPS = {
    "01_labels": (1, 16),
    "02_starts": (17, 33),
    "03_plain": (34, 48),
    "04_increases": (49, 67),
    "05_groups": (68, 83),
    "06_spaces": (84, 93),
    "07_repeats": (94, 116),
    "08_turning": (117, 130),
    "09_places": (131, 142),
    "10_sizes": (143, 154),
    "11_counts": (155, 170),
    "12_finishing": (171, 190),
    "13_old": (191, 205),
    "14_grids": (206, 210),
}


class Lost(msgspec.Struct, frozen=True):
    """What of a line is not held: the words, and why."""

    line: int
    what: str
    reason: str


class Group(msgspec.Struct, frozen=True):
    """One group of the survey: its lines, those that are held, and the wordings that were tried and that passed."""

    name: str
    lines: range
    held: frozenset[int]
    tried: int
    passed: int


def known_lost() -> list[Lost]:
    """What is known not to be held, with the reasons."""
    with (SURVEY / "not_held.csv").open(encoding="utf-8", newline="") as file:
        return [Lost(int(row["line"]), row["what"], row["reason"]) for row in csv.DictReader(file)]


def groups() -> tuple[list[Group], list[Lost]]:
    """Every group worked through, and all that is not held."""
    lost = known_lost()
    failing: dict[int, str] = {}
    cases: dict[str, set[int]] = defaultdict(set)
    tried: dict[str, int] = defaultdict(int)
    passed: dict[str, int] = defaultdict(int)
    for case in survey():
        wrong: dict[str, str] = {}
        for variant in variants(case):
            made, values, stitch = pages(case, variant)
            for wording, page in made:
                why = judge(case, page, values, stitch)
                wrong[wording] = wrong.get(wording, "") or why
        name = group_of(case)
        cases[name].add(line_of(case))
        tried[name] += len(wrong)
        passed[name] += sum(not one for one in wrong.values())
        for wording, reason in wrong.items():
            if reason:
                failing.setdefault(line_of(case), f"{wording.splitlines()[0]}: {reason}")
    lost += [Lost(line, "fails", reason) for line, reason in sorted(failing.items())]
    without = {one.line for one in lost}
    found: list[Group] = []
    for name, (first, last) in GROUPS.items():
        lines = range(first, last + 1)
        lost += [
            Lost(line, "no case", "nothing is written for it") for line in lines if line not in cases[name] | without
        ]
        held = frozenset(line for line in lines if line in cases[name] and line not in without)
        found.append(Group(name, lines, held, tried[name], passed[name]))
    return found, sorted(lost, key=lambda one: one.line)


def table() -> str:
    """The table as text, with what is not held."""
    found, lost = groups()
    rows = [(one.name, len(one.lines), len(one.held), one.tried, one.passed) for one in found]
    totals = [sum(column) for column in zip(*(row[1:] for row in rows), strict=True)]
    lines = [f"{'group':16}{'lines':>7}{'held':>7}{'wordings':>10}{'passed':>8}"]
    for name, *numbers in [*rows, ("all", *totals)]:
        lines.append(f"{name:16}" + "".join(f"{number:>{w}}" for number, w in zip(numbers, (7, 7, 10, 8), strict=True)))
    if lost:
        lines += ["", "not held"]
        lines += [f"{one.line:>5}  {one.what}: {one.reason}" for one in lost]
    return "\n".join(lines)


if __name__ == "__main__":
    print(table())
