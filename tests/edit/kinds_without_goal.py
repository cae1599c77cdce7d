"""Faults that are reported without a goal: some of them no count can show."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise

from roundhand.findings import Span
from roundhand.notation.tree import Join, RowLine, Times, Turn, Work, Yarn
from tests.edit.clean import Clean
from tests.edit.marks import digits, lines, rows, within
from tests.edit.planting import Change, change, kind

_STITCH = re.compile(r"(?<![\w-])(?:sc|hdc|dc|tr|htr|dtr)(?![\w-])")
# The word that stands for the same stitch on the other side of the ocean.
_OTHER = {
    "US": {"sc": "dc", "hdc": "htr", "dc": "tr", "tr": "dtr"},
    "UK": {"dc": "sc", "htr": "hdc", "tr": "dc", "dtr": "tr"},
}
_LETTERS = re.compile(r"[A-Za-z]{4,}")


@kind("a colour change moved", goal=False)
def change_moved(clean: Clean) -> Iterator[Change]:
    """A change that names its row, put into another one; or one in the last stitch, put into the first."""
    for line in lines(clean.reading):
        for node in within(line.nodes, Yarn):
            assert isinstance(node, Yarn)
            if node.act != "change":
                continue
            if node.at is not None:
                for span in digits(clean.reading, node.at.span):
                    value = int(re.match(r"\d+", span.of(clean.text))[0])  # type: ignore[index]
                    yield from (change(span, str(new)) for new in (value - 1, value + 1) if new > 0)
            found = re.search(r"\blast st\b", node.span.of(clean.text))
            if found is not None:
                start = node.span.start + found.start()
                yield change(Span(start, start + 4), "first")


@kind("two rows swapped", goal=False)
def rows_swapped(clean: Clean) -> Iterator[Change]:
    """What two neighbouring rows say, exchanged below their labels."""
    text = clean.text
    for part in clean.reading.pattern.parts:
        own = [line for line in part.lines if isinstance(line, RowLine)]
        for one, other in pairwise(own):
            first, second = Span(one.label.span.end, one.span.end), Span(other.label.span.end, other.span.end)
            if first.end <= other.label.span.start and first.of(text).strip() != second.of(text).strip():
                yield Change(((first, second.of(text)), (second, first.of(text))), first.start)


@kind("a word of the other terms", goal=False)
def other_terms(clean: Clean) -> Iterator[Change]:
    """One stitch word of a row exchanged for the word that the other terms have for the same stitch."""
    words = _OTHER.get(clean.reading.pattern.language, {})
    for line in rows(clean.reading):
        for found in _STITCH.finditer(clean.text, line.label.span.end, line.span.end):
            if found[0] in words:
                yield change(Span(found.start(), found.end()), words[found[0]])


@kind("a long stitch shifted", goal=False)
def long_shifted(clean: Clean) -> Iterator[Change]:
    """In a repeat, the long stitch and its neighbour exchanged."""
    text = clean.text
    for line in rows(clean.reading):
        for times in within(line.nodes, Times):
            assert isinstance(times, Times)
            own = [node for node in times.body if isinstance(node, Work)]
            for one, other in pairwise(own):
                words = one.span.of(text), other.span.of(text)
                if any(re.search(r"\b(?:long|spike|fp|bp|front post|below)", word, re.IGNORECASE) for word in words):
                    yield Change(((one.span, words[1]), (other.span, words[0])), one.span.start)


@kind("a word misspelt", goal=False)
def misspelt(clean: Clean) -> Iterator[Change]:
    """A letter of a word in a row left out, doubled, or exchanged with its neighbour."""
    for line in rows(clean.reading):
        for found in _LETTERS.finditer(clean.text, line.label.span.end, line.span.end):
            word = found[0]
            at = len(word) // 2
            swapped = word[: at - 1] + word[at] + word[at - 1] + word[at + 1 :]
            for new in (word[:at] + word[at + 1 :], word[:at] + word[at] + word[at:], swapped):
                if new != word:
                    yield change(Span(found.start(), found.end()), new)


@kind("a join or turn dropped", goal=False)
def join_dropped(clean: Clean) -> Iterator[Change]:
    """The words that join a round or turn a row, left out with the comma in front of them."""
    for line in rows(clean.reading):
        for node in line.nodes:
            if isinstance(node, Join | Turn):
                start = node.span.start
                while start > line.span.start and clean.text[start - 1] in " ,;":
                    start -= 1
                yield change(Span(start, node.span.end), "", line.span.start)
