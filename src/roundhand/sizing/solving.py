"""All counts of a sizing section worked out together, with what each comes to, what stands beside it, and what clashes.

Counts that rest on others are worked out after them; what nothing ties to another is solved alone, and proven best.
"""

from __future__ import annotations

from fractions import Fraction

import msgspec

from roundhand.measures import say_number
from roundhand.notation.quantities import Quantity, Values, Worked, names_in
from roundhand.notation.tree import Pattern
from roundhand.sizing.alone import Scale, course, solve_alone, walk
from roundhand.sizing.plan import Remark, want_of
from roundhand.sizing.targets import SenselessError, UnsolvedError
from roundhand.sizing.wants import Want

# The rules of a want that can be left out to see whether others clash, with how they are called.
_RULES = ("multiple", "within", "least", "most", "same", "grows")
# Beyond any tolerance that a piece of cloth could need, in millimetres.
_ENDLESS = Fraction(10**6)


class Choice(msgspec.Struct, frozen=True):
    """One count in one size: its target, how far it lies from that in millimetres, what it measures where it has a
    gauge, the counts of the next multiples on both sides, and what keeps it from the nearest multiple (empty if it is
    the nearest)."""

    size: int
    count: int
    target: Fraction
    off: Fraction
    length: Fraction | None
    fewer: int | None
    more: int
    because: str


class Answer(msgspec.Struct, frozen=True):
    """The counts of one quantity in every size, None in a size that has none; `solved` is false where they are only
    reckoned from others."""

    name: str
    counts: tuple[int | None, ...]
    choices: tuple[Choice, ...]
    each: Fraction | None
    multiple: int
    solved: bool


class Clash(msgspec.Struct, frozen=True):
    """Rules of one quantity that no counts keep: `rules` is a smallest such set, each of which must stand or the rest
    could be kept. `needed` says what would be enough."""

    name: str
    rules: tuple[str, ...]
    needed: str


class Solution(msgspec.Struct, frozen=True):
    """The answers in the order of the page, the clashes, and what of the section makes no sense."""

    answers: tuple[Answer, ...]
    clashes: tuple[Clash, ...] = ()
    remarks: tuple[Remark, ...] = ()
    waiting: tuple[str, ...] = ()

    def of(self, name: str) -> Answer | None:
        """The answer of a quantity, None if it has none."""
        return next((one for one in self.answers if one.name == name), None)


def solve(pattern: Pattern) -> Solution:
    """The best counts of every quantity of a pattern, whatever stands below its lines; lines that have values alone
    are taken as they are.

    >>> from roundhand.notation import read
    >>> page = "Cap\\nSizes: S (M)\\nTo fit head: 20 (22) in\\n\\nSIZING\\n"
    >>> found = solve(read(page + "body: head less 1 in at 15 sts = 4 in; multiple of 8\\nhalf: {body} / 2")[0])
    >>> found.of("body").counts, found.of("half").counts
    ((72, 80), (36, 40))
    """
    known: dict[str, Values] = {}
    answers: dict[str, Answer] = {}
    clashes: list[Clash] = []
    remarks: list[Remark] = []
    lost: set[str] = set()
    waiting: list[Quantity] = []
    for one in pattern.sizing.quantities:
        if one.target is not None:
            waiting.append(one)
        elif one.values:
            known[one.name] = tuple(Fraction(value) if value is not None else None for value in one.values)
    while waiting:
        ready = [one for one in waiting if all(name in known or name not in _names(pattern) for name in _rests_on(one))]
        if not ready:
            break
        for one in ready:
            waiting.remove(one)
            try:
                want = want_of(pattern, one, known)
            except SenselessError as stop:
                trouble = stop.trouble
                remarks.append(Remark(trouble.what, trouble.span, trouble.said, trouble.help))
                lost.add(one.name)
                continue
            except UnsolvedError:
                lost.add(one.name)
                continue
            if one.is_solved_for:
                counts = solve_alone(want)
                if counts is None:
                    clashes.append(explain(pattern, one, want))
                    lost.add(one.name)
                    continue
                answers[one.name] = _answer(one, want, counts)
            else:
                wrong = _unkept(pattern, one, want)
                if wrong is not None:
                    remarks.append(wrong)
                    lost.add(one.name)
                    continue
                whole = tuple(int(value) if value is not None else None for value in want.targets)
                answers[one.name] = _answer(one, want, whole)
            known[one.name] = tuple(
                Fraction(value) if value is not None else None for value in answers[one.name].counts
            )
    order = [one.name for one in pattern.sizing.quantities if one.name in answers]
    return Solution(
        tuple(answers[name] for name in order),
        tuple(clashes),
        tuple(remarks),
        tuple(one.name for one in waiting),
    )


def explain(pattern: Pattern, quantity: Quantity, want: Want) -> Clash:
    """Why a want has no answer: a smallest set of its rules that clash, and what would be enough.

    Each rule is left out in turn; if the others still clash it stays out. What is left clashes, and does not without
    any one of its rules.
    """
    kept = want
    left: list[str] = []
    for rule in _RULES:
        without = _without(kept, rule)
        if without == kept:
            continue
        if solve_alone(without) is None:
            kept = without
        else:
            left.append(rule)
    words = tuple(_said(quantity, want, rule) for rule in left)
    return Clash(quantity.name, words, _needed(pattern, want))


