"""Faults in lists, colours, measurements and yarn."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from math import floor

from roundhand.findings import Span
from roundhand.measures import Length
from roundhand.notation.tree import Amount, Fact, RowLine, Yarn
from roundhand.workshop import reckon
from tests.edit.clean import Clean
from tests.edit.marks import lines, within
from tests.edit.planting import Change, change, kind

_VALUE = re.compile(r"\d+(?:\.\d+)?(?:\s+\d+/\d+|/\d+)?|\d*[½¼¾]")
_NOT_FINISHED = ("fit", "head", "hook", "yarn", "swatch", "tail", "needle")
_FINISHED = ("finished", "circumference", "length", "width", "height", "depth", "around")


@kind("a size value deleted")
def value_deleted(clean: Clean) -> Iterator[Change]:
    """One value of a list that has one for each size, with its comma."""
    reading, text = clean.reading, clean.text
    number = len(reading.sizes)
    if number < 2:
        return
    for line in lines(reading):
        shown = (line.label, line.nodes, line.stated) if isinstance(line, RowLine) else (line.nodes,)
        lists = {amount.spans for amount in within(shown, Amount) if len(set(amount.spans)) == number}  # type: ignore[attr-defined]
        for spans in sorted(lists):
            yield from _one_less(spans, text)
    for fact in reading.pattern.facts:
        spans = _values_of(fact, text)
        if len(spans) == number and len(fact.numbers) == number:
            yield from _one_less(tuple(spans), text)


def _one_less(spans: tuple[Span, ...], text: str) -> Iterator[Change]:
    """A list without one of its values: the first drops its bracket too."""
    for at in range(1, len(spans)):
        before, own = spans[at - 1], spans[at]
        between = text[before.end : own.start]
        if at == 1 and len(spans) == 2:
            yield change(Span(before.end, own.end + 1), "", own.start)
        elif at == 1:
            yield change(Span(own.start, spans[2].start), "", own.start)
        elif between.strip() == ",":
            yield change(Span(before.end, own.end), "", before.start)
    if len(spans) > 2 and re.fullmatch(r"\s*[(\[]\s*", text[spans[0].end : spans[1].start]):
        yield Change(
            ((Span(spans[0].start, spans[0].end), spans[1].of(text)), (Span(spans[1].start, spans[2].start), "")),
            spans[0].start,
        )


def _values_of(fact: Fact, text: str) -> list[Span]:
    found = _VALUE.finditer(text, fact.span.start, fact.span.end)
    return [Span(one.start(), one.end()) for one in found][: len(fact.numbers)]


@kind("an undeclared colour")
def colour_undeclared(clean: Clean) -> Iterator[Change]:
    """A colour's label, where a row or step names it, exchanged for one that the materials do not have."""
    labels = [yarn.label for yarn in clean.reading.pattern.yarns if yarn.label]
    strange = [letter for letter in "CDEF" if letter not in labels]
    if not labels:
        return
    for line in lines(clean.reading):
        for node in within(line.nodes, Yarn):
            assert isinstance(node, Yarn)
            if node.colour in labels:
                for found in re.finditer(rf"(?<!\w){re.escape(node.colour)}(?!\w)", node.span.of(clean.text)):
                    start = node.span.start + found.start()
                    span = Span(start, start + len(node.colour))
                    yield from (change(span, letter) for letter in strange)


@kind("a finished measure off by more than 5 %")
def measure_off(clean: Clean) -> Iterator[Change]:
    """One value of a finished measurement, a twentieth to a third greater or smaller, in its own step."""
    for fact in clean.reading.pattern.facts:
        key = fact.key.lower()
        if not any(word in key for word in _FINISHED) or any(word in key for word in _NOT_FINISHED):
            continue
        numbers = [value for value in fact.numbers if value is not None]
        spans = _values_of(fact, clean.text)
        if not numbers or len(spans) != len(numbers):
            continue
        step = min(Fraction(1, value.denominator) for value in numbers)
        for span, value in zip(spans, numbers, strict=True):
            for factor in (Fraction(7, 10), Fraction(85, 100), Fraction(93, 100), Fraction(108, 100), Fraction(12, 10)):
                new = round(value * factor / step) * step
                # Within half a step as it is printed nobody can tell it from rounding.
                printed = [Fraction(1, one.denominator) for one in (*(one for one in numbers if one != value), new)]
                rounding = min(printed) / 2
                if new > 0 and abs(new - value) > max(value / 20, rounding):
                    yield change(span, _printed(new))


def _printed(value: Fraction) -> str:
    whole, rest = divmod(value, 1)
    if not rest:
        return str(whole)
    if rest.denominator in (2, 4, 8):
        return f"{whole} {rest}" if whole else str(rest)
    return f"{float(value):g}"


@kind("stated yarn under the low end")
def yarn_under(clean: Clean) -> Iterator[Change]:
    """The yarn stated for a colour and size, exchanged for less than the low end of what it takes."""
    reading = clean.reading
    needs = {(need.label, reading.sizes.index(need.size)): need.low_m for need in reckon(reading).needs}
    labels = list(dict.fromkeys(label for label, _ in needs))
    for fact in reading.pattern.facts:
        if not re.search(r"\byarn (?:needed|used|amount)|\byardage\b", fact.key, re.IGNORECASE):
            continue
        said = fact.span.of(clean.text)
        for found in re.finditer(r"(?:\b([A-Z])\s+)?(\d+(?:\s*\([^)]*\))?)\s*(yds?|m)\b", said):
            label = found[1] or (labels[0] if len(labels) == 1 else "")
            values = list(re.finditer(r"\d+", found[2]))
            for size, value in enumerate(values):
                low = needs.get((label, size))
                if low is None:
                    continue
                least = float(
                    Length.of(Fraction(low).limit_denominator(1000), "m").to("yd" if found[3][0] == "y" else "m")
                )
                start = fact.span.start + found.start(2) + value.start()
                for share in (0.5, 0.75, 0.9, 0.97):
                    if floor(least * share) > 0:
                        yield change(Span(start, start + len(value[0])), str(floor(least * share)))
