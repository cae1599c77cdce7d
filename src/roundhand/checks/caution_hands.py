"""A piece of many thousand stitches says nothing of rest for the hands.

Long work at one movement strains fingers, wrist and shoulder, and makers seldom notice before it hurts. The usual
care is to put the hook down every so often, to stretch, and to stop where it tingles or aches.

Bad:
    THROW
    Ch 201.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (200)
    Rows 2-160: Ch 1, sc in each st across, turn. (200)
    Fasten off.

Good:
    THROW
    This is long work: take breaks, and stretch your hands.
    Ch 201.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (200)
    Rows 2-160: Ch 1, sc in each st across, turn. (200)
    Fasten off.
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.care import remark, settled
from roundhand.checks.edit import Sheet
from roundhand.findings import Finding

GROUP = "care"

# Stitches of one size from which work is called long. The number is ours: more than twenty hours at twenty a minute.
MANY = 25_000


def check(sheet: Sheet) -> Iterator[Finding]:
    """One reminder for a pattern of very many stitches that does not speak of rest."""
    if settled(sheet, "hands"):
        return
    worked = {name: _stitches(sheet, size) for size, name in enumerate(sheet.pattern.sizes)}
    long = tuple(name for name, count in worked.items() if count >= MANY)
    if not long:
        return
    most = max(worked.values())
    yield remark(
        "caution-hands",
        "hands",
        f"about {round(most, -3):,} stitches, and nothing is said of rest",
        sheet.paper.title_span,
        "long work at one movement strains hands, wrists and shoulders",
        "add a line of care: put the hook down every half hour and stretch, and stop where it hurts",
        long,
        "long work",
        sold=False,
    )


def _stitches(sheet: Sheet, size: int) -> int:
    """The stitches of all rows of a size, every piece as often as it is made."""
    total = 0
    for piece in sheet.tally.pieces:
        made = piece.make[size] if len(piece.make) > 1 else piece.make[0]
        results = (row.results[size] for row in piece.rows)
        total += made * sum(result.count for result in results if result is not None)
    return total
