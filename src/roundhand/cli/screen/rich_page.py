"""What only a terminal gets, drawn by rich: colours, ruled tables, and a bar for what takes its time."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from rich import box
from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn
from rich.table import Table
from rich.text import Text

from roundhand.cli.screen.letters import plain
from roundhand.cli.screen.line import Line, Tone
from roundhand.cli.screen.tables import Grid

# Named for the dyes of DESIGN: madder, weld and woad in what a terminal has of them.
_STYLES: Mapping[Tone, str] = {
    "": "",
    "title": "bold",
    "error": "bold red",
    "warning": "yellow",
    "advice": "blue",
    "faint": "dim",
}


def print_lines(lines: Sequence[Line]) -> None:
    """Prints lines with their tones. Nothing in their words is taken for a command of rich."""
    console = Console(highlight=False)
    for pieces in lines:
        console.print(_text(pieces), soft_wrap=True)


def print_grid(grid: Grid) -> None:
    """Prints a table of counts with a rule under its head and before every section."""
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, show_edge=False, show_header=any(grid.head))
    for at, name in enumerate(grid.head):
        table.add_column(Text(plain(name)), justify="right" if at in grid.numbers else "left", no_wrap=True)
    for section in grid.sections:
        if section.name:
            table.add_row(Text(plain(section.name), "bold"))
        for cells in section.rows:
            table.add_row(*(Text(plain(cell), _STYLES[grid.tone(at, cell)]) for at, cell in enumerate(cells)))
        table.add_section()
    Console(highlight=False).print(table)


def with_bar(names: Sequence[str]) -> Iterator[str]:
    """Gives the names one by one and shows on standard error how far it is."""
    console = Console(stderr=True, highlight=False)
    with Progress(TextColumn("{task.description}", markup=False), BarColumn(), console=console, transient=True) as bar:
        task = bar.add_task("", total=len(names))
        for name in names:
            bar.update(task, description=plain(name))
            yield name
            bar.advance(task)


class Bar:
    """How far a run of so many files is, shown on standard error until it is closed."""

    def __init__(self, files: int) -> None:
        columns = (BarColumn(), MofNCompleteColumn(), TextColumn("{task.description}", markup=False))
        self._bar = Progress(*columns, console=Console(stderr=True, highlight=False), transient=True)
        self._task = self._bar.add_task("", total=files)
        self._bar.start()

    def reach(self, files: int, name: str) -> None:
        """So many files are done, the last of them this one."""
        self._bar.update(self._task, completed=files, description=plain(name))

    def close(self) -> None:
        """Takes the bar away."""
        self._bar.stop()


def _text(pieces: Line) -> Text:
    text = Text()
    for piece in pieces:
        text.append(plain(piece.text), _STYLES[piece.tone])
    return text
