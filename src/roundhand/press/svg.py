"""Drawings as SVG 2, written with the standard library's own XML writer.

The text is the same for the same drawing, byte for byte: attributes stand in a fixed order, numbers are rounded to a
thousandth of a millimetre, and nothing is taken from the machine. Everything that a pattern says stands in text and
attribute values that the writer escapes; there is no script, no style sheet and no link to anything outside.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from xml.etree import ElementTree as ET

from roundhand.drawing import (
    CURRENT,
    Drawing,
    Group,
    Line,
    Mark,
    Paint,
    Path,
    Point,
    Polygon,
    Text,
    Use,
    written,
)
from roundhand.press.signs import plain

_NAMESPACE = "http://www.w3.org/2000/svg"
_NAME = re.compile(r"[A-Za-z][A-Za-z0-9_-]*")

# The first family is what the press sets pages in, the others are what a browser may have. Letters and figures are set
# in it too: its figures are all of one width.
_FAMILY = "Libertinus Serif, Palatino, Georgia, serif"


def svg(drawing: Drawing, name: str = "chart") -> str:
    """The drawing as one SVG document, with its title and description for those who hear it read.

    `name` begins every id in it, so that several drawings can stand in one page. Raises ValueError for a name that is
    no plain word. Signs that cannot be seen are left out as everywhere in the press; line ends are `\\n`.

    >>> from roundhand.drawing import Paint, Pen
    >>> pen = Pen()
    >>> pen.text((1, 4), "<b> & co", 3, "#000000")
    >>> print(svg(pen.drawing(10, 5, "One word", "A word with marks in it.")))
    <svg xmlns="http://www.w3.org/2000/svg" width="10mm" height="5mm" viewBox="0 0 10 5" role="img" \
aria-labelledby="chart-title chart-description" xml:lang="en">
    <title id="chart-title">One word</title>
    <desc id="chart-description">A word with marks in it.</desc>
    <text x="1" y="4" font-family="Libertinus Serif, Palatino, Georgia, serif" font-size="3" fill="#000000">&lt;b&gt; \
&amp; co</text>
    </svg>
    <BLANKLINE>
    """
    if not _NAME.fullmatch(name):
        raise ValueError(f"a drawing's name is a plain word, not {name!r}")
    root = ET.Element(
        "svg",
        {
            "xmlns": _NAMESPACE,
            "width": f"{written(drawing.width)}mm",
            "height": f"{written(drawing.height)}mm",
            "viewBox": f"0 0 {written(drawing.width)} {written(drawing.height)}",
            "role": "img",
            "aria-labelledby": f"{name}-title {name}-description",
            "xml:lang": plain(drawing.language),
        },
    )
    ET.SubElement(root, "title", {"id": f"{name}-title"}).text = plain(drawing.title)
    ET.SubElement(root, "desc", {"id": f"{name}-description"}).text = plain(drawing.description)
    if drawing.symbols:
        defs = ET.SubElement(root, "defs")
        for symbol in drawing.symbols:
            held = ET.SubElement(defs, "g", {"id": _id(name, symbol.name)})
            _marks(held, symbol.marks, name)
    _marks(root, drawing.marks, name)
    _break_lines(root)
    return ET.tostring(root, encoding="unicode", short_empty_elements=True).replace(" />", "/>") + "\n"


def _marks(parent: ET.Element, marks: Iterable[Mark], name: str) -> None:
    for mark in marks:
        if isinstance(mark, Group):
            _group(parent, mark, name)
        elif isinstance(mark, Line):
            (x1, y1), (x2, y2) = mark.start, mark.end
            ends = {"x1": written(x1), "y1": written(y1), "x2": written(x2), "y2": written(y2)}
            ET.SubElement(parent, "line", ends | _paint(mark.paint))
        elif isinstance(mark, Polygon):
            ET.SubElement(parent, "polygon", {"points": " ".join(map(_point, mark.points))} | _paint(mark.paint))
        elif isinstance(mark, Path):
            steps = " ".join(letter + " ".join(map(_point, points)) for letter, points in mark.steps)
            ET.SubElement(parent, "path", {"d": steps} | _paint(mark.paint))
        elif isinstance(mark, Use):
            where = {"href": f"#{_id(name, mark.symbol)}", "x": written(mark.at[0]), "y": written(mark.at[1])}
            ET.SubElement(parent, "use", where | ({"color": plain(mark.colour)} if mark.colour else {}))
        else:
            _text(parent, mark)


def _group(parent: ET.Element, group: Group, name: str) -> None:
    moved = group.shift != (0, 0)
    shift = f"translate({written(group.shift[0])} {written(group.shift[1])})"
    element = ET.SubElement(parent, "g", {"transform": shift} if moved else {})
    if group.title:
        ET.SubElement(element, "title").text = plain(group.title)
    if group.description:
        ET.SubElement(element, "desc").text = plain(group.description)
    _marks(element, group.marks, name)


def _text(parent: ET.Element, text: Text) -> None:
    held = {
        "x": written(text.at[0]),
        "y": written(text.at[1]),
        "font-family": _FAMILY,
        "font-size": written(text.size),
    }
    if text.bold:
        held["font-weight"] = "bold"
    if text.italic:
        held["font-style"] = "italic"
    if text.anchor != "start":
        held["text-anchor"] = text.anchor
    held["fill"] = plain(text.fill)
    ET.SubElement(parent, "text", held).text = plain(text.words)


def _paint(paint: Paint) -> dict[str, str]:
    held = {"fill": _colour(paint.fill) or "none"}
    if paint.stroke:
        held |= {"stroke": _colour(paint.stroke), "stroke-width": written(paint.width)}
        held |= {"stroke-linejoin": "round", "stroke-linecap": "round"}
        if paint.dash:
            held["stroke-dasharray"] = " ".join(map(written, paint.dash))
    return held


def _colour(colour: str) -> str:
    return "currentColor" if colour == CURRENT else plain(colour)


def _point(point: Point) -> str:
    return f"{written(point[0])},{written(point[1])}"


def _id(name: str, symbol: str) -> str:
    """An id that no other symbol has: letters and figures stand as they are, everything else by its number."""
    return f"{name}-" + "".join(one if one.isascii() and one.isalnum() else f"-{ord(one):x}-" for one in symbol)


def _break_lines(element: ET.Element) -> None:
    """One element a line, without touching the words inside texts."""
    if not len(element):
        return
    element.text = "\n"
    for child in element:
        _break_lines(child)
        child.tail = "\n"
