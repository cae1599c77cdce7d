"""Answers as plain data: what `--json` prints, the same for a script and for the desk.

Lines and columns count from 1, the end exclusive; `start` and `end` are offsets from 0, all in code points of the
decoded text without its byte-order mark.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

import msgspec
from msgspec import UNSET, UnsetType

from roundhand.findings import Finding, Severity
from roundhand.findings.finding import Fact
from roundhand.tally import RowTally
from roundhand.workshop.colourwork import SizeColours, size_colours
from roundhand.workshop.reading import Reading


class RowCounts(msgspec.Struct, frozen=True):
    """One row. `labels`, `worked` and `stated` hold a value for every size: no label where the size has no such row,
    nothing worked where it could not be worked, nothing stated where the text states no count for it. `open`, there
    only for such rows, tells where the words leave the number to whoever works the row, so that `worked` is what
    usually lies flat."""

    label: str
    labels: tuple[str | None, ...]
    kind: Literal["row", "round"]
    line: int
    colours: tuple[str, ...]
    worked: tuple[int | None, ...]
    stated: tuple[int | None, ...]
    open: tuple[bool, ...] | UnsetType = UNSET


class PieceCounts(msgspec.Struct, frozen=True):
    """A piece with the rows of all its sizes in working order, and how many of it are made in each size."""

    name: str
    make: tuple[int, ...]
    rows: tuple[RowCounts, ...]


class Counts(msgspec.Struct, frozen=True, kw_only=True):
    """The answer of `counts`. `path` is there only where several files were asked for. `colourwork` has an entry for
    every size, none where the pattern names no yarn."""

    schema: Literal["roundhand.counts/1"] = "roundhand.counts/1"
    path: str | UnsetType = UNSET
    sizes: tuple[str, ...]
    pieces: tuple[PieceCounts, ...]
    colourwork: tuple[SizeColours, ...]


class Mend(msgspec.Struct, frozen=True):
    """Replace what stands from `start` to `end` by `text`."""

    start: int
    end: int
    text: str
    certainty: Literal["sure", "ask"]


class Seen(msgspec.Struct, frozen=True):
    """A second place that a query speaks of."""

    start: int
    end: int
    label: str


class Query(msgspec.Struct, frozen=True):
    """A query with its place. `follows` names its cause as `count-differs 12:44`, by line and column."""

    name: str
    severity: Severity
    headline: str
    line: int
    column: int
    end_line: int
    end_column: int
    sizes: tuple[str, ...]
    facts: Mapping[str, Fact]
    help: str
    edits: tuple[Mend, ...]
    see: tuple[Seen, ...]
    follows: str | None


class Summary(msgspec.Struct, frozen=True):
    """How many queries there are of each weight; those that follow from another are not counted."""

    errors: int = 0
    warnings: int = 0
    advice: int = 0

    def __add__(self, other: Summary) -> Summary:
        return Summary(self.errors + other.errors, self.warnings + other.warnings, self.advice + other.advice)


class Check(msgspec.Struct, frozen=True, kw_only=True):
    """The answer of `check`. `path` is there only where several files were asked for, `left` and `standing` only where
    the editor's word leaves queries, or some were let stand before: how many."""

    schema: Literal["roundhand.check/1"] = "roundhand.check/1"
    path: str | UnsetType = UNSET
    findings: tuple[Query, ...]
    summary: Summary
    left: int | UnsetType = UNSET
    standing: int | UnsetType = UNSET


def counts(reading: Reading, size: int | None = None, path: str | None = None) -> Counts:
    """Every row of every size, or of one: the rows of all sizes together in working order.

    >>> from roundhand.workshop.reading import understand
    >>> reading = understand("Cap\\n\\nRnd 1: 6 sc in a magic ring. (6)\\nRnd 2: inc in each st around. (12)")
    >>> encode(counts(reading).pieces[0].rows[1])
    b'{"label":"Rnd 2","labels":["Rnd 2"],"kind":"round","line":4,"colours":[],"worked":[12],"stated":[12]}'
    """
    sizes = tuple(range(len(reading.sizes))) if size is None else (size,)
    return Counts(
        path=UNSET if path is None else path,
        sizes=tuple(reading.sizes[at] for at in sizes),
        pieces=tuple(
            PieceCounts(
                piece.name,
                tuple(piece.made(at) for at in sizes),
                tuple(
                    _row(reading, row, sizes) for row in piece.rows if any(row.labels[at] is not None for at in sizes)
                ),
            )
            for piece in reading.tally.pieces
        ),
        colourwork=tuple(size_colours(reading, at) for at in sizes)
        if any(yarn.label for yarn in reading.pattern.yarns)
        else (),
    )


def check(reading: Reading, size: int | None = None, path: str | None = None) -> Check:
    """The technical edit, or what of it concerns one size.

    >>> from roundhand.workshop.reading import understand
    >>> check(understand("Dear diary")).summary
    Summary(errors=1, warnings=0, advice=0)
    """
    findings = concerning(reading, size)
    return Check(
        path=UNSET if path is None else path,
        findings=tuple(_query(reading, finding) for finding in findings),
        summary=summary(findings),
        left=sum(not one.follows for one in reading.left) or UNSET,
        standing=sum(not one.follows for one in reading.standing) or UNSET,
    )


def concerning(reading: Reading, size: int | None = None) -> tuple[Finding, ...]:
    """The findings on a pattern, or on one size of it: those that name it and those that name no size at all."""
    if size is None:
        return reading.findings
    name = reading.sizes[size]
    return tuple(finding for finding in reading.findings if not finding.sizes or name in finding.sizes)


def summary(findings: tuple[Finding, ...]) -> Summary:
    """How many there are of each weight, without those that follow from another."""
    weights = [finding.severity for finding in findings if not finding.follows]
    return Summary(weights.count("error"), weights.count("warning"), weights.count("advice"))


def encode(answer: msgspec.Struct) -> bytes:
    """An answer as one line of JSON in UTF-8, without a line end.

    >>> encode(Summary(1, 0, 2))
    b'{"errors":1,"warnings":0,"advice":2}'
    """
    return msgspec.json.encode(answer)


def _row(reading: Reading, row: RowTally, sizes: tuple[int, ...]) -> RowCounts:
    labels = tuple(row.label_in(at) or None for at in sizes)
    opened = tuple(row.is_open(at) for at in sizes)
    results = [result for at, result in enumerate(row.results) if at in sizes and result is not None]
    return RowCounts(
        next(label for label in labels if label is not None),
        labels,
        "round" if row.kind == "round" else "row",
        reading.source.place(row.line.label.span.start)[0],
        tuple(dict.fromkeys(colour for result in results for colour in result.colours)),
        tuple(row.worked[at] for at in sizes),
        tuple(row.stated[at] for at in sizes),
        opened if any(opened) else UNSET,
    )


def _query(reading: Reading, finding: Finding) -> Query:
    line, column = reading.source.place(finding.span.start)
    end_line, end_column = reading.source.place(finding.span.end)
    return Query(
        finding.name,
        finding.severity,
        finding.headline,
        line,
        column,
        end_line,
        end_column,
        finding.sizes,
        finding.facts,
        finding.help,
        tuple(Mend(edit.span.start, edit.span.end, edit.text, edit.certainty) for edit in finding.edits),
        tuple(Seen(mark.span.start, mark.span.end, mark.label) for mark in finding.see),
        finding.follows or None,
    )
