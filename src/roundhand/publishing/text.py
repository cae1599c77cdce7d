"""The leaflet as plain text, at most 72 signs a line, for letters, testers and small screens."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import groupby

from roundhand.publishing.figures import size_list
from roundhand.publishing.leaflet import Block, Chart, Entry, Leaflet, Section
from roundhand.publishing.tables import TableRow, measured_table, stated_table, yarn_table
from roundhand.publishing.words import Run, Words, said
from roundhand.terms import side

WIDTH = 72

FILLED = "What stands in [brackets like these] was worked out from the rows; the rest is as the designer wrote it."

# Holds the words of a count together while lines are broken; no text holds it, since it cannot be seen.
_TIE = "\x1f"
# "of Rnd 8" is not broken either: a line that begins with "Rnd 8" would read as a row of its own.
_ROW_NAMED = re.compile(r"(?<=\S) (?:Rnds?|Rows?|Rounds?|RNDS?|ROWS?|ROUNDS?)\.? (?=\d)")


def plain_text(leaflet: Leaflet) -> str:
    """The leaflet in plain text, with a line end after the last line.

    A word longer than a line stands on a line of its own. Continued lines are indented.

    >>> from roundhand import notation, tally
    >>> from roundhand.findings import Source
    >>> from roundhand.publishing import leaflet
    >>> text = "Cap\\nRnd 1: 6 sc in a magic ring. (6)\\nRnd 2: Inc in each st around."
    >>> pattern, _ = notation.read(text)
    >>> for line in plain_text(leaflet(Source(text), pattern, tally.count(pattern)[0])).splitlines()[-2:]:
    ...     print(line)
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: Inc in each st around. [12 sts]
    """
    return "\n".join(_tidy(_lines(leaflet))) + "\n"


def _lines(leaflet: Leaflet) -> Iterator[str]:
    yield from _wrapped(leaflet.title, hang=0)
    yield "=" * min(len(leaflet.title), WIDTH)
    yield ""
    for words in leaflet.intro:
        yield from _wrapped(said(words), hang=0)
        yield ""
    yield from _entries((*leaflet.about, *leaflet.version))
    yield ""
    if len(leaflet.sizes) > 1:
        yield from _wrapped(f"Sizes: {size_list(leaflet.sizes)}")
    for row in stated_table(leaflet):
        yield from _row(row)
    yield f"Terms: {leaflet.language}"
    yield from _entries(leaflet.size_notes)
    tension = "gauge" if side(leaflet.language) == "US" else "tension"
    measured = measured_table(leaflet)
    if measured:
        yield from _heading(f"WORKED OUT FROM THE COUNTS AND THE {tension.upper()}")
        for row in measured:
            yield from _row(row)
    if leaflet.materials or leaflet.needs:
        yield from _heading("MATERIALS")
        yield from _entries(leaflet.materials)
        for row in yarn_table(leaflet):
            yield from _row(row)
    if leaflet.gauge:
        yield from _heading(tension.upper())
        yield from _entries(leaflet.gauge)
    if leaflet.listed or leaflet.abbreviations:
        yield from _heading("ABBREVIATIONS")
        yield from _entries(leaflet.listed)
        for one in leaflet.abbreviations:
            yield from _wrapped(f"{one.short}: {one.meaning}")
    if leaflet.special:
        yield from _heading("SPECIAL STITCHES")
        yield from _entries(leaflet.special)
    for section in leaflet.opening:
        yield from _section(section)
    if leaflet.fills:
        yield ""
        yield from _wrapped(FILLED, hang=0)
    for section in (*leaflet.sections, *leaflet.closing):
        yield from _section(section)
    if leaflet.charts:
        yield from _heading("NOTES ON THE CHART" if len(leaflet.charts) == 1 else "NOTES ON THE CHARTS")
    for chart in leaflet.charts:
        yield from _chart(chart)


def _section(section: Section) -> Iterator[str]:
    yield from _heading(section.name.upper())
    for block in section.blocks:
        words = " ".join(_pieces(block, _tied, _with_lists_tied))
        tied = _ROW_NAMED.sub(lambda name: name[0].replace(" ", _TIE), words)
        for line in _wrapped(tied, hang=0 if block.kind == "prose" else 4):
            yield line.replace(_TIE, " ")
        if section.kind == "notes":
            yield ""


def block_text(block: Block) -> str:
    """A line of a section with its label in front, and what was filled in behind."""
    return " ".join(_pieces(block, said, said))


def _pieces(block: Block, count: Callable[[Words], str], other: Callable[[Words], str]) -> Iterator[str]:
    """The pieces of a line, its counts and its other words each said by a function of their own."""
    if block.label:
        yield other(block.label)
    if block.numbers:
        yield f"[{other(block.numbers)}]"
    if block.words:
        groups = groupby(block.words, key=lambda run: run.count)
        yield "".join((count if counted else other)(tuple(runs)) for counted, runs in groups)
    for filled in block.filled:
        yield count((Run("["), *filled.words, Run("]")))


def _tied(words: Words) -> str:
    """A count with ties for spaces, if it can stand on one line with its row's last words."""
    text = said(words)
    return text.replace(" ", _TIE) if len(text) <= WIDTH // 2 else text


