"""`roundhand measure`: finished measurements, relaxed and stretched, in every size."""

from __future__ import annotations

import click


@click.command("measure", short_help="finished measurements, relaxed and stretched")
@click.argument("paths", nargs=-1, required=True, metavar="PATTERN...")
@click.option("--size", metavar="S", help="One size alone: its name, the beginning of it, or its number.")
@click.option("--json", "as_json", is_flag=True, help="The answer as data; with several patterns a line for each.")
def command(paths: tuple[str, ...], size: str | None, as_json: bool) -> int:
    """Measures what the counts and the gauge make: widths, depths, ease, and the lengths at which one may stop."""
    from roundhand.cli.screen.answering import answered
    from roundhand.cli.screen.line import Line
    from roundhand.cli.screen.measured import measure_remarks, measure_tables
    from roundhand.cli.screen.tables import Grid
    from roundhand.workshop import Reading, measure, measures

    def page(reading: Reading, asked: int | None, cells: int | None, width: int) -> tuple[list[Grid], list[Line]]:
        found = measures(reading)
        return measure_tables(reading, found, asked, cells), measure_remarks(found, width)

    return answered(paths, size, as_json, measure, page)
