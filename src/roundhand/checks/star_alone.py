"""A star marks where a repeat begins, and no words say that it is repeated.

A maker works on to the end of the row, finds no way back to the star, and has worked once what was meant all around.

Bad:
    Ch 20, join with sl st in first ch to form a ring.
    Rnd 1: Ch 1, *sc in next ch, ch 4, skip next 3 ch, join with sl st in first sc.

Good:
    Ch 20, join with sl st in first ch to form a ring.
    Rnd 1: Ch 1, *sc in next ch, ch 4, skip next 3 ch; rep from * around, join with sl st in first sc.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Span
from roundhand.notation.tree import Part, RowLine, Times
from roundhand.tally.readings import walk

GROUP = "counts"

_STAR = "*"
# Words that go back to a star, in its own row or in a later one: "rep from *", "from * to end", "between *s", "x 5".
_BACK = re.compile(r"\brep|\brpt|\bbetween\b|\b(?:from|to|at|after)\s+(?:the\s+)?(?:\*|star)|\btimes\b", re.IGNORECASE)
# A star behind a word or at the end sends the eye to a note, "sc in each st*".
_BEGINS = re.compile(r"(?<![\w*)\]])\*(?=\s*[\w(\[])")


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every row with one star to which nothing goes back."""
    troubled = {id(trouble.row.line) for trouble in sheet.troubles}
    for part in sheet.pattern.parts:
        for line in part.lines:
            if isinstance(line, RowLine) and (found := _alone(sheet.text, line, part)) is not None:
                yield Finding(
                    "star-alone",
                    "error" if id(line) in troubled else "warning",
                    "the star opens a repeat that no words close",
                    found,
                    tuple(sheet.pattern.sizes[size] for size in line.sizes),
                    because="what stands behind it was worked once",
                    help="say how often it is worked, \u201crep from * around\u201d, or take the star out",
                    facts={"stars": 1, "ways_back": 0},
                    label="no way back here",
                )


def _alone(text: str, line: RowLine, part: Part) -> Span | None:
    own = text[line.label.span.end : line.span.end]
    if own.count(_STAR) != 1 or any(isinstance(node, Times) and node.star for node in walk(line.nodes)):
        return None
    begins = _BEGINS.search(own)
    if begins is None or _BACK.search(own, begins.end()):
        return None
    later = text[line.span.end : max(line.span.end, part.span.end, *(other.span.end for other in part.lines))]
    if _STAR in later and _BACK.search(later):
        return None
    at = line.label.span.end + begins.start()
    return Span(at, at + 1)
