"""The worn depth of a hat grows less than the head it is for, so that a larger size sits higher than a smaller one.

What a wider crown takes away from the length is missing at the ears. A hat is tried on in one size and graded in
width, and the depth is forgotten.

Bad:
    Sizes: Child (Adult)
    To fit head: 19 (23) in
    GAUGE
    16 sts and 20 rnds = 4 in in single crochet
    CAP
    Ch 76 (92), join with sl st in first ch, being careful not to twist.
    Rnd 1: Ch 1, sc in each ch around, join. (76 (92))
    Rnds 2-40: Ch 1, sc in each st around, join. (76 (92))

Good:
    Sizes: Child (Adult)
    To fit head: 19 (23) in
    GAUGE
    16 sts and 20 rnds = 4 in in single crochet
    CAP
    Ch 76 (92), join with sl st in first ch, being careful not to twist.
    Rnd 1: Ch 1, sc in each ch around, join. (76 (92))
    Rnds 2-40 (46): Ch 1, sc in each st around, join. (76 (92))
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.measure_differs import say
from roundhand.findings import Finding, Span

GROUP = "sizes"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for a hat whose worn depth falls from one size to the next larger one."""
    worn = sheet.measures.whole.of("worn depth")
    head = next((fact for fact in sheet.pattern.facts if "head" in fact.key.lower() and fact.lengths), None)
    names = sheet.pattern.sizes
    if worn is None or head is None or len(head.lengths) != len(names):
        return
    falls: list[int] = []
    for size in range(1, len(names)):
        mine, before = worn.mm[size], worn.mm[size - 1]
        own, smaller = head.lengths[size], head.lengths[size - 1]
        if mine is None or before is None or own is None or smaller is None or mine <= 0:
            continue
        if own.mm > smaller.mm and mine < before:
            falls.append(size)
    if not falls:
        return
    unit = sheet.measures.unit
    size = falls[0]
    mine, before = worn.mm[size], worn.mm[size - 1]
    assert mine is not None and before is not None
    yield Finding(
        "depth-not-growing",
        "advice",
        f"{names[size]} is worn {say(mine, unit)} deep, {names[size - 1]} {say(before, unit)}",
        _place(sheet, head.span),
        tuple(names[at] for at in falls),
        because="worn depth is the length less the radius of the crown, and a larger head wants a deeper hat",
        help="work a round or two more in the larger size, or fewer in the smaller one",
        facts={"worn_mm": tuple(str(round(float(one), 1)) if one is not None else None for one in worn.mm)},
        label="does not grow",
    )


def _place(sheet: Sheet, head: Span) -> Span:
    """The stated length where there is one, since that is what would change."""
    words = ("length", "height", "depth")
    return next(
        (fact.span for fact in sheet.pattern.facts if any(word in fact.key.lower() for word in words)),
        head,
    )
