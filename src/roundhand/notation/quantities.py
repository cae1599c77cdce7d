"""Named counts of a pattern: what a line of the sizing section says, as a value, and arithmetic on it in every size.

A line is `name: target; rule; rule`. A target is arithmetic on lengths, counts and names, and a length becomes a count
at a gauge: `head less 1 in at 14 sts = 4 in`. Solved values stand on a line of their own, `name = 56 (64, 72)`.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Literal

import msgspec

from roundhand.findings import Span
from roundhand.measures import Length

Values = tuple[Fraction | None, ...]


class Given(msgspec.Struct, frozen=True):
    """Numbers as written, one for all sizes or one for each; a length where `unit` is not empty, then in millimetres.
    In percent where `unit` is `%`."""

    values: Values
    unit: str
    span: Span


class Named(msgspec.Struct, frozen=True):
    """A name: another quantity, a length of the head of the page, or a measure of a body."""

    name: str
    span: Span


class AtGauge(msgspec.Struct, frozen=True):
    """Stitches or rows over a length; or, where `of` is not empty, the gauge of a part, by stitches or by rows."""

    span: Span
    count: Fraction | None = None
    over: Length | None = None
    of: str = ""
    rows: bool = False


class Worked(msgspec.Struct, frozen=True):
    """A term turned at a gauge: a length to a count, or a count to a length."""

    term: Expression
    gauge: AtGauge
    span: Span


class Sum(msgspec.Struct, frozen=True):
    """Two terms with an operation between them: `+`, `-`, `*` or `/`."""

    sign: Literal["+", "-", "*", "/"]
    left: Expression
    right: Expression
    span: Span


Expression = Given | Named | Worked | Sum


class Rule(msgspec.Struct, frozen=True):
    """A rule of a quantity. `kind`: `multiple` (of `number` plus `plus`), `same`, `least`, `most` (than `than`), or
    `within` (a length, or a count, in `than`)."""

    kind: Literal["multiple", "same", "least", "most", "within"]
    span: Span
    words: str
    number: int = 1
    plus: int = 0
    than: Expression | None = None


class Trouble(msgspec.Struct, frozen=True):
    """Words of the section that make no sense, and why: `what` is the name of the finding."""

    what: str
    span: Span
    said: str
    help: str = ""


class Quantity(msgspec.Struct, frozen=True):
    """One named count: its line, what it aims at (None where that made no sense), its rules, and the values that stand
    below it, None for a size without one."""

    name: str
    span: Span
    whole: Span
    target: Expression | None = None
    rules: tuple[Rule, ...] = ()
    values: tuple[int | None, ...] = ()
    values_span: Span | None = None

    @property
    def is_solved_for(self) -> bool:
        """Whether its count is looked for: it turns a length at a gauge, or must be a multiple. Else it is reckoned."""
        return isinstance(self.target, Worked) or any(rule.kind in ("multiple", "within") for rule in self.rules)


class Sizing(msgspec.Struct, frozen=True):
    """The sizing section of a page: its quantities in order, and what in it makes no sense."""

    quantities: tuple[Quantity, ...] = ()
    troubles: tuple[Trouble, ...] = ()
    end: int = 0

    def named(self, name: str) -> Quantity | None:
        """The quantity with this name, None if there is none."""
        return next((one for one in self.quantities if one.name == name.lower()), None)


def names_in(term: Expression | None) -> tuple[Named, ...]:
    """The names that arithmetic rests on, in order."""
    if isinstance(term, Named):
        return (term,)
    if isinstance(term, Sum):
        return names_in(term.left) + names_in(term.right)
    if isinstance(term, Worked):
        return names_in(term.term)
    return ()


def plain_value(term: Expression | None, counts: Mapping[str, Values], sizes: int) -> Values | None:
    """Arithmetic on counts in every size; None where it rests on lengths, gauges or names without a count.

    >>> from roundhand.notation.sizing_section import read_terms
    >>> term = read_terms("({body} - 6) / 2", 0, 16, 2)[0]
    >>> [str(one) for one in plain_value(term, {"body": (Fraction(56), Fraction(63))}, 2)]
    ['25', '57/2']
    """
    if isinstance(term, Given):
        if term.unit:
            return None
        return term.values * sizes if len(term.values) == 1 else term.values
    if isinstance(term, Named):
        return counts.get(term.name)
    if isinstance(term, Worked) or term is None:
        return None
    left, right = plain_value(term.left, counts, sizes), plain_value(term.right, counts, sizes)
    if left is None or right is None:
        return None
    return tuple(reckon(term.sign, one, other) for one, other in zip(left, right, strict=True))


def reckon(sign: str, one: Fraction | None, other: Fraction | None) -> Fraction | None:
    """One operation; nothing where a side is missing, or where it divides by nothing."""
    if one is None or other is None or (sign == "/" and not other):
        return None
    if sign == "+":
        return one + other
    if sign == "-":
        return one - other
    return one * other if sign == "*" else one / other


def counts_of(sizing: Sizing, sizes: int) -> dict[str, Values]:
    """The counts that the page gives: values written below, and arithmetic that rests on them alone. What rests on
    itself, or on a count that is not there yet, has none.

    >>> from roundhand.notation import read
    >>> page = "Cap\\nSizes: S (M)\\n\\nSIZING\\nbody = 56 (64)\\nhalf: {body} / 2\\nround: {round} + 1"
    >>> {name: [int(one) for one in values] for name, values in counts_of(read(page)[0].sizing, 2).items()}
    {'body': [56, 64], 'half': [28, 32]}
    """
    found: dict[str, Values] = {}
    for one in sizing.quantities:
        if one.values:
            found[one.name] = tuple(Fraction(value) if value is not None else None for value in one.values)
    waiting = [one for one in sizing.quantities if one.name not in found and one.target is not None]
    while waiting:
        left = []
        for one in waiting:
            value = plain_value(one.target, found, sizes)
            if value is None or one.is_solved_for:
                left.append(one)
            else:
                found[one.name] = value
        if len(left) == len(waiting):
            break
        waiting = left
    return found
