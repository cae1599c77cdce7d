"""Targets of named counts reckoned: lengths of the page, gauges and other counts, in exact numbers for every size."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Literal

import msgspec

from roundhand.findings import Span
from roundhand.notation.quantities import AtGauge, Expression, Given, Named, Sum, Trouble, Values, Worked, reckon
from roundhand.notation.tree import Fact, Gauge, Pattern

# What stands in front of a measure in the head of a page and does not belong to its name.
_LED = re.compile(r"^(?:to\s+fit|fits?|finished|actual|body|wanted)\s+")


class Amounts(msgspec.Struct, frozen=True):
    """Values of every size: counts, lengths in millimetres, or shares in percent."""

    kind: Literal["count", "length", "percent"]
    values: Values


class SenselessError(Exception):
    """Arithmetic that cannot be reckoned, with its trouble. It never leaves this room."""

    def __init__(self, what: str, span: Span, said: str, help_: str = "") -> None:
        super().__init__(said)
        self.trouble = Trouble(what, span, said, help_)


class UnsolvedError(Exception):
    """Arithmetic that rests on a count that has no values yet. It never leaves this room."""

    def __init__(self, name: str) -> None:
        super().__init__(name)
        self.name = name


class Reckoner:
    """Reckons the arithmetic of one pattern, with the counts that are known so far."""

    def __init__(self, pattern: Pattern, counts: Mapping[str, Values]) -> None:
        self.pattern = pattern
        self.counts = counts
        self.sizes = len(pattern.sizes)

    def amounts(self, term: Expression) -> Amounts:
        """The values of arithmetic in every size.

        Raises `SenselessError` where it makes no sense and `UnsolvedError` where a count has no values yet.
        """
        if isinstance(term, Given):
            kind: Literal["count", "length", "percent"] = "length" if term.unit not in ("", "%") else "count"
            return Amounts("percent" if term.unit == "%" else kind, self._spread(term.values))
        if isinstance(term, Named):
            return self._named(term)
        if isinstance(term, Worked):
            inner = self.amounts(term.term)
            each = self.each(term.gauge)
            if inner.kind == "length":
                return Amounts("count", tuple(one / each if one is not None else None for one in inner.values))
            if inner.kind == "percent":
                raise SenselessError("unit-missing", term.span, "a share has no length that a gauge could turn")
            if isinstance(term.term, Given):
                raise SenselessError("unit-missing", term.term.span, "a length without a unit", "say in or cm")
            return Amounts("length", tuple(one * each if one is not None else None for one in inner.values))
        return self._sum(term)

    def each(self, gauge: AtGauge) -> Fraction:
        """The millimetres of one stitch or row of a gauge; raises `SenselessError` where the page does not give it."""
        if gauge.count is not None and gauge.over is not None:
            return gauge.over.mm / gauge.count
        stated = self._stated(gauge)
        count = (stated.rows if gauge.rows else stated.stitches) if stated is not None else None
        if stated is None or not count or stated.over is None:
            what = "rows" if gauge.rows else "stitches"
            named = f"the {gauge.of} gauge" if gauge.of else "the gauge"
            raise SenselessError(
                "gauge-missing",
                gauge.span,
                f"the page does not give the {what} of {named}",
                "give it under GAUGE, or here, as in “at 14 sts = 4 in”",
            )
        return stated.over.mm / count

    def _stated(self, gauge: AtGauge) -> Gauge | None:
        gauges = self.pattern.gauges
        if gauge.of:
            words = gauge.of.split()
            return next((one for one in gauges if set(words) & set(one.of.lower().split())), None)
        return next((one for one in gauges if not one.of), gauges[0] if gauges else None)

    def _named(self, term: Named) -> Amounts:
        if self.pattern.sizing.named(term.name) is not None:
            values = self.counts.get(term.name)
            if values is None:
                raise UnsolvedError(term.name)
            return Amounts("count", self._spread(values))
        fact = length_named(self.pattern, term.name)
        if fact is None:
            raise SenselessError("quantity-unknown", term.span, f"“{term.name}” is neither a count nor a length here")
        lengths = tuple(one.mm if one is not None else None for one in fact.lengths)
        return Amounts("length", self._spread(lengths))

    def _sum(self, term: Sum) -> Amounts:
        left, right = self.amounts(term.left), self.amounts(term.right)
        if term.sign in "+-":
            if right.kind == "percent" and left.kind != "percent":
                sign = 1 if term.sign == "+" else -1
                shares = tuple(1 + sign * one / 100 if one is not None else None for one in right.values)
                return Amounts(left.kind, self._each_size("*", left.values, shares))
            if left.kind != right.kind:
                bare = term.left if left.kind == "count" else term.right
                raise SenselessError(
                    "unit-missing",
                    bare.span,
                    "a count and a length cannot be added",
                    "give the number a unit, or turn the count at a gauge: “{band} at band gauge”",
                )
            return Amounts(left.kind, self._each_size(term.sign, left.values, right.values))
        if term.sign == "*" and "count" in (left.kind, right.kind):
            kind = left.kind if right.kind == "count" else right.kind
            return Amounts(kind, self._each_size("*", left.values, right.values))
        if term.sign == "/" and (right.kind == "count" or left.kind == right.kind):
            if any(one == 0 for one in right.values):
                raise SenselessError("quantity-not-whole", term.span, "nothing can be divided by 0")
            return Amounts(
                left.kind if right.kind == "count" else "count", self._each_size("/", left.values, right.values)
            )
        raise SenselessError("unit-missing", term.span, "the units of this make no sense together")

    def _each_size(self, sign: str, left: Values, right: Values) -> Values:
        return tuple(reckon(sign, one, other) for one, other in zip(left, right, strict=True))

    def _spread(self, values: Values) -> Values:
        return values * self.sizes if len(values) == 1 else values


def length_named(pattern: Pattern, name: str) -> Fact | None:
    """The lengths in the head of a page with this name, `head` for “To fit head: 17 (19) in”; None if there are none.

    >>> from roundhand.notation import read
    >>> pattern, _ = read("Cap\\nSizes: S (M)\\nTo fit head: 20 (22) in\\nRnd 1: 6 sc in a magic ring.")
    >>> length_named(pattern, "head").key, length_named(pattern, "tail") is None
    ('To fit head', True)
    """
    measures = [fact for fact in pattern.facts if fact.lengths]
    name = " ".join(name.lower().split())
    for asked in (name, f"to fit {name}", f"finished {name}"):
        for fact in measures:
            if " ".join(fact.key.lower().split()) == asked:
                return fact
    for fact in measures:
        bare = _LED.sub("", " ".join(fact.key.lower().split()))
        if bare == name or bare in (f"{name} circumference", f"{name} length"):
            return fact
    return None
