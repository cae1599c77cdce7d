"""The page says of a chain that it counts as a stitch, or that it does not, and the counts of its rows say the other.

A maker who believes the note is one stitch out in every row, and cannot tell whether she or the pattern went wrong.

Bad:
    Ch 3 at the start of a round counts as a dc throughout.

    Make a magic ring.
    Rnd 1: Ch 3, 12 dc in ring, join. (12)
    Rnd 2: Ch 3, 2 dc in each st around, join. (24)

Good:
    Ch 3 at the start of a round does not count as a st throughout.

    Make a magic ring.
    Rnd 1: Ch 3, 12 dc in ring, join. (12)
    Rnd 2: Ch 3, 2 dc in each st around, join. (24)
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.pencil import say_list
from roundhand.findings import Finding, Mark
from roundhand.tally import Against, RowTally

GROUP = "turning"
# So many rows are named one by one.
_MOST_NAMED = 3


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every note on chains that counts speak against, under its words, with the rows that do."""
    names = sheet.pattern.sizes
    for note in sheet.tally.against:
        rows = note.rows
        chain = f"ch {note.chains}" if note.chains > 0 else "the chain"
        said, meant = ("a stitch", "none") if note.counts else ("no stitch", "one")
        stated = [row.stated_by.span for row in rows if row.stated_by is not None]
        yield Finding(
            "note-differs",
            "error",
            f"{chain} is said to be {said}, and by the {'count' if len(rows) == 1 else 'counts'} of {_rows(rows)} it is"
            f" {meant}",
            note.span,
            tuple(name for at, name in enumerate(names) if any(row.labels[at] is not None for row in rows)),
            because=_because(note),
            help="change these words if the counts are right, and the counts of these rows if the words are",
            facts={
                "chains": note.chains,
                "said": "counts" if note.counts else "does not count",
                "rows": tuple(row.label for row in rows),
            },
            see=tuple(Mark(span, "says the other") for span in stated),
            label=f"said to be {said}",
        )


def _rows(rows: tuple[RowTally, ...]) -> str:
    """The labels of rows: `Rnd 1`, `Rnd 1 and Rnd 3`, `Rnd 1, Rnd 2, Rnd 3 and 4 more rows`."""
    labels = [row.label for row in rows]
    if len(labels) > _MOST_NAMED + 1:
        return f"{', '.join(labels[:_MOST_NAMED])} and {len(labels) - _MOST_NAMED} more rows"
    return f"{', '.join(labels[:-1])} and {labels[-1]}" if len(labels) > 1 else labels[0]


def _because(note: Against) -> str:
    row = note.rows[0]
    written = say_list(tuple(value for value in row.stated if value is not None))
    way = "without the chain" if note.counts else "with the chain as a stitch"
    return f"{row.label} comes to the {written} written there only {way}"
