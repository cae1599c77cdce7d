"""What the materials say of a yarn: which line names it, and how long a hundred grams of it are."""

from __future__ import annotations

from collections.abc import Mapping

from roundhand.notation.tree import Pattern, YarnLine

_WORSTED = 200.0  # Metres in 100 g where the pattern does not say.


def yarn_of(pattern: Pattern, label: str) -> YarnLine | None:
    """The yarn with a label, or the only one there is; None where the materials do not name it."""
    return next(
        (yarn for yarn in pattern.yarns if yarn.label == label), pattern.yarns[0] if len(pattern.yarns) == 1 else None
    )


def metres_per_100_g(yarn: YarnLine | None) -> float:
    """The metres in 100 g of a yarn, those of a worsted where its put-up is not given.

    >>> metres_per_100_g(None)
    200.0
    """
    if yarn is None or not yarn.mass_g or yarn.length is None:
        return _WORSTED
    return float(yarn.length.to("m")) * 100 / float(yarn.mass_g)


def metres_together(pattern: Pattern, strands: Mapping[str, int]) -> float:
    """The metres in 100 g of several strands worked as one: what they weigh adds up over the same length.

    >>> from roundhand.notation import read
    >>> pattern, _ = read("Cap\\n\\nYarn A: sport, 100 g = 300 m")
    >>> metres_together(pattern, {"A": 2})
    150.0
    """
    return 1 / sum(number / metres_per_100_g(yarn_of(pattern, label)) for label, number in strands.items())
