"""`roundhand chart`: the colour chart of a pattern, as a picture or in words."""

from __future__ import annotations

import click


@click.command("chart", short_help="the colour chart, as a picture or in words")
@click.argument("path", metavar="PATTERN")
@click.option("--size", metavar="S", help="The size to draw: its name, the beginning of it, or its number.")
@click.option("--out", metavar="FILE", help="The picture to write, such as chart.svg or chart.png.")
@click.option("--json", "as_json", is_flag=True, help="The answer as data, with the picture as SVG in it.")
def command(path: str, size: str | None, out: str | None, as_json: bool) -> int:
    """Draws the piece that has most to show; without “--out” it is told in words."""
    from pathlib import Path

    from roundhand.cli.screen.charted import chart_page, drawn_page
    from roundhand.cli.screen.opening import opened_alone
    from roundhand.cli.screen.terminal import page_width, say, say_json
    from roundhand.workshop import UseError, chart, chart_answer, encode, picture, size_of, write_file

    kind = Path(out).suffix.lower() if out is not None else ""
    if out is not None and kind not in (".svg", ".png"):
        raise UseError("A chart is written as a .svg or a .png file, as in: --out chart.svg")
    reading = opened_alone(path)
    found = chart(reading, size_of(reading, size) if size is not None else None)
    replaced = out is not None and write_file(Path(out), picture(found, "png" if kind == ".png" else "svg"))
    if as_json:
        say_json(encode(chart_answer(found)))
    elif out is not None:
        say(drawn_page(reading, found, out, replaced, page_width()))
    else:
        say(chart_page(reading, found, size is None, page_width()))
    return 0
