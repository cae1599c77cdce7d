"""How a verb answers for one pattern or several: its tables and remarks, or its data, and what stood in the way."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import msgspec

from roundhand.cli.screen.counted import queries_elsewhere
from roundhand.cli.screen.line import BLANK, Line, line
from roundhand.cli.screen.opening import named, opened
from roundhand.cli.screen.queries import query, understood_lines
from roundhand.cli.screen.tables import Grid, plain_lines
from roundhand.cli.screen.terminal import is_terminal, page_width, say, say_json, say_wrong
from roundhand.workshop import Reading, UseError, encode, size_of, spoken

# Gives the tables and the lines below them, for a pattern, a size, the cells that a table may fill and those of a line.
Page = Callable[[Reading, int | None, int | None, int], tuple[Sequence[Grid], Sequence[Line]]]
Answer = Callable[[Reading, int | None, str | None], msgspec.Struct]


def answered(
    paths: Sequence[str], size: str | None, as_json: bool, answer: Answer, page: Page, rowless: bool = False
) -> int:
    """Shows what `page` or, for data, `answer` makes of each pattern, and gives the exit status. `rowless`
    answers can be given for a page without rows as well.

    A pattern that cannot be read, or has no such size, does not keep the others. Lines beside the pattern that make no
    sense are told on standard error and do not change the status.
    """
    files, slips, many = named(paths, folders=False)
    shown = 0
    for path, reading in opened(files):
        if isinstance(reading, UseError):
            slips.append(reading)
            continue
        try:
            asked = size_of(reading, size) if size is not None else None
            name = spoken(path) if many else None
            data = encode(answer(reading, asked, name)) if as_json else b""
            tables, lines = ([], []) if as_json else page(reading, asked, _cells(), page_width())
        except UseError as slip:
            slips.append(UseError(f"{spoken(path)}: {slip}") if many else slip)
            continue
        if as_json:
            say_json(data)
        else:
            say([*([BLANK] if shown else []), line(f"== {path}", "faint")] if many else [])
            _show(reading, asked, tables, lines, rowless)
        shown += 1
        for sentence in reading.said:
            say_wrong(sentence)
    for sentence in map(str, slips):
        say_wrong(sentence)
    return 2 if slips else 0


def _cells() -> int | None:
    """The width that a table may fill: that of a terminal; what goes into a file has none."""
    return page_width() if is_terminal() else None


def _show(reading: Reading, asked: int | None, tables: Sequence[Grid], lines: Sequence[Line], rowless: bool) -> None:
    say(understood_lines(reading, asked, page_width()))
    nothing = [finding for finding in reading.findings if finding.name == "nothing-to-work"]
    if nothing and not rowless:
        say([BLANK, *query(reading, nothing[0], page_width())])
        return
    for grid in tables:
        say([BLANK])
        if is_terminal():
            from roundhand.cli.screen.rich_page import print_grid

            print_grid(grid)
        else:
            say(plain_lines(grid))
    say([*lines, *queries_elsewhere(reading)])
