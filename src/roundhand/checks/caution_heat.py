"""A pot holder or trivet does not say which fibre bears heat.

Acrylic and other synthetic yarns soften and melt on a hot pan, and burn the hand that holds it. Cotton and wool do
not melt.

Bad:
    POT HOLDER
    Ch 21.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (20)
    Row 2: Ch 1, sc in each st across. (20)
    Fasten off.

Good:
    POT HOLDER
    Use cotton, since other yarn may melt.
    Ch 21.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (20)
    Row 2: Ch 1, sc in each st across. (20)
    Fasten off.
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.care import cautions, remark, settled
from roundhand.checks.edit import Sheet
from roundhand.findings import Finding

GROUP = "care"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One reminder for what holds hot things, where no fibre that bears heat is named."""
    caution = cautions()["heat"]
    names = (sheet.pattern.title, *(part.name for part in sheet.pattern.parts))
    hot = caution.shown is not None and any(caution.shown.search(name) for name in names)
    if sheet.pattern.parts and hot and not settled(sheet, "heat"):
        yield remark(
            "caution-heat",
            "heat",
            "nothing is said of heat",
            sheet.paper.title_span,
            "acrylic and other synthetic yarns melt on hot pans",
            "name cotton or wool for it, and say why",
            sheet.pattern.sizes,
            "of which fibre?",
        )
