"""A hat comes out so narrow that no head it is meant for goes into it.

Counts that are right among themselves can rest on a wrong gauge or a wrong first number; nobody notices before the
hat is tried on.

Bad:
    GAUGE
    7 sts and 8 rnds = 1 in in single crochet
    HAT
    Ch 32, join with sl st in first ch, being careful not to twist.
    Rnd 1: Ch 1, sc in each ch around, join. (32)
    Rnds 2-40: Ch 1, sc in each st around, join. (32)

Good:
    GAUGE
    7 sts and 8 rnds = 1 in in single crochet
    HAT
    Ch 140, join with sl st in first ch, being careful not to twist.
    Rnd 1: Ch 1, sc in each ch around, join. (140)
    Rnds 2-40: Ch 1, sc in each st around, join. (140)
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from roundhand.checks.edit import Sheet
from roundhand.checks.measure_differs import say
from roundhand.findings import Finding
from roundhand.measures import Length
from roundhand.tally import flat

GROUP = "sizes"

_HAT = re.compile(r"\b(?:hats?|caps?|beanies?|toques?|berets?|tams?|helmets?|bonnets?)\b", re.IGNORECASE)
# What wears a hat and is no person.
_SMALL = re.compile(
    r"\b(?:dolls?|toys?|amigurumi|eggs?|cups?|bottles?|ornaments?|mini(?:ature)?|tiny|preemies?|premature|bears?|"
    r"cosy|cozy|cosies|cozies|pets?|dogs?|cats?|gnomes?|elf|elves|snowm[ae]n|teddy|jars?|mushrooms?|acorns?|charms?|"
    r"hubcaps?|keychains?|pom|appliqu\w+|christmas|fingers?|puppets?|bunny|gifts?|jam|lids?)\b",
    re.IGNORECASE,
)
# Less of a head than this cannot be pulled over it: plain fabric, and ridged fabric that gives more (common practice;
# slip stitch rib of 12 in has been stretched to 20).
_LEAST_PLAIN, _LEAST_RIDGED = Fraction(65, 100), Fraction(55, 100)
# Ours: well under the smallest head that is listed for anybody, 9 in.
_SMALLEST = Fraction(200)
# A page with fewer rounds at its widest is the beginning of a crown, or a sample of one.
_FEWEST_EVEN = 3


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for a hat whose round is far under the head it is for, or under any head."""
    round_ = sheet.measures.whole.of("round")
    title = sheet.pattern.title
    names = sheet.pattern.sizes
    head = next((fact for fact in sheet.pattern.facts if "head" in fact.key.lower() and fact.lengths), None)
    if round_ is None or not (head is not None or _HAT.search(title)) or _SMALL.search(title):
        return
    if any(_SMALL.search(name) for name in names):
        return
    least = _LEAST_RIDGED if _is_ridged(sheet) else _LEAST_PLAIN
    narrow: dict[int, tuple[Fraction, Fraction]] = {}
    for size, around in enumerate(round_.mm):
        stated = None if head is None else head.lengths[size if len(head.lengths) > 1 else 0]
        limit = stated.mm * least if stated is not None else _SMALLEST
        if around is not None and 0 < around < limit:
            narrow[size] = (around, stated.mm if stated is not None else _SMALLEST)
    if not narrow:
        return
    size = min(narrow)
    around, wanted = narrow[size]
    unit = sheet.measures.unit
    rows = [row for row in sheet.tally.rows() if row.results[size] is not None]
    widest = max(rows, key=lambda row: row.worked[size] or 0)
    count = widest.worked[size] or 0
    if sum(row.worked[size] == count for row in rows) < _FEWEST_EVEN:
        return
    needed = round(Length(wanted).mm * count / around)
    yield Finding(
        "fits-no-head",
        "warning",
        f"{count} sts come to {say(around, unit)} around, too narrow for a head",
        widest.line.label.span,
        tuple(names[at] for at in narrow),
        row=widest.label_in(size),
        because=f"the widest round is {count} sts, and by the gauge that is {say(around, unit)}",
        help=f"about {needed} sts would go round {say(wanted, unit)}; look at the first number and at the gauge",
        facts={"stitches": count, "round_mm": round(float(around), 1), "needed": needed},
        label=say(around, unit),
    )


def _is_ridged(sheet: Sheet) -> bool:
    """Whether a good part of the rows is worked into one loop or round posts, which stretches."""
    rows = [result for row in sheet.tally.rows() for result in row.results[:1] if result is not None]
    ridged = sum(any(run.loop for run in list(flat(result.made))[:4]) for result in rows)
    return ridged * 4 > len(rows)
