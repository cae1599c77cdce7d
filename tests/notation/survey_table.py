"""Prints how much of the survey of the trade's notation stands as cases: `python -m tests.notation.survey_table`.

Of the survey's 210 lines each group holds the number given here; a line counts as held where all its cases pass, and
its wordings are counted one by one.
"""

from __future__ import annotations

from collections import defaultdict

from tests.notation.survey_cases import group_of, judge, line_of, pages, survey, variants

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


def rows() -> list[tuple[str, int, int, int]]:
    """For every group: its name, its lines, the lines that are held, and the wordings that pass."""
    held: dict[str, set[int]] = defaultdict(set)
    wordings: dict[str, int] = defaultdict(int)
    for case in survey():
        lost: set[str] = set()
        tried: set[str] = set()
        for variant in variants(case):
            made, values, stitch = pages(case, variant)
            for wording, page in made:
                tried.add(wording)
                if judge(case, page, values, stitch):
                    lost.add(wording)
        wordings[group_of(case)] += len(tried - lost)
        if tried - lost:
            held[group_of(case)].add(line_of(case))
    return [(name, last - first + 1, len(held[name]), wordings[name]) for name, (first, last) in GROUPS.items()]


def table() -> str:
    """The table as text."""
    lines = [f"{'group':16}{'lines':>7}{'held':>7}{'wordings':>10}"]
    found = rows()
    lines += [f"{name:16}{whole:>7}{held:>7}{wordings:>10}" for name, whole, held, wordings in found]
    whole, held, wordings = (sum(column) for column in zip(*(row[1:] for row in found), strict=True))
    lines.append(f"{'all':16}{whole:>7}{held:>7}{wordings:>10}")
    return "\n".join(lines)


if __name__ == "__main__":
    print(table())
