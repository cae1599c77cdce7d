"""Weights of yarn: which of the published classes a yarn is said to be, and what gauge, hook and length are usual
there.

The table stands in `data/yarn_weights.csv`. Its publishers call the numbers guidelines, the most used and not the
only right ones, so they are held against a pattern with a class to spare on either side, or with a wide margin.
"""

from __future__ import annotations

import csv
import re
from functools import cache
from importlib.resources import files

import msgspec

from roundhand.notation.tree import YarnLine

_NUMBERED = re.compile(
    r"(?:#|\bno\.?\s*|\bcategory\s*|\bcyc\s*|\bweight\s*:?\s*#?|\b(?:worsted|medium|light|fine|bulky|lace|jumbo)\s*\W{0,2})"
    r"([0-7])(?!\s*(?:ply|mm|cm|in|m|yd|g|oz|balls?|skeins?|hanks?|\d|[.,]\d|[x\u00d7]))",
    re.IGNORECASE,
)
# Fabrics and makes that are worked tight or loose on purpose.
TIGHT = re.compile(
    r"\b(?:toys?|dolls?|amigurumi|stuff(?:ed|ing)?|fib(?:er|re)fill|baskets?|bowls?|coasters?|trivets?|pot ?holders?"
    r"|tapestry|mosaic|bags?|totes?|rugs?|ornaments?|ears?|tight(?:ly)?)\b",
    re.IGNORECASE,
)
LOOSE = re.compile(
    r"\b(?:shawls?|shawlettes?|wraps?|lace|lacy|mesh|net|filet|drap(?:e|y|ing)|airy|open ?work|tunisian|scar(?:f|ves)"
    r"|broomstick|hairpin|loose(?:ly)?)\b",
    re.IGNORECASE,
)
SEVERAL = re.compile(
    r"\b(?:held? (?:double|together|triple)|holding|two strands|2 strands|double strand|strands? of)\b", re.IGNORECASE
)


class YarnWeight(msgspec.Struct, frozen=True):
    """A class of the table: stitches over 4 in, hook in mm, metres in 100 g; None where it has no limit."""

    number: int
    names: tuple[str, ...]
    gauge_stitch: str
    gauge: tuple[float, float]
    hook: tuple[float, float | None]
    put_up: tuple[float | None, float | None]


@cache
def yarn_weights() -> tuple[YarnWeight, ...]:
    """The packaged table, the thinnest first.

    >>> yarn_weights()[4].names[1], yarn_weights()[4].gauge, yarn_weights()[4].hook
    ('worsted', (11.0, 14.0), (5.5, 6.5))
    """
    text = (files("roundhand.checks") / "data" / "yarn_weights.csv").read_text(encoding="utf-8")
    return tuple(
        YarnWeight(
            int(row["number"]),
            tuple(name.lower() for name in row["names"].split("; ")),
            row["gauge_stitch"],
            (float(row["gauge_min"]), float(row["gauge_max"])),
            (float(row["hook_min"]), _maybe(row["hook_max"])),
            (_maybe(row["put_up_min"]), _maybe(row["put_up_max"])),
        )
        for row in csv.DictReader(text.splitlines())
    )


def classes_of(yarn: YarnLine, words: str) -> tuple[YarnWeight, ...]:
    """The classes that a yarn may be of by what the page says of it, thinnest first; none where it says nothing.

    >>> from roundhand.findings import Span
    >>> [one.number for one in classes_of(YarnLine("A", Span(0, 1), weight="worsted"), "worsted, slate")]
    [4]
    >>> [one.number for one in classes_of(YarnLine("A", Span(0, 1), weight="bulky"), "bulky")]
    [5, 6]
    """
    numbers = {int(found) for found in _NUMBERED.findall(words)}
    if numbers:
        return tuple(one for one in yarn_weights() if one.number in numbers)
    if not yarn.weight:
        return ()
    return tuple(one for one in yarn_weights() if yarn.weight.lower() in one.names)


def widened(classes: tuple[YarnWeight, ...], by: int) -> tuple[YarnWeight, ...]:
    """Some classes with so many more on either side."""
    numbers = [one.number for one in classes]
    return tuple(one for one in yarn_weights() if min(numbers) - by <= one.number <= max(numbers) + by)


def hook_band(classes: tuple[YarnWeight, ...]) -> tuple[float, float | None]:
    """The thinnest and the thickest usual hook of some classes, in mm; None for no upper limit."""
    upper = [one.hook[1] for one in classes]
    known = [one for one in upper if one is not None]
    return min(one.hook[0] for one in classes), None if len(known) < len(upper) else max(known)


def gauge_band(classes: tuple[YarnWeight, ...]) -> tuple[float, float]:
    """The fewest and the most usual stitches over 4 in of some classes."""
    return min(one.gauge[0] for one in classes), max(one.gauge[1] for one in classes)


def put_up_band(classes: tuple[YarnWeight, ...]) -> tuple[float, float]:
    """The fewest and the most usual metres in 100 g of some classes; 0 where there is no lower limit."""
    lower = [one.put_up[0] for one in classes]
    return min(one or 0 for one in lower), max(one.put_up[1] or 0 for one in classes)


def _maybe(number: str) -> float | None:
    return float(number) if number else None
