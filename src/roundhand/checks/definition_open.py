"""A stitch that the pattern defines in words does not come out at one loop on the hook.

Every stitch begins and ends with one loop. If it does not, a number in the definition is wrong.

Bad:
    SPECIAL STITCHES
    Puff: (Yo, insert hook in st, draw up a loop) 3 times, yo, pull through 6 loops.
    CAP
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: Puff in each st around. (6)

Good:
    SPECIAL STITCHES
    Puff: (Yo, insert hook in st, draw up a loop) 3 times, yo, pull through 7 loops.
    CAP
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: Puff in each st around. (6)
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Span

GROUP = "words"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every definition whose loops do not all come off the hook but one."""
    said: set[Span] = set()
    for definition in sheet.pattern.definitions.values():
        if definition.lacking is None or definition.span in said:
            continue
        said.add(definition.span)
        yield Finding(
            "definition-open",
            "error",
            f"{definition.name} does not end with one loop on the hook",
            definition.span,
            because="every stitch begins and ends with one loop on the hook",
            help=(
                f"to close it the last pull through would take {definition.lacking} loops"
                if definition.lacking
                else "see whether a step is missing"
            ),
            facts={"stitch": definition.name, "needed": definition.lacking},
            label="ends open",
        )
