"""The colour chart drawn: cells true to the gauge, a letter in each, long stitches down to where they are worked into.

How it is read follows the trade (standards of charts: rounds from right to left with the number at the right; in turned
rows those with the right side towards the maker from right to left, the others back, the number where the row begins).
"""

from __future__ import annotations

from fractions import Fraction
from itertools import groupby

import msgspec

from roundhand.charts import key, told
from roundhand.charts.look import Look, mixed
from roundhand.charts.marks import loop_mark, tongue
from roundhand.charts.model import Chart
from roundhand.charts.plan import GAP, lines_of
from roundhand.charts.region import best, regions
from roundhand.charts.scene import PALE, Scene, scene
from roundhand.charts.setting import Cells, Setting
from roundhand.charts.words import Teller
from roundhand.drawing import Drawing, Number, Paint, Path, Pen, Point, Step
from roundhand.fabric import Fabric

_MARGIN = Fraction(9)
_TITLE, _BODY, _SMALL = Fraction(6), Fraction(33, 10), Fraction(14, 5)
_LEAD = Fraction(27, 20)
# Room round the grid: at its left, up to the arrows, for these, and between number and words. Then the width of an
# average letter and of a figure against the size of the type.
_LEFT, _ARROW, _ARROW_LENGTH, _APART = (Fraction(mm) for mm in (4, 2, 2, 3))
_LETTER, _FIGURE = Fraction(1, 2), Fraction(11, 20)
_NARROWEST_PAPER = Fraction(150)
# Where letter and stem or mark stand in a cell that holds both, as parts of its width.
_ASIDE, _STEM, _MARK = Fraction(1, 5), Fraction(3, 5), Fraction(33, 50)
# The description that a picture carries with it holds its rows too, as long as somebody can be asked to hear them.
_MOST_LINES = 200


def draw(fabric: Fabric, setting: Setting, cells: Cells | None = None, look: Look | None = None) -> Chart:
    """The colour chart of a fabric.

    Drawn are the rows that stand stitch on stitch (the longest such stretch, one with several colours or long
    stitches before a plain one); all others are told in words. Rows wider than one repeat and a bit are shown that
    far, with the number of times. `cells` gives the cells the shape of a real stitch; without it the chart says that
    it is not true to any gauge. A fabric without rows gives a chart that says so. Raises ValueError for `cells` with
    fewer heights than the fabric has worked rows.

    >>> from roundhand.charts import setting
    >>> from roundhand.fabric import build
    >>> from roundhand.notation import read
    >>> from roundhand.tally import count
    >>> text = "Tube\\n\\nRnd 1: 60 sc in a magic ring.\\nRnds 2-3: Sc in each st around.\\nRnd 4: *sc in next st, "
    >>> text += "long sc in st 2 rnds below, sc in next st; rep from * around."
    >>> tally = count(read(text)[0])[0]
    >>> chart = draw(build(tally), setting(tally, build(tally)))
    >>> chart.title, chart.first, chart.last, chart.repeat, chart.times
    ('Tube: color chart', 'Rnd 1', 'Rnd 4', 3, 20)
    """
    look = look or Look()
    teller = Teller(fabric, setting)
    region = best(regions(fabric), fabric)
    title = told.title(setting, region)
    if region is None:
        said = "Nothing is worked in this piece and size, so there is nothing to draw."
        return Chart(title, said, _note(title, said, look, setting.language), (), ())
    shown = scene(fabric, setting, cells, look, region, teller)
    lines = teller.lines()
    description = told.description(shown)
    entries = key.entries(shown)
    spoken = ". ".join((description.removesuffix("."), *(lines if len(lines) <= _MOST_LINES else ())))
    return Chart(
        title,
        description,
        _Artist(shown).drawing(title, spoken.removesuffix(".") + ".", entries),
        lines,
        tuple(entry.words for entry in entries),
        region.rows[0].label,
        region.rows[-1].label,
        region.repeat,
        region.times,
        shown.to_gauge,
        told.not_drawn(fabric, region),
    )


def _note(title: str, said: str, look: Look, language: str) -> Drawing:
    """A drawing of one sentence."""
    pen = Pen()
    heads = lines_of(title, _NARROWEST_PAPER - 2 * _MARGIN, _TITLE, 3)
    height = 2 * _MARGIN + (len(heads) * _TITLE + _BODY) * _LEAD
    pen.rectangle((0, 0), _NARROWEST_PAPER, height, Paint(fill=look.paper))
    _write_heading(pen, look, heads, [said])
    return pen.drawing(_NARROWEST_PAPER, height, title, said, language)


