"""A baby's blanket, garment or toy says neither what it is made of nor how it is washed.

It will be washed often and hot, by somebody who did not make it. A fibre that felts, sheds or cannot be washed is a
poor gift, and some skins do not bear wool.

Bad:
    BABY BLANKET
    Ch 21.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (20)
    Row 2: Ch 1, sc in each st across. (20)
    Fasten off.

Good:
    BABY BLANKET
    Ch 21.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (20)
    Row 2: Ch 1, sc in each st across. (20)
    Fasten off.
    CARE
    Made in cotton, it is washed at 40 degrees and dried flat.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.care import baby_sizes, is_toy, remark, settled
from roundhand.checks.edit import Sheet
from roundhand.findings import Finding

GROUP = "care"

_LIVED_WITH = re.compile(
    r"\b(?:blankets?|afghans?|bibs?|lov(?:ey|ie)s?|comforters?|cardigans?|sweaters?|jackets?|vests?|dress(?:es)?|rompers?"
    r"|pants|trousers|toys?|rattles?|wash ?cloths?|bedding|sacks?|cocoons?)\b",
    re.IGNORECASE,
)
_FIBRE = re.compile(
    r"\b(?:cotton|wool|merino|alpaca|acrylic|bamboo|silk|linen|nylon|polyamide|polyester|cashmere|viscose|mohair|hemp)\b",
    re.IGNORECASE,
)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One reminder for what a baby lives with, where neither fibre nor washing is spoken of."""
    title = sheet.pattern.title
    names = (title, *(part.name for part in sheet.pattern.parts))
    lived_with = any(_LIVED_WITH.search(name) for name in names)
    if not sheet.pattern.parts or not lived_with or settled(sheet, "washing") or _FIBRE.search(sheet.text):
        return
    if baby_sizes(sheet) or (is_toy(sheet) and sheet.paper.whole):
        yield remark(
            "caution-washing",
            "washing",
            "nothing is said of fibre and washing",
            sheet.paper.title_span,
            "what a baby lives with is washed often, and not every fibre bears it",
            "name the fibre, and say how the piece is washed",
            baby_sizes(sheet) or sheet.pattern.sizes,
            "washed how?",
        )
