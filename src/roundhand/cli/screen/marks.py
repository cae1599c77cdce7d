"""The words a query speaks of, as the page has them, with marks underneath: carets for the fault, dashes for what is
seen along with it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import accumulate

import msgspec

from roundhand.cli.screen.letters import ELLIPSIS, cut, shown, width
from roundhand.cli.screen.line import Line, Piece, Tone
from roundhand.findings import Finding, Source, Span

# A fault that runs over many lines of the page is shown by the first of them and the last.
_MOST_LINES = 3


class Underline(msgspec.Struct, frozen=True):
    """Marks under some cells of a line, from `start` up to, not including, `end`, with a word to them."""

    start: int
    end: int
    sign: str
    label: str
    tone: Tone


def excerpt(source: Source, finding: Finding, cells: int) -> list[Line]:
    """The lines of the page that a finding speaks of, each with its marks below, cut to so many cells.

    >>> from roundhand.cli.screen.line import bare
    >>> from roundhand.findings import Mark
    >>> page = Source("Rnd 4: (sc in next 2 sts, inc) 5 times. (24)")
    >>> see = (Mark(Span(7, 38), "5 x 4 = 20"),)
    >>> found = Finding("count-differs", "error", "", Span(41, 43), label="24 written", see=see)
    >>> for pieces in excerpt(page, found, 60):
    ...     print(bare(pieces))
    Rnd 4: (sc in next 2 sts, inc) 5 times. (24)
           -------------------------------   ^^ 24 written
           5 x 4 = 20
    """
    marks: list[tuple[Span, str, str, Tone]] = [(finding.span, "^", finding.label, finding.severity)]
    # The same words are not marked twice.
    marks += [(mark.span, "-", mark.label, "faint") for mark in finding.see if mark.span != finding.span]
    by_line: dict[int, list[tuple[Span, str, str, Tone]]] = {}
    for span, sign, label, tone in marks:
        for number, own, last in _by_line(source, span):
            by_line.setdefault(number, []).append((own, sign, label if last else "", tone))
    lines: list[Line] = []
    for number in sorted(by_line):
        lines += _marked(source.line(number), source.line_span(number).start, by_line[number], cells)
    return lines


def _by_line(source: Source, span: Span) -> list[tuple[int, Span, bool]]:
    """A span cut at the ends of its lines, blank lines left out; the last cut carries the word."""
    first, _ = source.place(span.start)
    last, _ = source.place(max(span.start, span.end - 1))
    cuts = []
    for number in range(first, last + 1):
        line = source.line_span(number)
        own = Span(max(line.start, span.start), max(line.start, min(line.end, span.end)))
        if first == last or own.of(source.text).strip():
            cuts.append((number, own))
    if len(cuts) > _MOST_LINES:
        cuts = [cuts[0], cuts[-1]]
    return [(number, own, at == len(cuts) - 1) for at, (number, own) in enumerate(cuts)]


def _marked(text: str, offset: int, marks: list[tuple[Span, str, str, Tone]], cells: int) -> list[Line]:
    """One line of the page, cut around its marks, and the marks."""
    signs = [shown(sign) for sign in text]
    at = [0, *accumulate(cells for _, cells in signs)]
    lines = []
    for span, sign, label, tone in marks:
        start = at[min(max(0, span.start - offset), len(signs))]
        end = at[min(max(0, span.end - offset), len(signs))]
        # An empty place still gets one mark to point at it.
        lines.append(Underline(start, max(end, start + 1), sign, label, tone))
    begin, stop = _window(at[-1], lines, cells)
    seen = [(sign, at[n]) for n, (sign, _) in enumerate(signs) if at[n] >= begin and at[n + 1] <= stop]
    words = "".join(sign for sign, _ in seen)
    lead = 0
    if begin > 0:
        words, lead = ELLIPSIS + words, 1
        begin = seen[0][1] if seen else begin
    if stop < at[-1]:
        words += ELLIPSIS
        stop = begin + width(words) - lead - 1
    kept = [
        Underline(max(mark.start, begin) - begin + lead, min(mark.end, stop + 1) - begin + lead, *_rest(mark))
        for mark in lines
        if mark.end > begin and mark.start <= stop
    ]
    return [(Piece(words),), *_underlines(kept, cells)]


def _rest(mark: Underline) -> tuple[str, str, Tone]:
    return mark.sign, mark.label, mark.tone


def _window(total: int, marks: Sequence[Underline], cells: int) -> tuple[int, int]:
    """Which cells of a line are shown: all of them, or as many as fit around its marks, the carets first of all."""
    if total <= cells:
        return 0, total
    room = cells - 2
    carets = [mark for mark in marks if mark.sign == "^"] or list(marks[:1])
    start, end = min(mark.start for mark in carets), max(mark.end for mark in carets)
    for mark in marks:
        if max(end, mark.end) - min(start, mark.start) <= room:
            start, end = min(start, mark.start), max(end, mark.end)
    if end <= room:
        return 0, cells - 1
    spare = max(0, room - (end - start))
    begin = min(start - spare // 2, total - room)
    return begin, min(total, begin + room)


def _underlines(marks: Sequence[Underline], cells: int) -> list[Line]:
    """The marks in one line, each word behind its mark where there is room, else below it."""
    rows: list[list[tuple[int, Piece]]] = [[]]
    drawn: dict[int, tuple[str, Tone]] = {}
    for mark in sorted(marks, key=lambda mark: mark.sign == "^"):
        for cell in range(mark.start, mark.end):
            drawn[cell] = (mark.sign, mark.tone)
    taken = [set(drawn)]
    rows[0] = _strokes(drawn)
    for mark in sorted(marks, key=lambda mark: (mark.sign != "^", mark.start)):
        if not mark.label:
            continue
        label = cut(mark.label, cells)
        places = [(0, mark.end + 1)]
        below = max(0, min(mark.start, cells - width(label)))
        places += [(row, below) for row in range(1, len(marks) + 1)]
        for row, start in places:
            while len(taken) <= row:
                taken.append(set())
                rows.append([])
            wanted = set(range(start - 1, start + width(label) + 1))
            if start + width(label) <= cells and not wanted & taken[row]:
                taken[row] |= wanted
                rows[row].append((start, Piece(label, mark.tone)))
                break
    return [_laid(row) for row in rows if row]


def _strokes(drawn: Mapping[int, tuple[str, Tone]]) -> list[tuple[int, Piece]]:
    """Marks cell by cell joined to strokes."""
    strokes: list[tuple[int, Piece]] = []
    for cell in sorted(drawn):
        sign, tone = drawn[cell]
        if strokes:
            start, stroke = strokes[-1]
            if start + len(stroke.text) == cell and (stroke.text[0], stroke.tone) == (sign, tone):
                strokes[-1] = (start, Piece(stroke.text + sign, tone))
                continue
        strokes.append((cell, Piece(sign, tone)))
    return strokes


def _laid(pieces: list[tuple[int, Piece]]) -> Line:
    """Pieces put at their cells, with spaces between them."""
    line: list[Piece] = []
    cell = 0
    for start, piece in sorted(pieces, key=lambda placed: placed[0]):
        if start > cell:
            line.append(Piece(" " * (start - cell)))
        line.append(piece)
        cell = start + width(piece.text)
    return tuple(line)