def _with_lists_tied(words: Words) -> str:
    """Words in which a list of sizes, `54 (60, 66)`, has ties for spaces, so that no line begins with a number."""
    told = [run.text for run in words]
    for at in range(1, len(words) - 1):
        if words[at - 1].sizes and words[at + 1].sizes:
            told[at] = told[at].replace(" ", _TIE)
    return "".join(told)


def _chart(chart: Chart) -> Iterator[str]:
    yield from _wrapped(f"{chart.title}. {chart.description}", hang=0)
    yield ""
    for line in chart.words:
        # A chart's line may begin like a row's; it is told from one by the word in front.
        yield from _wrapped(f"Chart, {line}")
    yield ""


def _entries(entries: Iterable[Entry]) -> Iterator[str]:
    for entry in entries:
        yield from _wrapped(f"{entry.key}: {said(entry.words)}" if entry.key else said(entry.words))


def _row(row: TableRow) -> Iterator[str]:
    """A row of a table as lists of sizes, a list for each unit."""
    most = max(len(cell) for cell in row.cells)
    head = f"{row.head}: "
    for at in range(most):
        parts = [cell[at] if at < len(cell) else None for cell in row.cells]
        units = {part.unit.removesuffix("s") for part in parts if part is not None and part.unit}
        values = [part.number if part is not None else None for part in parts]
        unit = next((part.unit for part in reversed(parts) if part is not None and part.unit), "")
        if len(units) > 1:  # Sizes in different units are told one by one.
            values = [f"{part.number} {part.unit}" if part is not None else None for part in parts]
            unit = ""
        said_units = f" {unit}" if unit else ""
        yield from _wrapped(f"{head if at == 0 else '    '}{size_list(values)}{said_units}")


def _heading(name: str) -> Iterator[str]:
    yield ""
    yield from _wrapped(name, hang=0)
    yield ""


def _wrapped(text: str, hang: int = 4) -> Sequence[str]:
    lead = text[: len(text) - len(text.lstrip(" "))]
    return textwrap.wrap(
        text.strip(),
        WIDTH,
        initial_indent=lead,
        subsequent_indent=" " * max(hang, len(lead)),
        break_long_words=False,
        break_on_hyphens=False,
    )


def _tidy(lines: Iterable[str]) -> Iterator[str]:
    """The lines with no two empty ones after each other and none at the end."""
    empty = 0
    for line in lines:
        if not line.strip():
            empty += 1
            continue
        if empty:
            yield ""
        empty = 0
        yield line.rstrip()
