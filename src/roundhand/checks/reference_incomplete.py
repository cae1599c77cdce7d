"""Words send a maker to rows or to a section that is not there.

She leafs back, finds nothing, and has to guess what was to be worked again.

Bad:
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: Inc in each st around. (12)
    Rnds 3-4: Rep Rnds 6-7.

Good:
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: Inc in each st around. (12)
    Rnds 3-4: Rep Rnd 2.
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Severity, Span
from roundhand.notation.tree import Copy, Node, Times, Work
from roundhand.tally import RowTally

GROUP = "rows"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for words that name one row twice, and for rows repeated that begin in a chain which is not there.

    Rows that are not there at all are told as the words are read."""
    for part in sheet.pattern.parts:
        for line in part.lines:
            for node in line.nodes:
                if isinstance(node, Copy) and (row := _twice(node)) is not None:
                    yield _finding(
                        sheet,
                        node.span,
                        line.sizes,
                        f"row {row} is named twice",
                        "two rows are to be repeated by turns, and both are the same one",
                        "look at both numbers",
                        row,
                    )
    told: set[Span] = set()
    for row_tally in sheet.tally.rows():
        span = row_tally.line.span
        copy = next((node for node in row_tally.line.nodes if isinstance(node, Copy)), None)
        # Another piece or side is begun with a chain of its own, which may not be told again; and "same as 1st row"
        # says what stitch goes into each of the row below.
        several = copy is not None and copy.first is not None and copy.last is not None and copy.first != copy.last
        if copy is None or not several or copy.part or copy.side or copy.mirror or span in told:
            continue
        if row_tally.copied and (size := _in_no_chain(row_tally)) is not None:
            told.add(span)
            yield _finding(
                sheet,
                copy.span,
                row_tally.line.sizes,
                "a row that begins in the foundation chain is repeated on a row",
                f"{row_tally.label_in(size)} has no chain to begin in; a row lies below it",
                "begin with the row after it, or write out how it is worked on a row",
                0,
                "warning",
            )


def _twice(copy: Copy) -> int | None:
    """The row that the words "rows 3 and 3" name, or "rows 3-3"; None where they name two, or one by one number."""
    first, last = copy.first, copy.last
    if first is None or last is None or first.span == last.span or first.values != last.values:
        return None
    return first.values[0]


def _in_no_chain(row: RowTally) -> int | None:
    """The first size in which a row counts chains from the hook and stands on a row."""
    for size, (result, below) in enumerate(zip(row.results, row.below, strict=True)):
        if result is not None and below is not None and below.kind == "row" and below.total:
            return size if _begins_in_chain(row.nodes[size] or ()) else None
    return None


def _begins_in_chain(nodes: tuple[Node, ...]) -> bool:
    first: Node | None = next((node for node in nodes if isinstance(node, Work | Times)), None)
    while isinstance(first, Times) and first.body:
        first = first.body[0]
    return isinstance(first, Work) and first.into.kind == "from_hook"


def _finding(
    sheet: Sheet,
    span: Span,
    sizes: tuple[int, ...],
    headline: str,
    because: str,
    way: str,
    row: int,
    severity: Severity = "error",
) -> Finding:
    return Finding(
        "reference-incomplete",
        severity,
        headline,
        span,
        tuple(sheet.pattern.sizes[size] for size in sizes),
        because=because,
        help=way,
        facts={"rows": (row,) if row else ()},
    )
