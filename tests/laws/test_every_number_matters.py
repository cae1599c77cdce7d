"""Every number in a shipped cap is read: another number in its place gives another answer.

The answer is what reading and counting give: facts, tree, rows of all sizes, findings; without places on the page and
without the words themselves, so that a number that is only carried along as text does not count as read.
"""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import msgspec
import pytest

from roundhand.findings import Span
from roundhand.measures import number_word
from roundhand.notation import read
from roundhand.tally import count

PATTERNS = Path(__file__).parent.parent.parent / "patterns"
NUMBER = re.compile(r"\d+(?:\.\d+)?|\b(?:two|three|four|five|six|once|twice)\b")
WORDS = ("zero", "one", "two", "three", "four", "five", "six", "seven")
# Fields that hold the words of the page.
_WORDS = ("text", "words", "word", "near", "headline", "because", "help", "label", "edits")
# Sentences to the maker that ask for nothing: a reader of instructions passes over them, number and all.
ADVICE = {
    "kittiwake-cap": ("A close cap in two colours", "Weave in the 4 ends."),
    "saltmarsh-cap": (
        "A close cap in two colours",
        "Two samphire rounds send spikes down into the slate",
        "Weave in the 4 ends on the inside",
        "The spike rounds need a multiple of 4 sts",
    ),
}


def numbers() -> list[tuple[str, int, int, str]]:
    """Every number of every cap, with its place and another number."""
    found = []
    for name in ADVICE:
        text = (PATTERNS / f"{name}.txt").read_text(encoding="utf-8")
        for number in NUMBER.finditer(text):
            line = text[text.rfind("\n", 0, number.start()) + 1 : (text + "\n").find("\n", number.end())]
            start = number.start() - text.rfind("\n", 0, number.start()) - 1
            told = [advice for advice in ADVICE[name] if advice in line]
            if any(line.index(advice) <= start < line.index(advice) + len(advice) for advice in told):
                continue
            found.append((name, number.start(), number.end(), _other(number[0])))
    return found


def _other(number: str) -> str:
    value = number_word(number)
    if value is not None and not number[0].isdigit():
        return {1: "twice", 2: "three times"}.get(value, "") if number in ("once", "twice") else WORDS[value + 1]
    if "." in number:
        return (
            str(Fraction(number) + 1).replace("/1", "")
            if Fraction(number).denominator == 1
            else f"{float(number) + 1:.1f}"
        )
    return str(int(number) + 1)


def bare(value: object) -> object:
    """A value without places on the page and without its words."""
    if isinstance(value, Span):
        return None
    if isinstance(value, msgspec.Struct):
        fields = [name for name in value.__struct_fields__ if name not in _WORDS and "span" not in name]
        return (type(value).__name__, *((name, bare(getattr(value, name))) for name in fields))
    if isinstance(value, tuple | list):
        return tuple(bare(one) for one in value)
    if isinstance(value, dict):
        return tuple((key, bare(one)) for key, one in sorted(value.items(), key=lambda item: str(item[0])))
    return value


def answer(text: str) -> tuple[object, object, object]:
    """The facts and the tree, the rows of every size, and the findings."""
    pattern, findings = read(text)
    tally, more = count(pattern)
    rows = [
        (
            row.labels,
            row.worked,
            row.stated,
            [(one.made, one.colours, one.ends) if one else None for one in row.results],
        )
        for row in tally.rows()
    ]
    return bare(pattern), bare(rows), bare([(one.name, one.sizes, one.row, dict(one.facts)) for one in findings + more])


@pytest.mark.parametrize("name", ADVICE)
def test_numbers_left_out_are_advice(name: str) -> None:
    """What is left out of the test below stands in the pattern, so that the list cannot outlive its reasons."""
    text = (PATTERNS / f"{name}.txt").read_text(encoding="utf-8")
    for advice in ADVICE[name]:
        assert advice in text


def test_another_number_is_another_answer() -> None:
    """For every number of both caps."""
    silent = []
    for name in ADVICE:
        text = (PATTERNS / f"{name}.txt").read_text(encoding="utf-8")
        as_it_is = answer(text)
        for cap, start, end, other in numbers():
            if cap == name and answer(text[:start] + other + text[end:]) == as_it_is:
                line = text.count("\n", 0, start) + 1
                silent.append(
                    f"{name} line {line}: {text[max(0, start - 20) : start]}[{text[start:end]}]{text[end : end + 20]}"
                )
    assert not silent, "\n".join(silent)
    assert len(numbers()) > 300
