"""Rows stand in a chart or a picture alone and are not written in words.

Who reads with her ears, or enlarges the page, or cannot tell the symbols apart, cannot make these rows. What stands
in two ways can be read in one of them.

Bad:
    MAT
    Ch 11.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (10)
    Row 2: Ch 1, sc in each st across, turn. (10)
    Rows 3-8: Follow chart.

Good:
    MAT
    Ch 11.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (10)
    Row 2: Ch 1, sc in each st across, turn. (10)
    Rows 3-8: Ch 1, sc in each st across, turn. (10)
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.as_before_open import nothing_said
from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Span
from roundhand.notation.tree import RowLine

GROUP = "reading"

_SHOWN = r"(?:the |this |colou?r |stitch |symbol )*(?:charts?|graphs?|diagrams?|pictures?|photos?|grids?|videos?)"
_FOLLOW = re.compile(
    r"\b(?:follow(?:ing)?|see|work(?:ing)?(?: (?:from|through|as (?:in|on|shown in)))?"
    r"|as (?:shown )?(?:in|on|per)|from|using|reading)"
    rf"\s+(?:(?:rows?|rnds?|rounds?)\s+[\d\s,&to\u2013-]+(?:of|from|on|in)\s+)?{_SHOWN}\b(?:\s+[A-Z0-9])?",
    re.IGNORECASE,
)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding, at its first place, for rows that only a chart or picture shows."""
    for part in sheet.pattern.parts:
        for line in part.lines:
            if not isinstance(line, RowLine) or not nothing_said(line.nodes):
                continue
            found = _FOLLOW.search(sheet.text, line.label.span.end, line.span.end)
            if found is None:
                continue
            yield Finding(
                "chart-alone",
                "advice",
                "these rows stand in a picture alone" if line.label.ranged else "this row stands in a picture alone",
                Span(found.start(), found.end()),
                tuple(sheet.pattern.sizes[size] for size in line.sizes),
                because="no words say what is worked, so neither a voice nor this edit can read it",
                help="write the rows out in words beside the chart",
                facts={"words": found[0]},
                label="in words?",
            )
            return
