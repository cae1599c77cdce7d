"""Colours are called by their hues and have no letters.

Whoever makes it in other colours has to read "red" and think "green" in every row, and who does not see the hues apart
has nothing to go by. A letter beside the colour, Yarn A in slate, serves both.

Bad:
    MATERIALS
    Yarn: worsted in slate and ochre
    CAP
    Rnd 1: With grey, 6 sc in a magic ring. (6)
    Rnd 2: With yellow, 2 sc in each st around. (12)
    Fasten off.

Good:
    MATERIALS
    Yarn A: worsted, grey
    Yarn B: worsted, yellow
    CAP
    Rnd 1: With A, 6 sc in a magic ring. (6)
    Cut A.
    Rnd 2: With B, 2 sc in each st around. (12)
    Fasten off.
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.colour_unknown import yarns_in
from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Span

GROUP = "colours"
WHEN_ASKED = True


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding where rows call two colours or more by their hues and the materials give no letters."""
    if any(yarn.label for yarn in sheet.pattern.yarns):
        return
    first: dict[str, Span] = {}
    for part in sheet.pattern.parts:
        for line in part.lines:
            for node, colour in yarns_in(line.nodes):
                if len(colour) > 2 and colour not in ("MC", "CC"):
                    first.setdefault(colour.lower(), node.span)
    if len(first) < 2:
        return
    names = list(first)
    yield Finding(
        "yarn-without-letter",
        "advice",
        f"{' and '.join(names[:2])} have no letters",
        first[names[0]],
        because="makers choose other colours, and not everybody sees hues apart",
        help="name them Yarn A and Yarn B in the materials, with the colour beside, and use the letters in the rows",
        facts={"colours": tuple(names)},
        label="A?",
    )
