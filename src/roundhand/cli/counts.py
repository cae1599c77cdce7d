"""`roundhand counts`: every row of every size, and the reasons behind one of them."""

from __future__ import annotations

import click


@click.command("counts", short_help="the count of every row in every size")
@click.argument("paths", nargs=-1, required=True, metavar="PATTERN...")
@click.option("--why", "row", metavar="ROW", help="How one row comes to its count, such as “Rnd 6” or “Row 2 of Band”.")
@click.option("--size", metavar="S", help="One size alone: its name, the beginning of it, or its number.")
@click.option("--json", "as_json", is_flag=True, help="The answer as data; with several patterns a line for each.")
def command(paths: tuple[str, ...], row: str | None, size: str | None, as_json: bool) -> int:
    """Works every row of every size and tells the counts, and where the page states another."""
    from roundhand.cli.screen.counted import counts_page, queries_elsewhere, reasons_page, tables
    from roundhand.cli.screen.line import BLANK, line
    from roundhand.cli.screen.opening import named, opened
    from roundhand.cli.screen.queries import query, understood_lines
    from roundhand.cli.screen.terminal import is_terminal, page_width, say, say_json, say_wrong
    from roundhand.workshop import Reading, UseError, counts, encode, size_of, spoken, why

    def show(reading: Reading, asked: int | None) -> None:
        nothing = [finding for finding in reading.findings if finding.name == "nothing-to-work"]
        if nothing:
            say([*understood_lines(reading, asked, page_width()), BLANK, *query(reading, nothing[0], page_width())])
        elif is_terminal():
            from roundhand.cli.screen.rich_page import print_grid

            say(understood_lines(reading, asked, page_width()))
            for grid in tables(reading, asked, page_width()):
                say([BLANK])
                print_grid(grid)
            say(queries_elsewhere(reading))
        else:
            say(counts_page(reading, asked, page_width()))

    files, slips, many = named(paths, folders=False)
    if row is not None and many:
        raise UseError("The reasons behind a row can be asked of one pattern at a time; name one pattern.")
    for at, (path, reading) in enumerate(opened(files)):
        if isinstance(reading, UseError):
            slips.append(reading)
            continue
        try:
            asked = size_of(reading, size) if size is not None else None
            told = why(reading, row, asked) if row is not None else None
        except UseError as slip:
            slips.append(UseError(f"{spoken(path)}: {slip}") if many else slip)
            continue
        if as_json:
            say_json(encode(told or counts(reading, asked, spoken(path) if many else None)))
            continue
        if many:
            say([*([BLANK] if at else []), line(f"== {path}", "faint")])
        if told is not None:
            say(reasons_page(told, reading.sizes, page_width()))
        else:
            show(reading, asked)
    for sentence in map(str, slips):
        say_wrong(sentence)
    return 2 if slips else 0
