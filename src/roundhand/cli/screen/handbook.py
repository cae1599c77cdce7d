"""Pages of the handbook of queries, and the list of all of them."""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks import Page
from roundhand.cli.screen.letters import width, wrapped
from roundhand.cli.screen.line import BLANK, Line, Piece, line
from roundhand.cli.screen.terminal import page_width, say, say_json
from roundhand.workshop import encode
from roundhand.workshop.choosing import About, about


def show_about(word: str, as_json: bool) -> int:
    """Shows the page of a query, or a list of those of a group or of all, and gives the exit status."""
    found = about(word)
    if as_json:
        say_json(encode(found))
    else:
        say(list(_page(found.pages[0], found) if len(found.pages) == 1 else _listed(found, page_width())))
    return 0


def _page(page: Page, found: About) -> Iterator[Line]:
    cells = page_width()
    yield line(page.name, "title")
    style = "; said only when asked for, by its name or by --style" if page.when_asked else ""
    yield line(f"{page.group}: {found.groups[page.group]}{style}", "faint")
    yield BLANK
    for paragraph in (page.what, *page.why.split("\n\n")):
        yield from (line(words) for words in wrapped(paragraph, cells))
    for lead, example in (("wrong:", page.bad), ("right:", page.good)):
        if example:
            yield BLANK
            yield line(lead, "faint")
            yield from (line(f"    {words}") for words in example.splitlines())


def _listed(found: About, cells: int) -> Iterator[Line]:
    """The names group by group, each with what is wrong."""
    room = max((width(page.name) for page in found.pages), default=0) + 2
    for at, (group, what) in enumerate(found.groups.items()):
        yield from [BLANK] if at else []
        yield (Piece(group, "title"), Piece(f": {what}", "faint"))
        for page in found.pages:
            if page.group != group:
                continue
            asked = " (only when asked for)" if page.when_asked else ""
            first, *rest = wrapped(page.what + asked, max(20, cells - room - 2))
            yield (Piece(f"  {page.name:<{room}}"), Piece(first))
            yield from (line(" " * (room + 2) + words) for words in rest)
    yield BLANK
    yield line("“roundhand check --about NAME” says more of one.", "faint")
