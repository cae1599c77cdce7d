"""A round is joined to a first stitch of another kind than the one it begins with.

The words of the join were copied from a round of another stitch. A maker looks for a double crochet where there is none
and joins to the second or third stitch of the round.

Bad:
    Rnd 1: Ch 1, 6 sc in a magic ring, join with sl st in first sc. (6)
    Rnd 2: Ch 1, 2 sc in each st around, join with sl st in first dc. (12)
    Rnd 3: Ch 1, *sc in next st, 2 sc in next st; rep from * around, join with sl st in first sc. (18)

Good:
    Rnd 1: Ch 1, 6 sc in a magic ring, join with sl st in first sc. (6)
    Rnd 2: Ch 1, 2 sc in each st around, join with sl st in first sc. (12)
    Rnd 3: Ch 1, *sc in next st, 2 sc in next st; rep from * around, join with sl st in first sc. (18)
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Span
from roundhand.stitches import dictionary
from roundhand.tally import RowTally, flat
from roundhand.terms import vocabulary

GROUP = "turning"

_JOIN = re.compile(
    r"\bjoin\b[^.;,\n]{0,30}?\b(?:in|to|into)\s+(?:the\s+)?(?:top\s+of\s+(?:the\s+)?)?(?:first|1st)\s+"
    r"(?P<word>[a-z]{2,6}|(?:single|half\s+double|double|treble)\s+crochet)\b(?!\s*-)",
    re.IGNORECASE,
)
_PLAIN = ("single", "half_double", "double", "treble")


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every round whose join names another plain stitch than the one that the round begins with."""
    words = vocabulary(sheet.pattern.language)
    told: set[int] = set()
    for row in sheet.tally.rows():
        if row.copied or id(row.line) in told or row.kind != "round":
            continue
        told.add(id(row.line))
        for found in _JOIN.finditer(sheet.text, row.line.span.start, row.line.span.end):
            said = found["word"].lower().split()
            meaning = words.find(said, 0)
            if meaning is None or meaning.kind != "stitch" or meaning.length != len(said):
                continue
            begins = _begins(row)
            if begins and meaning.value in _PLAIN and begins != meaning.value:
                yield _finding(sheet, row, found, begins)


def _begins(row: RowTally) -> str:
    """The plain stitch that a round begins with in every size; empty where it begins otherwise, or cannot be told."""
    found: set[str] = set()
    for result in row.results:
        if result is None or result.unread:
            continue
        first = next((run for run in flat(result.made) if run.counts or run.stitch not in ("chain",)), None)
        # A chain that stands for the first stitch may be called by either name.
        if first is None or first.stitch not in dictionary() or result.chain_counted:
            return ""
        found.add(first.stitch)
    return found.pop() if len(found) == 1 and found <= set(_PLAIN) else ""


def _finding(sheet: Sheet, row: RowTally, found: re.Match[str], begins: str) -> Finding:
    short = vocabulary(sheet.pattern.language).short(begins)
    said = found["word"]
    return Finding(
        "join-target-differs",
        "warning",
        f"joined in first {said}, the round begins with {short}",
        Span(found.start("word"), found.end("word")),
        tuple(name for name, label in zip(sheet.pattern.sizes, row.labels, strict=True) if label is not None),
        row=row.label,
        because=f"the first stitch of {row.label} is {short}",
        help=f"write “first {short}”, or look whether the round should begin with {said}",
        facts={"said": said, "begins": begins},
        label=f"the first st is {short}",
    )
