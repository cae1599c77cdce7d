"""`roundhand sizes`: the counts of a sizing section worked out for every size."""

from __future__ import annotations

import click


@click.command("sizes", short_help="solves the sizing section; --write writes the values")
@click.argument("paths", nargs=-1, required=True, metavar="PATTERN...")
@click.option("--size", metavar="S", help="One size alone: its name, the beginning of it, or its number.")
@click.option("--write", is_flag=True, help="Write the values below their lines, in place of those that stand there.")
@click.option("--json", "as_json", is_flag=True, help="The answer as data; with several patterns a line for each.")
def command(paths: tuple[str, ...], size: str | None, write: bool, as_json: bool) -> int:
    """Works out the named counts of a pattern, such as “body: head less 1 in at 14 sts = 4 in; multiple of 8”.

    Shows for every size what was aimed at, what comes out, and the next counts on each side; where rules clash, which,
    and what would be enough.
    """
    from roundhand.cli.screen.answering import answered
    from roundhand.cli.screen.line import Line
    from roundhand.cli.screen.solved import solved_remarks, solved_tables
    from roundhand.cli.screen.tables import Grid
    from roundhand.workshop import Reading
    from roundhand.workshop.solving import sizes_answer, solved

    def page(reading: Reading, asked: int | None, cells: int | None, width: int) -> tuple[list[Grid], list[Line]]:
        found = solved(reading)
        return solved_tables(reading, found, asked, cells), solved_remarks(reading, found, width)

    status = answered(paths, size, as_json, sizes_answer, page, rowless=True)
    return _write(paths) or status if write else status


def _write(paths: tuple[str, ...]) -> int:
    """Writes the values into each pattern, and gives the exit status."""
    from pathlib import Path

    from roundhand.cli.screen.line import line
    from roundhand.cli.screen.opening import named, opened
    from roundhand.cli.screen.terminal import say, say_wrong
    from roundhand.workshop import UseError, spoken
    from roundhand.workshop.solving import solved, written
    from roundhand.workshop.writing import write_file

    files, _, _ = named(paths, folders=False)
    wrong = 0
    for path, reading in opened(files):
        if isinstance(reading, UseError):
            continue
        try:
            found = solved(reading)
            text = written(reading, found)
            if text != reading.source.text:
                write_file(Path(path), text.encode("utf-8"))
                say([line(f"{spoken(path)}: values written")])
        except UseError as slip:
            say_wrong(str(slip))
            wrong = 2
    return wrong
