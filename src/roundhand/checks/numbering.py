"""The numbers of rows, followed in every size: what is missing, doubled, or out of its order."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Severity
from roundhand.tally import RowTally


class Slip(msgspec.Struct, frozen=True):
    """One label that does not follow: `name` of the finding, the row, the size, the numbers that were expected, and
    the line of the row before it."""

    name: str
    row: RowTally
    size: int
    number: int
    expected: tuple[int, ...]
    before: int = 0


def slips(sheet: Sheet) -> Iterator[Slip]:
    """All labels of a pattern that do not follow the one before, size by size.

    Numbers may go on or begin again at a heading. A number that comes back is a label doubled by a slip when the next
    goes on as if it were the next number, and a part numbered anew otherwise; either way it is said once.
    """
    for size in range(len(sheet.pattern.sizes)):
        previous = 0
        part = ""
        kind = ""
        seen: set[int] = set()
        highest = 0
        expected: tuple[int, ...] = (1,)
        rows = [row for row in sheet.tally.rows() if row.labels[size] is not None]
        going_on = _going_on(sheet, size)
        afresh = _taken_up(rows, size)
        last_at = {(row.part, row.labels[size]): at for at, row in enumerate(rows)}
        for at, row in enumerate(rows):
            number = row.labels[size]
            assert number is not None
            again = at in afresh and number in seen
            if row.part != part or row.kind != kind or again:
                # "Now work in rows. Row 1:" behind rounds begins to number anew; a heading within a piece need not.
                turned = kind not in ("", row.kind)
                goes_back = id(row) in going_on and not turned and _goes_back(row, number)
                fresh = again or (turned and number in (0, 1)) or (row.part != part and not goes_back)
                if again:
                    expected = (number,)
                part, kind = row.part, row.kind
                if fresh:
                    seen = set()
                    highest = 0
                    if number in (0, 1):
                        expected = (number,)
            before = rows[at - 1].line.span.start if at else 0
            following = rows[at + 1].labels[size] if at + 1 < len(rows) else None
            if number in expected:
                pass
            elif following is not None and following - 1 in expected and following != number + 1:
                # The next row goes on as if this one had the number that follows: this label alone is mistyped.
                doubled = number in seen or number == following
                yield Slip("row-repeated" if doubled else "row-out-of-order", row, size, number, expected, before)
                previous = following - 1
                seen.add(previous)
                highest = max(highest, previous)
                expected = (following,)
                continue
            elif number in seen or number == previous:
                yield Slip("row-repeated", row, size, number, expected, before)
                seen.add(number)
                highest = max(highest, number)
                previous = max(previous, number)
                # The next may go on from here, or as if this label had been right.
                expected = tuple(dict.fromkeys((number + 1, *(value + 1 for value in expected))))
                continue
            elif number < max(expected):
                if seen:
                    yield Slip("row-out-of-order", row, size, number, expected)
                    seen.add(number)
                    highest = max(highest, number)
                    continue
            else:
                gap = range(max(expected), number)
                found_later = all(last_at.get((row.part, missing), -1) > at for missing in gap)
                if not found_later and not _runs_backwards(row, size) and (at > 0 or _on_nothing(row, size)):
                    yield Slip("row-missing", row, size, number, tuple(gap), before)
            seen.add(number)
            previous = number
            highest = max(highest, number)
            expected = (number + 1,)
            if highest > number:
                # A row told out of its order: the count goes on from the highest number.
                expected = (number + 1, highest + 1)
            if following is not None and following > number and _runs_backwards(row, size):
                # The end of this range was said to be wrong already; where it should end is not known.
                expected = (following,)


def _going_on(sheet: Sheet, size: int) -> set[int]:
    """The rows that are worked on the row before them of the same piece, without a new yarn or a new beginning."""
    found = set()
    for piece in sheet.tally.pieces:
        own = [row for row in piece.rows if row.labels[size] is not None]
        found |= {id(row) for row in own[1:] if not (row.rejoined and row.rejoined[size])}
    return found


def _goes_back(row: RowTally, number: int) -> bool:
    """Whether a number below a heading is no beginning: it is not 1, or other sizes do not begin there with it."""
    return number not in (0, 1) or any(label is not None and label not in (0, 1) for label in row.labels)


def _taken_up(rows: list[RowTally], size: int) -> set[int]:
    """Where rows begin again on stitches that were left before: a second side has the numbers of the first."""
    return {at for at, row in enumerate(rows) if row.rejoined and row.rejoined[size]}


def _runs_backwards(row: RowTally, size: int) -> bool:
    label = row.line.label
    first = label.first.at(size) if label.first is not None else None
    last = label.last.at(size) if label.last is not None else None
    return first is not None and last is not None and last < first


def _on_nothing(row: RowTally, size: int) -> bool:
    """Whether no row lies below: then a part that begins with its second row has lost the first."""
    offer = row.below[size]
    return offer is None or offer.kind in ("none", "chain", "ring")


def remarks(sheet: Sheet, name: str) -> Iterator[tuple[RowTally, tuple[str, ...], Slip]]:
    """The slips of one name gathered by line of the page: the row, the sizes, and the first slip."""
    gathered: dict[int, tuple[Slip, set[int]]] = {}
    for slip in slips(sheet):
        if slip.name == name:
            key = id(slip.row.line)
            entry = gathered.setdefault(key, (slip, set()))
            entry[1].add(slip.size)
    for slip, sizes in gathered.values():
        yield slip.row, tuple(sheet.pattern.sizes[size] for size in sorted(sizes)), slip


def finding(
    sheet: Sheet,
    name: str,
    severity: Severity,
    row: RowTally,
    sizes: tuple[str, ...],
    slip: Slip,
    headline: str,
    because: str,
    way: str,
) -> Finding:
    """A remark on a label, under the label's words."""
    return Finding(
        name,
        severity,
        headline,
        row.line.label.span,
        sizes,
        row=row.label_in(slip.size),
        because=because,
        help=way,
        facts={
            "number": slip.number,
            "expected": slip.expected,
            "after_line": sheet.source.place(slip.before)[0] if slip.before else None,
        },
        label="this label",
    )


def kind_word(row: RowTally) -> str:
    """`Rnd` or `Row`."""
    return "Rnd" if row.kind == "round" else "Row"
