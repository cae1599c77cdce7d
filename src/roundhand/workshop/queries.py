"""The queries of the edit as a page shows them: the weightiest first, each with its mends before and after."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

import msgspec

from roundhand.findings import Edit, Finding, Severity, Span
from roundhand.workshop.answers import concerning
from roundhand.workshop.reading import Reading
from roundhand.workshop.spelling import spelt_finding

Weight = Literal["Fix", "Look", "Consider"]
_WEIGHTS: Mapping[Severity, Weight] = {"error": "Fix", "warning": "Look", "advice": "Consider"}
_ORDER: tuple[Severity, ...] = ("error", "warning", "advice")


class Noted(msgspec.Struct, frozen=True):
    """Words that a query speaks of, from `start` up to, not including, `end`, and what it says of them."""

    start: int
    end: int
    label: str


class Mending(msgspec.Struct, frozen=True):
    """One way to mend a fault: put `text` from `start` to `end`. `sure` leaves the fabric as it is, `ask` changes what
    is made. `before` and `after` are the lines of the page that it touches. Of several ways one is taken."""

    start: int
    end: int
    text: str
    certainty: Literal["sure", "ask"]
    before: str
    after: str


class PageQuery(msgspec.Struct, frozen=True):
    """A query. `row` is the label of the row it is on, empty for a query on no row; `line` counts from 1; `start` and
    `end` are where its words stand, in code points. `label` stands beside those words, `notes` are other places it
    speaks of. `leave` is the line that says it is meant so. `follows` names its cause as the name of the query, its
    line and column, and `follow` is how many follow from this one."""

    name: str
    weight: Weight
    row: str
    headline: str
    because: str
    help: str
    line: int
    column: int
    start: int
    end: int
    label: str
    sizes: tuple[str, ...]
    notes: tuple[Noted, ...]
    edits: tuple[Mending, ...]
    leave: str
    follows: str | None
    follow: int


def page_queries(reading: Reading, size: int | None = None) -> tuple[PageQuery, ...]:
    """All queries on a pattern, or what of them concerns a size: the weightiest first, then by the page.

    >>> from roundhand.workshop.reading import understand
    >>> reading = understand("Cap\\n\\nRnd 1: 6 sc in a magic ring. (6)\\nRnd 2: inc in each st around. (13)")
    >>> found = page_queries(reading)[0]
    >>> found.weight, found.row, found.headline, found.leave
    ('Fix', 'Rnd 2', '13 written, 12 worked', 'Editor: leave count-differs in Rnd 2')
    >>> [(edit.before, edit.after) for edit in found.edits]
    [('Rnd 2: inc in each st around. (13)', 'Rnd 2: inc in each st around. (12)')]
    """
    findings = concerning(reading, size)
    parts = _parts(reading)
    followers: dict[str, int] = {}
    for finding in findings:
        if finding.follows:
            followers[finding.follows] = followers.get(finding.follows, 0) + 1
    ordered = sorted(findings, key=lambda one: (bool(one.follows), _ORDER.index(one.severity)))
    return tuple(_query(reading, finding, parts, followers) for finding in ordered)


def leaving(name: str, row: str, part: str) -> str:
    """The editor's word that says a query is meant so.

    >>> leaving("count-differs", "Rnd 4", "Crown"), leaving("gauge-missing", "", "")
    ('Editor: leave count-differs in Rnd 4 of Crown', 'Editor: leave gauge-missing')
    """
    where = f" in {row}{f' of {part}' if part else ''}" if row else ""
    return f"Editor: leave {name}{where}"


def _query(
    reading: Reading, finding: Finding, parts: list[tuple[Span, str]], followers: Mapping[str, int]
) -> PageQuery:
    said = spelt_finding(finding, reading.pattern.language)
    line, column = reading.source.place(finding.span.start)
    return PageQuery(
        finding.name,
        _WEIGHTS[finding.severity],
        finding.row,
        finding.headline,
        said.because,
        said.help,
        line,
        column,
        finding.span.start,
        finding.span.end,
        finding.label,
        finding.sizes,
        tuple(Noted(mark.span.start, mark.span.end, mark.label) for mark in finding.see if mark.span != finding.span),
        # A mend that leaves the words as they are is none.
        tuple(_mending(reading, edit) for edit in finding.edits if edit.text != edit.span.of(reading.source.text)),
        leaving(finding.name, finding.row, _part_at(parts, finding.span.start)),
        finding.follows or None,
        followers.get(f"{finding.name} {line}:{column}", 0),
    )


def _mending(reading: Reading, edit: Edit) -> Mending:
    source = reading.source
    first, _ = source.place(edit.span.start)
    last, _ = source.place(max(edit.span.start, edit.span.end - 1))
    start, end = source.line_span(first).start, max(source.line_span(last).end, edit.span.end)
    text = source.text
    after = f"{text[start : edit.span.start]}{edit.text}{text[edit.span.end : end]}"
    return Mending(edit.span.start, edit.span.end, edit.text, edit.certainty, text[start:end], after)


def _parts(reading: Reading) -> list[tuple[Span, str]]:
    """The sections with a heading of their own, where there is more than one of rows."""
    parts = [part for part in reading.pattern.parts if part.lines]
    return [(part.span, part.name) for part in parts] if len(parts) > 1 else []


def _part_at(parts: list[tuple[Span, str]], offset: int) -> str:
    before = [name for span, name in parts if span.start <= offset]
    return before[-1] if before else ""
