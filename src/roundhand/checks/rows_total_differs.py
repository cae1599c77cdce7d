"""The number of rows worked in all, as a line tells it, is not the number of rows that stand above it.

A maker who counts her rows against it finds one too many and takes out a good one.

Bad:
    Ch 21.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (20)
    Rows 2-24: Ch 1, sc in each st across, turn. (20) You have worked a total of 26 rows.

Good:
    Ch 21.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (20)
    Rows 2-24: Ch 1, sc in each st across, turn. (20) You have worked a total of 24 rows.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Span
from roundhand.notation.tree import RowLine
from roundhand.tally import PieceTally

GROUP = "rows"

_ROWS = r"(?:rows|rnds|rounds)"
_SAID = re.compile(
    rf"\btotal\s+of\s+(?P<one>\d{{1,3}})\s+{_ROWS}\b(?!\s+(?:of|in|more|remain|with)\b)"
    rf"|\b(?P<two>\d{{1,3}})\s+{_ROWS}\s+(?:in\s+(?:all|total)|total|altogether|(?:have\s+been\s+)?worked\s+(?:so\s+far|in\s+all))\b",
    re.IGNORECASE,
)
# Words that tell rows to be worked from here on, or those of a kind only.
_TO_COME = re.compile(
    r"\b(?:until|till|for|work|repeat|rep|continue|another|make|every|stripes?|needs?|at\s+least)\s+(?:\w+\s+){0,4}$",
    re.IGNORECASE,
)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every total of rows that is neither that of the piece, nor of the section, nor the last label."""
    if _SAID.search(sheet.text) is None:
        return
    for piece in sheet.tally.pieces:
        ends = {id(row.line): at for at, row in enumerate(piece.rows)}
        for at in ends.values():
            line = piece.rows[at].line
            for found in _SAID.finditer(sheet.text, line.span.start, _end(sheet, line)):
                if _TO_COME.search(sheet.text, line.span.start, found.start()):
                    continue
                said = int(found["one"] or found["two"])
                wrong = [
                    size
                    for size in range(len(sheet.pattern.sizes))
                    if (all_ := _counted(piece, at, size)) and said not in all_
                ]
                if len(wrong) == len(sheet.pattern.sizes):
                    yield _finding(sheet, piece, at, said, found)


def _end(sheet: Sheet, line: RowLine) -> int:
    """Where the words behind a line end: at the next row, or at the next section."""
    starts = [
        span.start
        for part in sheet.pattern.parts
        for span in (part.span, *(one.span for one in part.lines if isinstance(one, RowLine)))
        if span.start > line.span.start
    ]
    return min(starts, default=len(sheet.text))


def _counted(piece: PieceTally, at: int, size: int) -> tuple[int, ...]:
    """The numbers that a total may mean in a size; none where some row was not worked."""
    rows = [row for row in piece.rows[: at + 1] if row.labels[size] is not None]
    if not rows or any(row.results[size] is None for row in rows):
        return ()
    part = [row for row in rows if row.part == piece.rows[at].part]
    line = [row for row in rows if row.line is piece.rows[at].line]
    return len(rows), len(part), len(line), rows[-1].labels[size] or 0


def _finding(sheet: Sheet, piece: PieceTally, at: int, said: int, found: re.Match[str]) -> Finding:
    row = piece.rows[at]
    size = next(size for size, label in enumerate(row.labels) if label is not None)
    rows = _counted(piece, at, size)[0]
    group = "one" if found["one"] else "two"
    return Finding(
        "rows-total-differs",
        "warning",
        f"{said} rows in all written, {rows} worked",
        Span(found.start(group), found.end(group)),
        sheet.pattern.sizes,
        row=row.label_in(size),
        because=f"up to {row.label_in(size)} this piece has {rows} rows",
        help=f"write {rows}, or look whether a range ends on the wrong row",
        facts={"said": said, "rows": rows},
        label=f"{rows} worked",
    )
