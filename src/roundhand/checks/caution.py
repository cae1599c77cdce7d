"""A hat for a baby or small child says nothing of sleep and indoors.

Babies lose heat through the head, and a hat can slip over the face; the usual care is to take it off for sleep and
indoors. What must be printed where a pattern or a hat is sold is a matter of local rules, which this does not
replace.

Bad:
    Sizes: Baby (Adult)
    To fit head: 16 (22) in
    GAUGE
    16 sts and 16 rnds = 4 in in sc
    CAP
    Rnd 1: 6 sc in a magic ring. (6)

Good:
    Sizes: Baby (Adult)
    To fit head: 16 (22) in
    GAUGE
    16 sts and 16 rnds = 4 in in sc
    CAP
    Rnd 1: 6 sc in a magic ring. (6)
    CARE
    Take the hat off a baby for sleep and indoors.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.care import remark, settled, small_sizes
from roundhand.checks.edit import Sheet
from roundhand.findings import Finding

GROUP = "care"

_HAT = re.compile(r"\b(?:hats?|caps?|beanies?|bonnets?|toques?|berets?|helmets?|hoods?)\b", re.IGNORECASE)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One reminder for a hat in a baby's or toddler's size whose page does not speak of sleep."""
    pattern = sheet.pattern
    small = small_sizes(sheet)
    hat = _HAT.search(pattern.title) or any("head" in fact.key.lower() for fact in pattern.facts)
    if not small or not hat or not pattern.parts or settled(sheet, "sleep"):
        return
    yield remark(
        "caution",
        "sleep",
        "nothing is said of sleep and indoors",
        pattern.sizes_span if small != pattern.sizes and pattern.sizes_span is not None else sheet.paper.title_span,
        "a hat can slip over a small face and keep too much warmth in",
        "add a line of care: take the hat off for sleep and indoors",
        small,
        "for small children",
    )
