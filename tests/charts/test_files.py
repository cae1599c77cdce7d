"""Charts as files: SVG that any reader of XML takes, the same byte for byte, and a PNG of it."""

from __future__ import annotations

import struct
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from roundhand.drawing import CURRENT, Drawing, Paint, Pen, Symbol, circle
from roundhand.press.page import PressError
from roundhand.press.png import png
from roundhand.press.svg import svg
from tests.charts.samples import TERN_CUFF, cap, chart, fabric_and_chart
from tests.charts.test_bad_input import HOSTILE

_SVG = "{http://www.w3.org/2000/svg}"


def _hostile() -> Drawing:
    yarn = "Yarn A: worsted, R&D <i>grey</i> \u202egnp \ud800"
    return chart(f"{HOSTILE}\n\n{yarn}\n\nBO<DY>\nRnd 1: With A, 6 sc in a magic ring.").drawing


def test_a_chart_is_one_image_with_a_title_and_a_description() -> None:
    _, found = fabric_and_chart(cap("kittiwake"), 1, 3)
    text = svg(found.drawing, "kittiwake")
    root = ET.fromstring(text)
    assert root.tag == f"{_SVG}svg"
    assert root.get("role") == "img"
    title, desc = root.find(f"{_SVG}title"), root.find(f"{_SVG}desc")
    assert title is not None
    assert desc is not None
    assert title.text == found.title
    assert root.get("aria-labelledby") == f"{title.get('id')} {desc.get('id')}"
    assert root.get("width", "").endswith("mm")
    assert root.get("viewBox") == f"0 0 {root.get('width', '')[:-2]} {root.get('height', '')[:-2]}"
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(ids) == len(set(ids))
    links = [element.get("href", "") for element in root.iter() if element.get("href")]
    assert {link.removeprefix("#") for link in links} <= set(ids)


def test_the_same_drawing_is_the_same_bytes() -> None:
    assert svg(chart(TERN_CUFF).drawing) == svg(chart(TERN_CUFF).drawing)


def test_words_of_a_pattern_are_text_and_nothing_else() -> None:
    text = svg(_hostile())
    root = ET.fromstring(text)
    assert {element.tag.removeprefix(_SVG) for element in root.iter()} <= {
        "svg",
        "title",
        "desc",
        "g",
        "polygon",
        "path",
        "text",
        "line",
    }
    assert "<script" not in text
    assert "\u202e" not in text
    assert "\x07" not in text
    assert "\ud800" not in text
    title = root.find(f"{_SVG}title")
    assert title is not None
    assert title.text is not None
    assert title.text.startswith("<script>alert(1)</script> & \"Cap\" ]]> '{{x}}'")


def test_symbols_are_drawn_once_and_ids_keep_their_words_apart() -> None:
    pen = Pen()
    for name in ("a b", "a-b", "a_b"):
        pen.use(Symbol(name, (circle((0, 0), 1, Paint(fill=CURRENT)),)), (1, 1), "#123456")
    root = ET.fromstring(svg(pen.drawing(3, 3, "t", "d")))
    held = root.findall(f"{_SVG}defs/{_SVG}g")
    assert len({one.get("id") for one in held}) == 3
    assert {one.get("color") for one in root.findall(f"{_SVG}use")} == {"#123456"}
    assert held[0][0].get("fill") == "currentColor"


def test_a_name_that_is_no_word_is_refused() -> None:
    with pytest.raises(ValueError, match="plain word"):
        svg(_hostile(), 'x" onload="y')


def _size(picture: bytes) -> tuple[int, int]:
    assert picture[:8] == b"\x89PNG\r\n\x1a\n"
    wide, high = struct.unpack(">II", picture[16:24])
    return wide, high


def test_a_picture_is_as_wide_as_asked_and_the_same_twice(tmp_path: Path) -> None:
    drawing = chart(TERN_CUFF).drawing
    first = png(drawing, str(tmp_path), 700)
    assert first == png(drawing, str(tmp_path), 700)
    wide, high = _size(first)
    assert wide == 700
    assert abs(high - 700 * float(drawing.height) / float(drawing.width)) <= 1
    assert list(tmp_path.iterdir()) == []


def test_a_picture_shows_colours_and_symbols(tmp_path: Path) -> None:
    """A symbol in the colour of its use: left out, the picture would be as small as an empty one."""
    pen = Pen()
    pen.rectangle((0, 0), 10, 10, Paint(fill="#ffffff"))
    empty = png(pen.drawing(10, 10, "t", "d"), str(tmp_path), 200)
    pen.use(Symbol("dot", (circle((0, 0), 3, Paint(fill=CURRENT)),)), (5, 5), "#a03020")
    assert len(png(pen.drawing(10, 10, "t", "d"), str(tmp_path), 200)) > len(empty) + 100


def test_hostile_words_make_a_picture_too(tmp_path: Path) -> None:
    assert _size(png(_hostile(), str(tmp_path), 300))[0] == 300


def test_pictures_that_nobody_can_open_are_refused(tmp_path: Path) -> None:
    drawing = chart(TERN_CUFF).drawing
    with pytest.raises(PressError, match="too large"):
        png(drawing, str(tmp_path), 50_000)
    with pytest.raises(ValueError, match="one pixel"):
        png(drawing, str(tmp_path), 0)
    with pytest.raises(ValueError, match="empty folder"):
        png(drawing, "")
