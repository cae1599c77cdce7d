"""What was published on a page, or why nothing was."""

from __future__ import annotations

from roundhand.cli.screen.letters import filled, width, wrapped
from roundhand.cli.screen.line import BLANK, Line, Piece, line
from roundhand.cli.screen.queries import edit_page, query, said_in_all, understood_lines
from roundhand.workshop import Published, Reading, spoken, summary

_WHAT = {
    "index.html": "the page, all in one file",
    "leaflet-a4.pdf": "the leaflet to print, on A4",
    "leaflet-letter.pdf": "the same on Letter",
    "pattern.txt": "plain text, for letters and testers",
}
_CHARTS = {".svg": "the chart, to print at any size", ".png": "the chart as a picture"}


def published_page(reading: Reading, found: Published, cells: int) -> list[Line]:
    """The folder and its files, and what somebody should look at before she sends them out."""
    page = [*understood_lines(reading, None, cells), BLANK]
    again = ", in place of the earlier one" if found.replaced else ""
    # A path is copied from the screen, so it is never broken into lines.
    page += [line(f"Published in {spoken(found.folder)}{again}:", "advice")]
    room = max(map(width, found.files))
    for name in found.files:
        what = _WHAT.get(name) or _CHARTS.get(name[name.rfind(".") :], "")
        page.append((Piece(f"  {filled(name, room)}  "), Piece(what, "faint")))
    if found.own_amounts:
        said = (
            "The yarn amounts in it are yours; with a weighed swatch they could be compared, which “roundhand yarn” "
            "tells more of."
        )
        page += [BLANK, *(line(words, "faint") for words in wrapped(said, cells))]
    for finding in found.findings:
        page += [BLANK, *query(reading, finding, cells)]
    rest = summary(reading.findings)
    if rest.errors or rest.warnings or rest.advice:
        page += [BLANK, line(f"{said_in_all(rest)} “roundhand check” tells more.", "warning")]
    return page


def refused_page(reading: Reading, cells: int) -> list[Line]:
    """The queries that keep a pattern from being published."""
    return edit_page(reading, None, cells)
