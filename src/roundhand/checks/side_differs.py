"""A row is said to be worked on one side, but the turns of the rows before it lead to the other.

Front and back posts and loops change their meaning with the side, so a maker who trusts the label gets ridges on the
wrong side of her work.

Bad:
    Ch 13.
    Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn. (12)
    Row 2 (WS): Ch 1, sc in each st across, turn. (12)
    Row 3 (WS): Ch 1, sc in flo of each st across, turn. (12)

Good:
    Ch 13.
    Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn. (12)
    Row 2 (WS): Ch 1, sc in each st across, turn. (12)
    Row 3 (RS): Ch 1, sc in flo of each st across, turn. (12)
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Span
from roundhand.notation.tree import Rejoin, Yarn
from roundhand.tally import PieceTally, RowTally
from roundhand.tally.sides import said_side, turned_between, turns

GROUP = "rows"

_NAMES = {"RS": "right side", "WS": "wrong side"}
_OTHER = {"RS": "WS", "WS": "RS"}
# Words that set the side afresh, wherever they stand.
_AFRESH = re.compile(
    r"\bfacing\b|\bfasten|\bfinish off|\bjoin(?:ing)?\s+(?:new\s+)?(?:yarn|colou?r)|\bre-?join", re.IGNORECASE
)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every line whose label names another side than the turns since the last label lead to."""
    told: dict[int, tuple[RowTally, RowTally, str, list[int]]] = {}
    for piece in sheet.tally.pieces:
        for size in range(len(sheet.pattern.sizes)):
            for row, since, expected in _slips(sheet, piece, size):
                told.setdefault(id(row.line), (row, since, expected, []))[3].append(size)
    for row, since, expected, sizes in told.values():
        said = row.line.label.side
        name, before = row.label_in(sizes[0]), since.label_in(sizes[0])
        yield Finding(
            "side-differs",
            "warning",
            f"{said} written, but the turns lead to {expected}",
            row.line.label.span,
            tuple(sheet.pattern.sizes[size] for size in sizes),
            row=name,
            because=f"{before} is worked on the {_NAMES[since.line.label.side]}, and the turns since then leave "
            f"the {_NAMES[expected]} facing",
            help=f"write ({expected}), or look whether a turn is missing or one too many between {before} and {name}",
            facts={"said": said, "expected": expected, "since": before},
            label=f"{said} here",
        )


def _slips(sheet: Sheet, piece: PieceTally, size: int) -> Iterator[tuple[RowTally, RowTally, str]]:
    rows = [row for row in piece.rows if row.labels[size] is not None]
    if not any(turns(row.nodes[size] or ())[1] or turns(row.nodes[size] or ())[0] for row in rows):
        return
    since: RowTally | None = None
    facing = ""
    previous: RowTally | None = None
    for row in rows:
        said = said_side(row, size)
        if previous is not None and since is not None:
            turned = turned_between(previous, row, size)
            if turned is None and row.kind == "round" and previous.kind == "round":
                turned = False
            if turned is None or _set_afresh(sheet, previous, row, size):
                since = None
            elif turned:
                facing = _OTHER[facing]
            if since is not None and said and said != facing:
                yield row, since, facing
        if said:
            since, facing = row, said
        previous = row


def _set_afresh(sheet: Sheet, previous: RowTally, row: RowTally, size: int) -> bool:
    """Whether words in or between two rows take up the work anew, so that nothing follows from the turns before."""
    if row.part != previous.part or (row.rejoined and row.rejoined[size]):
        return True
    if any(
        isinstance(node, Rejoin | Yarn) and _takes_up(node) for one in (previous, row) for node in one.nodes[size] or ()
    ):
        return True
    if row.results[size] is None or previous.results[size] is None:
        return True
    if row.line is previous.line:
        return False
    between = Span(previous.line.span.start, row.line.span.end)
    words = between.of(sheet.text)
    return _AFRESH.search(words) is not None or _between(sheet.text, previous, row)


def _takes_up(node: Rejoin | Yarn) -> bool:
    return isinstance(node, Rejoin) or node.act in ("fasten", "cut", "join")


def _between(text: str, previous: RowTally, row: RowTally) -> bool:
    """Whether a line stands between two rows: a step of its own may turn the work or take it up elsewhere."""
    gap = Span(previous.line.span.end, row.line.label.span.start).of(text)
    return bool(re.sub(r"[\s*_#>-]", "", gap))
