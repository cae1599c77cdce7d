"""A designer's words cut into runs, without a letter changed: abbreviations, numbers of one size, stated counts.

Each output shows the runs in its own way; joined they are her words again.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from itertools import pairwise

import msgspec

from roundhand.findings import Span
from roundhand.press import plain
from roundhand.publishing.abbreviations import Abbreviation, Speller

_NUMBER = r"(?:\d+(?:\.\d+|\s+\d+/\d+|/\d+|\s?[\u00bc-\u00be\u2150-\u215e])?|[\u00bc-\u00be\u2150-\u215e])"
_WORD = (
    r"(?:once|twice|none|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve"
    r"|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen|twenty)\b"
)
_VALUE = rf"(?:{_NUMBER}(?:\s?[-\u2013]\s?{_NUMBER})?|[-\u2013\u2014?]|{_WORD})"
_LIST = re.compile(
    rf"(?<![\w.,/])(?P<first>{_VALUE})\s*[(\[]\s*(?P<rest>{_VALUE}(?:\s*[,;:/|]\s*{_VALUE})*)\s*[)\]]", re.IGNORECASE
)
_ONE = re.compile(_VALUE, re.IGNORECASE)
_MOST_LISTED = 20_000  # The limit of a row; a longer text is no line of a pattern and is not searched for lists.


class Run(msgspec.Struct, frozen=True):
    """Some of her words. `meaning` is what an abbreviation stands for, else empty; `sizes` are the positions of the
    sizes that a number is for, empty if it is for all; `count` is true in the count that a row states."""

    text: str
    meaning: str = ""
    sizes: tuple[int, ...] = ()
    count: bool = False


Words = tuple[Run, ...]


class Cutter:
    """Cuts the texts of one pattern; keeps a list of the abbreviations met."""

    def __init__(self, speller: Speller, sizes: int) -> None:
        self._speller = speller
        self._sizes = sizes
        self._met: set[Abbreviation] = set()

    @property
    def met(self) -> tuple[Abbreviation, ...]:
        """The abbreviations met so far, one line for each, in alphabetical order."""
        lines: dict[str, Abbreviation] = {}
        for found in sorted(self._met):
            lines.setdefault(found.short, found)
        return tuple(sorted(lines.values(), key=lambda line: (line.short.casefold(), line.short)))

    def cut(
        self,
        text: str,
        start: int = 0,
        end: int | None = None,
        counts: Iterable[Span] = (),
        active: tuple[int, ...] = (),
        instruction: bool = True,
    ) -> Words:
        """The runs of a stretch of text; `counts` are the places of stated counts, in offsets of the whole text.

        `active` are the positions of the sizes that the text is for, if not for all of them; a list may have a value
        for each of these, or for each size there is. White space is a single space in the runs.

        >>> from roundhand.notation import read
        >>> cutter = Cutter(Speller(read("Cap\\nTerms: US")[0]), 2)
        >>> [(run.text, run.meaning, run.sizes) for run in cutter.cut("6 (7) sc")]
        [('6', '', (0,)), (' (', '', ()), ('7', '', (1,)), (') ', '', ()), ('sc', 'single crochet', ())]
        """
        piece = text[start:end]
        marks: list[tuple[int, int, Run]] = []
        for one in self._speller.find(piece, instruction):
            marks.append((one.start, one.end, Run("", meaning=one.meaning)))
            self._met.add(one.entry)
        marks += [(place.start, place.end, Run("", sizes=sizes)) for place, sizes in self._listed(piece, active)]
        marks.sort(key=lambda mark: mark[:2])
        stated = [Span(span.start - start, span.end - start) for span in counts]
        runs: list[Run] = []
        at = 0
        for left, right, run in marks:
            if left >= at:
                runs += [Run(piece[at:left]), msgspec.structs.replace(run, text=piece[left:right])]
                at = right
        runs.append(Run(piece[at:]))
        for span in stated:
            runs = _counted(runs, span)
        return _tidy(runs)

    def _listed(self, piece: str, active: tuple[int, ...]) -> list[tuple[Span, tuple[int, ...]]]:
        """The values of lists of sizes, with the sizes they are for."""
        found: list[tuple[Span, tuple[int, ...]]] = []
        if self._sizes < 2 or len(piece) > _MOST_LISTED:
            return found
        for match in _LIST.finditer(piece):
            rest = _ONE.finditer(piece, match.start("rest"), match.end("rest"))
            values = [Span(match.start("first"), match.end("first")), *(Span(one.start(), one.end()) for one in rest)]
            sizes = tuple(range(self._sizes)) if len(values) == self._sizes else active
            if len(values) == len(sizes):
                found += [(value, (size,)) for value, size in zip(values, sizes, strict=True)]
        return found


def said(words: Words) -> str:
    """The words of some runs, as she wrote them."""
    return "".join(run.text for run in words)


def _counted(runs: list[Run], count: Span) -> list[Run]:
    """The runs cut at the edges of a count and marked inside it."""
    marked: list[Run] = []
    at = 0
    for run in runs:
        end = at + len(run.text)
        cuts = sorted({at, end, *(edge for edge in (count.start, count.end) if at < edge < end)})
        for left, right in pairwise(cuts):
            inside = count.start <= left and right <= count.end
            text = run.text[left - at : right - at]
            marked.append(msgspec.structs.replace(run, text=text, count=inside or run.count))
        at = end
    return marked


def _tidy(runs: list[Run]) -> Words:
    """The runs without what cannot be seen, white space single and none at the ends."""
    kept: list[Run] = []
    space = True
    for run in runs:
        text = plain(run.text)
        if space and text.startswith(" "):
            text = text[1:]
        if text:
            space = text.endswith(" ")
            kept.append(msgspec.structs.replace(run, text=text))
    while kept and kept[-1].text.endswith(" "):
        last = kept.pop()
        if last.text.rstrip(" "):
            kept.append(msgspec.structs.replace(last, text=last.text.rstrip(" ")))
    return tuple(kept)
