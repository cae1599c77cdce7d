"""A count of things by a name of their own, petals or points, is in no number of the row.

What is called by such a name is most often one run of the repeat. A count that is neither the runs nor the stitches
nor the spaces of its row, and no multiple or part of them, sends the maker back to look for what she has missed.

Bad:
    Ch 20, join with sl st in first ch to form a ring.
    Rnd 1: Ch 1, *sc in next ch, ch 4, skip next 3 ch; rep from * 4 more times, join with sl st in first sc. (6 points)

Good:
    Ch 20, join with sl st in first ch to form a ring.
    Rnd 1: Ch 1, *sc in next ch, ch 4, skip next 3 ch; rep from * 4 more times, join with sl st in first sc. (5 points)
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.pencil import row_label, say_list
from roundhand.findings import Finding
from roundhand.notation.tree import Amount
from roundhand.tally import RowTally, Worked, totals

GROUP = "counts"

_OF_ITS_OWN = "other"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every such count that fits nothing in its row, where the stitches of the row come out."""
    told = {(id(trouble.row.line), trouble.size) for trouble in sheet.troubles}
    seen: set[int] = set()
    for row in sheet.tally.rows():
        stated = row.stated_by
        if stated is None or row.copied or id(row.line) in seen or len(stated.counts) != 1:
            continue
        amount, kind = stated.counts[0]
        if kind != _OF_ITS_OWN:
            continue
        seen.add(id(row.line))
        wrong: list[tuple[int, int, int]] = []
        for size, result in enumerate(row.results):
            said = amount.at(size)
            if result is None or not said or (id(row.line), size) in told or result.unread:
                continue
            there = _numbers(result)
            if there and not any(_fits(said, number) for number in there):
                wrong.append((size, said, max(result.repeats, 1)))
        if wrong:
            yield _finding(sheet, row, amount, wrong)


def _numbers(result: Worked) -> set[int]:
    """All that can be counted in a row: its stitches, of each kind, the runs of its repeats, its spaces and groups."""
    groups = result.groups or ()
    found = {result.count, result.repeats, result.used, len(groups), result.offer.layout.count(b"o")}
    found |= {segment.times for segment in result.segments}
    found |= set(totals(result.made).values())
    found |= {group.times for group in groups}
    return {number for number in found if number > 0}


def _fits(said: int, number: int) -> bool:
    """Whether a number is what is said, or so many of these make one of those."""
    return said == number or (min(said, number) > 1 and (said % number == 0 or number % said == 0))


def _finding(sheet: Sheet, row: RowTally, amount: Amount, wrong: list[tuple[int, int, int]]) -> Finding:
    sizes = tuple(size for size, _, _ in wrong)
    written, runs = tuple(one[1] for one in wrong), tuple(one[2] for one in wrong)
    return Finding(
        "named-groups-differ",
        "warning",
        f"{say_list(written)} written, and nothing in the row comes to that",
        amount.words_of(sizes),
        tuple(sheet.pattern.sizes[size] for size in sizes),
        row=row_label(row, sizes[0]),
        because=f"its repeat runs {say_list(runs)} {'time' if runs == (1,) else 'times'}",
        help="write how many the row makes, or say what is counted",
        facts={"written": written, "runs": runs},
        label=f"{say_list(written)} written",
    )
