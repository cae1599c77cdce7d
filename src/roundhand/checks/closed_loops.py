"""Chains of a row that are closed to picots, where its count speaks of them as loops: the words and the count, or a
chart, mean two shapes that have the same number of stitches."""

from __future__ import annotations

from roundhand.checks.edit import Sheet
from roundhand.checks.pencil import row_label
from roundhand.findings import Finding
from roundhand.notation.tree import Amount, Node, Times, Work
from roundhand.tally import RowTally


def has_picots(nodes: tuple[Node, ...] | None) -> bool:
    """Whether words close a chain with a slip stitch into one of its own: `ch 5, sl st in 5th ch from hook`."""
    for node in nodes or ():
        if isinstance(node, Times) and has_picots(node.body):
            return True
        if isinstance(node, Work) and node.into.kind == "from_hook":
            return all(item.stitch == "slip_stitch" for item in node.group)
    return False


def loops_written(sheet: Sheet, row: RowTally, amount: Amount) -> Finding:
    """The query on a number of loops that is written for a row without any: its chains are picots."""
    written = str(amount.values[0])
    return Finding(
        "count-differs",
        "warning",
        f"{written} loops written, and the chains are closed to picots",
        amount.span,
        sheet.pattern.sizes,
        row=row_label(row, 0),
        because="a slip stitch closes each chain on itself; the stitches are as many either way, the shapes differ",
        help="leave the slip stitches out where open loops are meant, as a chart may show, or count picots",
        facts={"written": (amount.values[0],), "worked": (0,), "counted": "chain spaces"},
        label="loops or picots",
    )
