"""The colour chart drawn: cells true to the gauge, a letter in each, long stitches down to where they are worked into.

How it is read follows the trade (standards of charts: rounds from right to left with the number at the right; in turned
rows those with the right side towards the maker from right to left, the others back, the number where the row begins).
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from itertools import groupby

import msgspec

from roundhand.charts.look import Look, mixed, readable
from roundhand.charts.marks import loop_mark, number_mark, post_mark, tongue
from roundhand.charts.model import Chart
from roundhand.charts.plan import Plan, lines_of, plan
from roundhand.charts.region import Region, best, regions
from roundhand.charts.setting import UNNAMED, Cells, Setting
from roundhand.charts.words import row_lines, row_words, span_label
from roundhand.drawing import Number, Paint, Path, Pen, Point, Step, Symbol
from roundhand.fabric import Fabric, RowMark

_MARGIN = Fraction(9)
_TITLE, _BODY, _SMALL = Fraction(6), Fraction(33, 10), Fraction(14, 5)
_LEAD = Fraction(27, 20)
# Space between grid and round number, and the longest words that still stand beside a row.
_NUMBER_GAP, _NUMBER_WIDTH = Fraction(9, 2), Fraction(10)
_WORDS_WIDTH, _MOST_WORDS = Fraction(1, 2), 38
# Beyond so many cells a letter stands once in every run of one colour: more would make the file too large to open.
_MOST_LETTERS = 8_000
# What lies beyond the first repeat is shown paler, for it is only there to show how the repeats meet.
_PALE = Fraction(1, 2)
_KEY_COLUMN = Fraction(78)
# Where letter and stem stand in a cell that holds both, as parts of its width.
_ASIDE, _BESIDE = Fraction(23, 100), Fraction(3, 5)


class _Grid(msgspec.Struct):
    """Where the grid lies on the paper, and what is in it."""

    plan: Plan
    region: Region
    left: Fraction
    bottom: Fraction

    @property
    def right(self) -> Fraction:
        return self.left + self.plan.grid_width

    @property
    def top(self) -> Fraction:
        return self.bottom - self.plan.grid_height

    def x(self, column: int) -> Fraction:
        """The left edge of a column, counted from 0 at the right."""
        return self.right - (column + 1) * self.plan.width

    def floor(self, row: int) -> Fraction:
        """The lower edge of a row, counted from 0 at the lowest."""
        return self.bottom - self.plan.bottom(row)


class _Cell(msgspec.Struct, frozen=True):
    """One cell: the stitch's kind and loop, its yarn, and the row and column of its foot if it is a long one."""

    kind: str
    loop: str
    yarn: str
    foot: tuple[int, int] | None = None


def draw(fabric: Fabric, setting: Setting, cells: Cells | None = None, look: Look | None = None) -> Chart:
    """The colour chart of a fabric.

    Drawn are the rows that stand stitch on stitch (the longest such stretch, one with several colours or long
    stitches before a plain one); all others are told in words. Rows wider than one repeat and a bit are shown that
    far, with the number of times. `cells` gives the cells the shape of a real stitch; without it the chart says that
    it is not true to any gauge. A fabric without rows gives a chart that says so.

    >>> from roundhand.charts import setting
    >>> from roundhand.fabric import build
    >>> from roundhand.notation import read
    >>> from roundhand.tally import count
    >>> text = "Tube\\n\\nRnd 1: 60 sc in a magic ring.\\nRnds 2-4: *sc in next st, long sc in st 2 rnds below, sc in next st;"
    >>> tally = count(read(text + " rep from * around.")[0])[0]
    >>> chart = draw(build(tally), setting(tally, build(tally)))
    >>> chart.title, chart.first, chart.last, chart.repeat, chart.times
    ('Tube: colour chart', 'Rnd 1', 'Rnd 4', 3, 20)
    """
    look = look or Look()
    region = best(regions(fabric), fabric)
    return _Artist(fabric, setting, cells, look, region).chart()


