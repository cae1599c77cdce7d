"""The pen: draws marks one after the other and hands over the finished drawing."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from fractions import Fraction
from typing import Literal

from roundhand.drawing.marks import (
    Drawing,
    Group,
    Line,
    Mark,
    Number,
    Paint,
    Path,
    Point,
    Polygon,
    Symbol,
    Text,
    Use,
)

# A quarter of a circle as a Bezier curve: its handles are this part of the radius long (4/3 of the tangent of an
# eighth of a turn, 0.552285 to six places).
_HANDLE = Fraction(552285, 1_000_000)


class Pen:
    """Collects marks in the order in which they are drawn; later ones lie on top.

    >>> pen = Pen()
    >>> pen.rectangle((0, 0), 10, 5, Paint(stroke="black", width=1))
    >>> with pen.group("a row"):
    ...     pen.text((5, 4), "A", 3, "black", anchor="middle")
    >>> drawing = pen.drawing(10, 5, "One cell", "A single cell with the letter A.")
    >>> [type(mark).__name__ for mark in drawing.marks]
    ['Polygon', 'Group']
    """

    def __init__(self) -> None:
        self._open: list[list[Mark]] = [[]]
        self._symbols: dict[str, Symbol] = {}

    def line(self, start: Point, end: Point, paint: Paint) -> None:
        """A straight stroke."""
        self.add(Line(start, end, paint))

    def polygon(self, points: tuple[Point, ...], paint: Paint) -> None:
        """A closed shape with straight sides."""
        self.add(Polygon(points, paint))

    def rectangle(self, corner: Point, width: Number, height: Number, paint: Paint) -> None:
        """An upright rectangle from its top left corner."""
        x, y = corner
        self.polygon(((x, y), (x + width, y), (x + width, y + height), (x, y + height)), paint)

    def path(self, path: Path) -> None:
        """A shape of lines and curves."""
        self.add(path)

    def disc(self, centre: Point, radius: Number, paint: Paint) -> None:
        """A circle, as four curves."""
        self.path(circle(centre, radius, paint))

    def text(
        self,
        at: Point,
        words: str,
        size: Number,
        fill: str,
        *,
        anchor: Literal["start", "middle", "end"] = "start",
        role: Literal["text", "figures", "letter"] = "text",
        bold: bool = False,
        italic: bool = False,
    ) -> None:
        """Words with their base line at a point."""
        self.add(Text(at, words, size, fill, anchor, role, bold, italic))

    def use(self, symbol: Symbol, at: Point, colour: str = "") -> None:
        """A symbol put down at a point. Raises ValueError where the name already stands for other marks."""
        known = self._symbols.setdefault(symbol.name, symbol)
        if known != symbol:
            raise ValueError(f"two symbols are called {symbol.name!r}")
        self.add(Use(symbol.name, at, colour))

    def add(self, mark: Mark) -> None:
        """Any mark."""
        self._open[-1].append(mark)

    @contextmanager
    def group(self, title: str = "", description: str = "", shift: Point = (0, 0)) -> Iterator[None]:
        """Everything drawn inside belongs together; a group without marks leaves nothing."""
        self._open.append([])
        try:
            yield
        finally:
            marks = tuple(self._open.pop())
            if marks:
                self.add(Group(marks, title, description, shift))

    def drawing(self, width: Number, height: Number, title: str, description: str, language: str = "en") -> Drawing:
        """The drawing so far."""
        symbols = tuple(self._symbols.values())
        return Drawing(width, height, tuple(self._open[0]), title, description, symbols, language)


def circle(centre: Point, radius: Number, paint: Paint) -> Path:
    """A circle as four curves.

    >>> len(circle((0, 0), 1, Paint(fill="black")).steps)
    6
    """
    x, y = centre
    handle = radius * _HANDLE
    east, south, west, north = (x + radius, y), (x, y + radius), (x - radius, y), (x, y - radius)
    return Path(
        (
            ("M", (east,)),
            ("C", ((x + radius, y + handle), (x + handle, y + radius), south)),
            ("C", ((x - handle, y + radius), (x - radius, y + handle), west)),
            ("C", ((x - radius, y - handle), (x - handle, y - radius), north)),
            ("C", ((x + handle, y - radius), (x + radius, y - handle), east)),
            ("Z", ()),
        ),
        paint,
    )
