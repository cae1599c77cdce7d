"""A chart on a page: in words, or where its picture was written."""

from __future__ import annotations

from roundhand.cli.screen.letters import width, wrapped
from roundhand.cli.screen.line import BLANK, Line, Piece, line
from roundhand.cli.screen.queries import understood_lines
from roundhand.workshop import Charted, Reading, spoken

_INDENT = 2


def chart_page(reading: Reading, found: Charted, others: bool, cells: int) -> list[Line]:
    """A chart in words: what it shows, its key, its rows from the first up."""
    made = found.chart
    page = [line(words, "title") for words in wrapped(made.title, cells)]
    page += [line(words) for words in wrapped(made.description, cells)]
    if made.key:
        page += [BLANK, *(row for entry in made.key for row in _hung(entry, cells))]
    page += [BLANK, *(row for words in made.lines for row in _hung(words, cells)), BLANK]
    said = "For the picture, add: --out chart.svg or --out chart.png"
    if others and len(reading.sizes) > 1:
        said += f"; for another size than {spoken(found.size)}, add: --size"
    return [*page, *(line(words, "faint") for words in wrapped(said, cells))]


def drawn_page(reading: Reading, found: Charted, out: str, replaced: bool, cells: int) -> list[Line]:
    """Where a picture was written, and what it shows."""
    made = found.chart
    place = (
        f"Written to {spoken(out)}, in place of the one that was there." if replaced else f"Written to {spoken(out)}."
    )
    page = understood_lines(reading, None, cells)
    page += [BLANK, *(line(words) for words in wrapped(f"{made.title}. {made.description}", cells))]
    # A path is copied from the screen, so it is never broken into lines.
    return [*page, line(place, "advice")]


def _hung(words: str, cells: int) -> list[Line]:
    """A line with what does not fit on it indented below."""
    lines = wrapped(words, cells - _INDENT)
    lead = " " * _INDENT
    return [line(words) if not at else (Piece(lead), Piece(words)) for at, words in enumerate(lines) if width(words)]
