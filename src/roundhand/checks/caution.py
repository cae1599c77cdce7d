"""A hat for a baby or small child says nothing of sleep and indoors.

Babies lose heat through the head, and a hat can slip over the face; the usual care is to take it off for sleep and
indoors. What must be printed where a pattern or a hat is sold is a matter of local rules, which this does not replace.

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

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Source, Span

GROUP = "care"

_SMALL = re.compile(
    r"\b(?:bab(?:y|ies)|newborns?|preemies?|premature|infants?|toddlers?|months?|mos?|0-3|3-6|6-12)\b", re.IGNORECASE
)
_HAT = re.compile(r"\b(?:hats?|caps?|beanies?|bonnets?|toques?|berets?|helmets?|hoods?)\b", re.IGNORECASE)
_SAID = re.compile(r"\b(?:sleep\w*|asleep|cots?|cribs?|indoors|naps?)\b", re.IGNORECASE)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One reminder for a hat in a baby's or toddler's size whose page does not speak of sleep."""
    pattern = sheet.pattern
    small = tuple(name for name in pattern.sizes if _SMALL.search(name))
    hat = _HAT.search(pattern.title) or any("head" in fact.key.lower() for fact in pattern.facts)
    if not (small or _SMALL.search(pattern.title)) or not hat or not pattern.parts or _SAID.search(sheet.text):
        return
    yield Finding(
        "caution",
        "advice",
        "nothing is said of sleep and indoors",
        pattern.sizes_span if small and pattern.sizes_span is not None else _title(sheet.source),
        small or pattern.sizes,
        because="a hat can slip over a small face and keep too much warmth in (usual care, no rule of law)",
        help="add a line of care: take the hat off for sleep and indoors; look up the rules where you sell",
        facts={"sizes": small},
        label="for small children",
    )


def _title(source: Source) -> Span:
    return next(
        (source.line_span(number) for number in range(1, source.line_count + 1) if source.line(number).strip()),
        Span(0, 0),
    )