class _Grid(msgspec.Struct, frozen=True):
    """Where the grid lies on the paper."""

    shown: Scene
    left: Fraction
    bottom: Fraction

    @property
    def right(self) -> Fraction:
        return self.left + self.shown.plan.grid_width

    @property
    def top(self) -> Fraction:
        return self.bottom - self.shown.plan.grid_height

    def x(self, column: int) -> Fraction:
        """The left edge of a column, counted from 0 at the right."""
        return self.right - (column + 1) * self.shown.plan.width

    def floor(self, row: int) -> Fraction:
        """The lower edge of a drawn row."""
        return self.bottom - self.shown.plan.floors[row]

    def ceiling(self, row: int) -> Fraction:
        """The upper edge of a drawn row, below any gap."""
        return self.floor(row) - self.shown.plan.heights[row]

    def middle(self, row: int) -> Fraction:
        """The line through the middle of a drawn row."""
        return (self.floor(row) + self.ceiling(row)) / 2

    def stretches(self) -> list[tuple[int, int]]:
        """The drawn rows that lie on end between gaps, as first and last."""
        gaps = sorted(self.shown.plan.gaps)
        firsts = [0, *(gap + 1 for gap in gaps)]
        lasts = [*gaps, len(self.shown.rows) - 1]
        return [(first, last) for first, last in zip(firsts, lasts, strict=True) if first <= last]


