"""Increases or decreases are to be spread evenly, and the spacing written for them makes another number.

The count may be right and the spacing may be right, and still not belong together: the maker runs out of stitches
before her increases, or has some left over.

Bad:
    Ch 61.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (60)
    Row 2: Ch 1, sc across, increasing 7 sts evenly (in every 6th st), turn. (67)
    Row 3: Ch 1, sc in each st across, turn. (67)

Good:
    Ch 61.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (60)
    Row 2: Ch 1, sc across, increasing 7 sts evenly (in every 8th st), turn. (67)
    Row 3: Ch 1, sc in each st across, turn. (67)
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Span
from roundhand.measures import say_count
from roundhand.sizing import even_gaps
from roundhand.tally import RowTally

GROUP = "shaping"

_SAID = re.compile(
    r"\b(?P<act>inc|dec)(?:reas\w+|s)?\s+(?P<often>\d{1,3})\s*(?:more\s+)?(?:sts?|stitches|times)?\s*,?\s*evenly\b"
    r"[^.;\n]{0,50}?\bevery\s+(?P<each>\d{1,3})(?:st|nd|rd|th)(?:\s+(?:and|&)\s+(?P<next>\d{1,3})(?:st|nd|rd|th))?"
    r"(?!\s*(?:row|rnd|round))",
    re.IGNORECASE,
)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every row whose written spacing does not make the number of increases or decreases."""
    told: set[int] = set()
    for row in sheet.tally.rows():
        if row.copied or id(row.line) in told:
            continue
        for found in _SAID.finditer(sheet.text, row.line.span.start, row.line.span.end):
            wrong = [size for size in range(len(sheet.pattern.sizes)) if not _fits(row, size, found)]
            if wrong:
                told.add(id(row.line))
                yield _finding(sheet, row, found, wrong)


def _fits(row: RowTally, size: int, found: re.Match[str]) -> bool:
    """Whether a spacing makes the number, with the rest of the row plain; half a gap may stand at either edge."""
    below = row.below[size]
    if below is None or row.results[size] is None or below.kind not in ("row", "chain"):
        return True
    often, each = int(found["often"]), int(found["next"] or found["each"])
    groups = {each} if found["next"] or found["act"].lower() == "inc" else {each, each + 1, each + 2}
    for group in groups:
        made = below.total // group if group else 0
        # A last increase may stand nearer to the edge than the others.
        if made == often or (below.total % group and made + 1 == often and below.total % group >= group // 2):
            return True
    return False


def _finding(sheet: Sheet, row: RowTally, found: re.Match[str], wrong: list[int]) -> Finding:
    size = wrong[0]
    below = row.below[size]
    assert below is not None
    often, each = int(found["often"]), int(found["next"] or found["each"])
    made = below.total // each if each else 0
    act = "increase" if found["act"].lower() == "inc" else "decrease"
    even = even_gaps(below.total, often)[-1] if 0 < often <= below.total else 0
    return Finding(
        "spacing-differs",
        "warning",
        f"every {each} makes {say_count(made, act)} of {below.total} sts, {often} are written",
        Span(found.start("each"), found.end("next") if found["next"] else found.end("each")),
        tuple(sheet.pattern.sizes[at] for at in wrong),
        row=row.label_in(size),
        because=f"{below.total} sts hold {made} whole groups of {each}",
        help=f"groups of about {even} sts make {often}" if even else "look at the number and at the spacing",
        facts={"below": below.total, "each": each, "made": made, "written": often},
        label=f"makes {made}",
    )
