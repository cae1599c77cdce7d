"""A pattern put into house style, with missing counts filled in and its terms exchanged where that is asked for."""

from __future__ import annotations

import difflib
from typing import Literal

import msgspec
from msgspec import UNSET, UnsetType

from roundhand.findings import Edit, Source, Span
from roundhand.notation.shifting import shift
from roundhand.notation.tidying import edited, tidy
from roundhand.tally import RowTally
from roundhand.workshop.reading import Reading, understand


class LineChange(msgspec.Struct, frozen=True):
    """Lines of the page that become others; `line` is the first of them, counted from 1."""

    line: int
    before: str
    after: str


class TidyAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """The answer of `tidy`: whether anything changes, what, and the lines of rows that were left as they stand
    because they are not wholly understood. `path` is there only where several files were asked for."""

    schema: Literal["roundhand.tidy/1"] = "roundhand.tidy/1"
    path: str | UnsetType = UNSET
    changed: bool
    changes: tuple[LineChange, ...]
    left: tuple[int, ...]


class TidiedPattern(msgspec.Struct, frozen=True):
    """A text before and after; `left` are the first lines of the rows left as they stand, counted from 1."""

    before: str
    after: str
    left: tuple[int, ...]

    @property
    def changed(self) -> bool:
        """Whether anything changes."""
        return self.before != self.after


def tidied(reading: Reading, counts: bool = False, terms: Literal["US", "UK"] | None = None) -> TidiedPattern:
    """A pattern in house style; `counts` fills in the counts that no row states, `terms` exchanges the terms first.

    The stitches stay what they were, and her sentences as they stand.

    >>> reading = understand("Cap\\n\\nRND 1.  6 single crochet in a magic ring\\nRnd 2: inc in each st around")
    >>> print(tidied(reading, counts=True, terms="UK").after)
    Cap
    Terms: UK
    <BLANKLINE>
    Rnd 1: 6 dc in a magic ring. (6 sts)
    Rnd 2: Inc in each st around. (12 sts)
    """
    text = reading.source.text
    if terms is not None:
        text = shift(text, terms)
    found = tidy(text)
    after = found.text
    if counts:
        after = edited(after, _missing_counts(understand(after)))
    source = Source(text)
    left = tuple(sorted({source.place(span.start)[0] for span in found.left}))
    return TidiedPattern(reading.source.text, after, left)


def _missing_counts(reading: Reading) -> list[Edit]:
    """A count behind every row that states none, where all of its sizes could be worked and nothing is wrong there."""
    text = reading.source.text
    wrong = [finding.span for finding in reading.findings if finding.severity == "error"]
    rows: dict[Span, list[RowTally]] = {}
    for row in reading.tally.rows():
        rows.setdefault(row.line.span, []).append(row)
    edits = []
    for span, own in rows.items():
        line = own[0].line
        if line.stated or not line.nodes or any(_touches(span, other) for other in wrong):
            continue
        ends = [[row for row in own if row.labels[size] is not None][-1:] for size in line.sizes]
        counts = [end[0].worked[size] if end else None for size, end in zip(line.sizes, ends, strict=True)]
        unknown = any(end and count is None for end, count in zip(ends, counts, strict=True))
        if unknown or not any(counts):
            continue
        said = ["-" if count is None else str(count) for count in counts]
        value = said[0] if len(set(said)) == 1 else f"{said[0]} ({', '.join(said[1:])})"
        end = span.start + len(span.of(text).rstrip())
        stop = "" if text[:end].endswith((".", ")", ":")) else "."
        edits.append(Edit(Span(end, end), f"{stop} ({value} {'st' if value == '1' else 'sts'})", "sure"))
    return edits


def _touches(one: Span, other: Span) -> bool:
    return one.start < other.end and other.start < one.end


def _lines(text: str) -> list[str]:
    """The lines of a text as everything else counts them, without their ends."""
    source = Source(text)
    return [source.line(number) for number in range(1, source.line_count + 1)]


def difference(found: TidiedPattern, name: str) -> str:
    """What changes, in the unified form that version control shows; empty where nothing does."""
    lines = difflib.unified_diff(_lines(found.before), _lines(found.after), name, f"{name} (tidied)", lineterm="", n=0)
    return "\n".join(lines)


def tidy_answer(found: TidiedPattern, path: str | None = None) -> TidyAnswer:
    """The answer of `tidy` as data."""
    before, after = _lines(found.before), _lines(found.after)
    changes = [
        LineChange(start + 1, "\n".join(before[start:end]), "\n".join(after[first:last]))
        for tag, start, end, first, last in difflib.SequenceMatcher(None, before, after, autojunk=False).get_opcodes()
        if tag != "equal"
    ]
    return TidyAnswer(
        path=path if path is not None else UNSET, changed=found.changed, changes=tuple(changes), left=found.left
    )
