"""`roundhand desk`: the page with margins, in the browser."""

from __future__ import annotations

import click


@click.command("desk", short_help="opens the desk in the browser")
@click.argument("folder", required=False, metavar="[FOLDER]")
@click.option(
    "--port", type=click.IntRange(1, 65535), metavar="N", help="The port to answer on; else one that is free."
)
@click.option("--no-browser", is_flag=True, help="Only say the address; open it yourself.")
@click.option("--shortcut", is_flag=True, help="Put a starter for the folder on the desktop, and open nothing.")
def command(folder: str | None, port: int | None, no_browser: bool, shortcut: bool) -> int:
    """Opens the desk on a folder of patterns, by default the one you are in, and keeps it open until Ctrl-C.

    It answers on this computer alone. Whatever you type is saved at once, and every earlier text can be had back.
    """
    from pathlib import Path

    from roundhand.cli.screen.line import BLANK, line
    from roundhand.cli.screen.terminal import say
    from roundhand.desk import open_desk
    from roundhand.desk import shortcut as shortcut_on
    from roundhand.workshop import spoken

    place = Path(folder) if folder else Path.cwd()

    if shortcut:
        say([line(f"“{spoken(shortcut_on(place))}” opens the desk on this folder with a double click.")])
        return 0

    def told(address: str) -> None:
        say(
            [
                line(f"The desk is open on the folder “{spoken(place.resolve())}”:"),
                BLANK,
                line(f"    {address}", "title"),
                BLANK,
                line("Everything stays on this computer. Ctrl-C closes the desk; what you typed is saved."),
            ]
        )

    open_desk(place, port, not no_browser, told)
    return 0
