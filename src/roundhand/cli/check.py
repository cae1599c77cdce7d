"""`roundhand check`: the technical edit of patterns and of whole folders of them."""

from __future__ import annotations

import click


@click.command("check", short_help="the technical edit: what a maker would stumble over")
@click.argument("paths", nargs=-1, required=True, metavar="PATTERN...")
@click.option("--size", metavar="S", help="Only what concerns one size: its name, the beginning of it, or its number.")
@click.option("--json", "as_json", is_flag=True, help="The answer as data; with several patterns a line for each.")
def command(paths: tuple[str, ...], size: str | None, as_json: bool) -> int:
    """Reads patterns as a technical editor would and says what to fix, to look at and to consider.

    Names files, or folders with patterns in them. The exit status is 1 if there is anything to fix.
    """
    from roundhand.cli.screen.line import BLANK, line
    from roundhand.cli.screen.opening import named, opened
    from roundhand.cli.screen.queries import edit_page, said_in_all
    from roundhand.cli.screen.terminal import page_width, say, say_json, say_wrong
    from roundhand.workshop import UseError, check, encode, size_of, spoken
    from roundhand.workshop.answers import Summary

    files, slips, many = named(paths, folders=True)
    total, answered = Summary(), 0
    beside: dict[str, None] = {}
    pages = []
    for path, reading in opened(files):
        if isinstance(reading, UseError):
            slips.append(reading)
            continue
        try:
            asked = size_of(reading, size) if size is not None else None
        except UseError as slip:
            slips.append(UseError(f"{spoken(path)}: {slip}") if many else slip)
            continue
        beside.update(dict.fromkeys(reading.said))
        answer = check(reading, asked, spoken(path) if many else None)
        total, answered = total + answer.summary, answered + 1
        pages.append((path, encode(answer) if as_json else edit_page(reading, asked, page_width())))
    for at, (path, page) in enumerate(pages):
        if isinstance(page, bytes):
            say_json(page)
        else:
            head = [*([BLANK] if at else []), line(f"== {path}", "faint")] if many else []
            say([*head, *page])
    if many and answered > 1 and not as_json:
        say([BLANK, line(f"The {answered} patterns together: {said_in_all(total)}", "title")])
    for sentence in [*beside, *map(str, slips)]:
        say_wrong(sentence)
    return 2 if slips else 1 if total.errors else 0
