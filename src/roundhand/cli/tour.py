"""A guided tour with a cap of our own: `python3 run.py demo`, or `python -m roundhand.cli.tour`."""

from __future__ import annotations

import os
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from roundhand.cli import guarded
from roundhand.cli.screen.counted import reasons_page, tables
from roundhand.cli.screen.line import BLANK, Line, Piece, line
from roundhand.cli.screen.measured import measure_tables
from roundhand.cli.screen.published import published_page
from roundhand.cli.screen.queries import edit_page
from roundhand.cli.screen.reckoned import yarn_tables
from roundhand.cli.screen.tables import plain_lines
from roundhand.cli.screen.terminal import page_width, say
from roundhand.workshop import (
    Reading,
    measures,
    open_pattern,
    publish,
    reckon,
    shipped_patterns,
    size_of,
    spoken,
    why,
)

_CAP = "saltmarsh-cap.txt"
_WITH_SLIPS = "_faulty/saltmarsh-cap-with-slips.txt"
_SIZE = "Adult S"
_ROW, _ROW_SIZE = "Rnd 20 of Sides", "Child"
_INDENT = "    "


def stations() -> Iterator[list[Line]]:
    """The stations of the tour, each ready to be shown as soon as it is worked out."""
    folder = shipped_patterns()
    cap = open_pattern(folder / _CAP)
    cells = page_width() - len(_INDENT)
    yield [
        line("roundhand reads a crochet pattern as its designer writes it and works every row of every size."),
        line("This is what it makes of the Saltmarsh Cap: five sizes, crown down, two colours, a ribbed band."),
    ]
    yield [*_command("check", folder / _CAP), *_inset(edit_page(cap, None, cells))]
    size = size_of(cap, _SIZE)
    rows = [
        *_command("counts", folder / _CAP, f'--size "{_SIZE}"'),
        *_inset([row for grid in tables(cap, size, None) for row in plain_lines(grid)]),
    ]
    yield [line("Every row has been worked in every size. These are the rows of one:"), BLANK, *rows]
    slips = open_pattern(folder / _WITH_SLIPS)
    edit = [*_command("check", folder / _WITH_SLIPS), *_inset(edit_page(slips, None, cells))]
    yield [line("Now the same cap with six slips in it, such as happen to every designer:"), BLANK, *edit]
    told = why(slips, _ROW, size_of(slips, _ROW_SIZE))
    asked = f'--why "{_ROW}" --size {_ROW_SIZE}'
    reasons = [*_command("counts", folder / _WITH_SLIPS, asked), *_inset(reasons_page(told, slips.sizes, cells))]
    yield [line("Every number has a reason. Why does that round of the Child size come to 64?"), BLANK, *reasons]
    measured = [
        *_command("measure", folder / _CAP),
        *_inset([row for grid in measure_tables(cap, measures(cap), None, None) for row in plain_lines(grid)]),
    ]
    yield [line("Counts and gauge give the finished measurements, in inches and centimetres:"), BLANK, *measured]
    reckoned = [
        *_command("yarn", folder / _CAP),
        *_inset([row for grid in yarn_tables(cap, reckon(cap), None, None) for row in plain_lines(grid)]),
    ]
    yield [line("The weighed swatch of the pattern tells what each size takes of each yarn:"), BLANK, *reckoned]
    yield _published(cap, folder / _CAP, cells)
    yield [
        line("Your own pattern: save it as plain text, as you would send it to a tester, and ask the same.", "title"),
        BLANK,
        line(f"{_INDENT}{_roundhand()} check my-pattern.txt", "advice"),
        line(f"{_INDENT}{_roundhand()} publish my-pattern.txt", "advice"),
        BLANK,
        line("Or open the desk in your browser, where counts and queries stand beside the text while you type:"),
        BLANK,
        line(f"{_INDENT}{_roundhand()} desk", "advice"),
        BLANK,
        line("Your file stays as it is, and everything stays on this computer."),
    ]


def _published(cap: Reading, path: Path, cells: int) -> list[Line]:
    """Publishes the cap into a folder of its own, away from anybody's files, and says where that is."""
    place = Path(tempfile.mkdtemp(prefix="roundhand-demo-")) / f"{path.stem}-published"
    found = publish(cap, place)
    return [
        line("And all of it together, as makers get it: a page, leaflets to print, the chart and plain text."),
        BLANK,
        *_command("publish", path, f"--out {spoken(place)}"),
        *_inset(published_page(cap, found, cells)),
        BLANK,
        line("The page to look at first:"),
        line(f"{_INDENT}{spoken(place / 'index.html')}", "title"),
    ]


def _command(verb: str, path: Path, more: str = "") -> list[Line]:
    """What somebody would type for the answer that stands below it."""
    typed = " ".join(word for word in (_roundhand(), verb, _near(path), more) if word)
    return [line(f"{_INDENT}{typed}", "advice"), BLANK]


def _roundhand() -> str:
    """How roundhand is called from here: by run.py where it stands in the folder that one is in."""
    return "python3 run.py" if (shipped_patterns().parent / "run.py").is_file() else "roundhand"


def _near(path: Path) -> str:
    """A path as short as it can be typed from here."""
    here = Path.cwd()
    return spoken(os.path.relpath(path, here) if path.is_relative_to(here) else path)


def _inset(lines: list[Line]) -> list[Line]:
    return [(Piece(_INDENT), *pieces) if pieces else BLANK for pieces in lines]


def show() -> int:
    """Shows the tour and gives the exit status."""
    for at, station in enumerate(stations()):
        say([*([BLANK] if at else []), *station])
    return 0


if __name__ == "__main__":
    sys.exit(guarded(show))
