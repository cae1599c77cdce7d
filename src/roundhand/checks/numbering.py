"""The numbers of rows, followed in every size: what is missing, doubled, or out of its order."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Severity
from roundhand.tally import RowTally


class Slip(msgspec.Struct, frozen=True):
    """One label that does not follow: `name` of the finding, the row, the size, the numbers that were expected."""

    name: str
    row: RowTally
    size: int
    number: int
    expected: tuple[int, ...]


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
        expected: tuple[int, ...] = (1,)
        rows = [row for row in sheet.tally.rows() if row.labels[size] is not None]
        for at, row in enumerate(rows):
            number = row.labels[size]
            assert number is not None
            if row.part != part or row.kind != kind:
                fresh = row.part != part
                part, kind = row.part, row.kind
                if fresh:
                    seen = set()
                    if number in (0, 1):
                        expected = (number,)
            following = rows[at + 1].labels[size] if at + 1 < len(rows) else None
            if number in expected:
                pass
            elif following is not None and following - 1 in expected and following != number + 1:
                # The next row goes on as if this one had the number that follows: this label alone is mistyped.
                doubled = number in seen or number == following
                yield Slip("row-repeated" if doubled else "row-out-of-order", row, size, number, expected)
                previous = following - 1
                seen.add(previous)
                expected = (following,)
                continue
            elif number in seen or number == previous:
                yield Slip("row-repeated", row, size, number, expected)
                seen.add(number)
                previous = max(previous, number)
                # The next may go on from here, or as if this label had been right.
                expected = tuple(dict.fromkeys((number + 1, *(value + 1 for value in expected))))
                continue
            elif number < max(expected):
                if seen:
                    yield Slip("row-out-of-order", row, size, number, expected)
                    seen.add(number)
                    continue
            else:
                gap = range(max(expected), number)
                later = {other.labels[size] for other in rows[at + 1 :] if other.part == row.part}
                found_later = all(missing in later for missing in gap)
                if not found_later and (at > 0 or _nothing_below(row, size)):
                    yield Slip("row-missing", row, size, number, tuple(gap))
            seen.add(number)
            previous = number
            expected = (number + 1,)
            if any(value > number for value in seen):
                # A row told out of its order: the count goes on from the highest number.
                expected = (number + 1, max(seen) + 1)


def _nothing_below(row: RowTally, size: int) -> bool:
    offer = row.below[size]
    return offer is None or offer.kind == "none"


def remarks(sheet: Sheet, name: str) -> Iterator[tuple[RowTally, tuple[str, ...], Slip]]:
    """The slips of one name gathered by line of the page: the row, the sizes, and the first slip."""
    gathered: dict[int, tuple[Slip, set[int]]] = {}
    lines: dict[int, int] = {}
    for slip in slips(sheet):
        if slip.name == name:
            key = id(slip.row.line)
            lines.setdefault(key, slip.row.number)
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
    del sheet
    return Finding(
        name,
        severity,
        headline,
        row.line.label.span,
        sizes,
        row=row.label_in(slip.size),
        because=because,
        help=way,
        facts={"number": slip.number, "expected": slip.expected},
        label="this label",
    )


def kind_word(row: RowTally) -> str:
    """`Rnd` or `Row`."""
    return "Rnd" if row.kind == "round" else "Row"
