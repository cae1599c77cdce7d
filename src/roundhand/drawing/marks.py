"""What a pen leaves on paper: an immutable list of lines, shapes and words, in millimetres from the top left corner.

Numbers are integers or exact fractions and are rounded once, to a thousandth of a millimetre, when they are written
out, so that the same drawing is the same text on every machine. A drawing knows no file format and no colours but those
it is given.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

import msgspec

Number = int | Fraction
Point = tuple[Number, Number]
# A step of a path: M to a point, L a line, C a curve with two handles, Z back to where the path began.
Step = tuple[Literal["M", "L", "C", "Z"], tuple[Point, ...]]

_STEP_POINTS = {"M": 1, "L": 1, "C": 3, "Z": 0}


class Paint(msgspec.Struct, frozen=True):
    """How a mark is painted: colours as they are given, empty for none; `width` of the stroke and its `dash`."""

    fill: str = ""
    stroke: str = ""
    width: Number = 0
    dash: tuple[Number, ...] = ()


class Line(msgspec.Struct, frozen=True):
    """A straight stroke from one point to another."""

    start: Point
    end: Point
    paint: Paint


class Polygon(msgspec.Struct, frozen=True):
    """A closed shape with straight sides."""

    points: tuple[Point, ...]
    paint: Paint


class Path(msgspec.Struct, frozen=True):
    """A shape of lines and curves. Raises ValueError for a step with the wrong number of points."""

    steps: tuple[Step, ...]
    paint: Paint

    def __post_init__(self) -> None:
        for letter, points in self.steps:
            if len(points) != _STEP_POINTS[letter]:
                raise ValueError(f"a step {letter} has {_STEP_POINTS[letter]} points, not {len(points)}")


class Text(msgspec.Struct, frozen=True):
    """Words with their base line at a point. `size` is that of the type; `role` says what they are set in.

    `anchor` is the end of the words that stands at the point. `role`: `text`, `figures` (for counts, all of one width)
    or `letter` (single letters in cells).
    """

    at: Point
    words: str
    size: Number
    fill: str
    anchor: Literal["start", "middle", "end"] = "start"
    role: Literal["text", "figures", "letter"] = "text"
    bold: bool = False
    italic: bool = False


class Use(msgspec.Struct, frozen=True):
    """A symbol of the drawing put down at a point, in a colour of its own where the symbol's marks have none."""

    symbol: str
    at: Point
    colour: str = ""


class Group(msgspec.Struct, frozen=True):
    """Marks that belong together, with a name for those who cannot see them. `shift` moves all of them."""

    marks: tuple[Mark, ...]
    title: str = ""
    description: str = ""
    shift: Point = (0, 0)


class Symbol(msgspec.Struct, frozen=True):
    """Marks drawn once and used often. A paint of `current` takes the colour of each use."""

    name: str
    marks: tuple[Mark, ...]


Mark = Line | Polygon | Path | Text | Use | Group


class Drawing(msgspec.Struct, frozen=True):
    """A finished drawing with its size in millimetres, its title and its description in words."""

    width: Number
    height: Number
    marks: tuple[Mark, ...]
    title: str
    description: str
    symbols: tuple[Symbol, ...] = ()
    language: str = "en"


CURRENT = "current"


def written(number: Number) -> str:
    """A length as it is written out: to the thousandth, halves to the even one, without zeros at the end.

    Raises TypeError for a number that is not exact.

    >>> written(Fraction(1, 3)), written(7), written(Fraction(5, 2)), written(Fraction(-1, 4000))
    ('0.333', '7', '2.5', '0')
    """
    if not isinstance(number, int | Fraction):
        raise TypeError(f"a drawing has exact numbers only, not {number!r}")
    thousandths = round(number * 1000)
    whole, part = divmod(abs(thousandths), 1000)
    sign = "-" if thousandths < 0 else ""
    return f"{sign}{whole}.{part:03d}".rstrip("0").rstrip(".")
