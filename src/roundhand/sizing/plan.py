"""The sizing section of a pattern as a plan: what is asked of every count, what makes no sense, what no longer fits.

Nothing is solved here; that is done by `roundhand.sizing.solving`, and only when it is asked for.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from fractions import Fraction

import msgspec

from roundhand.findings import Span
from roundhand.measures import say_number
from roundhand.notation.quantities import Quantity, Rule, Sizing, Values, Worked, counts_of, names_in
from roundhand.notation.sizing_section import read_terms
from roundhand.notation.tree import Pattern
from roundhand.sizing.bodies import measures_known, published
from roundhand.sizing.targets import Reckoner, SenselessError, UnsolvedError, length_named
from roundhand.sizing.wants import Want

_BRACES = re.compile(r"\{[\s(]*(?P<name>[^\W\d_][\w'-]*)[^{}\n]*\}")


class Remark(msgspec.Struct, frozen=True):
    """What is wrong in a sizing section: the name of the finding, its place, the words, and the sizes it concerns."""

    what: str
    span: Span
    said: str
    help: str = ""
    sizes: tuple[int, ...] = ()


def remarks_on(pattern: Pattern, text: str) -> list[Remark]:
    """Everything in the sizing section that makes no sense, and every use of a count that has no whole value.

    One cause has one remark: what rests on a line that makes no sense says nothing more.
    """
    sizing = pattern.sizing
    if not sizing.quantities and not sizing.troubles:
        return []
    found = [Remark(one.what, one.span, one.said, one.help) for one in sizing.troubles]
    broken = {one.name for one in sizing.quantities if one.target is None and not one.values}
    circles = _circles(sizing)
    found += [_circle(pattern, circle) for circle in circles]
    broken |= {name for circle in circles for name in circle}
    for one in sizing.quantities:
        if any(one.whole.start <= trouble.span.start <= one.whole.end for trouble in sizing.troubles):
            continue
        if one.name not in broken:
            found += _of_quantity(pattern, one)
    found += _uses(pattern, text, broken)
    return found


def want_of(pattern: Pattern, quantity: Quantity, counts: Mapping[str, Values]) -> Want:
    """What is asked of a quantity, with the counts that are known so far.

    Raises `SenselessError` where its line makes no sense, and `UnsolvedError` where it rests on a count without values.
    """
    reckoner = Reckoner(pattern, counts)
    target = quantity.target
    if target is None:
        raise SenselessError("quantity-unknown", quantity.span, f"nothing says what “{quantity.name}” aims at")
    found = reckoner.amounts(target)
    if found.kind != "count":
        raise SenselessError(
            "gauge-missing",
            target.span,
            "a length becomes a count only at a gauge",
            "add the gauge, as in “at 14 sts = 4 in”",
        )
    low = tuple(size for size, value in enumerate(found.values) if value is not None and value <= 0)
    if low:
        names = ", ".join(pattern.sizes[size] for size in low)
        raise SenselessError("rules-clash", target.span, f"this comes to nothing, or less, in {names}")
    each = reckoner.each(target.gauge) if isinstance(target, Worked) else Fraction(1)
    multiple, plus = _multiple(quantity)
    within: Fraction | None = None
    least: tuple[int | None, ...] = ()
    most: tuple[int | None, ...] = ()
    for rule in quantity.rules:
        if rule.than is None:
            continue
        than = reckoner.amounts(rule.than)
        if than.kind == "percent":
            raise SenselessError("unit-missing", rule.span, "a rule needs a length or a count")
        values = (
            than.values if than.kind == "count" else tuple(v / each if v is not None else None for v in than.values)
        )
        if rule.kind == "within":
            room = min((value for value in values if value is not None), default=Fraction(0)) * each
            within = room if within is None else min(within, room)
        elif rule.kind == "least":
            least = _bound(least, tuple(math.ceil(v) if v is not None else None for v in values), True)
        else:
            most = _bound(most, tuple(math.floor(v) if v is not None else None for v in values), False)
    same = any(rule.kind == "same" for rule in quantity.rules)
    return Want(quantity.name, found.values, each, multiple, plus, within, least, most, same)


def why_stale(pattern: Pattern, quantity: Quantity, counts: Mapping[str, Values]) -> Remark | None:
    """Why the values below a line cannot be what its rules come to now; None where they may be. Nothing is solved: a
    value must keep every rule and lie no further from its target than one multiple."""
    if not quantity.values or quantity.target is None:
        return None
    try:
        want = want_of(pattern, quantity, counts)
    except (SenselessError, UnsolvedError):
        return None
    span = quantity.values_span or quantity.span
    if not quantity.is_solved_for:
        differs = tuple(
            size for size, value in enumerate(want.targets) if value is not None and value != quantity.values[size]
        )
        return _stale(pattern, span, differs, want, "the line above comes to") if differs else None
    wrong: dict[str, list[int]] = {}
    before: int | None = None
    for size in want.sizes:
        count = quantity.values[size]
        if count is None:
            wrong.setdefault("the size has no value", []).append(size)
            continue
        times, rest = divmod(count - want.plus, want.multiple)
        low, high = want.range(size)
        if rest:
            said = f"it is no multiple of {want.multiple}" + (f" plus {want.plus}" if want.plus else "")
            wrong.setdefault(said, []).append(size)
        elif (low is not None and times < low) or (high is not None and times > high):
            wrong.setdefault("it breaks a rule of the line above", []).append(size)
        elif abs(count - want.target(size)) > want.multiple and want.within is None and not want.same:
            wrong.setdefault("a nearer multiple is there", []).append(size)
        if before is not None and want.same and count != before:
            wrong.setdefault("it is not the same in all sizes", []).append(size)
        before = count
    if not wrong:
        return None
    said, sizes = next(iter(wrong.items()))
    return _stale(pattern, span, tuple(sizes), want, f"{said}; the line above aims at")


def _stale(pattern: Pattern, span: Span, sizes: tuple[int, ...], want: Want, why: str) -> Remark:
    size = sizes[0]
    aim = want.targets[size]
    value = say_number(aim) if aim is not None else "none"
    return Remark(
        "sizing-stale",
        span,
        f"{want.name} in {pattern.sizes[size]}: {why} {value}",
        "have the sizes solved again: roundhand sizes --write",
        sizes,
    )


def _multiple(quantity: Quantity) -> tuple[int, int]:
    """All rules of multiples as one; raises `SenselessError` where no number keeps two of them."""
    multiple, plus = 1, 0
    first: Rule | None = None
    for rule in quantity.rules:
        if rule.kind != "multiple":
            continue
        both = math.lcm(multiple, rule.number)
        # A multiple so large has no second multiple that a piece could reach.
        reach = range(plus, both, multiple) if both < 10**6 else range(0)
        fits = next((count for count in reach if count % rule.number == rule.plus), None)
        if fits is None:
            other = f" and “{first.words}”" if first is not None else ""
            said = f"no number is “{rule.words}”{other}"
            raise SenselessError("rules-clash", rule.span, said, "leave one of them out")
        multiple, plus, first = both, fits, rule
    return multiple, plus


def _bound(one: tuple[int | None, ...], other: tuple[int | None, ...], larger: bool) -> tuple[int | None, ...]:
    if not one:
        return other
    choose = max if larger else min
    return tuple((b if a is None else a if b is None else choose(a, b)) for a, b in zip(one, other, strict=True))


def _circles(sizing: Sizing) -> list[tuple[str, ...]]:
    """The circles in which quantities aim at one another, each once, in the order of the page."""
    found: list[tuple[str, ...]] = []
    taken: set[str] = set()
    for first in sizing.quantities:
        way: list[str] = []
        stack = [(first.name, iter(_aims(sizing, first.name)))]
        seen = {first.name}
        way.append(first.name)
        while stack and first.name not in taken:
            name = next(stack[-1][1], None)
            if name is None:
                stack.pop()
                way.pop()
            elif name == first.name:
                found.append(tuple(way))
                taken.update(way)
            elif name not in seen:
                seen.add(name)
                way.append(name)
                stack.append((name, iter(_aims(sizing, name))))
    return found


def _aims(sizing: Sizing, name: str) -> tuple[str, ...]:
    quantity = sizing.named(name)
    if quantity is None:
        return ()
    return tuple(one.name for one in names_in(quantity.target) if sizing.named(one.name) is not None)


def _circle(pattern: Pattern, circle: tuple[str, ...]) -> Remark:
    quantity = pattern.sizing.named(circle[0])
    span = quantity.span if quantity is not None else Span(0, 0)
    if len(circle) == 1:
        return Remark(
            "quantity-circular", span, f"“{circle[0]}” is reckoned from itself", "aim at a length or a number"
        )
    way = ", and ".join(f"“{one}” from “{other}”" for one, other in zip(circle, (*circle[1:], circle[0]), strict=True))
    return Remark("quantity-circular", span, f"a circle: {way}", "let one of them aim at a length or a number")


def _of_quantity(pattern: Pattern, quantity: Quantity) -> list[Remark]:
    """What is wrong with the line of one quantity, looked at with the values that stand on the page."""
    terms = [quantity.target, *(rule.than for rule in quantity.rules)]
    unknown = [
        one
        for term in terms
        for one in names_in(term)
        if pattern.sizing.named(one.name) is None and length_named(pattern, one.name) is None
    ]
    if unknown:
        return [Remark("quantity-unknown", one.span, *_unknown(pattern, one.name)) for one in unknown]
    if quantity.target is None:
        return []
    counts = pattern_counts(pattern)
    try:
        want = want_of(pattern, quantity, counts)
    except SenselessError as stop:
        return [Remark(stop.trouble.what, stop.trouble.span, stop.trouble.said, stop.trouble.help)]
    except UnsolvedError:
        return []
    if not quantity.is_solved_for:
        broken = tuple(size for size, value in enumerate(want.targets) if value is not None and value.denominator != 1)
        if broken:
            size = broken[0]
            said = f"“{quantity.name}” comes to {say_number(want.target(size))} in {pattern.sizes[size]}"
            return [Remark("quantity-not-whole", quantity.span, said, "a count of stitches or rows is whole", broken)]
    stale = why_stale(pattern, quantity, counts)
    return [stale] if stale is not None else []


def pattern_counts(pattern: Pattern) -> dict[str, Values]:
    """The counts that the page gives, as reading has them."""
    return counts_of(pattern.sizing, len(pattern.sizes))


def _unknown(pattern: Pattern, name: str) -> tuple[str, str]:
    """What is said of a name that means nothing here, with what the published tables know of it."""
    said = f"“{name}” is neither a count of this section nor a length in the head of the page"
    if name not in measures_known():
        return (
            said,
            "name a count that is defined here, or give the length in the head, as in “To fit head: 20 (22) in”",
        )
    told = []
    for size in pattern.sizes[:2]:
        values = [one.said() for one in published(name, size)]
        if values:
            told.append(f"{size}: {', or '.join(values[:3])}")
    known = f"; tables say {'; '.join(told)}" if told else ""
    return said, f"give it in the head, as in “To fit {name}: …”{known}"


def _uses(pattern: Pattern, text: str, broken: set[str]) -> list[Remark]:
    """Counts used in the rows that have no value, or none that is whole."""
    found = []
    counts = pattern_counts(pattern)
    told: set[str] = set()
    for use in _BRACES.finditer(text):
        if any(line.whole.start <= use.start() < line.whole.end for line in pattern.sizing.quantities):
            continue
        span = Span(use.start(), use.end())
        if pattern.sizing.named(use["name"]) is None:
            continue
        term, wrong = read_terms(text, use.start() + 1, use.end() - 1, len(pattern.sizes))
        found += [Remark(one.what, span, one.said, one.help) for one in wrong]
        if term is None:
            continue
        names = [one.name for one in names_in(term)]
        foreign = [name for name in names if pattern.sizing.named(name) is None]
        if foreign:
            found.append(Remark("quantity-unknown", span, *_unknown(pattern, foreign[0])))
            continue
        missing = [name for name in names if name not in counts]
        if missing:
            if missing[0] not in told and missing[0] not in broken:
                said = f"“{missing[0]}” has no values yet"
                found.append(Remark("quantity-unknown", span, said, "have them worked out: roundhand sizes --write"))
            told.add(missing[0])
            continue
        try:
            values = Reckoner(pattern, counts).amounts(term).values
        except (SenselessError, UnsolvedError):
            continue
        odd = tuple(s for s, value in enumerate(values) if value is not None and (value.denominator != 1 or value < 0))
        if odd:
            value = values[odd[0]] or Fraction(0)
            said = f"this comes to {say_number(value)} in {pattern.sizes[odd[0]]}"
            found.append(Remark("quantity-not-whole", span, said, "a count of stitches or rows is whole", odd))
    return found
