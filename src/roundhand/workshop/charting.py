"""Charts of a pattern: which piece is worth one, in which size, and the pictures of it."""

from __future__ import annotations

import tempfile
from typing import Literal

import msgspec

from roundhand import charts
from roundhand.charts import Chart
from roundhand.press import PressError
from roundhand.sizing import gauge_book
from roundhand.tally import PieceTally, distinct
from roundhand.terms import languages
from roundhand.workshop.reading import Reading
from roundhand.workshop.use import UseError, spoken


class Charted(msgspec.Struct, frozen=True):
    """A chart with the names of the piece and the size that it shows."""

    piece: str
    size: str
    chart: Chart


class ChartAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """The answer of `chart`: the drawing as SVG and all it says in words. `first` and `last` are the labels of the
    lowest and the highest row drawn; `repeat` stitches are worked `times` times in each."""

    schema: Literal["roundhand.chart/1"] = "roundhand.chart/1"
    piece: str
    size: str
    title: str
    description: str
    key: tuple[str, ...]
    rows: tuple[str, ...]
    first: str
    last: str
    repeat: int
    times: int
    svg: str


def chart(reading: Reading, size: int | None = None, piece: str | None = None) -> Charted:
    """The colour chart of a piece, or of the one that most wants one, in a size or else in the first that has it.

    A piece with several colours or long stitches is taken before a plain one, and one of more rows before one of
    fewer. The cells have the shape that the gauges give. Raises `UseError` where nothing is worked, or no such piece.

    >>> from roundhand.workshop.reading import understand
    >>> found = chart(understand("Cap\\n\\nRnd 1: 6 sc in a magic ring. (6)\\nRnd 2: sc in each st around. (6)"))
    >>> found.piece, found.chart.lines[1]
    ('Cap', 'Rnd 2: 6 sc')
    """
    sizes = range(len(reading.sizes)) if size is None else (size,)
    worked = [(at, one) for at in range(len(reading.tally.pieces)) for one in sizes if _rows(reading, at, one)]
    if not worked:
        raise UseError("There is no row to draw; “roundhand check” says what was understood of the pattern.")
    if piece is not None:
        worked = [place for place in worked if reading.tally.pieces[place[0]].name == piece]
        if not worked:
            raise UseError(f"There is no piece “{spoken(piece)}” with rows to draw in this size.")
    drawn, _ = max(worked, key=lambda place: _worth(reading.tally.pieces[place[0]], place[1]))
    return _charted(reading, drawn, next(one for at, one in worked if at == drawn))


def drawable(reading: Reading, size: int | None = None) -> tuple[str, ...]:
    """The names of the pieces that have rows to draw, in the order of the page.

    >>> from roundhand.workshop.reading import understand
    >>> drawable(understand("Cap\\n\\nRnd 1: 6 sc in a magic ring. (6)")), drawable(understand("Dear diary"))
    (('Cap',), ())
    """
    sizes = range(len(reading.sizes)) if size is None else (size,)
    pieces = enumerate(reading.tally.pieces)
    return tuple(dict.fromkeys(piece.name for at, piece in pieces if any(_rows(reading, at, one) for one in sizes)))


def charts_worth_printing(reading: Reading) -> tuple[Charted, ...]:
    """A chart of every piece with several colours or long stitches, in the first size that has it."""
    found = []
    for at, piece in enumerate(reading.tally.pieces):
        size = next((size for size in range(len(reading.sizes)) if _rows(reading, at, size)), None)
        if size is not None and _worth(piece, size)[0]:
            found.append(_charted(reading, at, size))
    return tuple(found)


def chart_answer(found: Charted) -> ChartAnswer:
    """A chart as data."""
    return ChartAnswer(
        piece=found.piece,
        size=found.size,
        title=found.chart.title,
        description=found.chart.description,
        key=found.chart.key,
        rows=found.chart.lines,
        first=found.chart.first,
        last=found.chart.last,
        repeat=found.chart.repeat,
        times=found.chart.times,
        svg=picture(found, "svg").decode("utf-8"),
    )


def picture(found: Charted, kind: Literal["svg", "png"]) -> bytes:
    """A chart as a picture, the same bytes for the same chart; raises `UseError` where it is too large for one.

    >>> from roundhand.workshop.reading import understand
    >>> picture(chart(understand("Cap\\n\\nRnd 1: 6 sc in a magic ring. (6)")), "svg")[:4]
    b'<svg'
    """
    if kind == "svg":
        from roundhand.press.svg import svg

        return svg(found.chart.drawing).encode("utf-8")
    from roundhand.press.png import png

    with tempfile.TemporaryDirectory() as root:
        try:
            return png(found.chart.drawing, root)
        except PressError as problem:
            raise UseError(f"{problem} A drawing as .svg can be had all the same.") from None


def symbol_sheet(terms: str = "US") -> bytes:
    """All chart symbols on one sheet, as SVG, in the terms of a language; raises `UseError` for one that is not there.

    docs/pictures/symbols.svg is this sheet in US terms.

    >>> symbol_sheet("UK")[:4]
    b'<svg'
    """
    from roundhand.press.svg import svg

    if terms not in languages():
        raise UseError(f"There are no terms called “{terms}”; there are {' and '.join(languages())}.")
    return svg(charts.symbol_sheet(terms), "symbols").encode("utf-8")


def _charted(reading: Reading, piece: int, size: int) -> Charted:
    from roundhand.fabric import build

    fabric = build(reading.tally, piece, size)
    book = gauge_book(reading.pattern)
    cells = charts.cells(fabric, book.width, book.height)
    drawn = charts.draw(fabric, charts.setting(reading.tally, fabric), cells)
    return Charted(reading.tally.pieces[piece].name, reading.sizes[size], drawn)


def _rows(reading: Reading, piece: int, size: int) -> int:
    return sum(row.results[size] is not None for row in reading.tally.pieces[piece].rows)


def _worth(piece: PieceTally, size: int) -> tuple[bool, int]:
    """Whether a piece has several colours or long stitches in a size, and how many rows."""
    results = [row.results[size] for row in piece.rows]
    worked = [result for result in results if result is not None]
    colours = {colour for result in worked for colour in result.colours}
    long = any(run.below > 1 for result in worked for run in distinct(result.made))
    return len(colours) > 1 or long, len(worked)
