"""A row is worked "as before" or "as above", and nothing says as which row.

A maker turns back, finds two rows that it could be, and takes the nearer. A number, or the name of a section, settles
it.

Bad:
    MAT
    Ch 11.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (10)
    Row 2: Ch 2, hdc in each st across, turn. (10)
    Row 3: Work as before.

Good:
    MAT
    Ch 11.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (10)
    Row 2: Ch 2, hdc in each st across, turn. (10)
    Row 3: Rep Row 2.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Span
from roundhand.notation.tree import Node, Note, RowLine, Stated, Tail, Turn, Unread, Yarn

GROUP = "reading"

_BACK = re.compile(
    r"\b(?:(?:the )?same )?as (?:before|above|previously|earlier|you did)\b|\bin the same (?:way|manner)(?! as)\b"
    r"|\blikewise\b|\bsame (?:again|thing)\b",
    re.IGNORECASE,
)
_GOING_ON = re.compile(
    r"\b(?:as|in (?:the )?(?:pattern|patt|pat)(?: as)?) (?:established|set|given|is)\b"
    r"|\b(?:cont(?:inue)?|keep)\b[^.;\n]{0,20}\bin (?:the )?(?:pattern|patt|pat)\b(?: as (?:established|set))?",
    re.IGNORECASE,
)
_ANCHOR = re.compile(
    r"\b(?:rows?|rnds?|rounds?)\.?\s*\d|\b(?:last|previous|prev|preceding)\s+(?:\d+\s+|two\s+|three\s+)?(?:rows?|rnds?|rounds?)\b"
    r"|\bas (?:for|on|in) (?!the same)\w",
    re.IGNORECASE,
)
_SILENT = (Note, Unread, Stated, Tail, Turn, Yarn)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding, at its first place, for rows that point back at none."""
    for part in sheet.pattern.parts:
        for line in part.lines:
            if not isinstance(line, RowLine) or not nothing_said(line.nodes):
                continue
            start = line.label.span.end
            back = _BACK.search(sheet.text, start, line.span.end)
            found = back or _GOING_ON.search(sheet.text, start, line.span.end)
            if found is None or _ANCHOR.search(sheet.text, start, line.span.end):
                continue
            words = found[0]
            yield Finding(
                "as-before-open",
                "warning" if back else "advice",
                f"\u201c{words}\u201d names no row",
                Span(found.start(), found.end()),
                tuple(sheet.pattern.sizes[size] for size in line.sizes),
                because="no number and no section says which row is meant, so it was not worked here",
                help="name the row, such as \u201cRep Row 2\u201d, or write it out once more",
                facts={"words": words},
                label="as which row?",
            )
            return


def nothing_said(nodes: tuple[Node, ...]) -> bool:
    """Whether a row says nothing that hands could do."""
    return all(isinstance(node, _SILENT) for node in nodes)
