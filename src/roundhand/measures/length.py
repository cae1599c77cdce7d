"""Lengths: exact fractions of a millimetre with the unit as written."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

import msgspec

# Millimetres in one unit. The inch is 25.4 mm exactly (international yard and pound agreement, 1959).
_MILLIMETRES: Mapping[str, Fraction] = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(254, 10),
    "yd": Fraction(9144, 10),
}
_SPELLINGS: Mapping[str, str] = {
    "mm": "mm", "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "cm": "cm", "cms": "cm", "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
    "m": "m", "metre": "m", "metres": "m", "meter": "m", "meters": "m",
    "in": "in", "ins": "in", "inch": "in", "inches": "in", '"': "in", "\u201d": "in", "\u2033": "in", "''": "in",
    "yd": "yd", "yds": "yd", "yard": "yd", "yards": "yd",
}  # fmt: skip


class Length(msgspec.Struct, frozen=True, order=True):
    """A length in exact millimetres, and the unit it was written in.

    >>> Length.of(Fraction(4), "in").mm
    Fraction(508, 5)
    >>> Length.of(Fraction(200), "yd").to("m")
    Fraction(4572, 25)
    """

    mm: Fraction
    unit: str = "mm"

    @classmethod
    def of(cls, value: Fraction, unit: str) -> Length:
        """A length from a value and one of mm, cm, m, in, yd; raises KeyError for another unit."""
        return cls(value * _MILLIMETRES[unit], unit)

    def to(self, unit: str) -> Fraction:
        """The same length in another unit, exactly."""
        return self.mm / _MILLIMETRES[unit]


def length_unit(word: str) -> str | None:
    """The unit that a word stands for, or None.

    >>> length_unit("inches"), length_unit("sts")
    ('in', None)
    """
    return _SPELLINGS.get(word.lower().rstrip("."))


def unit_words() -> tuple[str, ...]:
    """All spellings of units of length, longest first."""
    return tuple(sorted(_SPELLINGS, key=len, reverse=True))
