"""`roundhand yarn`: yarn per colour and size, as a range, and what to buy."""

from __future__ import annotations

import click


@click.command("yarn", short_help="yarn per colour and size, and what to buy")
@click.argument("paths", nargs=-1, required=True, metavar="PATTERN...")
@click.option("--size", metavar="S", help="One size alone: its name, the beginning of it, or its number.")
@click.option("--breakdown", is_flag=True, help="What the yarn of one size goes into, line by line.")
@click.option("--json", "as_json", is_flag=True, help="The answer as data; with several patterns a line for each.")
def command(paths: tuple[str, ...], size: str | None, breakdown: bool, as_json: bool) -> int:
    """Reckons the yarn of every colour in every size, from a weighed swatch where the pattern has one."""
    from roundhand.cli.screen.answering import answered
    from roundhand.cli.screen.line import Line
    from roundhand.cli.screen.reckoned import breakdown_tables, yarn_remarks, yarn_tables
    from roundhand.cli.screen.tables import Grid
    from roundhand.workshop import Reading, UseError, reckon, yarn

    if breakdown and as_json:
        raise UseError("A breakdown is for reading and no part of the data; leave out “--breakdown” or “--json”.")

    def page(reading: Reading, asked: int | None, cells: int | None, width: int) -> tuple[list[Grid], list[Line]]:
        found = reckon(reading)
        if not breakdown:
            return yarn_tables(reading, found, asked, cells), yarn_remarks(reading, found, width)
        if asked is None and len(reading.sizes) > 1:
            raise UseError(f"A breakdown is of one size; name it, as in: --size “{reading.sizes[0]}”")
        return breakdown_tables(reading, found, asked or 0), yarn_remarks(reading, found, width, ranges=False)

    return answered(paths, size, as_json, yarn, page)
