"""Ease: how much larger than the body a piece is made; smaller where it is negative. Absolute, or a share of the body.

>>> from roundhand.measures import Length
>>> head = Length.of(Fraction(22), "in")
>>> Ease(length=Length.of(Fraction(-1), "in")).on(head).to("in"), Ease(percent=Fraction(-5)).on(head).to("in")
(Fraction(21, 1), Fraction(209, 10))
"""

from __future__ import annotations

import csv
import re
from fractions import Fraction
from functools import cache
from importlib.resources import files

import msgspec

from roundhand.measures import Length, length_unit, read_number


class Ease(msgspec.Struct, frozen=True):
    """So much longer than the body as `length`, and by `percent` of it; both may be negative."""

    length: Length = Length(Fraction(0))
    percent: Fraction = Fraction(0)

    def on(self, body: Length) -> Length:
        """The finished measure on a body, in the unit of the body."""
        return Length(body.mm * (1 + self.percent / 100) + self.length.mm, body.unit)


class EaseRule(msgspec.Struct, frozen=True):
    """What is published on the ease of an item: from `least` to `most`, in a length or in percent of the body.

    An end that the source leaves open is None.
    """

    item: str
    fit: str
    least: Fraction | None
    most: Fraction | None
    unit: str
    note: str
    source: str
    evidence: str


_EASE = re.compile(
    r"(?P<sign>[+\-\u2212]|minus|plus|less)?\s*(?P<number>\d[\d\s./\u00bc-\u00be\u2150-\u215e]*)\s*"
    r"(?P<unit>%|percent|per cent|[a-z\"\u201d\u2033]+)\.?",
    re.IGNORECASE,
)


def read_ease(text: str) -> Ease | None:
    """Ease as it is written, `-1 in`, `5 %`, `minus 2 cm`; None where the words are none.

    >>> read_ease("-1 1/2 in").length.to("in"), read_ease("minus 10 %").percent
    (Fraction(-3, 2), Fraction(-10, 1))
    >>> read_ease("snug") is None, read_ease("2 stones") is None
    (True, True)
    """
    found = _EASE.fullmatch(text.strip())
    if found is None:
        return None
    number = read_number(found["number"].strip())
    if number is None or number[1] != len(found["number"].strip()):
        return None
    value = -number[0] if (found["sign"] or "").lower() in ("-", "\u2212", "minus", "less") else number[0]
    if found["unit"].lower() in ("%", "percent", "per cent"):
        return Ease(percent=value)
    unit = length_unit(found["unit"])
    return Ease(length=Length.of(value, unit)) if unit is not None else None


@cache
def ease_rules(item: str = "") -> tuple[EaseRule, ...]:
    """What is published on ease, of one item or of all; read once.

    >>> [(one.fit, str(one.least), one.unit) for one in ease_rules("hat")]
    [('snug', '-1', 'in'), ('close ski cap', '-10', 'percent')]
    """
    text = (files("roundhand.sizing") / "data" / "ease.csv").read_text(encoding="utf-8")
    rules = tuple(
        EaseRule(
            row["item"],
            row["fit"],
            Fraction(row["least"]) if row["least"] else None,
            Fraction(row["most"]) if row["most"] else None,
            row["unit"],
            row["note"],
            row["source"],
            row["evidence"],
        )
        for row in csv.DictReader(text.splitlines())
    )
    return tuple(rule for rule in rules if not item or rule.item == item)
