"""The sentences of a page that finish pieces, with the pieces they speak of: for the checks of seams and openings."""

from __future__ import annotations

import re
from collections.abc import Iterator

import msgspec

from roundhand.checks.edit import Sheet
from roundhand.findings import Span
from roundhand.notation.tree import RowLine
from roundhand.tally import PieceTally, RowTally

_SENTENCE = re.compile(r"[^.;\n]+(?:\.(?=\S)[^.;\n]*)*[.;]?")
_LONGEST = 400


class Sentence(msgspec.Struct, frozen=True):
    """A sentence that stands outside the rows, with its place, and the number of rows of the page that stand above it.

    `heading` is the offset where the section begins that it stands in."""

    text: str
    start: int
    heading: int


def sentences(sheet: Sheet) -> Iterator[Sentence]:
    """All sentences of the page below its first row, those of rows left out, in order."""
    rows = sorted({(row.line.span.start, row.line.span.end) for row in sheet.tally.rows()})
    if not rows:
        return
    first = rows[0][0]
    headings = [part.span.start for part in sheet.pattern.parts]
    text = sheet.text
    taken = 0
    for found in _SENTENCE.finditer(text, first):
        start = found.start() + len(found[0]) - len(found[0].lstrip())
        words = found[0].strip()
        while taken < len(rows) and rows[taken][1] <= start:
            taken += 1
        inside = taken < len(rows) and rows[taken][0] <= start
        if not words or inside or len(words) > _LONGEST:
            continue
        heading = max((offset for offset in headings if offset <= start), default=0)
        yield Sentence(words, start, heading)


def sentences_in(text: str, span: Span) -> Iterator[Sentence]:
    """The sentences of a row."""
    for found in _SENTENCE.finditer(text, span.start, span.end):
        words = found[0].strip()
        if words and len(words) <= _LONGEST:
            yield Sentence(words, found.start() + len(found[0]) - len(found[0].lstrip()), span.start)


def named(words: str, pieces: tuple[PieceTally, ...]) -> list[PieceTally]:
    """The pieces that a sentence names by their headings, each once, in the order of the words.

    A name inside a longer one, the front of a left front, is not meant."""
    low = " ".join(words.lower().split())
    found: list[tuple[int, PieceTally]] = []
    for piece in sorted(pieces, key=lambda one: -len(one.name)):
        name = " ".join(piece.name.lower().split())
        build = re.search(rf"(?<![\w-]){re.escape(name.removesuffix('s'))}(?:e?s)?(?![\w-])", low) if name else None
        if build is not None:
            found.append((build.start(), piece))
            low = low[: build.start()] + " " * len(build[0]) + low[build.end() :]
    return [piece for _, piece in sorted(found, key=lambda entry: entry[0])]


def rows_in(piece: PieceTally, size: int) -> list[RowTally]:
    """The rows that a piece has in a size and that could be worked."""
    return [row for row in piece.rows if row.labels[size] is not None and row.results[size] is not None]


def last_line(piece: PieceTally) -> RowLine:
    """The line of its last row."""
    return piece.rows[-1].line
