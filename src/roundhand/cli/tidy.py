"""`roundhand tidy`: house style for the rows of a pattern, without touching what is the designer's own."""

from __future__ import annotations

from typing import Literal

import click


@click.command("tidy", short_help="house style, without touching your sentences")
@click.argument("paths", nargs=-1, required=True, metavar="PATTERN...")
@click.option("--check", "only_check", is_flag=True, help="Change nothing; the exit status is 1 if it would.")
@click.option("--diff", is_flag=True, help="Change nothing; show what it would, line by line.")
@click.option("--write", is_flag=True, help="Write the tidied text in place of the old one.")
@click.option("--counts", "fill", is_flag=True, help="Fill in the counts that rows do not state.")
@click.option("--terms", type=click.Choice(["US", "UK"], case_sensitive=False), help="Exchange the terms as well.")
@click.option("--json", "as_json", is_flag=True, help="The answer as data; with several patterns a line for each.")
def command(
    paths: tuple[str, ...], only_check: bool, diff: bool, write: bool, fill: bool, terms: str | None, as_json: bool
) -> int:
    """Puts the rows of a pattern into house style: labels, spaces, short stitch words, repeats, size lists, counts.

    Prints the tidied text unless told otherwise. Prose, notes, headings and whatever is not understood stay as they
    stand, and so does what the rows come to.
    """
    from pathlib import Path
    from typing import cast

    from roundhand.cli.screen.line import line
    from roundhand.cli.screen.opening import named, opened
    from roundhand.cli.screen.terminal import say, say_json, say_text, say_wrong
    from roundhand.workshop import UseError, encode, spoken
    from roundhand.workshop.tidying import difference, tidied, tidy_answer
    from roundhand.workshop.writing import write_file

    wanted = cast('Literal["US", "UK"] | None', terms.upper() if terms else None)
    files, slips, many = named(paths, folders=True)
    changing = 0
    quiet = only_check or diff or write or as_json
    for path, reading in opened(files):
        if isinstance(reading, UseError):
            slips.append(reading)
            continue
        found = tidied(reading, fill, wanted)
        changing += found.changed
        if as_json:
            say_json(encode(tidy_answer(found, spoken(path) if many else None)))
        elif diff and found.changed:
            say([line(one, _tone(one)) for one in difference(found, spoken(path)).splitlines()])
        elif only_check and not write:
            say([line(f"{spoken(path)}: {'would change' if found.changed else 'is tidy'}")])
        if write and found.changed:
            try:
                write_file(Path(path), found.after.encode("utf-8"))
            except UseError as problem:
                slips.append(problem)
                continue
        if write and not as_json and not diff:
            say([line(f"{spoken(path)}: {'tidied' if found.changed else 'is tidy, nothing written'}")])
        if not quiet:
            say_text(found.after)
    for slip in slips:
        say_wrong(str(slip))
    return 2 if slips else 1 if only_check and changing else 0


def _tone(line: str) -> Literal["", "error", "advice", "faint"]:
    """The tone of a line of a difference."""
    if line.startswith(("---", "+++", "@@")):
        return "faint"
    return "error" if line.startswith("-") else "advice" if line.startswith("+") else ""
