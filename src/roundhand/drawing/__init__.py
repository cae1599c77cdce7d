"""The pen: drawings as immutable lists of marks, in millimetres, that know no file format.

>>> from roundhand.drawing import Paint, Pen
>>> pen = Pen()
>>> pen.line((0, 0), (10, 10), Paint(stroke="black", width=1))
>>> pen.drawing(10, 10, "A stroke", "One slanted stroke.").marks[0].end
(10, 10)
"""

from roundhand.drawing.marks import (
    CURRENT,
    Drawing,
    Group,
    Line,
    Mark,
    Number,
    Paint,
    Path,
    Point,
    Polygon,
    Step,
    Symbol,
    Text,
    Use,
    written,
)
from roundhand.drawing.pen import Pen, circle
from roundhand.drawing.strokes import strokes

__all__ = [
    "CURRENT",
    "Drawing",
    "Group",
    "Line",
    "Mark",
    "Number",
    "Paint",
    "Path",
    "Pen",
    "Point",
    "Polygon",
    "Step",
    "Symbol",
    "Text",
    "Use",
    "circle",
    "strokes",
    "written",
]
