"""Texts that a chart must bear: missing names, odd labels, great sizes, marks of other languages."""

from __future__ import annotations

from fractions import Fraction

import pytest

from roundhand.charts import Cells, Chart, cells, draw, setting
from roundhand.drawing import Drawing, Group, Text, strokes
from roundhand.fabric import build
from roundhand.notation import read
from roundhand.sizing.gauges import gauge_book
from roundhand.tally import count
from tests.charts.samples import chart

PLAIN = "Tube\n\nRnd 1: 48 sc in a magic ring.\nRnds 2-100: sc in each st around."


def _letters(drawing: Drawing) -> list[str]:
    return [mark.words for mark in drawing.marks if isinstance(mark, Text) and mark.role == "letter"]


def test_one_colour_without_a_name_and_a_hundred_rounds() -> None:
    found = chart(PLAIN)
    assert _letters(found.drawing) == []
    assert found.key == ("the yarn in use", "plain cell: sc (single crochet)")
    assert found.repeat == 1
    assert "All stitches of a round are alike." in found.description
    assert "14 of the 48 stitches are drawn." in found.description
    assert "Rnds 5 to 95 are like these and not drawn." in found.description
    assert found.lines == ("Rnd 1: 48 sc in the ring", "Rnds 2 to 100: 48 sc")
    assert found.drawing.height < 300


def test_a_yarn_with_a_label_and_no_name() -> None:
    text = "Tube\n\nYarn A: worsted\nYarn B: worsted, kelp\n\nTUBE\nRnd 1: With A, 6 sc in a magic ring.\n"
    found = chart(text + "Rnd 2: With B, sc in each st around.")
    assert found.key[:2] == ("A", "B, kelp")
    assert set(_letters(found.drawing)) == {"A", "B"}


def test_long_labels_get_letters_of_their_own() -> None:
    text = "Tube\n\nYarn MC: worsted, oat\nYarn CC1: worsted, kelp\nYarn CC2: worsted\n\nTUBE\n"
    text += "Rnd 1: With MC, 6 sc in a magic ring.\nRnd 2: With CC1, sc in each st around.\n"
    text += "Rnd 3: With CC2, sc in each st around."
    found = chart(text)
    assert len(set(_letters(found.drawing))) == 3


def test_four_hundred_stitches_without_a_repeat() -> None:
    rows = [f"Rnd {at}: With A, sc in next {at} sts, with B, sc in next {400 - at} sts." for at in range(2, 102)]
    text = "Wide\n\nYarn A: worsted\nYarn B: worsted\n\nTUBE\nRnd 1: With A, 400 sc in a magic ring.\n" + "\n".join(
        rows
    )
    found = chart(text)
    assert (found.repeat, found.times) == (400, 1)
    # A letter once in every run: two in a row, one in the first; the topmost row is too much for a picture.
    assert len(_letters(found.drawing)) == 1 + 2 * 99
    assert "A letter stands once in every run of one yarn." in found.description
    assert "The drawing would be too large with Rnd 101, which stand" in found.description
    assert found.lines[-1] == "Rnd 101: 101 sc in A, 299 sc in B"


def test_a_row_wider_than_any_paper_is_cut_and_says_so() -> None:
    text = "Scarf\n\nYarn A: worsted\nYarn B: worsted\n\nSCARF\nRnd 1: With A, 2001 sc in a magic ring.\n"
    text += "Rnd 2: With A, sc in next 1000 sts, with B, sc in next 1001 sts."
    found = chart(text)
    assert "600 of the 2001 stitches are drawn." in found.description
    assert found.drawing.width < 2000


def test_no_long_stitches_no_stems() -> None:
    found = chart(PLAIN)
    assert not [line for line in strokes(found.drawing).splitlines() if line.startswith("path") and " C " in line]


HOSTILE = "<script>alert(1)</script> & \"Cap\" ]]> '{{x}}' \u202egnp \x07"


def test_marks_of_other_languages_are_words() -> None:
    text = f"{HOSTILE}\n\nYarn A: worsted, R&D <i>grey</i>\n\nBO<DY>\nRnd 1: With A, 6 sc in a magic ring."
    found = chart(text)
    assert found.title.startswith(HOSTILE.split(" \u202e")[0])
    assert found.key[0] == "A, R&D <i>grey</i>"


def test_a_title_of_any_length_stays_on_the_paper() -> None:
    found = chart("a " * 2000 + "\n\nRnd 1: 6 sc in a magic ring.")
    heads = [mark for mark in found.drawing.marks if isinstance(mark, Text) and mark.size == 6]
    assert len(heads) == 3
    assert heads[-1].words.endswith("…")
    found = chart("Tube\n\nYarn A: worsted, " + "x" * 3000 + "\n\nTUBE\nRnd 1: With A, 6 sc in a magic ring.")
    key = next(mark for mark in found.drawing.marks if isinstance(mark, Group) and mark.title == "Key")
    assert len(key.marks) < 20


@pytest.mark.parametrize(
    "gauge", ["", "Gauge: 0 sts and 20 rnds = 4 in", "Gauge: 15 sts = 4 in", "Gauge: 15 sts and 20 rnds"]
)
def test_no_gauge_or_half_of_one_is_said(gauge: str) -> None:
    found = chart(f"Tube\n\n{gauge}\n\nTUBE\nRnd 1: 6 sc in a magic ring.\nRnd 2: sc in each st around.")
    assert not found.to_gauge
    assert "not true to a gauge" in found.description


def test_a_gauge_that_is_a_slip_does_not_make_a_sheet_of_ten_metres() -> None:
    found = chart("Tube\n\nGauge: 1000 sts and 1 rnd = 4 in in single crochet\n\nTUBE\nRnd 1: 6 sc in a magic ring.")
    assert found.drawing.height < 300


def _nothing(text: str) -> Chart:
    tally = count(read(text)[0])[0]
    fabric = build(tally)
    return draw(fabric, setting(tally, fabric))


def test_a_piece_that_a_size_does_not_have() -> None:
    found = _nothing("Tube\n\nSizes: S (M)\n\nTUBE\nM only: Rnd 1: 6 sc in a magic ring.")
    assert found.lines == ()
    assert found.first == ""
    assert "nothing to draw" in found.description
    words = [mark.words for mark in found.drawing.marks if isinstance(mark, Text)]
    assert words == ["Tube: color chart of S", found.description]


def test_cells_with_too_few_heights_are_the_callers_slip() -> None:
    tally = count(read(PLAIN)[0])[0]
    fabric = build(tally)
    with pytest.raises(ValueError, match="heights for 1 rows"):
        draw(fabric, setting(tally, fabric), Cells(Fraction(1), (Fraction(1),)))


def test_cells_come_from_the_gauges_row_by_row() -> None:
    text = "Tube\n\nGauge: 14 sts and 10 rnds = 4 in in half double crochet\n\n"
    tally = count(read(text + "TUBE\nRnd 1: 6 hdc in a magic ring.\nRnd 2: sc in each st around.")[0])[0]
    fabric = build(tally)
    book = gauge_book(tally.pattern)
    found = cells(fabric, book.width, book.height)
    assert found is not None
    # 4 in are 101.6 mm; a round of half double crochet is half as high again as one of single crochet.
    assert found.width == Fraction(1016, 140)
    assert found.heights == (Fraction(1016, 100), Fraction(1016, 150))
    assert cells(fabric, lambda part, stitch: None, book.height) is None
    assert cells(fabric, book.width, lambda part, stitch: Fraction(0)) is None
