"""Lengths as a table shows them: in the pattern's own unit, with the other beside it."""

from __future__ import annotations

from fractions import Fraction

from roundhand.measures import Length

NONE = "-"

# What is measured with which unit, and to how many decimals: a sixteenth of an inch and half a millimetre both show.
_DECIMALS = {"in": 2, "cm": 1, "yd": 2, "m": 2}
_OTHER = {"in": "cm", "cm": "in", "mm": "in", "m": "yd", "yd": "m"}


def units(own: str, long: bool = False) -> tuple[str, str]:
    """The unit that lengths are shown in first, and the other; of long ones, such as yarn, yards and metres.

    >>> units("in"), units("mm"), units("yd", long=True)
    (('in', 'cm'), ('cm', 'in'), ('yd', 'm'))
    """
    if long:
        first = own if own in ("m", "yd") else "yd" if own == "in" else "m"
    else:
        first = own if own in ("in", "cm") else "cm"
    return first, _OTHER[first]


def say(mm: Fraction | float | None, unit: str) -> str:
    """A length in a unit as a cell of a table, without the unit.

    >>> say(Fraction(254, 10), "in"), say(365.76, "cm"), say(None, "cm")
    ('1.00', '36.6', '-')
    """
    if mm is None:
        return NONE
    value = Length(Fraction(mm)).to(unit)
    said = f"{float(value):.{_DECIMALS[unit]}f}"
    return said.removeprefix("-") if float(said) == 0 else said
