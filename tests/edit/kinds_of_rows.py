"""Faults in rows: their numbers, counts, repeats, labels, and rows that are gone."""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.findings import Span
from roundhand.notation.tree import Amount, Copy, RowLine, Stated, Times, Work
from roundhand.tally import RowTally, distinct
from tests.edit.clean import Clean
from tests.edit.marks import digits, lines, numbers, others, rows, values, within
from tests.edit.planting import Change, change, kind


@kind("a number changed in a counted row")
def number_changed(clean: Clean) -> Iterator[Change]:
    """Any number of a row with a stated count, in words or digits, but those of its label and its counts."""
    for line in rows(clean.reading):
        if line.stated:
            for span in numbers(clean.reading, line):
                yield from (change(span, new) for new in others(span.of(clean.text)))


@kind("a stated count changed in one size")
def count_changed(clean: Clean) -> Iterator[Change]:
    """One number of one stated count."""
    for line in lines(clean.reading):
        for stated in within((line.stated, line.nodes), Stated):
            assert isinstance(stated, Stated)
            for amount, _ in stated.counts:
                for span in values(amount, clean.text):
                    yield from (change(span, new) for new in others(span.of(clean.text)))


@kind("a repeat dropped or added")
def repeat_changed(clean: Clean) -> Iterator[Change]:
    """A repeat once more or once less in one size, its words left out, or its group written once more."""
    text = clean.text
    for line in lines(clean.reading):
        for node in within(line.nodes, Times, Copy):
            if isinstance(node, Copy):
                amounts = [node.amount] if node.amount is not None and node.mode in ("more", "unsaid") else []
            else:
                assert isinstance(node, Times)
                amounts = [node.amount] if node.amount is not None and node.mode in ("fixed", "more", "unsaid") else []
                if node.words != node.span and node.body:
                    yield from _words_of_repeat(node, text)
            for amount in amounts:
                yield from _once_more_or_less(amount, text)


def _words_of_repeat(node: Times, text: str) -> Iterator[Change]:
    """Without the words that say how often; and with the group once more in front."""
    body = text[node.span.start : node.words.start].rstrip(" ;,")
    start = node.span.start + len(body)
    inside = body.strip("* ")
    if inside[:1] in ("(", "[", "{") and closing_bracket(inside) == len(inside) - 1:
        # The bracket of the repeat itself; one that holds the stitches of a place stays.
        inside = inside[1:-1].strip()
    if inside and node.words.start > node.span.start:
        yield change(Span(start, node.words.end), "")
        yield change(Span(node.span.start, node.span.start), f"{inside}, ")


def closing_bracket(words: str) -> int:
    """Where the bracket closes that opens at the beginning; -1 where it does not."""
    depth = 0
    for at, sign in enumerate(words):
        depth += (sign in "([{") - (sign in ")]}")
        if not depth:
            return at
    return -1


def _once_more_or_less(amount: Amount, text: str) -> Iterator[Change]:
    for span in values(amount, text):
        number = int(re.match(r"\d+", span.of(text))[0])  # type: ignore[index]
        yield from (change(span, str(new)) for new in (number - 1, number + 1) if new > 0)


@kind("a row cut whose neighbours do not close")
def row_cut(clean: Clean) -> Iterator[Change]:
    """A whole line with its label; where all that follows has plain labels, these may be numbered anew."""
    text = clean.text
    tally = {id(row.line): row for row in clean.reading.tally.rows()}
    for part in clean.reading.pattern.parts:
        own = [line for line in part.lines if isinstance(line, RowLine)]
        for at, line in enumerate(own[:-1]):
            row, after = tally.get(id(line)), tally.get(id(own[at + 1]))
            if row is None or after is None or own[at + 1].span.start == line.span.start:
                continue
            grown = any(
                result is not None
                and below is not None
                and stated is not None
                # Both neighbours must be there: what is worked into, and what is worked after it.
                and below.kind in ("row", "chain")
                and (result.offer.total, result.offer.layout) != (below.total, below.layout)
                for result, below, stated in zip(row.results, row.below, after.stated, strict=True)
            )
            start, end = text.rfind("\n", 0, line.span.start) + 1, (text + "\n").find("\n", line.span.end) + 1
            if not grown or any(
                other.span.start < end and start < other.span.end for other in part.lines if other is not line
            ):
                continue
            gone = (Span(start, end), "")
            yield Change((gone,), start)
            again = _numbered_anew(own[at + 1 :], text)
            if again:
                yield Change((gone, *again), start)


def _numbered_anew(after: list[RowLine], text: str) -> tuple[tuple[Span, str], ...]:
    """The labels of the rows behind a cut, each one less; nothing where one of them is no plain number, or rows are
    spoken of by number."""
    edits = []
    for line in after:
        label = line.label
        spans = digits_of_label(line)
        if label.ranged or label.numbers or label.every or label.next_rows is not None or len(spans) != 1:
            return ()
        if re.search(r"\b(?:rnds?|rows?|rounds?)\s+\d", text[label.span.end : line.span.end], re.IGNORECASE):
            return ()
        edits.append((spans[0], str(int(spans[0].of(text)) - 1)))
    return tuple(edits)


def digits_of_label(line: RowLine) -> list[Span]:
    """The numbers of a label that the page writes, one for all sizes or one for each."""
    amount = line.label.last
    return list(dict.fromkeys(amount.spans)) if amount is not None else []


@kind("a range mistyped")
def range_mistyped(clean: Clean) -> Iterator[Change]:
    """A number of a range: in a label, or of the rows that are worked again."""
    for line in lines(clean.reading):
        spans: list[Span] = []
        if isinstance(line, RowLine) and line.label.ranged and not line.label.numbers:
            spans += digits(clean.reading, line.label.span)
        for node in within(line.nodes, Copy):
            assert isinstance(node, Copy)
            if node.first is not None and node.last is not None and not node.part and node.first != node.last:
                spans += [
                    span
                    for span in digits(clean.reading, node.span)
                    if _within(span, (node.first.span, node.last.span))
                ]
        for span in dict.fromkeys(spans):
            yield from (change(span, new) for new in others(span.of(clean.text)))


def _within(span: Span, outer: tuple[Span, ...]) -> bool:
    return any(one.start <= span.start and span.end <= one.end for one in outer)


@kind("a long stitch too deep")
def too_deep(clean: Clean) -> Iterator[Change]:
    """A depth said in a row or in a definition made greater than the rows that lie below."""
    reading = clean.reading
    deepest: dict[int, int] = {}
    for row in reading.tally.rows():
        deepest.setdefault(id(row.line), _rows_below(clean, row))
    for line in rows(reading):
        there = deepest.get(id(line), 0)
        for work in within(line.nodes, Work):
            assert isinstance(work, Work)
            if work.into.below is not None:
                for span in digits(reading, work.into.below.span):
                    yield from (change(span, str(there + more)) for more in (1, 2, 3))
    for definition in reading.pattern.defined:
        if definition.deep is None:
            continue
        using = [
            row
            for row in reading.tally.rows()
            if any(run.below > 1 for result in row.results if result is not None for run in distinct(result.made))
        ]
        spans = digits(reading, definition.deep.span)
        if using and spans:
            there = min(_rows_below(clean, row) for row in using)
            yield from (
                change(spans[0], str(there + more), also=tuple(row.line.span.start for row in using))
                for more in (1, 2, 3)
            )


def _rows_below(clean: Clean, row: RowTally) -> int:
    """How many rows lie below one in its piece, and its foundation."""
    for piece in clean.reading.tally.pieces:
        for at, other in enumerate(piece.rows):
            if other is row:
                return at + 1
    return 0
