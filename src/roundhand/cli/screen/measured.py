"""The finished measurements on a page."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from roundhand.cli.screen.figures import say, units
from roundhand.cli.screen.letters import wrapped
from roundhand.cli.screen.line import BLANK, Line, line
from roundhand.cli.screen.tables import Grid, Section, fitting
from roundhand.shape import Measure, Measures, PieceMeasures
from roundhand.workshop import Reading

_STOPS = "length with "
# What a measurement is reckoned by, where counts and gauge alone do not give it.
_WORDS = (
    (
        "fits a head",
        "“fits a head” is 1.20 to 1.30 times the relaxed length of a ridged band, which is common practice and has no "
        "published source.",
    ),
    (
        "gathered opening",
        "“gathered opening” takes 1.4 mm of drawn-up edge for a stitch; common practice is 1.1 to 1.7 mm, and no "
        "source is known.",
    ),
    (
        "worn depth",
        "“worn depth” is a reckoning of ours: the length less what the crown takes lying flat on the head, the round "
        "divided by 2 pi.",
    ),
    ("ease", "“ease” is the round less the head; below nothing, the fabric stretches to fit."),
)


def measure_tables(reading: Reading, found: Measures, size: int | None, cells: int | None) -> list[Grid]:
    """The tables of all measurements, or of those of one size."""
    sizes = range(len(reading.sizes)) if size is None else (size,)
    if not found.whole.measures and not any(piece.measures for piece in found.pieces):
        return []
    return list(fitting(lambda some: _grid(reading, found, some), sizes, cells))


def measure_remarks(found: Measures, cells: int) -> list[Line]:
    """What the numbers rest on, where that is more than counts and gauge, and what could not be measured."""
    whats = [one.what for piece in (*found.pieces, found.whole) for one in piece.measures]
    said = [words for what, words in _WORDS if any(one.startswith(what) for one in whats)]
    if any(what.startswith(_STOPS) for what in whats):
        said.append("At every stopping point whole repeats have been worked.")
    page: list[Line] = []
    if said:
        page += [BLANK, *(line(words, "faint") for one in said for words in wrapped(one, cells))]
    if found.lacks:
        page += [BLANK, *(line(words, "warning") for words in wrapped(_lacking(found), cells))]
    return page


def _lacking(found: Measures) -> str:
    if not any(piece.measures for piece in found.pieces):
        return (
            "Nothing can be measured without a gauge; add one to the pattern, such as: "
            "Gauge: 14 sts and 10 rnds = 4 in in hdc"
        )
    return f"No gauge is given for {' and '.join(found.lacks)}, so that could not be measured."


def _grid(reading: Reading, found: Measures, sizes: Sequence[int]) -> Grid:
    pair = units(found.unit)
    names = ("",) if len(reading.sizes) == 1 else tuple(reading.sizes[size] for size in sizes)
    plain, stops = _parted(found.whole)
    pieces = [piece for piece in found.pieces if piece.measures]
    if len(pieces) == 1 and plain:
        # What is made in one piece is measured once.
        known = {one.mm for one in plain}
        plain += [one for one in pieces[0].measures if one.mm not in known]
        pieces = []
    sections = [Section(piece.name, tuple(_rows(piece.measures, sizes, pair))) for piece in pieces]
    sections.append(Section(_whole_name(found), tuple(_rows(plain, sizes, pair))))
    sections.append(Section("Stopping points", tuple(_rows(stops, sizes, pair))))
    head = ("", "", *names, "")
    return Grid(
        head, frozenset(range(2, len(head) - 1)), tuple(section for section in sections if section.rows), "faint"
    )


def _whole_name(found: Measures) -> str:
    return found.whole.name or "The whole"


def _parted(whole: PieceMeasures) -> tuple[list[Measure], list[Measure]]:
    """The measurements of the item as written, and its lengths where somebody stops a repeat sooner or later."""
    stops = [one for one in whole.measures if one.what.startswith(_STOPS)]
    return [one for one in whole.measures if one not in stops], stops


def _rows(found: Iterable[Measure], sizes: Sequence[int], pair: tuple[str, str]) -> Iterator[tuple[str, ...]]:
    for one in found:
        if all(one.mm[size] is None for size in sizes):
            continue
        own, other = pair
        yield (one.what, own, *(say(one.mm[size], own) for size in sizes), one.evidence)
        yield ("", other, *(say(one.mm[size], other) for size in sizes), "")
        if any(value is not None for value in one.stretched):
            yield ("  stretched", own, *(say(one.stretched[size], own) for size in sizes), "")
            yield ("", other, *(say(one.stretched[size], other) for size in sizes), "")
