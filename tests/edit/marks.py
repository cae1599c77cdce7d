"""What a fault may be planted in: the tokens of a text, told by the spans of its tree."""

from __future__ import annotations

import re
from collections.abc import Iterator

import msgspec

from roundhand.findings import Span
from roundhand.measures import number_word
from roundhand.notation.tree import Amount, Copy, Note, RowLine, Stated, Step, Tail, Unread
from roundhand.workshop import Reading

NUMBER = re.compile(r"(?<![\w./])(\d+)(st|nd|rd|th)?(?![\d/.]*\d)(?!\s+\d/\d)", re.IGNORECASE)
_WORDS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_WORD = re.compile(r"\b(?:one|two|three|four|five|six|seven|eight|nine|ten|once|twice)\b", re.IGNORECASE)


def lines(reading: Reading) -> Iterator[RowLine | Step]:
    """All lines of the work."""
    for part in reading.pattern.parts:
        yield from part.lines


def rows(reading: Reading) -> Iterator[RowLine]:
    """All lines that have a label."""
    yield from (line for line in lines(reading) if isinstance(line, RowLine))


def within(value: object, *kinds: type) -> Iterator[msgspec.Struct]:
    """All nodes of some kinds inside a value, however deep, in the order of the page."""
    if isinstance(value, kinds):
        assert isinstance(value, msgspec.Struct)
        yield value
    if isinstance(value, msgspec.Struct):
        for name in value.__struct_fields__:
            yield from within(getattr(value, name), *kinds)
    elif isinstance(value, tuple | list):
        for one in value:
            yield from within(one, *kinds)


def numbers(reading: Reading, line: RowLine) -> list[Span]:
    """The numbers of a row: not those of its label and counts, of the rows it copies, or of words that ask nothing."""
    text = reading.source.text
    shut = [line.label.span, *(stated.span for stated in line.stated)]
    shut += [node.span for node in within(line.nodes, Stated, Copy, Note, Tail, Unread)]  # type: ignore[attr-defined]
    found = []
    for pattern in (NUMBER, _WORD):
        for one in pattern.finditer(text, line.span.start, line.span.end):
            span = Span(one.start(), one.end())
            if not any(other.start < span.end and span.start < other.end for other in shut):
                found.append(span)
    return found


def digits(reading: Reading, span: Span) -> list[Span]:
    """The numbers inside a span."""
    return [Span(one.start(), one.end()) for one in NUMBER.finditer(reading.source.text, span.start, span.end)]


def values(amount: Amount, text: str) -> list[Span]:
    """The numbers of an amount, one for all sizes or one for each, where the page writes each of them."""
    spans = list(dict.fromkeys(amount.spans or (amount.span,)))
    return [span for span in spans if NUMBER.fullmatch(span.of(text))]


def others(word: str) -> list[str]:
    """What a hasty hand may write for a number: near it, a digit lost, doubled or exchanged, in the same dress."""
    found = NUMBER.fullmatch(word)
    if found is None:
        return _other_words(word)
    value = int(found[1])
    near = [value - 2, value - 1, value + 1, value + 2, value + 10]
    digits_ = found[1]
    if len(digits_) > 1:
        near += [int(digits_[:-1]), int(digits_[::-1]), int(digits_[1:] or "0")]
    if value < 10:
        near.append(value * 11)
    return [f"{one}{_end(one) if found[2] else ''}" for one in dict.fromkeys(near) if one > 0 and one != value]


def _other_words(word: str) -> list[str]:
    lower = word.lower()
    if lower in ("once", "twice"):
        return ["twice" if lower == "once" else "once", "3 times"]
    value = number_word(lower)
    if value is None or value >= len(_WORDS):
        return []
    return [_WORDS[one] for one in (value - 1, value + 1) if 0 < one < len(_WORDS)]


def _end(number: int) -> str:
    return "th" if 10 <= number % 100 <= 20 else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
