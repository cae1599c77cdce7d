"""`roundhand publish`: page, leaflets, chart and plain text in a folder."""

from __future__ import annotations

import click


@click.command("publish", short_help="page, leaflets, chart and text in a folder")
@click.argument("path", metavar="PATTERN")
@click.option("--out", metavar="FOLDER", help="The folder to make; else one named after the pattern, where you are.")
@click.option("--anyway", is_flag=True, help="Publish although there are queries to fix.")
@click.option("--json", "as_json", is_flag=True, help="The answer as data.")
def command(path: str, out: str | None, anyway: bool, as_json: bool) -> int:
    """Makes a folder with all that a maker is given. Where a query is to be fixed it makes none and ends with 1.

    A folder that was published before is replaced; any other is left as it is.
    """
    from pathlib import Path

    from roundhand.cli.screen.opening import opened_alone
    from roundhand.cli.screen.published import published_page, refused_page
    from roundhand.cli.screen.terminal import page_width, say, say_json, say_wrong
    from roundhand.workshop import RefusedError, encode, publish, publish_answer

    reading = opened_alone(path)
    folder = Path(out) if out else Path(f"{Path(path).stem}-published")
    try:
        found = publish(reading, folder, anyway)
    except RefusedError as slip:
        if not as_json:
            say(refused_page(reading, page_width()))
        say_wrong(str(slip))
        return 1
    if as_json:
        say_json(encode(publish_answer(found)))
    else:
        say(published_page(reading, found, page_width()))
    return 0
