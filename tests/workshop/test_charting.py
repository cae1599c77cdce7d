"""Charts as an answer: which piece is drawn, in which size, and what its picture is made of."""

import json
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from roundhand.workshop import Charted, UseError, chart, chart_answer, encode, open_pattern, picture, understand

ROOT = Path(__file__).resolve().parents[2]
TUBE = "Tube\n{gauge}\n\nTUBE\nCh 12, join with sl st in first ch.\nRnd 1: Ch 1, sc in each ch around, join. (12)\n"


def cap(name: str, size: int | None = None) -> Charted:
    return chart(open_pattern(ROOT / "patterns" / f"{name}-cap.txt"), size)


def test_the_piece_with_colours_is_drawn_in_the_first_size_or_the_one_asked_for() -> None:
    first, fourth = cap("kittiwake"), cap("kittiwake", 3)
    assert (first.piece, first.size, first.chart.last) == ("Body", "Baby", "Rnd 26")
    assert (fourth.piece, fourth.size, fourth.chart.last) == ("Body", "Adult S", "Rnd 32")
    # The repeat is six stitches; 54 and 72 stitches stand round the two bodies.
    assert (first.chart.repeat, first.chart.times) == (6, 9)
    assert (fourth.chart.repeat, fourth.chart.times) == (6, 12)
    assert first.chart.to_gauge


def test_one_piece_of_several_parts_is_drawn_where_its_colours_are() -> None:
    found = cap("saltmarsh", 2)
    assert found.chart.last == "Rnd 24"
    # The spikes of the cap stand every fourth stitch.
    assert (found.chart.repeat, found.chart.times) == (4, 17)


def test_cells_have_the_shape_that_the_gauge_gives() -> None:
    wide = chart(understand(TUBE.format(gauge="Gauge: 10 sts and 20 rnds = 4 in in sc")))
    high = chart(understand(TUBE.format(gauge="Gauge: 20 sts and 20 rnds = 4 in in sc")))
    assert wide.chart.to_gauge and high.chart.to_gauge
    assert picture(wide, "svg") != picture(high, "svg")


@pytest.mark.parametrize("gauge", ["", "Gauge: 0 sts and 20 rnds = 4 in", "Gauge: 16 sts = 4 in", "Gauge: 14 sts = 4"])
def test_without_a_whole_gauge_a_chart_says_that_it_is_true_to_none(gauge: str) -> None:
    assert not chart(understand(TUBE.format(gauge=gauge))).chart.to_gauge


def test_the_picture_is_well_formed_and_the_same_each_time() -> None:
    drawn = picture(cap("kittiwake"), "svg")
    root = ET.fromstring(drawn)
    assert root.tag.endswith("svg")
    assert {"title", "desc"} <= {element.tag.rpartition("}")[2] for element in root}
    assert drawn == picture(cap("kittiwake"), "svg")
    painted = picture(cap("kittiwake"), "png")
    assert painted.startswith(b"\x89PNG\r\n\x1a\n")
    assert painted == picture(cap("kittiwake"), "png")


def test_the_answer_holds_the_picture_and_the_words() -> None:
    answer = json.loads(encode(chart_answer(cap("kittiwake"))))
    keys = "schema piece size title description key rows first last repeat times svg"
    assert list(answer) == keys.split()
    assert answer["schema"] == "roundhand.chart/1"
    assert "Rnd 9, in B: 3 sc, 2 long sc, 1 sc; 9 times" in answer["rows"]
    ET.fromstring(answer["svg"])


def test_where_nothing_is_worked_there_is_nothing_to_draw() -> None:
    with pytest.raises(UseError, match="no row to draw"):
        chart(understand("Dear diary"))


HOSTILE = [
    "<script>alert(1)</script>",
    "]]>",
    "\x00\x1b[2J",
    "\u202etxt",
    "&amp;&lt;",
    "編み物🧶",
    "#d8c9a3",
    "A\u0301\u0301",
]


@pytest.mark.parametrize("words", HOSTILE)
def test_words_of_a_pattern_are_words_in_a_picture(words: str) -> None:
    text = f"{words}\nSizes: {words} (M)\nYarn A: worsted, {words}\n\n{words}\nWith A, ch 6.\nRow 1: Sc in each ch. (6)"
    found = chart(understand(text), 0)
    root = ET.fromstring(picture(found, "svg"))
    assert not [element for element in root.iter() if element.tag.rpartition("}")[2] in ("script", "foreignObject")]
    assert picture(found, "png")
