"""The table of outside checks with their counts.

python -m tests.sources.table          prints it
python -m tests.sources.table --write  puts it into the README of this folder
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterable
from functools import cache
from pathlib import Path

from tests.sources import anatomy, foundations, laws, replays, shifts
from tests.sources.compare import Check

README = Path(__file__).parent / "README.md"
BEGIN, END = "<!-- the table begins -->", "<!-- the table ends -->"


@cache
def all_checks() -> tuple[Check, ...]:
    """Every outside check, worked."""
    return tuple(
        check for room in (anatomy, shifts, foundations, replays, laws) for check in room.checks() if check.values
    )


def table(whole: bool = True) -> str:
    """A line for each group of checks: what it holds roundhand against, from where, and how many values; without the
    numbers that grow with the dictionary unless the `whole` of it is wanted."""
    groups: dict[str, list[Check]] = {}
    for check in sorted(all_checks(), key=lambda check: _order(check.group)):
        groups.setdefault(check.group, []).append(check)
    lines = ["| outside check | source | checks | values |", "| --- | --- | ---: | ---: |"]
    for group, checks in groups.items():
        sources = dict.fromkeys(check.source for check in checks)
        said = next(iter(sources)) if len(sources) == 1 else f"{len(sources)} sources, beside each row"
        if checks[0].grows and not whole:
            lines.append(f"| {group} | {'beside each row' if len(sources) > 1 else said} | each stitch | |")
            continue
        lines.append(f"| {group} | {said} | {len(checks)} | {_values(checks)} |")
    counted = [check for check in all_checks() if whole or not check.grows]
    lines.append(f"| **all{'' if whole else ' others'}** | | **{len(counted)}** | **{_values(counted)}** |")
    return "\n".join(lines)


def _values(checks: Iterable[Check]) -> int:
    return sum(len(check.values) for check in checks)


def _order(group: str) -> tuple[int, int]:
    """General facts first, then the worked examples by number, then cases from practice."""
    found = re.match(r"(W|Case )(\d+)", group)
    return (0, 0) if found is None else (1 if found[1] == "W" else 2, int(found[2]))


def with_table(readme: str) -> str:
    """The README with the table as it is now."""
    before, _, rest = readme.partition(BEGIN)
    _, _, after = rest.partition(END)
    return f"{before}{BEGIN}\n\n{table(whole=False)}\n\n{END}{after}"


if __name__ == "__main__":
    if "--write" in sys.argv:
        README.write_text(with_table(README.read_text(encoding="utf-8")), encoding="utf-8")
    print(table())
