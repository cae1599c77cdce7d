"""The counts of a pattern on a page, and the reasons behind one row."""

from __future__ import annotations

import re

from roundhand.cli.screen.letters import width, wrapped
from roundhand.cli.screen.line import BLANK, Line, Piece, line
from roundhand.cli.screen.queries import understood_lines
from roundhand.cli.screen.tables import Grid, grids, plain_lines
from roundhand.measures import say_count
from roundhand.workshop import Reading, Why
from roundhand.workshop.answers import summary
from roundhand.workshop.spelling import spelt
from roundhand.workshop.telling import accounts, heading

_INDENT = 2
_LIST = re.compile(r"\d \(\d")


def tables(reading: Reading, size: int | None, cells: int | None) -> list[Grid]:
    """The tables of all pieces that have rows, or of one size of them."""
    sizes = range(len(reading.sizes)) if size is None else (size,)
    return [
        grid
        for piece in reading.tally.pieces
        if any(row.labels[one] is not None for row in piece.rows for one in sizes)
        for grid in grids(piece, reading.sizes, sizes, cells, spelt("colours", reading.pattern.language))
    ]


def counts_page(reading: Reading, size: int | None, cells: int) -> list[Line]:
    """Everything that `counts` says of a pattern in lines of plain text."""
    page = understood_lines(reading, size, cells)
    for grid in tables(reading, size, None):
        page += [BLANK, *plain_lines(grid)]
    return page + queries_elsewhere(reading)


def queries_elsewhere(reading: Reading) -> list[Line]:
    """A word on the errors there are, for somebody who looks at counts alone."""
    errors = summary(reading.findings).errors
    if not errors:
        return []
    return [BLANK, line(f"{say_count(errors, 'query', 'queries')} to fix: “check” shows what and where.", "error")]


def reasons_page(why: Why, sizes: tuple[str, ...], cells: int) -> list[Line]:
    """Everything that `counts --why` says of a row."""
    page = [line(heading(why), "title"), *(line(words) for words in wrapped(why.text, cells))]
    for own, told in accounts(why):
        page += [BLANK]
        if len(sizes) > 1:
            page += [line(_sizes(own, sizes, told) + ":", "faint")]
        for sentence in told:
            deep = _INDENT + width(sentence) - width(sentence.lstrip())
            for at, words in enumerate(wrapped(sentence, cells - deep - 2)):
                page.append((Piece(" " * (deep + 2 * bool(at))), Piece(words)))
    return page


def _sizes(own: tuple[str, ...], sizes: tuple[str, ...], told: list[str]) -> str:
    """The sizes an account is on, in the form of the numbers in it where they differ: `Toddler (Child, Adult)`."""
    if len(own) == 1:
        return own[0]
    listed = any(_LIST.search(sentence) for sentence in told)
    named = f"{own[0]} ({', '.join(own[1:])})" if listed else ", ".join(own)
    if own != sizes:
        return named
    return f"All sizes, {named}" if listed else "All sizes"
