"""What a leaflet fills in on a line of rows: counts that the pattern leaves out, and numbers for rows without one."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from roundhand.publishing.figures import size_list
from roundhand.publishing.leaflet import Filled
from roundhand.tally import RowTally

# Counts of something else than stitches are stated all the same; the leaflet does not count a second time beside them.
_OTHER_COUNTS = ("typed", "space", "chain", "other", "block")


def filled_counts(rows: Sequence[RowTally]) -> tuple[Filled, ...]:
    """The counts that the line of these rows leaves out. Rows one after the other with the same counts are one entry;
    an entry that holds for all of the line names no rows.

    >>> from roundhand import notation, tally
    >>> pattern, _ = notation.read("Cap\\nRnd 1: 6 sc in a magic ring.\\nRnds 2-3: Inc in each st around.")
    >>> rows = list(tally.count(pattern)[0].rows())
    >>> [(one.rows, one.counts) for one in filled_counts(rows[1:])]
    [('Rnd 2', (12,)), ('Rnd 3', (24,))]
    """
    groups: list[tuple[Filled, list[RowTally]]] = []
    last = -2
    for at, row in enumerate(rows):
        if not _left_out(row):
            continue
        one = Filled(row.worked, unknown=_unknown(row))
        follows, last = last == at - 1, at
        if follows:
            joined = _joined(groups[-1][0], one)
            if joined is not None:
                groups[-1][1].append(row)
                groups[-1] = (joined, groups[-1][1])
                continue
        groups.append((one, [row]))
    whole = len(groups) == 1 and len(groups[0][1]) == len(rows)
    return tuple(filled if whole else msgspec.structs.replace(filled, rows=row_numbers(of)) for filled, of in groups)


def filled_text(filled: Filled) -> str:
    """Filled-in counts in words; a question mark where a row could not be worked.

    >>> filled_text(Filled((12, 14), "Rnd 2")), filled_text(Filled((1,))), filled_text(Filled((None, 9), unknown=(0,)))
    ('Rnd 2: 12 (14) sts', '1 st', '? (9) sts')
    """
    counts = ["?" if size in filled.unknown else count for size, count in enumerate(filled.counts)]
    unit = "st" if set(counts) == {1} else "sts"
    return f"{filled.rows}: {size_list(counts)} {unit}" if filled.rows else f"{size_list(counts)} {unit}"


def row_numbers(rows: Sequence[RowTally]) -> str:
    """The numbers of some rows in every size: `Rnds 24-26 (24-26, 30-32)`."""
    labels = [label.partition(" ")[2] if label is not None else None for label in labels_per_size(rows)]
    if not any(labels):
        return ""
    word = "Rnd" if rows[0].kind == "round" else "Row"
    many = any(label is not None and "-" in label for label in labels)
    return f"{word}{'s' if many else ''} {size_list(labels)}"


def labels_per_size(rows: Sequence[RowTally]) -> tuple[str | None, ...]:
    """The label of a line in every size, `Rnd 9` or `Rnds 9-17`; None where the size has none of its rows."""
    if not rows:
        return ()
    labels: list[str | None] = []
    word = "Rnd" if rows[0].kind == "round" else "Row"
    for size in range(len(rows[0].labels)):
        numbers = [number for row in rows if (number := row.labels[size]) is not None]
        if not numbers:
            labels.append(None)
        elif min(numbers) == max(numbers):
            labels.append(f"{word} {numbers[0]}")
        else:
            labels.append(f"{word}s {min(numbers)}-{max(numbers)}")
    return tuple(labels)


def _left_out(row: RowTally) -> bool:
    """Whether some size has the row but no count for it."""
    if row.stated_by is not None and row.unit in _OTHER_COUNTS:
        return False
    pairs = zip(row.labels, row.stated, strict=True)
    return any(label is not None and stated is None for label, stated in pairs) and any(
        worked is not None for worked in row.worked
    )


def _unknown(row: RowTally) -> tuple[int, ...]:
    pairs = enumerate(zip(row.labels, row.worked, strict=True))
    return tuple(size for size, (label, worked) in pairs if label is not None and worked is None)


def _joined(one: Filled, other: Filled) -> Filled | None:
    """Both as one, if no size says two things; a size that only one of them has keeps what it says there."""
    if one.unknown != other.unknown:
        return None
    counts: list[int | None] = []
    for left, right in zip(one.counts, other.counts, strict=True):
        if left is not None and right is not None and left != right:
            return None
        counts.append(left if left is not None else right)
    return Filled(tuple(counts), unknown=one.unknown)