class _Artist:
    def __init__(self, shown: Scene) -> None:
        self.shown = shown
        self.look = shown.look
        self.pen = Pen()

    def drawing(self, title: str, spoken: str, entries: tuple[key.Entry, ...]) -> Drawing:
        """The whole sheet: heading, grid, what stands round it, key."""
        shown = self.shown
        digits = max(len(shown.number(at)) for at in range(len(shown.rows)))
        numbers = _ARROW + _ARROW_LENGTH + 1 + digits * _BODY * _FIGURE
        left = _MARGIN + (numbers if shown.turned else _LEFT)
        beside = max(map(len, shown.beside), default=0) * _SMALL * _LETTER
        width = max(left + shown.plan.grid_width + numbers + _APART + beside + _MARGIN, _NARROWEST_PAPER)
        heads = lines_of(title, width - 2 * _MARGIN, _TITLE, 3)
        under = lines_of(told.heading(shown), width - 2 * _MARGIN, _BODY, 12)
        top = _MARGIN + (len(heads) * _TITLE + len(under) * _BODY) * _LEAD + 5
        grid = _Grid(shown, left, top + shown.plan.grid_height)
        key_top = grid.bottom + (16 if shown.boxed else 10)
        placed, lowest = key.place(entries, _MARGIN, key_top, width - 2 * _MARGIN)
        height = lowest + _MARGIN - 2
        self.pen.rectangle((0, 0), width, height, Paint(fill=self.look.paper))
        _write_heading(self.pen, self.look, heads, under)
        self._fills(grid)
        self._rules(grid)
        self._stems(grid)
        self._letters(grid)
        self._gaps(grid)
        self._box(grid)
        self._column_numbers(grid)
        self._margins(grid, numbers)
        key.write(self.pen, shown, placed)
        return self.pen.drawing(width, height, title, spoken, shown.setting.language)

    # The grid.

    def _fills(self, grid: _Grid) -> None:
        shown = self.shown
        for at, cells in enumerate(shown.rows):
            words = shown.words[at]
            label = shown.region.rows[shown.plan.drawn[at]].label
            with self.pen.group(f"{label}{', ' if words.startswith('in ') else ': '}{words}"):
                column = 0
                for colour, held in groupby(enumerate(cells), key=lambda one: shown.colour(one[1], one[0])):
                    many = len(list(held))
                    corner = (grid.x(column + many - 1), grid.ceiling(at))
                    self.pen.rectangle(corner, many * shown.plan.width, shown.plan.heights[at], Paint(fill=colour))
                    column += many

    def _rules(self, grid: _Grid) -> None:
        steps: list[Step] = []
        for first, last in grid.stretches():
            top, bottom = grid.ceiling(last), grid.floor(first)
            for at in range(first + 1, last + 1):
                steps += [("M", ((grid.left, grid.floor(at)),)), ("L", ((grid.right, grid.floor(at)),))]
            for column in range(self.shown.plan.columns - 1):
                steps += [("M", ((grid.x(column), top),)), ("L", ((grid.x(column), bottom),))]
            self._frame(grid, top, bottom)
        if steps:
            self.pen.path(Path(tuple(steps), Paint(stroke=self.look.rule, width=Fraction(3, 20))))

    def _frame(self, grid: _Grid, top: Fraction, bottom: Fraction) -> None:
        frame = Paint(stroke=self.look.soft, width=Fraction(3, 10))
        edge: list[Step] = [("M", ((grid.left, top),))]
        edge += [("L", (point,)) for point in ((grid.right, top), (grid.right, bottom), (grid.left, bottom))]
        if self.shown.plan.whole:
            edge.append(("Z", ()))
        self.pen.path(Path(tuple(edge), frame))
        if not self.shown.plan.whole:
            # The edge where the rows go on is torn, not closed.
            self.pen.path(_torn(grid.left, top, bottom, Paint(stroke=self.look.soft, width=Fraction(1, 4))))

    def _stems(self, grid: _Grid) -> None:
        shown = self.shown
        for at, cells in enumerate(shown.rows):
            for column, cell in enumerate(cells):
                if not cell.is_long:
                    continue
                row, under = cell.foot
                centre = grid.x(column) + shown.plan.width * _STEM
                if row >= 0 and under != column:
                    centre = (centre + grid.x(under) + shown.plan.width * _STEM) / 2
                # The hook enters the top of the stitch; a stitch below all drawn rows is only pointed at.
                foot = grid.ceiling(row) if row >= 0 else grid.bottom + Fraction(3, 2)
                colour, ink = shown.colour(cell, column), shown.letter_colour(cell, column)
                edge = mixed(ink, colour, PALE if shown.is_pale(column) else PALE / 2)
                for path in tongue(centre, grid.floor(at), foot, shown.plan.width, colour, edge):
                    self.pen.path(path)
                eye = shown.plan.width * Fraction(13, 200)
                self.pen.disc((centre, foot - eye * Fraction(3, 2)), eye, Paint(fill=edge))

    def _letters(self, grid: _Grid) -> None:
        shown = self.shown
        crossed = self._crossed()
        width = shown.plan.width
        edges = [grid.x(column) for column in range(shown.plan.columns)]
        each = shown.letters_each
        marks = {kind: shown.mark(kind) for kind in shown.symbols}
        for at, cells in enumerate(shown.rows):
            middle, foot = grid.middle(at), grid.floor(at) - Fraction(3, 5)
            usual = min(Fraction(37, 10), shown.plan.heights[at] * Fraction(7, 10), width * Fraction(11, 20))
            before: str | None = None
            for column, cell in enumerate(cells):
                letter = shown.setting.yarns[cell.yarn].letter if each or cell.yarn != before else ""
                before = cell.yarn
                marked = cell.kind in marks
                if not (letter or marked or cell.loop):
                    continue
                colour = shown.letter_colour(cell, column)
                aside = marked or (at, column) in crossed
                x = edges[column] + width * (_ASIDE if aside else Fraction(1, 2))
                size = usual * (Fraction(4, 5) if aside else 1) * key.narrowing(letter)
                if letter:
                    base = (x, middle + size * Fraction(17, 50))
                    self.pen.text(base, letter, size, colour, anchor="middle", role="letter")
                if marked:
                    self.pen.use(marks[cell.kind], (edges[column] + width * _MARK, middle), colour)
                if cell.loop:
                    self.pen.use(loop_mark(cell.loop), (x, foot), colour)

    def _crossed(self) -> set[tuple[int, int]]:
        """The cells that a stem lies over."""
        found: set[tuple[int, int]] = set()
        for at, cells in enumerate(self.shown.rows):
            for column, cell in enumerate(cells):
                if cell.is_long:
                    found |= {(row, column) for row in range(max(cell.foot[0] + 1, 0), at)}
        return found

    def _gaps(self, grid: _Grid) -> None:
        """What the rows say that are not drawn, because they are like those round the gap."""
        for gap in sorted(self.shown.plan.gaps):
            if gap + 1 < len(self.shown.rows):
                at = (grid.left, grid.ceiling(gap) - GAP / 2 + _BODY * Fraction(17, 50))
                self.pen.text(at, told.left_out(self.shown, gap), _BODY, self.look.soft, italic=True)

    # Round the grid.

    def _box(self, grid: _Grid) -> None:
        shown, region = self.shown, self.shown.region
        if not shown.boxed:
            return
        left = grid.x(min(region.repeat, shown.plan.columns) - 1)
        thick = Paint(stroke=self.look.madder, width=Fraction(3, 5))
        for first, last in grid.stretches():
            top = grid.ceiling(last)
            self.pen.rectangle((left, top), grid.right - left, grid.floor(first) - top, thick)
        y = grid.bottom + 6
        bracket = ((left, y - Fraction(3, 2)), (left, y), (grid.right, y), (grid.right, y - Fraction(3, 2)))
        steps: list[Step] = [("M", (bracket[0],)), *(("L", (point,)) for point in bracket[1:])]
        self.pen.path(Path(tuple(steps), Paint(stroke=self.look.madder, width=Fraction(2, 5))))
        words = f"repeat of {region.repeat} sts, {region.times} times"
        self.pen.text((grid.right, y + 4), words, _BODY, self.look.madder, anchor="end", italic=True)

    def _column_numbers(self, grid: _Grid) -> None:
        """Stitch numbers under the columns, every one in a narrow repeat, every fifth in a wide one."""
        shown = self.shown
        last = min(shown.region.repeat, shown.plan.columns) if shown.boxed else shown.plan.columns
        step = 1 if last <= 24 else 5
        size = min(_SMALL, shown.plan.width * Fraction(9, 20)) if step == 1 else _SMALL
        for number in range(1, last + 1):
            if number % step == 0 or number == 1:
                at = (grid.x(number - 1) + shown.plan.width / 2, grid.bottom + Fraction(7, 2))
                self.pen.text(at, str(number), size, self.look.soft, anchor="middle", role="figures")

    def _margins(self, grid: _Grid, numbers: Fraction) -> None:
        """Row numbers where the row begins, an arrow in the direction of working, and the row in words."""
        shown = self.shown
        for at, index in enumerate(shown.plan.drawn):
            row = shown.region.rows[index]
            middle = grid.middle(at)
            size = min(_BODY, max(Fraction(2), shown.plan.heights[at] * Fraction(4, 5)))
            base = middle + size * Fraction(17, 50)
            side, edge = (1, grid.right) if row.direction > 0 else (-1, grid.left)
            self.pen.polygon(_arrow(edge + side * _ARROW, middle, side), Paint(fill=self.look.woad))
            x = edge + (numbers if side > 0 else -(_ARROW + _ARROW_LENGTH + 1))
            self.pen.text((x, base), shown.number(at), size, self.look.ink, anchor="end", role="figures", bold=True)
            if shown.beside:
                self.pen.text(
                    (grid.right + numbers + _APART, base), shown.beside[at], min(_SMALL, size), self.look.soft
                )


