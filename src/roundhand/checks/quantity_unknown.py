"""A named count, or a word in the sizing section, stands for nothing.

Where a count has no value its rows cannot be worked, and a maker sees a word in curly brackets.

Bad:
    Sizes: Child (Adult)
    To fit head: 20 (22) in
    SIZING
    body: hat less 1 in at 14 sts = 4 in; multiple of 8
    CAP
    Ch 64, join with sl st in first ch, being careful not to twist.
    Rnd 1: Ch 1, sc in each ch around, join. (64)

Good:
    Sizes: Child (Adult)
    To fit head: 20 (22) in
    SIZING
    body: head less 1 in at 14 sts = 4 in; multiple of 8
    body = 64 (72)
    CAP
    Ch {body}, join with sl st in first ch, being careful not to twist.
    Rnd 1: Ch 1, sc in each ch around, join. ({body})
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.sizing_remarks import PAGES, finding
from roundhand.findings import Finding
from roundhand.sizing import remarks_on

GROUP = "sizes"


def check(sheet: Sheet) -> Iterator[Finding]:
    """All remarks on the sizing section that have no page of their own, each under its name."""
    for one in remarks_on(sheet.pattern, sheet.text):
        if one.what not in PAGES:
            yield finding(sheet, one)