def necessary(want: Want) -> Fraction | None:
    """The tolerance in millimetres below which some target can fall between two multiples: half a multiple. None where
    the tolerance is that wide, or there is none.

    >>> necessary(Want("body", (Fraction(60),), Fraction(7), 8, within=Fraction(20)))
    Fraction(28, 1)
    """
    half = want.multiple * want.each / 2
    return half if want.within is not None and want.within < half else None


def _names(pattern: Pattern) -> frozenset[str]:
    return frozenset(one.name for one in pattern.sizing.quantities)


def _rests_on(quantity: Quantity) -> list[str]:
    terms = [quantity.target, *(rule.than for rule in quantity.rules)]
    return [one.name for term in terms for one in names_in(term)]


def _unkept(pattern: Pattern, quantity: Quantity, want: Want) -> Remark | None:
    """The first rule that a reckoned count does not keep, if there is one."""
    for size in want.sizes:
        value = want.target(size)
        where = pattern.sizes[size]
        if value.denominator != 1:
            said = f"“{quantity.name}” comes to {say_number(value)} in {where}"
            return Remark("quantity-not-whole", quantity.span, said, "a count of stitches or rows is whole", (size,))
        least = want.least[size] if want.least else None
        most = want.most[size] if want.most else None
        if (least is not None and value < least) or (most is not None and value > most):
            rule = f"at least {least}" if least is not None and value < least else f"at most {most}"
            said = f"“{quantity.name}” comes to {say_number(value)} in {where}, and the rule says {rule}"
            return Remark("rules-clash", quantity.span, said, "change what it is reckoned from, or the rule", (size,))
    if want.same and len({want.targets[size] for size in want.sizes}) > 1:
        said = f"“{quantity.name}” is reckoned, and does not come out the same in all sizes"
        return Remark("rules-clash", quantity.span, said, "leave the rule out, or let it aim at a length")
    return None


def _answer(quantity: Quantity, want: Want, counts: tuple[int | None, ...]) -> Answer:
    each = want.each if isinstance(quantity.target, Worked) else None
    choices = []
    for size in want.sizes:
        count = counts[size]
        if count is None:
            continue
        low, _ = want.range(size)
        times = (count - want.plus) // want.multiple
        fewer = want.count(times - 1) if low is None or times - 1 >= low else None
        nearest = want.count(want.nearest(size))
        choices.append(
            Choice(
                size,
                count,
                want.target(size),
                want.off(size, count),
                count * each if each is not None else None,
                fewer,
                count + want.multiple,
                "" if count == nearest or not quantity.is_solved_for else _binding(want, size, nearest),
            )
        )
    return Answer(quantity.name, counts, tuple(choices), each, want.multiple, quantity.is_solved_for)


def _binding(want: Want, size: int, nearest: int) -> str:
    """What keeps a count from the multiple that is nearest to its target."""
    if want.least and (least := want.least[size]) is not None and nearest < least:
        return f"at least {least}"
    if want.most and (most := want.most[size]) is not None and nearest > most:
        return f"at most {most}"
    if want.same:
        return "the same in all sizes"
    return f"steps between sizes are more even than with {nearest}"


def _without(want: Want, rule: str) -> Want:
    if rule == "multiple":
        return msgspec.structs.replace(want, multiple=1, plus=0)
    if rule == "within":
        return msgspec.structs.replace(want, within=None)
    if rule in ("least", "most"):
        return msgspec.structs.replace(want, **{rule: ()})
    return msgspec.structs.replace(want, **{rule: False})


def _said(quantity: Quantity, want: Want, rule: str) -> str:
    """A rule as the page says it; what goes without saying in our words."""
    if rule == "grows":
        return "a larger size is not smaller"
    words = [one.words for one in quantity.rules if one.kind == rule]
    return " and ".join(words) or rule


def _needed(pattern: Pattern, want: Want) -> str:
    """What would be enough: the tolerance, and the sizes that need it, or else that no tolerance would do."""
    if want.within is None:
        return "no tolerance is asked for, so a bound or the multiple has to give"
    wider = msgspec.structs.replace(want, within=None)
    found = course(wider, Scale.of([wider]))
    times = walk(found)
    if times is None:
        return "even without the tolerance no counts keep the other rules"
    need: list[str] = []
    for size, one in zip(want.sizes, times, strict=True):
        off = abs(want.off(size, want.count(one)))
        if off > want.within:
            low, high = _beside(want, size)
            need.append(
                f"{pattern.sizes[size]} {say_number((off - want.within) / Fraction(254, 10))} in more "
                f"(between {low} and {high})"
            )
    return "the tolerance would have to be wider: " + "; ".join(need)


def _beside(want: Want, size: int) -> tuple[int, int]:
    exact = (want.target(size) - want.plus) / want.multiple
    lower = exact.numerator // exact.denominator
    return want.count(lower), want.count(lower + 1)
