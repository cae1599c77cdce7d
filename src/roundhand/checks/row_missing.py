"""A number is missing in the order of the rows.

A maker thinks that a row was lost in print, and often she is right.

Bad:
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: Inc in each st around. (12)
    Rnd 4: *Sc in next st, inc; rep from * around. (18)

Good:
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: Inc in each st around. (12)
    Rnd 3: *Sc in next st, inc; rep from * around. (18)
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.numbering import finding, kind_word, remarks
from roundhand.findings import Finding, Severity

GROUP = "rows"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every label that leaves numbers out; an error where the counts do not close over the gap."""
    for row, sizes, slip in remarks(sheet, "row-missing"):
        word = kind_word(row)
        first, last = slip.expected[0], slip.expected[-1]
        named = f"{word} {first}" if first == last else f"{word}s {first} to {last}"
        closes = not any(trouble.row is row for trouble in sheet.troubles)
        severity: Severity = "warning" if closes else "error"
        yield finding(
            sheet,
            "row-missing",
            severity,
            row,
            sizes,
            slip,
            f"{named} {'is' if first == last else 'are'} missing" + ("" if closes else ", and the counts do not close"),
            f"{row.label_in(slip.size)} comes after {word} {first - 1}"
            if first > 1
            else f"the rows begin with {row.label_in(slip.size)}",
            "the counts close over the gap, so the label may only be misnumbered"
            if closes
            else f"write {named} out, or renumber",
        )
