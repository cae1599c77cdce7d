"""A ridged band worked sideways and seamed into a ring has an odd number of rows.

Back-loop rows worked to and fro make a ridge every second row. With an odd number two like rows meet at the seam and
the rhythm of the ridges breaks there.

Bad:
    BAND
    Ch 7.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (6 sc)
    Rows 2-59: Ch 1, sc in blo of each st across, turn. (6 sc)
    Seam: Hold the short ends together and sl st through both layers in each st across.

Good:
    BAND
    Ch 7.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (6 sc)
    Rows 2-60: Ch 1, sc in blo of each st across, turn. (6 sc)
    Seam: Hold the short ends together and sl st through both layers in each st across.
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding
from roundhand.measures import say_count
from roundhand.tally import PieceTally, RowTally, distinct

GROUP = "rows"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every seamed band whose ridges do not alternate across the seam in some size."""
    pieces = sheet.tally.pieces
    for at, piece in enumerate(pieces):
        if not any(step.step.act == "seam" and any(step.results) for step in piece.steps):
            continue
        after = pieces[at + 1] if at + 1 < len(pieces) else None
        odd: dict[int, list[int]] = {}
        for size in range(len(sheet.pattern.sizes)):
            rows = [row for row in piece.rows if row.results[size] is not None]
            if len(rows) % 2 and _ridged(rows, size):
                odd.setdefault(id(rows[-1].line), []).append(size)
        for sizes in odd.values():
            rows = [row for row in piece.rows if row.results[sizes[0]] is not None]
            yield _finding(sheet, rows[-1], len(rows), tuple(sizes), after)


def _ridged(rows: list[RowTally], size: int) -> bool:
    """Whether most rows are turned and worked into one loop."""
    ridged = 0
    for row in rows:
        result = row.results[size]
        assert result is not None
        run = next((run for run in distinct(result.made) if run.counts), None)
        ridged += row.kind == "row" and result.turned and run is not None and run.loop in ("back", "front")
    return ridged * 2 > len(rows)


def _finding(sheet: Sheet, last: RowTally, rows: int, sizes: tuple[int, ...], after: PieceTally | None) -> Finding:
    ends = ""
    skipped: int | None = None
    if after is not None and after.rows:
        result = after.rows[0].results[sizes[0]]
        if result is not None and result.ends is not None:
            skipped = result.ends[1] - result.ends[0]
            ends = f"; {say_count(skipped, 'row end')} would be skipped along the edge"
    label = last.line.label
    span = label.last.words_of(sizes) if label.last is not None else label.span
    return Finding(
        "ridge-breaks",
        "advice",
        f"{rows} rows is an odd number",
        span,
        tuple(sheet.pattern.sizes[size] for size in sizes),
        row=last.label_in(sizes[0]),
        because=f"ridges come every second row, so two like rows meet at the seam{ends}",
        help=f"{rows - 1} or {rows + 1} rows keep the rhythm",
        facts={"rows": rows, "row_ends_skipped": skipped},
        label="odd",
    )