def _write_heading(pen: Pen, look: Look, heads: list[str], under: list[str]) -> None:
    y = _MARGIN + _TITLE * Fraction(4, 5)
    for line in heads:
        pen.text((_MARGIN, y), line, _TITLE, look.ink, bold=True)
        y += _TITLE * _LEAD
    y -= _TITLE * _LEAD - _BODY * _LEAD - 1
    for line in under:
        pen.text((_MARGIN, y), line, _BODY, look.soft)
        y += _BODY * _LEAD


def _arrow(tip: Fraction, middle: Fraction, side: int) -> tuple[Point, ...]:
    """A small arrow head that points at the grid."""
    half, back = Fraction(11, 10), tip + side * _ARROW_LENGTH
    return (tip, middle), (back, middle - half), (back, middle + half)


def _torn(x: Number, top: Number, bottom: Number, paint: Paint) -> Path:
    """A torn edge: small teeth from top to bottom."""
    teeth = max(1, int((bottom - top) / 4)) * 2
    step = Fraction(bottom - top) / teeth
    steps: list[Step] = [("M", ((x, top),))]
    for tooth in range(teeth):
        steps.append(("L", ((x - Fraction(9, 10) * (tooth % 2 == 0), top + (tooth + 1) * step),)))
    return Path(tuple(steps), paint)