class _Artist:
    def __init__(
        self, fabric: Fabric, setting: Setting, cells: Cells | None, look: Look, region: Region | None
    ) -> None:
        self.fabric = fabric
        self.setting = setting
        self.gauge = cells
        self.look = look
        self.region = region
        self.pen = Pen()
        self.numbers: dict[str, int] = {}
        self.letters_each = True

    # The whole.

    def chart(self) -> Chart:
        title = self._title()
        if self.region is None:
            return self._empty(title)
        region = self.region
        laid = plan(region, self.gauge)
        beside = self._beside(region)
        rows = self._cells(region, laid)
        key_lines = self._key(region, rows)
        width = self._width(laid, beside)
        heading = self._heading(region, width)
        top = _MARGIN + _TITLE + len(heading) * _BODY * _LEAD + 7
        grid = _Grid(laid, region, _MARGIN + 4, top + laid.grid_height)
        self.letters_each = laid.columns * len(region.rows) <= _MOST_LETTERS
        key_top = grid.bottom + (15 if self._boxed(region) else 9)
        paper_height, keys = self._key_places(key_lines, width, key_top)
        self.pen.rectangle((0, 0), width, paper_height, Paint(fill=self.look.paper))
        self._write_heading(title, heading)
        self._fills(grid, rows)
        self._rules(grid)
        self._stems(grid, rows)
        self._letters(grid, rows)
        self._box(grid)
        self._margins(grid, beside)
        self._write_key(keys)
        description = self._description(region, laid)
        drawing = self.pen.drawing(width, paper_height, title, description, self.setting.language)
        return Chart(
            title,
            description,
            drawing,
            row_lines(self.fabric, self.setting),
            tuple(words for words, _ in key_lines),
            region.rows[0].label,
            region.rows[-1].label,
            region.repeat,
            region.times,
            self.gauge is not None,
            self._not_drawn(region),
        )

    def _empty(self, title: str) -> Chart:
        said = "Nothing is worked in this piece and size, so there is nothing to draw."
        width, height = Fraction(120), Fraction(30)
        self.pen.rectangle((0, 0), width, height, Paint(fill=self.look.paper))
        self._write_heading(title, [said])
        drawing = self.pen.drawing(width, height, title, said, self.setting.language)
        return Chart(title, said, drawing, (), ())

    # What is said.

    def _title(self) -> str:
        setting = self.setting
        parts = list(dict.fromkeys(row.part for row in self.region.rows)) if self.region is not None else []
        place = " and ".join(", ".join(parts).rsplit(", ", 1)) or setting.piece
        if place.casefold() == setting.title.casefold():
            place = ""
        where = ", ".join(part for part in (place, setting.size) if part)
        named = setting.title or "Pattern"
        return f"{named}: colour chart" + (f" of {where}" if where else "")

    def _rounds(self, region: Region) -> str:
        return "round" if region.in_rounds else "row"

    def _heading(self, region: Region, width: Number) -> list[str]:
        said = [f"{span_label(region.rows[0].label, region.rows[-1].label)}, {region.width} stitches each."]
        if region.in_rounds:
            said.append("Read every round from right to left, beginning at the bottom.")
        else:
            said.append("Begin at the bottom; read every row in the direction of its arrow.")
        if self.gauge is None:
            said.append("No gauge is stated, so the cells are not true to one.")
        said.append(self._not_drawn(region))
        return lines_of(" ".join(part for part in said if part), width - 2 * _MARGIN, _BODY)

    def _description(self, region: Region, laid: Plan) -> str:
        one = self._rounds(region)
        yarns = [self._yarn_words(label) for label in self._labels(region)]
        parts = [
            f"{len(region.rows)} {one}s, {span_label(region.rows[0].label, region.rows[-1].label)}, of "
            f"{region.width} stitches each",
            f"in {' and '.join(yarns)}" if yarns else "",
        ]
        said = [" ".join(part for part in parts if part) + "."]
        if region.in_rounds:
            said.append("Every round is read from right to left, the first one at the bottom, its number at the right.")
        else:
            said.append("Rows are read in turn from right to left and back, the first one at the bottom.")
        if region.repeat == 1:
            said.append(f"All stitches of a {one} are alike.")
        elif region.repeat < region.width:
            said.append(f"A box marks the repeat of {region.repeat} stitches, worked {region.times} times in a {one}.")
        if not laid.whole:
            said.append(f"{laid.columns} of the {region.width} stitches are drawn.")
        if not self.letters_each:
            said.append("A letter stands once in every run of one yarn.")
        if self.gauge is None:
            said.append("The cells are not true to a gauge, since none is stated.")
        said.append(self._not_drawn(region))
        return " ".join(part for part in said if part)

    def _not_drawn(self, region: Region) -> str:
        others = [row for row in self.fabric.worked if row not in region.rows and row.count]
        if not others:
            return ""
        spans: list[list[RowMark]] = []
        for row in others:
            if spans and spans[-1][-1].source == row.source - 1:
                spans[-1].append(row)
            else:
                spans.append([row])
        labels = [span_label(held[0].label, held[-1].label) for held in spans]
        several = len(labels) > 1 or labels[0].partition(" ")[0].endswith("s")
        stands = "stand" if several else "stands"
        return f"{', '.join(labels)} {stands} in words only, since the number of stitches changes there."

    def _labels(self, region: Region) -> list[str]:
        used = {
            self.fabric.colours[at]
            for at in set(self.fabric.colour[region.rows[0].start : region.rows[-1].stop].tolist())
        }
        return [label for label in self.setting.yarns if label in used]

    def _yarn_words(self, label: str) -> str:
        yarn = self.setting.yarns[label]
        if label == UNNAMED:
            return "the yarn in use"
        return f"{label}, {yarn.name}" if yarn.name else label

    # What is in the cells.

    def _cells(self, region: Region, laid: Plan) -> list[list[_Cell]]:
        """The cells that are drawn, row by row from the lowest, each row from its right edge."""
        fabric = self.fabric
        where = {int(fabric.row[row.start]): at for at, row in enumerate(region.rows)}
        found: list[list[_Cell]] = []
        for row in region.rows:
            order = range(row.start, row.stop) if row.direction > 0 else range(row.stop - 1, row.start - 1, -1)
            number = int(fabric.row[row.start])
            cells: list[_Cell] = []
            for stitch in order[: laid.columns]:
                foot = None
                into = fabric.worked_into(stitch)
                if into and number - int(fabric.row[into[0]]) > 1:
                    under, position = fabric.place(into[0])
                    column = position - 1 if under.direction > 0 else under.count - position
                    foot = (where.get(int(fabric.row[into[0]]), -1), column)
                kind, loop = fabric.kinds[int(fabric.kind[stitch])], fabric.loops[int(fabric.loop[stitch])]
                cells.append(_Cell(kind, loop, fabric.colours[int(fabric.colour[stitch])], foot))
            found.append(cells)
        return found

    def _boxed(self, region: Region) -> bool:
        return 1 < region.repeat < region.width

    def _is_pale(self, column: int) -> bool:
        """Whether a column is beyond the box, where repeats are only hinted at."""
        assert self.region is not None
        return self._boxed(self.region) and column >= self.region.repeat

    def _colour(self, yarn: str, column: int) -> str:
        colour = self.setting.yarns[yarn].colour
        return mixed(colour, self.look.paper, _PALE) if self._is_pale(column) else colour

    def _letter_colour(self, yarn: str, column: int) -> str:
        on = self._colour(yarn, column)
        return readable(on, self.look)

    def _fills(self, grid: _Grid, rows: list[list[_Cell]]) -> None:
        for at, cells in enumerate(rows):
            row = grid.region.rows[at]
            words = row_words(self.fabric, row, self.setting)
            with self.pen.group(f"{row.label}{', ' if words.startswith('in ') else ': '}{words}"):
                column = 0
                for colour, held in groupby(enumerate(cells), key=lambda one: self._colour(one[1].yarn, one[0])):
                    many = len(list(held))
                    corner = (grid.x(column + many - 1), grid.floor(at + 1))
                    self.pen.rectangle(corner, many * grid.plan.width, grid.plan.heights[at], Paint(fill=colour))
                    column += many

    def _rules(self, grid: _Grid) -> None:
        thin = Paint(stroke=self.look.rule, width=Fraction(3, 20))
        steps: list[Step] = []
        for at in range(1, len(grid.region.rows)):
            steps += [("M", ((grid.left, grid.floor(at)),)), ("L", ((grid.right, grid.floor(at)),))]
        for column in range(grid.plan.columns - 1):
            steps += [("M", ((grid.x(column), grid.top),)), ("L", ((grid.x(column), grid.bottom),))]
        if steps:
            self.pen.path(Path(tuple(steps), thin))
        frame = Paint(stroke=self.look.soft, width=Fraction(3, 10))
        corners: list[Point] = [(grid.right, grid.top), (grid.right, grid.bottom)]
        self.pen.line((grid.left, grid.top), corners[0], frame)
        self.pen.line(corners[0], corners[1], frame)
        self.pen.line(corners[1], (grid.left, grid.bottom), frame)
        if grid.plan.whole:
            self.pen.line((grid.left, grid.bottom), (grid.left, grid.top), frame)
        else:
            # The edge where the rows go on is torn, not closed.
            self.pen.path(_torn(grid.left, grid.top, grid.bottom, self.look))

    def _stems(self, grid: _Grid, rows: list[list[_Cell]]) -> None:
        for at, cells in enumerate(rows):
            for column, cell in enumerate(cells):
                if cell.foot is None:
                    continue
                row, under = cell.foot
                centre = grid.x(column) + grid.plan.width * _BESIDE
                top = grid.floor(at)
                # The hook enters the top of the stitch; a stitch below the drawn rows is only pointed at.
                foot = grid.floor(row + 1) if row >= 0 else grid.bottom + Fraction(3, 2)
                if under != column and row >= 0:
                    centre = (centre + grid.x(under) + grid.plan.width * _BESIDE) / 2
                colour = self._colour(cell.yarn, column)
                edge = self._letter_colour(cell.yarn, column)
                edge = mixed(edge, colour, Fraction(1, 4)) if not self._is_pale(column) else mixed(edge, colour, _PALE)
                shape, outline = tongue(centre, top, foot, grid.plan.width, colour, edge)
                self.pen.path(shape)
                self.pen.path(outline)
                self.pen.disc((centre, foot - Fraction(7, 10)), Fraction(9, 20), Paint(fill=edge))

    def _letters(self, grid: _Grid, rows: list[list[_Cell]]) -> None:
        crossed = self._crossed(rows)
        for at, cells in enumerate(rows):
            height = grid.plan.heights[at]
            size = min(Fraction(37, 10), height * Fraction(7, 10), grid.plan.width * Fraction(11, 20))
            base = grid.floor(at) - height / 2 + size * Fraction(17, 50)
            before: str | None = None
            for column, cell in enumerate(cells):
                letter = self.setting.yarns[cell.yarn].letter
                shown = self.letters_each or cell.yarn != before
                before = cell.yarn
                colour = self._letter_colour(cell.yarn, column)
                middle = grid.x(column) + grid.plan.width / 2
                mark = self._mark(cell)
                aside = (at, column) in crossed or mark is not None
                x = grid.x(column) + grid.plan.width * _ASIDE if aside else middle
                type_size = size * Fraction(4, 5) if aside else size
                if shown and letter:
                    self.pen.text((x, base), letter, type_size, colour, anchor="middle", role="letter")
                if mark is not None:
                    place = (grid.x(column) + grid.plan.width * _BESIDE, grid.floor(at) - height / 2)
                    self._put(mark, place, cell, colour)
                if cell.loop:
                    self.pen.use(loop_mark(cell.loop), (middle, grid.floor(at) - Fraction(3, 5)), colour)

    def _crossed(self, rows: list[list[_Cell]]) -> set[tuple[int, int]]:
        """The cells that a stem lies over."""
        found: set[tuple[int, int]] = set()
        for at, cells in enumerate(rows):
            for column, cell in enumerate(cells):
                if cell.foot is not None:
                    found |= {(row, column) for row in range(max(cell.foot[0] + 1, 0), at)}
        return found

    def _mark(self, cell: _Cell) -> Symbol | None:
        """The mark of a stitch that is no plain one and no long one, None for the others."""
        kind = cell.kind
        if cell.foot is not None:
            return None
        if kind.startswith(("front_post_", "back_post_")):
            return post_mark(kind.startswith("front"))
        if kind in _PLAIN:
            return None
        return number_mark(self.numbers.setdefault(kind, len(self.numbers) + 1))

    def _put(self, mark: Symbol, place: Point, cell: _Cell, colour: str) -> None:
        self.pen.use(mark, place, colour)
        if cell.kind in self.numbers:
            base = (place[0], place[1] + Fraction(7, 10))
            number = str(self.numbers[cell.kind])
            self.pen.text(base, number, Fraction(2), colour, anchor="middle", role="figures")

    # Round the grid.

    def _box(self, grid: _Grid) -> None:
        region = grid.region
        madder = Paint(stroke=self.look.madder, width=Fraction(3, 5))
        if self._boxed(region):
            left = grid.x(region.repeat - 1)
            self.pen.rectangle((left, grid.top), grid.right - left, grid.plan.grid_height, madder)
            y = grid.bottom + 6
            self.pen.path(
                Path(
                    (
                        ("M", ((left, y - Fraction(3, 2)),)),
                        ("L", ((left, y),)),
                        ("L", ((grid.right, y),)),
                        ("L", ((grid.right, y - Fraction(3, 2)),)),
                    ),
                    Paint(stroke=self.look.madder, width=Fraction(2, 5)),
                )
            )
            words = f"repeat of {region.repeat} sts, {region.times} times"
            self.pen.text((grid.right, y + 4), words, _BODY, self.look.madder, anchor="end", italic=True)
        self._column_numbers(grid)

    def _column_numbers(self, grid: _Grid) -> None:
        """Stitch numbers under the columns, every one in a narrow repeat, every fifth in a wide one."""
        region = grid.region
        last = region.repeat if self._boxed(region) else grid.plan.columns
        if region.repeat == 1 and not grid.plan.whole:
            return
        step = 1 if last <= 24 else 5
        for number in range(1, last + 1):
            if number % step == 0 or number == 1:
                x = grid.x(number - 1) + grid.plan.width / 2
                size = min(_SMALL, grid.plan.width * Fraction(9, 20))
                at = (x, grid.bottom + Fraction(7, 2))
                self.pen.text(at, str(number), size, self.look.soft, anchor="middle", role="figures")

    def _beside(self, region: Region) -> list[str]:
        """The words beside every row, or none at all where some would be too long."""
        said = [row_words(self.fabric, row, self.setting).removeprefix("in ") for row in region.rows]
        return said if max(map(len, said)) <= _MOST_WORDS else []

    def _margins(self, grid: _Grid, beside: list[str]) -> None:
        """Round numbers with an arrow in the direction of working, and the row in words."""
        ink, woad = self.look.ink, self.look.woad
        for at, row in enumerate(grid.region.rows):
            number = row.label.partition(" ")[2] or row.label
            height = grid.plan.heights[at]
            middle = grid.floor(at) - height / 2
            size = min(_BODY, max(Fraction(2), height * Fraction(4, 5)))
            base = middle + size * Fraction(17, 50)
            forward = row.direction > 0
            if forward:
                self.pen.polygon(_arrow(grid.right + 2, middle, 1), Paint(fill=woad))
                at_number = (grid.right + _NUMBER_GAP + _NUMBER_WIDTH * Fraction(1, 2), base)
                self.pen.text(at_number, number, size, ink, anchor="end", role="figures", bold=True)
            else:
                self.pen.polygon(_arrow(grid.left - 2, middle, -1), Paint(fill=woad))
                at_number = (grid.left - Fraction(7, 2), base)
                self.pen.text(at_number, number, size, ink, anchor="end", role="figures", bold=True)
            if beside:
                where = (grid.right + _NUMBER_GAP + _NUMBER_WIDTH * Fraction(4, 5), base)
                self.pen.text(where, beside[at], min(_SMALL, size), self.look.soft)

    def _width(self, laid: Plan, beside: list[str]) -> Fraction:
        words = max(map(len, beside), default=0) * _SMALL * _WORDS_WIDTH
        return max(2 * _MARGIN + 4 + laid.grid_width + _NUMBER_GAP + _NUMBER_WIDTH + words, Fraction(150))

    def _write_heading(self, title: str, lines: list[str]) -> None:
        y = _MARGIN + _TITLE * Fraction(4, 5)
        self.pen.text((_MARGIN, y), title, _TITLE, self.look.ink, bold=True)
        for line in lines:
            y += _BODY * _LEAD + (1 if line is lines[0] else 0)
            self.pen.text((_MARGIN, y), line, _BODY, self.look.soft)

    # The key.

    def _key(self, region: Region, rows: list[list[_Cell]]) -> list[tuple[str, str]]:
        """The lines of the key, each with what is drawn before it."""
        said: list[tuple[str, str]] = []
        for label in self._labels(region):
            name = self._yarn_words(label)
            said.append((name, f"yarn {label}"))
        kinds: dict[str, _Cell] = {}
        loops: dict[str, _Cell] = {}
        for cells in rows:
            for cell in cells:
                kinds.setdefault(cell.kind, cell)
                if cell.loop:
                    loops.setdefault(cell.loop, cell)
        plain = [kind for kind in kinds if kind in _PLAIN]
        if plain:
            said.append((f"plain cell: {'; '.join(map(self._stitch_words, plain))}", "cell"))
        for kind, cell in kinds.items():
            if cell.foot is not None:
                said.append((f"{self._stitch_words(kind)}: the stem ends where the hook goes in", "stem"))
            elif kind not in _PLAIN:
                said.append((self._stitch_words(kind), f"mark {kind}"))
        for loop in loops:
            said.append((f"worked in the {loop} loop only", f"loop {loop}"))
        if self._boxed(region):
            said.append((f"the repeat: {region.repeat} stitches, worked {region.times} times", "box"))
        missing = [label for label in self._labels(region) if not self.setting.yarns[label].given]
        if missing:
            said.append(("tints stand for colours that the pattern names without a value", "tint"))
        return said

    def _stitch_words(self, kind: str) -> str:
        short, full = self.setting.name(kind), self.setting.explained.get(kind, "")
        return f"{short} ({full})" if full and full != short else short

    def _key_places(
        self, lines: list[tuple[str, str]], width: Fraction, top: Fraction
    ) -> tuple[Fraction, list[tuple[Point, list[str], str]]]:
        """Where every line of the key stands, and how high the paper is."""
        columns = max(1, int((width - 2 * _MARGIN) // _KEY_COLUMN))
        column_width = (width - 2 * _MARGIN) / columns
        broken = [(lines_of(words, column_width - 14, _BODY), what) for words, what in lines]
        per_column = -(-len(broken) // columns)
        places: list[tuple[Point, list[str], str]] = []
        lowest = top
        for at, (words, what) in enumerate(broken):
            column, place = divmod(at, per_column)
            if place == 0:
                y = top
            places.append(((_MARGIN + column * column_width, y), words, what))
            y += max(len(words) * _BODY * _LEAD, Fraction(6)) + 1
            lowest = max(lowest, y)
        return lowest + _MARGIN - 2, places

    def _write_key(self, places: list[tuple[Point, list[str], str]]) -> None:
        with self.pen.group("Key"):
            for (x, y), words, what in places:
                self._key_picture((x, y), what)
                base = y + Fraction(19, 5)
                for line in words:
                    self.pen.text((x + 11, base), line, _BODY, self.look.ink)
                    base += _BODY * _LEAD

    def _key_picture(self, corner: Point, what: str) -> None:
        x, y = corner
        word, _, rest = what.partition(" ")
        edge = Paint(stroke=self.look.soft, width=Fraction(1, 4))
        middle = (x + 4, y + Fraction(5, 2))
        if word == "yarn":
            yarn = self.setting.yarns[rest]
            self.pen.rectangle((x, y), 8, 5, Paint(yarn.colour, self.look.soft, Fraction(1, 4)))
            letter_at = (middle[0], y + Fraction(37, 10))
            letter_colour = readable(yarn.colour, self.look)
            if yarn.letter:
                self.pen.text(letter_at, yarn.letter, Fraction(18, 5), letter_colour, anchor="middle", role="letter")
        elif word == "stem":
            tint = self._stem_tint()
            self.pen.rectangle((x + 1, y), 6, Fraction(3, 2), Paint(fill=tint))
            ink = readable(tint, self.look)
            for path in tongue(x + 4, y + Fraction(3, 2), y + 6, Fraction(6), tint, ink):
                self.pen.path(path)
            self.pen.disc((x + 4, y + Fraction(53, 10)), Fraction(9, 20), Paint(fill=ink))
        elif word == "tint":
            tints = [yarn.colour for yarn in self.setting.yarns.values() if not yarn.given][:4]
            for at, tint in enumerate(tints):
                self.pen.disc((x + Fraction(8 * at + 4, len(tints)), middle[1]), Fraction(1), Paint(tint, self.look.soft, Fraction(1, 4)))
        elif word == "box":
            self.pen.rectangle((x, y), 8, 5, Paint(stroke=self.look.madder, width=Fraction(3, 5)))
        else:
            self.pen.rectangle((x, y), 8, 5, edge)
            if word == "mark":
                cell = _Cell(rest, "", "")
                mark = self._mark(cell)
                if mark is not None:
                    self._put(mark, middle, cell, self.look.ink)
            elif word == "loop":
                self.pen.use(loop_mark(rest), (x + 4, y + Fraction(39, 10)), self.look.ink)

    def _stem_tint(self) -> str:
        yarns: Mapping[str, object] = self.setting.yarns
        last = list(yarns)[-1]
        return self.setting.yarns[last].colour


# Stitches that a cell shows without a mark; the words beside a row and the key say which of them it is.
_PLAIN = frozenset(
    {
        "single",
        "half_double",
        "double",
        "treble",
        "double_treble",
        "triple_treble",
        "extended_single",
        "extended_half_double",
        "extended_double",
        "extended_treble",
        "slip_stitch",
        "turning_chain",
        "foundation_single",
        "foundation_half_double",
        "foundation_double",
    }
)


def _arrow(tip: Fraction, middle: Fraction, side: int) -> tuple[Point, ...]:
    """A small arrow head: at the right of the grid it points left, at the left it points right."""
    half = Fraction(11, 10)
    back = tip + side * Fraction(2)
    return ((tip, middle), (back, middle - half), (back, middle + half))


def _torn(x: Fraction, top: Fraction, bottom: Fraction, look: Look) -> Path:
    """A torn edge: small teeth from top to bottom."""
    teeth = max(2, int((bottom - top) / 2))
    step = (bottom - top) / teeth
    steps: list[Step] = [("M", ((x, top),))]
    for tooth in range(teeth):
        steps.append(("L", ((x - Fraction(9, 10) * (tooth % 2 == 0), top + (tooth + 1) * step),)))
    return Path(tuple(steps), Paint(stroke=look.soft, width=Fraction(1, 4)))
