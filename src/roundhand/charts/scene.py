"""A chart before it is drawn: what stands in every cell, which rows look alike, what lies beyond the first repeat."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

import msgspec

from roundhand.charts.look import Look, mixed, readable
from roundhand.charts.marks import stitch_mark
from roundhand.charts.plan import Plan, plan
from roundhand.charts.region import Region, cells_of
from roundhand.charts.setting import Cells, Setting, from_behind
from roundhand.charts.words import Teller
from roundhand.drawing import Symbol as Drawn
from roundhand.fabric import Fabric
from roundhand.stitches import dictionary
from roundhand.stitches.symbols import Stroke, Symbol, symbol, turning_chain

# The longest words that still stand beside a row.
_MOST_WORDS = 38
# Beyond so many cells a letter stands once in every run of one yarn: more would make the file too large to open.
_MOST_LETTERS = 8_000
# What lies beyond the first repeat is shown paler, for it is only there to show how the repeats meet.
PALE = Fraction(1, 2)

# The room of a symbol in its cell, as parts of its width and height, and of the width the largest stitch width.
_MARK_WIDE, _MARK_HIGH, _LARGEST = Fraction(1, 2), Fraction(41, 50), Fraction(3, 5)

# Half the length of a line under a symbol that another stitch has too, and how far it is from what stands over it.
_UNDER, _APART = Fraction(3, 10), Fraction(9, 50)

# Stitches that a cell shows without a mark; the words beside a row and the key say which of them it is.
PLAIN = (
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
)


# What the other side of the fabric shows.
_BEHIND = {"front": "back", "back": "front"}


class Cell(msgspec.Struct, frozen=True):
    """One cell: the stitch's kind and loop as the right side shows them, its yarn, and for a long stitch how many rows
    lower it is worked and the drawn row and the column of its foot; the row is -1 where it is not drawn."""

    kind: str
    loop: str
    yarn: str
    depth: int = 1
    foot: tuple[int, int] = (-1, 0)

    @property
    def is_long(self) -> bool:
        """Whether the stitch is worked lower than the row below."""
        return self.depth > 1


class Scene(msgspec.Struct, frozen=True):
    """Everything that a chart shows. `rows` has the cells of every drawn row from its right edge; `beside` the words
    that stand beside the rows, empty where some are too long; `symbols` those of the kinds that are shown by one."""

    fabric: Fabric
    setting: Setting
    look: Look
    region: Region
    plan: Plan
    rows: tuple[tuple[Cell, ...], ...]
    words: tuple[str, ...]
    beside: tuple[str, ...]
    symbols: Mapping[str, Symbol]
    to_gauge: bool

    @property
    def one(self) -> str:
        """What a row is called."""
        return "round" if self.region.in_rounds else "row"

    @property
    def boxed(self) -> bool:
        """Whether a repeat is marked by a box."""
        return 1 < self.region.repeat < self.region.width

    @property
    def letters_each(self) -> bool:
        """Whether every cell has its letter."""
        return self.plan.columns * len(self.plan.drawn) <= _MOST_LETTERS

    @property
    def turned(self) -> bool:
        """Whether some rows are worked from left to right."""
        return any(self.region.rows[at].direction < 0 for at in self.plan.drawn)

    @property
    def labels(self) -> tuple[str, ...]:
        """The labels of the yarns in the drawn rows, in the order of the pattern."""
        used = {cell.yarn for cells in self.rows for cell in cells}
        return tuple(label for label in self.setting.yarns if label in used)

    def number(self, row: int) -> str:
        """The number of a drawn row, without the word before it."""
        label = self.region.rows[self.plan.drawn[row]].label
        return label.partition(" ")[2] or label

    def mark(self, kind: str) -> Drawn:
        """The symbol of a kind, in the size that fits beside a letter into the lowest cell that shows it."""
        rows = [at for at, cells in enumerate(self.rows) if any(cell.kind == kind for cell in cells)]
        lowest = min((self.plan.heights[at] for at in rows), default=self.plan.width)
        width = self.plan.width
        return stitch_mark(kind, self.symbols[kind].strokes, width * _MARK_WIDE, lowest * _MARK_HIGH, width * _LARGEST)

    def is_pale(self, column: int) -> bool:
        """Whether a column is beyond the box, where repeats are only hinted at."""
        return self.boxed and column >= self.region.repeat

    def colour(self, cell: Cell, column: int) -> str:
        """The colour of a cell."""
        colour = self.setting.yarns[cell.yarn].colour
        return mixed(colour, self.look.paper, PALE) if self.is_pale(column) else colour

    def letter_colour(self, cell: Cell, column: int) -> str:
        """A colour that can be read on a cell."""
        return readable(self.colour(cell, column), self.look)


def scene(fabric: Fabric, setting: Setting, cells: Cells | None, look: Look, region: Region, teller: Teller) -> Scene:
    """The scene of a region."""
    alike = [(cells_of(fabric, row).tobytes(), teller.words(row)) for row in region.rows]
    laid = plan(region, cells, alike)
    rows = _rows(fabric, region, laid)
    words = tuple(teller.words(region.rows[at]) for at in laid.drawn)
    beside = tuple(one.removeprefix("in ") for one in words)
    if max(map(len, beside)) > _MOST_WORDS:
        beside = ()
    symbols = _told_apart({kind: _symbol(kind, setting) for kind in _marked(rows, not beside)})
    return Scene(fabric, setting, look, region, laid, rows, words, beside, symbols, cells is not None)


def _symbol(kind: str, setting: Setting) -> Symbol:
    """The symbol of a kind: of the pattern's own stitch of that name, else of the dictionary's."""
    known = dictionary()
    stitch = setting.own.get(kind) or known.get(kind)
    return symbol(stitch, known) if stitch is not None else turning_chain()


def _told_apart(symbols: Mapping[str, Symbol]) -> Mapping[str, Symbol]:
    """The symbols, those of stitches that the trade draws alike with lines under all but the first of them."""
    seen: dict[tuple[Stroke, ...], int] = {}
    found: dict[str, Symbol] = {}
    for kind, one in symbols.items():
        lines = seen[one.strokes] = seen.get(one.strokes, -1) + 1
        under = tuple(Stroke("mark", ((-_UNDER, y), (_UNDER, y))) for y in (-_APART * (at + 1) for at in range(lines)))
        found[kind] = Symbol(one.box, one.strokes + under, "ours" if lines else one.evidence, one.source)
    return found


def _rows(fabric: Fabric, region: Region, laid: Plan) -> tuple[tuple[Cell, ...], ...]:
    where = {int(fabric.row[region.rows[row].start]): at for at, row in enumerate(laid.drawn)}
    found: list[tuple[Cell, ...]] = []
    for at in laid.drawn:
        row = region.rows[at]
        order = range(row.start, row.stop) if row.direction > 0 else range(row.stop - 1, row.start - 1, -1)
        number = int(fabric.row[row.start])
        cells: list[Cell] = []
        for stitch in order[: laid.columns]:
            kind, loop = fabric.kinds[int(fabric.kind[stitch])], fabric.loops[int(fabric.loop[stitch])]
            if row.direction < 0:
                kind, loop = from_behind(kind), _BEHIND.get(loop, loop)
            yarn = fabric.colours[int(fabric.colour[stitch])]
            into = fabric.worked_into(stitch)
            depth = number - int(fabric.row[into[0]]) if into else 1
            if depth > 1:
                under, position = fabric.place(into[0])
                column = position - 1 if under.direction > 0 else under.count - position
                cells.append(Cell(kind, loop, yarn, depth, (where.get(number - depth, -1), column)))
            else:
                cells.append(Cell(kind, loop, yarn))
        found.append(tuple(cells))
    return tuple(found)


def _marked(rows: tuple[tuple[Cell, ...], ...], without_words: bool) -> tuple[str, ...]:
    """The kinds of stitch that are shown by their symbol: all but plain ones. Where no words stand beside the rows, all
    plain stitches but the commonest need one too, and of several kinds of long stitch all but the first."""
    counts: dict[str, int] = {}
    long_kinds: dict[str, None] = {}
    for cells in rows:
        for cell in cells:
            if cell.is_long:
                long_kinds.setdefault(cell.kind)
            else:
                counts[cell.kind] = counts.get(cell.kind, 0) + 1
    plain = {kind: count for kind, count in counts.items() if kind in PLAIN}
    unmarked = {max(plain, key=lambda kind: plain[kind], default="")} if without_words else set(plain)
    marked = [kind for kind in counts if kind not in unmarked]
    return (*marked, *(kind for kind in list(long_kinds)[1:] if kind not in marked))


def is_post(kind: str) -> bool:
    """Whether a stitch goes round a post."""
    return kind.startswith(("front_post_", "back_post_"))
