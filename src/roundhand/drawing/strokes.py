"""The strokes of a drawing noted down in words, one a line: what tests compare before they compare pictures."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from roundhand.drawing.marks import Drawing, Group, Line, Mark, Paint, Path, Point, Polygon, Text, Use, written


def strokes(drawing: Drawing) -> str:
    """Every mark in the order in which it is drawn, groups indented, then the symbols.

    >>> from roundhand.drawing import Paint, Pen
    >>> pen = Pen()
    >>> with pen.group("frame"):
    ...     pen.line((0, 0), (10, 0), Paint(stroke="ink", width=1))
    >>> print(strokes(pen.drawing(10, 10, "A line", "One line.")))
    drawing 10 x 10: A line
    group frame
      line 0,0 10,0 stroke ink 1
    """
    lines = [f"drawing {written(drawing.width)} x {written(drawing.height)}: {drawing.title}"]
    lines += _marks(drawing.marks, "")
    for symbol in drawing.symbols:
        lines.append(f"symbol {symbol.name}")
        lines += _marks(symbol.marks, "  ")
    return "\n".join(lines)


def _marks(marks: Iterable[Mark], indent: str) -> Iterator[str]:
    for mark in marks:
        if isinstance(mark, Group):
            shift = "" if mark.shift == (0, 0) else f" by {_point(mark.shift)}"
            yield f"{indent}group {mark.title}{shift}".rstrip()
            yield from _marks(mark.marks, indent + "  ")
        else:
            yield indent + _said(mark)


def _said(mark: Line | Polygon | Path | Text | Use) -> str:
    if isinstance(mark, Line):
        return f"line {_point(mark.start)} {_point(mark.end)}{_paint(mark.paint)}"
    if isinstance(mark, Polygon):
        return f"polygon {' '.join(map(_point, mark.points))}{_paint(mark.paint)}"
    if isinstance(mark, Path):
        steps = " ".join(" ".join([letter, *map(_point, points)]) for letter, points in mark.steps)
        return f"path {steps}{_paint(mark.paint)}"
    if isinstance(mark, Use):
        return f"use {mark.symbol} {_point(mark.at)}" + (f" {mark.colour}" if mark.colour else "")
    manner = " bold" * mark.bold + " italic" * mark.italic
    return f"{mark.role} {_point(mark.at)} {mark.anchor} {written(mark.size)}{manner} {mark.fill}: {mark.words}"


def _point(point: Point) -> str:
    return f"{written(point[0])},{written(point[1])}"


def _paint(paint: Paint) -> str:
    said = f" fill {paint.fill}" if paint.fill else ""
    if paint.stroke:
        said += f" stroke {paint.stroke} {written(paint.width)}"
        if paint.dash:
            said += f" dash {' '.join(map(written, paint.dash))}"
    return said
