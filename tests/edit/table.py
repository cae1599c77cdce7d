"""The table of planted faults: how many of each kind are found, and what is missed.

`python -m tests.edit.table` prints it; `--write` renews `docs/checks/recall.md`; `--each N` plants so many of each.
"""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path

from tests.edit.clean import cleans
from tests.edit.judging import GOALS, NUMERIC, WITHOUT_GOAL, Judged, findings, judge

PAGE = Path(__file__).resolve().parents[2] / "docs" / "checks" / "recall.md"
EACH = 200
HEADING = "| kind of fault | planted | found | of 100 | goal | mended by the first edit | by any |"


def run(each: int, kinds: Sequence[str] = (*GOALS, *WITHOUT_GOAL)) -> dict[str, list[Judged]]:
    """So many plants of every kind, judged."""
    return {name: [judge(name, trial) for trial in range(each)] for name in kinds}


def table(found: dict[str, list[Judged]]) -> str:
    """The table as it stands in the page."""
    rows = [HEADING, "| --- | ---: | ---: | ---: | ---: | ---: | ---: |"]
    for name, all_ in found.items():
        if all_:
            rows.append(_row(name, all_, "97" if name in GOALS else "-"))
    with_goal = [one for name, all_ in found.items() if name in GOALS for one in all_]
    if with_goal:
        rows.append(_row("all kinds with a goal", with_goal, "99"))
    return "\n".join(rows)


def _row(name: str, all_: list[Judged], goal: str) -> str:
    hits = sum(one.hit for one in all_)
    numeric = name in NUMERIC
    first = f"{100 * sum(one.first_undone for one in all_) / len(all_):.0f} of 100" if numeric else "-"
    any_ = f"{100 * sum(one.undone for one in all_) / len(all_):.0f} of 100" if numeric else "-"
    return f"| {name} | {len(all_)} | {hits} | {100 * hits / len(all_):.1f} | {goal} | {first} | {any_} |"


def missed(found: dict[str, list[Judged]]) -> str:
    """What was not found, each with its text, its words before and after, and what was said instead."""
    lines = []
    for name, all_ in found.items():
        missing = [one for one in all_ if not one.hit]
        if missing:
            lines += [f"### {name[:1].upper()}{name[1:]}", ""]
        for one in missing:
            said = ", ".join(f"{other.name} ({other.row or 'no row'})" for other in one.said) or "nothing"
            lines.append(f"- {one.plant.clean.name}: `{one.plant.words()}`; said: {said}")
        if missing:
            lines.append("")
    return "\n".join(lines)


def clean_table() -> str:
    """How many right texts there are of each group, and how many have errors."""
    groups = list(dict.fromkeys(one.group for one in cleans()))
    rows = ["| right texts | number | with a false error | with a warning |", "| --- | ---: | ---: | ---: |"]
    for group in groups:
        own = [one for one in cleans() if one.group == group and one.text]
        wrong = sum(any(each.severity == "error" for each in findings(one.reading)) for one in own)
        warned = sum(any(each.severity == "warning" for each in findings(one.reading)) for one in own)
        rows.append(f"| {group} | {len(own)} | {wrong} | {warned} |")
    return "\n".join(rows)


def page(found: dict[str, list[Judged]]) -> str:
    """The whole page of the handbook."""
    return f"{_OPENING}\n{table(found)}\n\n{_RIGHT}\n{clean_table()}\n\n{_listed(found)}".rstrip() + "\n"


def _listed(found: dict[str, list[Judged]]) -> str:
    with_goal = {name: all_ for name, all_ in found.items() if name in GOALS}
    without = {name: all_ for name, all_ in found.items() if name not in GOALS}
    return f"## Missed, of the kinds with a goal\n\n{missed(with_goal)}\n## Missed, of the others\n\n{missed(without)}"


_OPENING = """\
# What the technical edit finds

Made by `python -m tests.edit.table --write`; do not write in it by hand.

Faults are planted by chance in texts that are right, each drawn from the words of a row, list, label or fact. A plant
that leaves the fabric and all stated facts as they were is drawn anew. It counts as found where an error or a warning
stands on its row or the next one that the right text does not have. For kinds that are one number the last columns say
how often an edit that is offered gives the right text back.
"""
_RIGHT = """\
## Right texts

Nothing may be called an error in these.
"""


def main(arguments: Sequence[str] | None = None) -> int:
    """Prints the table and what is missed."""
    parser = argparse.ArgumentParser(description="how many planted faults are found")
    parser.add_argument("--each", type=int, default=EACH, help="how many of each kind")
    parser.add_argument("--kind", action="append", help="only kinds that have these words in their name")
    parser.add_argument("--write", action="store_true", help="renew docs/checks/recall.md")
    asked = parser.parse_args(arguments)
    kinds = [one for one in (*GOALS, *WITHOUT_GOAL) if not asked.kind or any(word in one for word in asked.kind)]
    found = run(asked.each, kinds)
    print(table(found))
    print()
    print(missed(found))
    if asked.write:
        PAGE.parent.mkdir(exist_ok=True)
        PAGE.write_text(page(found), encoding="utf-8")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
