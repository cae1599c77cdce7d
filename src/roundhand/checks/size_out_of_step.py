"""One value of a size list goes back where the sizes go on, or stands off the steps of all the others.

A list of sizes climbs from one end to the other. A digit mistyped in it leaves a single size that fits nobody, and the
sizes beside it look right, so that no tester of those finds it.

Bad:
    Sizes: Baby (Child, Adult S, Adult L)
    To fit head: 16 (20, 19, 22) in
    GAUGE
    16 sts and 20 rnds = 4 in in single crochet
    CAP
    Ch 60 (68, 76, 84), join with sl st in first ch, being careful not to twist.
    Rnd 1: Ch 1, sc in each ch around, join. (60 (68, 76, 84))
    CARE
    Take the cap off a baby for sleep and indoors.

Good:
    Sizes: Baby (Child, Adult S, Adult L)
    To fit head: 16 (19, 20 1/2, 22) in
    GAUGE
    16 sts and 20 rnds = 4 in in single crochet
    CAP
    Ch 60 (68, 76, 84), join with sl st in first ch, being careful not to twist.
    Rnd 1: Ch 1, sc in each ch around, join. (60 (68, 76, 84))
    CARE
    Take the cap off a baby for sleep and indoors.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator, Sequence
from fractions import Fraction

import msgspec

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Span
from roundhand.notation.tree import Amount, Chain, Fact

GROUP = "sizes"

_GROWS = re.compile(
    r"\b(?:fit|fits|circumference|bust|chest|waist|hips?|head|length|width|height|depth|finished|foot|around|sleeve|"
    r"yarn needed|yardage)\b",
    re.IGNORECASE,
)
_NOT = re.compile(r"\b(?:hook|tail|swatch|gauge|ease)\b", re.IGNORECASE)
_NUMBER = re.compile(r"\d+(?:\.\d+)?(?:\s+\d+/\d+|/\d+|\s*[\u00bc-\u00be\u2150-\u215e])?|[\u00bc-\u00be\u2150-\u215e]")
# Shorter lists show no steps that a value could be out of; below so many stitches a count is one of a few.
_FEWEST, _FEWEST_IN_STEPS, _FEWEST_STITCHES = 4, 5, 20


class _List(msgspec.Struct, frozen=True):
    """Values of all sizes, the words of each, and whether it stands at the head of the page."""

    values: tuple[Fraction, ...]
    spans: tuple[Span, ...]
    of_head: bool


class _Slip(msgspec.Struct, frozen=True):
    """The position of a value that does not fit, and the value that would; None where several would."""

    at: int
    fits: Fraction | None
    back: bool


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every list of measurements or chains with one value out of step."""
    sizes = len(sheet.pattern.sizes)
    if sizes < _FEWEST:
        return
    lists = list(_lists(sheet, sizes))
    slips = [(one, slip) for one in lists if (slip := _slip(one)) is not None]
    # Where two measurements go back at one size, the sizes stand in an order of their own.
    backs = [slip.at for one, slip in slips if one.of_head and slip.back]
    for one, slip in slips:
        if slip.back and one.of_head and backs.count(slip.at) > 1:
            continue
        yield _finding(sheet, one, slip)


def _lists(sheet: Sheet, sizes: int) -> Iterator[_List]:
    for fact in sheet.pattern.facts:
        if _GROWS.search(fact.key) and not _NOT.search(fact.key) and len(fact.numbers) == sizes:
            yield from _of_fact(sheet.text, fact, sizes)
    for piece in sheet.tally.pieces:
        for step in piece.steps:
            for node in step.step.nodes:
                if isinstance(node, Chain):
                    yield from _of_amount(node.amount, sizes)


def _of_fact(text: str, fact: Fact, sizes: int) -> Iterator[_List]:
    spans = tuple(Span(one.start(), one.end()) for one in _NUMBER.finditer(text, fact.span.start, fact.span.end))
    values = tuple(value for value in fact.numbers if value is not None)
    if len(values) == sizes == len(fact.numbers) and len(spans) >= sizes:
        yield _List(values, spans[:sizes], True)


def _of_amount(amount: Amount, sizes: int) -> Iterator[_List]:
    values = tuple(Fraction(value) for value in amount.values if value is not None)
    if len(values) == sizes == len(amount.spans) and min(values) >= _FEWEST_STITCHES:
        yield _List(values, amount.spans, False)


def _slip(one: _List) -> _Slip | None:
    """The value out of step, if there is exactly one."""
    values = one.values
    if values[-1] < values[0] or len(set(values)) == 1:
        return None
    falls = [at for at in range(1, len(values)) if values[at] < values[at - 1]]
    if len(falls) == 1:
        at = falls[0]
        fitting = [place for place in (at, at - 1) if _climbs(_without(values, place))]
        if not fitting:
            return None
        place = fitting[0]
        if len(fitting) == 1 or _in_step(values, place) is not None:
            return _Slip(place, _in_step(values, place), True)
        other = _in_step(values, fitting[1])
        return _Slip(fitting[1], other, True) if other is not None else _Slip(place, None, True)
    if falls or not one.of_head or len(values) < _FEWEST_IN_STEPS:
        return None
    off = [at for at in range(1, len(values) - 1) if _in_step(values, at) not in (None, values[at])]
    return _Slip(off[0], _in_step(values, off[0]), False) if len(off) == 1 else None


def _without(values: Sequence[Fraction], at: int) -> list[Fraction]:
    return [*values[:at], *values[at + 1 :]]


def _climbs(values: Sequence[Fraction]) -> bool:
    return all(one <= other for one, other in itertools.pairwise(values))


def _in_step(values: Sequence[Fraction], at: int) -> Fraction | None:
    """The value that would stand at a position if all the others are a step apart; None where they are not."""
    others = [(place, value) for place, value in enumerate(values) if place != at]
    (first, low), (last, high) = others[0], others[-1]
    step = (high - low) / (last - first)
    if step <= 0 or any(value != low + step * (place - first) for place, value in others):
        return None
    return low + step * (at - first)


def _finding(sheet: Sheet, one: _List, slip: _Slip) -> Finding:
    names = sheet.pattern.sizes
    at = slip.at
    value = _say(one.values[at])
    near = at - 1 if at and one.values[at] < one.values[at - 1] else at + 1
    beside = _say(one.values[near])
    if slip.back:
        headline = f"{value} for {names[at]}, {beside} for {names[near]}"
        because = "every other size of this list is larger than the one before it, or as large"
    else:
        headline = f"{value} stands off the steps of this list"
        because = "all the other values are the same step apart"
    fits = _say(slip.fits) if slip.fits is not None else ""
    return Finding(
        "size-out-of-step",
        "warning" if slip.back else "advice",
        headline,
        one.spans[at],
        (names[at],),
        because=because,
        help=f"{fits} would be in step with the others" if fits else "look whether a digit is mistyped",
        facts={"value": value, "beside": beside, "in_step": fits or None},
        label="out of step",
    )


def _say(value: Fraction) -> str:
    return f"{float(value):g}"
