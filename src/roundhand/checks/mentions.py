"""Where the names of stitches that a pattern defines stand on its page."""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Span
from roundhand.notation.special import forms
from roundhand.notation.tree import Definition, RowLine

# Between the words of a name a page has spaces, hyphens, or nothing.
_GAP = r"[\s\u2010-\u2014-]*"


def mentions(sheet: Sheet, definition: Definition) -> Iterator[Span]:
    """The places outside its own definition that name a stitch, in the order of the page."""
    ways = (_GAP.join(map(re.escape, form.split())) for form in forms(definition.names))
    name = re.compile(rf"(?<![^\W_])(?:{'|'.join(sorted(ways, key=len, reverse=True))})(?![^\W_])", re.IGNORECASE)
    own = definition.span
    for found in name.finditer(sheet.text):
        if not own.start <= found.start() < own.end:
            yield Span(found.start(), found.end())


def in_rows(sheet: Sheet, definition: Definition) -> Iterator[Span]:
    """The places in rows that name it."""
    rows = [line.span for part in sheet.pattern.parts for line in part.lines if isinstance(line, RowLine)]
    for span in mentions(sheet, definition):
        if any(row.start <= span.start < row.end for row in rows):
            yield span
