"""Places in a text: spans by code point, and the lines and columns that a person counts."""

from __future__ import annotations

import re
from bisect import bisect_right

import msgspec

# A line ends at a line feed, a carriage return, or both together; other separators are ordinary characters here.
_LINE_END = re.compile(r"\r\n|\r|\n")


class Span(msgspec.Struct, frozen=True, order=True):
    """A stretch of the decoded text, in code points: from `start` up to, not including, `end`.

    >>> Span(3, 7).of("abcdefghij")
    'defg'
    """

    start: int
    end: int

    def of(self, text: str) -> str:
        """The words that the span covers."""
        return text[self.start : self.end]

    def to(self, other: Span) -> Span:
        """The smallest span that covers both."""
        return Span(min(self.start, other.start), max(self.end, other.end))


class Source:
    """A decoded text that can say in which line and column an offset stands.

    >>> source = Source("Rnd 1: 6 sc\\r\\nRnd 2: inc around")
    >>> source.place(13), source.line(2)
    ((2, 1), 'Rnd 2: inc around')
    """

    __slots__ = ("_ends", "_starts", "text")

    def __init__(self, text: str) -> None:
        self.text = text
        starts = [0]
        ends = []
        for end in _LINE_END.finditer(text):
            ends.append(end.start())
            starts.append(end.end())
        ends.append(len(text))
        self._starts = starts
        self._ends = ends

    @property
    def line_count(self) -> int:
        """How many lines the text has; an empty text has one."""
        return len(self._starts)

    def place(self, offset: int) -> tuple[int, int]:
        """Line and column of an offset, both counted from 1, the column in code points."""
        number = bisect_right(self._starts, offset)
        return number, offset - self._starts[number - 1] + 1

    def line(self, number: int) -> str:
        """The text of a line, counted from 1, without its line end."""
        return self.text[self._starts[number - 1] : self._ends[number - 1]]

    def line_span(self, number: int) -> Span:
        """The span of a line, counted from 1, without its line end."""
        return Span(self._starts[number - 1], self._ends[number - 1])
