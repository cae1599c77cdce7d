"""A thing for a small child, or a toy, has eyes, buttons, beads or pom-poms, and nothing is said of small parts.

What comes off is put into the mouth. Makers ask whether it is safe for a baby, and many do not ask. The usual care is
to embroider or crochet what would be a button for children under 3, and to say so. Local rules for what is sold go
before this.

Bad:
    MATERIALS
    Yarn: worsted
    Hook: 5 mm
    Notions: 2 buttons
    BABY SLIPPER
    Ch 21.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (20)
    Row 2: Ch 1, sc in each st across. (20)
    Fasten off. Sew buttons to the front.

Good:
    MATERIALS
    Yarn: worsted
    Hook: 5 mm
    Notions: 2 buttons
    BABY SLIPPER
    Ch 21.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (20)
    Row 2: Ch 1, sc in each st across. (20)
    Fasten off. Sew buttons to the front.
    CARE
    Buttons are small parts: for a child under 3 crochet a tab, and look up the rules where you live.
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.care import baby_sizes, is_toy, remark, shown
from roundhand.checks.edit import Sheet
from roundhand.findings import Finding

GROUP = "care"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One reminder for a toy, or a thing in a baby's or toddler's size, with small parts that nothing is said of."""
    small = baby_sizes(sheet)
    if not sheet.pattern.parts or not (small or is_toy(sheet)):
        return
    place = shown(sheet, "small_parts")
    if place is None:
        return
    word = place.of(sheet.text).lower()
    yield remark(
        "caution-small-parts",
        "small_parts",
        f"nothing is said of {word} and children under 3",
        place,
        f"{word} can come off and be swallowed",
        f"say from which age it is meant, or crochet or embroider in place of {word} for the youngest",
        small or sheet.pattern.sizes,
        "a small part",
    )
