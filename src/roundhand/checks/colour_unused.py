"""The materials name a colour that nothing uses.

A maker buys a ball for nothing, or a change of colour has been left out.

Bad:
    MATERIALS
    Yarn A: worsted, slate
    Yarn B: worsted, samphire
    CAP
    Rnd 1: With A, 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
    Fasten off.

Good:
    MATERIALS
    Yarn A: worsted, slate
    Yarn B: worsted, samphire
    CAP
    Rnd 1: With A, 6 sc in a magic ring. (6)
    Cut A.
    Rnd 2: With B, 2 sc in each st around. (12)
    Fasten off.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding
from roundhand.notation.tree import YarnLine

GROUP = "colours"

_ELSEWHERE = re.compile(
    r"\b(?:chart|graph|colou?r sequence|random|any (?:colou?r|order)|as (?:you like|desired))\b", re.IGNORECASE
)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every labelled yarn that no row, step or note speaks of, where others are used by theirs."""
    labelled = [yarn for yarn in sheet.pattern.yarns if yarn.label]
    used = {event.colour for piece in sheet.tally.pieces for size in piece.events for event in size if event.colour}
    strands = {label for colour in used for label in colour.split("+")}
    known = {yarn.label for yarn in labelled}
    if not sheet.paper.ends:
        # A page that only begins may come to it yet.
        return
    if len(labelled) < 2 or not strands & known or strands - known - {"*"}:
        # A label that the materials do not name is perhaps this one, mistyped; that is told there.
        return
    told = "\n".join(
        sheet.paper.words(line) for line in sheet.paper.lines if line.section in ("work", "notes", "special")
    )
    if _ELSEWHERE.search(told):
        return
    for yarn in labelled:
        if yarn.label in strands or _spoken_of(yarn, told):
            continue
        yield Finding(
            "colour-unused",
            "warning",
            f"{yarn.label} is never used",
            yarn.span,
            because=f"no row, step or note speaks of {yarn.label}, and the others are used by their names",
            help=f"say where {yarn.label} comes in, or leave it out of the materials",
            facts={"colour": yarn.label, "used": tuple(sorted(strands & known))},
            label="never used",
        )


def _spoken_of(yarn: YarnLine, told: str) -> bool:
    names = [rf"(?<!\w){re.escape(yarn.label)}(?!\w)"]
    names += [rf"\b{re.escape(word)}\b" for word in yarn.colour.split() if len(word) > 2]
    return re.search("|".join(names[:1]), told) is not None or any(
        re.search(name, told, re.IGNORECASE) for name in names[1:]
    )
