"""The values below a line of the sizing section are not what the line asks for any more.

A gauge or a rule was changed after the sizes were worked out, and the rows still have the old counts. Nothing is worked
out anew here: a value must keep the rules of its line and lie no more than one multiple from its target.

Bad:
    Sizes: Child (Adult)
    To fit head: 20 (22) in
    SIZING
    body: head less 1 in at 14 sts = 4 in; multiple of 8
    body = 64 (88)
    CAP
    Ch {body}, join with sl st in first ch, being careful not to twist.
    Rnd 1: Ch 1, sc in each ch around, join. ({body})

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
from roundhand.checks.sizing_remarks import remarked
from roundhand.findings import Finding

GROUP = "sizes"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for each line whose values no longer fit it, on the values."""
    yield from remarked(sheet, "sizing-stale")
