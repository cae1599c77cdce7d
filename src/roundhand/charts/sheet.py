"""A sheet of all symbols: every stitch of the dictionary with its words, and how well its shape is known."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import msgspec

from roundhand.charts.look import Look
from roundhand.charts.marks import extent, laid
from roundhand.charts.plan import lines_of
from roundhand.drawing import Drawing, Paint, Pen
from roundhand.stitches import Stitch, dictionary
from roundhand.stitches.symbols import Stroke, symbol_marks, symbol_of
from roundhand.stitches.symbols.model import moved
from roundhand.terms import Vocabulary, vocabulary

_MARGIN = Fraction(14)
_COLUMNS = 8
_CELL, _GUTTER = Fraction(31), Fraction(2)
_WIDTH = 2 * _MARGIN + _COLUMNS * _CELL + (_COLUMNS - 1) * _GUTTER
# A stitch width on the sheet, and the room of a symbol in its cell; wider ones are drawn smaller.
_SIZE, _ROOM, _TALLEST = Fraction(9), Fraction(27), Fraction(29)
_TITLE, _HEAD, _TYPE = Fraction(9), Fraction(5), Fraction(3)
_SHORT, _SMALL = Fraction(17, 5), Fraction(12, 5)
_LEAD = Fraction(5, 4)
# Room for the words of a cell and for a heading; how high over its line a mark is shown that stands over stitches.
_WORDS, _HEADING, _OVER = Fraction(14), Fraction(14), Fraction(2, 5)
# What the families are called, in the order of the sheet: the plain stitch, and which families stand under it.
_GROUPS = (
    ("chain", ("chain",)),
    ("slip_stitch", ("slip_stitch",)),
    ("single", ("single", "extended_single")),
    ("half_double", ("half_double", "extended_half_double")),
    ("double", ("double", "extended_double")),
    ("treble", ("treble", "extended_treble")),
    ("double_treble", ("double_treble", "triple_treble", "quadruple_treble")),
    ("tunisian_simple", ("tunisian_simple",)),
)
_KNOWN = (
    ("found", "shown alike by the published lists of symbols that were read"),
    ("memory", "recalled; no list was at hand, and books differ"),
    ("ours", "made by rule from how the stitch is worked; ours, and no standard"),
)


class Shown(msgspec.Struct, frozen=True):
    """One cell of the sheet: strokes with a short and a full name, and how well the shape is known."""

    short: str
    name: str
    strokes: tuple[Stroke, ...]
    evidence: str


def symbol_sheet(language: str = "US", look: Look | None = None) -> Drawing:
    """The sheet of all symbols, in the words of a language, grouped by the plain stitch that each is a form of.

    >>> sheet = symbol_sheet("UK")
    >>> sheet.title
    'Chart symbols of all stitches, UK terms'
    """
    look = look or Look()
    words = vocabulary(language)
    pen = Pen()
    title = f"Chart symbols of all stitches, {language} terms"
    groups = [(_heading(words, plain), _cells(words, families)) for plain, families in _GROUPS]
    groups.append(("Where the hook goes, and how", _marks()))
    number = len(dictionary())
    said = [line for one in _intro(number) for line in lines_of(one, _WIDTH - 2 * _MARGIN, _TYPE * Fraction(9, 10), 6)]
    legend = _MARGIN + _TITLE + 8 + len(said) * _TYPE * _LEAD
    height = legend + len(_KNOWN) * _TYPE * _LEAD + 4
    placed: list[tuple[Fraction, str, list[Shown]]] = []
    for heading, cells in groups:
        placed.append((height, heading, cells))
        height += _block(cells)
    height += _MARGIN / 2
    pen.rectangle((0, 0), _WIDTH, height, Paint(fill=look.paper))
    pen.text((_MARGIN, _MARGIN + _TITLE / 2), "Chart symbols", _TITLE, look.ink, bold=True)
    for at, line in enumerate(said):
        pen.text((_MARGIN, _MARGIN + _TITLE + 3 + at * _TYPE * _LEAD), line, _TYPE, look.soft)
    _legend(pen, look, legend)
    for top, heading, cells in placed:
        with pen.group(heading):
            _group(pen, look, top, heading, cells)
    told = "; ".join(f"{cell.short}, {cell.evidence}" for _, cells in groups for cell in cells)
    return pen.drawing(_WIDTH, height, title, f"{number} stitches and the marks of places: {told}.")


def _intro(number: int) -> tuple[str, str]:
    """What stands above the symbols."""
    return (
        f"{number} stitches. The thin line is the top of the row below. A leg is a place that the hook enters, a slash "
        "across it a yarn over that is worked off by itself. Legs in one place bow out, legs in several meet at the "
        "top.",
        "A chart shows the right side of the work. None of these symbols is a standard, so a chart explains its own.",
    )


def _heading(words: Vocabulary, plain: str) -> str:
    name = words.full_names.get(plain) or plain.replace("_", " ")
    return f"{name[:1].upper()}{name[1:]} and its forms"


def _cells(words: Vocabulary, families: Sequence[str]) -> list[Shown]:
    held = [stitch for stitch in dictionary().values() if stitch.family in families]
    return [_shown(words, stitch) for stitch in sorted(held, key=lambda one: _order(one, families))]


def _order(stitch: Stitch, families: Sequence[str]) -> tuple[object, ...]:
    """Plain stitches first, by their height; then forms of one leg, of several, and groups, each with its like."""
    kind = stitch.id.removeprefix(stitch.family).replace(f"_{stitch.family}", "")
    like = "".join(letter for letter in kind if not letter.isdigit())
    plain = stitch.id == stitch.family
    return (not plain, bool(stitch.parts), stitch.legs > 1, like, families.index(stitch.family), stitch.legs, stitch.id)


def _shown(words: Vocabulary, stitch: Stitch) -> Shown:
    found = symbol_of(stitch.id)
    # Ids are whole words of US usage and mean nothing in other terms.
    plain = stitch.id.replace("_", " ") if words.language == "US" else ""
    return Shown(words.short(stitch.id), words.full_names.get(stitch.id, plain), found.strokes, found.evidence)


def _marks() -> list[Shown]:
    return [
        Shown(
            name.replace("_", " "),
            mark.words,
            tuple(moved(stroke, Fraction(0), _OVER if mark.at == "top" else Fraction(0)) for stroke in mark.strokes),
            mark.evidence,
        )
        for name, mark in symbol_marks().items()
    ]


def _size(strokes: Sequence[Stroke]) -> Fraction:
    """The size of a stitch width at which a symbol fits into its cell."""
    left, bottom, right, top = extent(strokes)
    return min(
        _SIZE, _ROOM / max(right - left, Fraction(1)), _TALLEST / max(top - min(bottom, Fraction(0)), Fraction(1))
    )


def _rows(cells: Sequence[Shown]) -> list[Sequence[Shown]]:
    return [cells[at : at + _COLUMNS] for at in range(0, len(cells), _COLUMNS)]


def _tall(row: Sequence[Shown]) -> tuple[Fraction, Fraction]:
    """How far a row of cells reaches above its line and below it."""
    over = under = Fraction(0)
    for cell in row:
        _, bottom, _, top = extent(cell.strokes)
        size = _size(cell.strokes)
        over, under = max(over, top * size), max(under, -bottom * size)
    return over, under


def _block(cells: Sequence[Shown]) -> Fraction:
    return _HEADING + sum((sum(_tall(row), Fraction(5)) + _WORDS for row in _rows(cells)), Fraction(0))


def _group(pen: Pen, look: Look, top: Fraction, heading: str, cells: Sequence[Shown]) -> None:
    pen.text((_MARGIN, top + 7), heading, _HEAD, look.ink, bold=True)
    pen.line((_MARGIN, top + 9), (_WIDTH - _MARGIN, top + 9), Paint(stroke=look.rule, width=Fraction(1, 4)))
    y = top + _HEADING
    for row in _rows(cells):
        over, under = _tall(row)
        y += over + 5
        for at, cell in enumerate(row):
            _cell(pen, look, _MARGIN + at * (_CELL + _GUTTER), y, under, cell)
        y += under + _WORDS


def _cell(pen: Pen, look: Look, left: Fraction, line: Fraction, under: Fraction, cell: Shown) -> None:
    middle = left + _CELL / 2
    pen.line((left + 1, line), (left + _CELL - 1, line), Paint(stroke=look.rule, width=Fraction(1, 8)))
    size = _size(cell.strokes)
    for path in laid(cell.strokes, (middle, line), size, look.ink):
        pen.path(path)
    y = line + under + 4
    narrow = min(_SHORT, _CELL * 2 / max(len(cell.short), 1) * Fraction(19, 20))
    pen.text((middle, y), cell.short, narrow, look.ink, anchor="middle", bold=True)
    colour = _colour(look, cell.evidence)
    lines = lines_of(cell.name, _CELL, _SMALL, 2) if cell.name != cell.short else []
    for at, words in enumerate(lines):
        pen.text((middle, y + Fraction(3) + at * _SMALL * _LEAD), words, _SMALL, look.soft, anchor="middle")
    base = y + Fraction(3) + len(lines) * _SMALL * _LEAD
    pen.text((middle, base), cell.evidence, _SMALL, colour, anchor="middle", italic=True)


def _legend(pen: Pen, look: Look, top: Fraction) -> None:
    for at, (evidence, words) in enumerate(_KNOWN):
        y = top + at * _TYPE * _LEAD
        pen.text((_MARGIN, y), evidence, _TYPE, _colour(look, evidence), italic=True)
        pen.text((_MARGIN + 14, y), words, _TYPE, look.soft)


def _colour(look: Look, evidence: str) -> str:
    return {"found": look.woad, "memory": look.soft}.get(evidence, look.madder)
