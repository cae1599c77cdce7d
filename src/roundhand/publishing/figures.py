"""Numbers as a leaflet prints them: rounded once, here, and written as the trade writes them.

Rounding is common practice: inches to the quarter, centimetres to the half. What the designer wrote in her own unit is
not rounded.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction

from roundhand.measures import Length, say_number

_STEPS = {"in": Fraction(1, 4), "cm": Fraction(1, 2)}
_OTHER = {"in": "cm", "cm": "in", "mm": "in", "m": "yd", "yd": "m"}
_VULGAR = {
    "1/2": "½", "1/3": "⅓", "2/3": "⅔", "1/4": "¼", "3/4": "¾", "1/8": "⅛", "3/8": "⅜", "5/8": "⅝", "7/8": "⅞",
}  # fmt: skip
_FRACTION = re.compile(r"(?<![\d/.])(?:(\d+) )?([1-7]/[2348])(?![\d/])")

# What stands in a list for a size that a row or a measure does not have.
NONE = "–"


def size_list(values: Sequence[str | int | None]) -> str:
    """The values of all sizes as a pattern lists them; one value where all sizes have the same.

    >>> size_list([6, 7, 8]), size_list([8, 8]), size_list([None, 64, 64])
    ('6 (7, 8)', '8', '– (64, 64)')
    """
    said = [NONE if value is None else str(value) for value in values]
    if len(set(said)) == 1:
        return said[0]
    return f"{said[0]} ({', '.join(said[1:])})"


def units_of(lengths: Sequence[Length | None]) -> tuple[str, str]:
    """The unit that lengths were written in, and the one that stands beside it for other readers.

    >>> units_of([Length.of(Fraction(4), "in")])
    ('in', 'cm')
    """
    own = next((length.unit for length in lengths if length is not None), "cm")
    return own, _OTHER[own]


def say_length(length: Length | None, unit: str, exact: bool = False) -> str:
    """A length as a number in a unit, rounded to the step of the unit unless it is `exact`.

    >>> head = Length.of(Fraction(41, 2), "in")
    >>> say_length(head, "in", exact=True), say_length(head, "cm"), say_length(None, "cm")
    ('20 1/2', '52', '–')
    """
    if length is None:
        return NONE
    value = length.to(unit)
    if exact:
        return say_number(value)
    step = _STEPS.get(unit, Fraction(1))
    rounded = (value / step + Fraction(1, 2)).__floor__() * step
    return f"{float(rounded):.1f}".removesuffix(".0") if unit == "cm" else say_number(rounded)


def typeset(number: str) -> str:
    """A number with the signs that a printed page has for common fractions and for less than nothing.

    >>> typeset("17 1/2"), typeset("3/4"), typeset("1/16"), typeset("-1 1/4")
    ('17½', '¾', '1/16', '−1¼')
    """
    signed = re.sub(r"^-(?=\d)", "\N{MINUS SIGN}", number)
    return _FRACTION.sub(lambda found: (found[1] or "") + _VULGAR.get(found[2], f" {found[2]}"), signed)


def say_amount(value: float | Fraction | None) -> str:
    """An amount of yarn as a whole number, up to the next; a dash where there is none.

    >>> say_amount(51.2), say_amount(None)
    ('52', '–')
    """
    return NONE if value is None else str(-(-Fraction(value).limit_denominator(1000) // 1))
