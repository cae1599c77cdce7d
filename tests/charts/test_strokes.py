"""Charts by the strokes of the pen: what is drawn where, before any picture is made of it."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pytest

from roundhand.charts import Chart
from roundhand.charts.look import ENOUGH, contrast
from roundhand.drawing import Drawing, Group, Mark, Polygon, Text, strokes
from roundhand.drawing import Path as Curve
from roundhand.fabric import long_stitches
from tests.charts.samples import TERN_CUFF, cap, chart, fabric_and_chart

_EXPECTED = Path(__file__).with_name("expected")
# Gauges that the caps state: width and height of a single crochet as they come out of stitches and rounds to 4 in.
_KITTIWAKE_RATIO = Fraction(15, 20)


def test_a_small_chart_stroke_by_stroke() -> None:
    """The expected strokes were looked at as a picture before they were kept."""
    found = chart(TERN_CUFF)
    assert strokes(found.drawing) + "\n" == (_EXPECTED / "tern_cuff.strokes.txt").read_text(encoding="utf-8")
    assert found.text == (_EXPECTED / "tern_cuff.words.txt").read_text(encoding="utf-8")


def _all(marks: tuple[Mark, ...]) -> list[Mark]:
    found: list[Mark] = []
    for mark in marks:
        found += [mark, *_all(mark.marks)] if isinstance(mark, Group) else [mark]
    return found


def _letters(drawing: Drawing) -> list[Text]:
    return [mark for mark in drawing.marks if isinstance(mark, Text) and mark.role == "letter"]


def _rows(drawing: Drawing) -> list[tuple[str, list[Polygon]]]:
    """The coloured stretches of every row, from the lowest, with the row's name."""
    groups = [mark for mark in drawing.marks if isinstance(mark, Group) and mark.title != "Key"]
    return [(group.title, [mark for mark in group.marks if isinstance(mark, Polygon)]) for group in groups]


def _stems(drawing: Drawing) -> list[Curve]:
    """The bodies of the stems: the only filled curves with a long straight side, eleven steps with their ends."""
    return [
        mark
        for mark in drawing.marks
        if isinstance(mark, Curve) and mark.paint.fill and mark.steps[-1][0] == "Z" and len(mark.steps) == 9
    ]


@pytest.mark.parametrize("size", range(5))
def test_the_kittiwake_chart(size: int) -> None:
    fabric, found = fabric_and_chart(cap("kittiwake"), 1, size)
    stitches = (54, 60, 66, 72, 78)[size]
    rounds = (26, 26, 32, 32, 32)[size]
    assert (found.first, found.last, found.repeat, found.times) == ("Rnd 1", f"Rnd {rounds}", 6, stitches // 6)
    assert found.to_gauge
    assert found.not_drawn == ""
    rows = _rows(found.drawing)
    assert [title.partition(",")[0] for title, _ in rows] == [f"Rnd {at}" for at in range(1, rounds + 1)]
    # Cells are true to the gauge: 15 stitches and 20 rounds to the same length, half double crochet 1.5 times as high.
    heights = [held[0].points[2][1] - held[0].points[1][1] for _, held in rows]
    assert set(heights[1:]) == {7 * _KITTIWAKE_RATIO}
    assert heights[0] == 7 * _KITTIWAKE_RATIO * Fraction(3, 2)
    # Rounds lie on one another without a gap, the first at the bottom.
    for (_, lower), (_, upper) in pairwise(rows):
        assert upper[0].points[2][1] == lower[0].points[0][1]
    # Fifteen columns, a letter in each cell.
    assert len(_letters(found.drawing)) == 15 * rounds
    right = max(x for _, held in rows for one in held for x, _ in one.points)
    tops = [held[0].points[0][1] for _, held in rows]
    drawn = []
    for stem in _stems(found.drawing):
        middle = (stem.steps[1][1][0][0] + stem.steps[-2][1][0][0]) / 2
        column = int((right - middle) // 7) + 1
        top = stem.steps[1][1][0][1]
        foot = stem.steps[3][1][0][1]
        # The top edge of the row that the foot is nearest to.
        away = [abs(float(edge - foot)) for edge in tops]
        under = away.index(min(away)) + 1
        own = next(row for row in range(rounds) if tops[row] < top <= tops[row] + heights[row]) + 1
        drawn.append((own, column, under))
    expected = []
    for stitch in (int(one) for one in long_stitches(fabric)):
        row, position = fabric.place(stitch)
        (into,) = fabric.worked_into(stitch)
        if position <= 15:
            number = int(row.label.removeprefix("Rnd "))
            expected.append((number, position, int(fabric.place(into)[0].label.removeprefix("Rnd "))))
    assert sorted(drawn) == sorted(expected)
    assert {own - under for own, _, under in drawn} == {3}


def test_the_box_holds_one_repeat_at_the_right() -> None:
    _, found = fabric_and_chart(cap("kittiwake"), 1, 3)
    boxes = [
        mark for mark in found.drawing.marks if isinstance(mark, Polygon) and mark.paint.stroke and not mark.paint.fill
    ]
    (box,) = boxes
    rows = _rows(found.drawing)
    right = max(x for _, held in rows for one in held for x, _ in one.points)
    xs = sorted({x for x, _ in box.points})
    assert xs == [right - 6 * 7, right]
    texts = [mark.words for mark in found.drawing.marks if isinstance(mark, Text)]
    assert "repeat of 6 sts, 12 times" in texts
    # Beyond the box the same colours are paler.
    first, second = rows[1][1]
    assert first.paint.fill != second.paint.fill


def test_numbers_stand_at_the_right_and_arrows_point_left() -> None:
    _, found = fabric_and_chart(cap("saltmarsh"), 0, 0)
    rows = _rows(found.drawing)
    right = max(x for _, held in rows for one in held for x, _ in one.points)
    numbers = [mark for mark in found.drawing.marks if isinstance(mark, Text) and mark.role == "figures" and mark.bold]
    assert [mark.words for mark in numbers] == [str(at) for at in range(8, 21)]
    assert {mark.at[0] > right for mark in numbers} == {True}
    arrows = [mark for mark in found.drawing.marks if isinstance(mark, Polygon) and len(mark.points) == 3]
    assert len(arrows) == len(numbers)
    assert {arrow.points[0][0] < arrow.points[1][0] for arrow in arrows} == {True}


def test_turned_rows_have_numbers_and_arrows_where_they_begin() -> None:
    _, found = fabric_and_chart(cap("kittiwake"), 0, 0)
    rows = _rows(found.drawing)
    left = min(x for _, held in rows for one in held for x, _ in one.points)
    numbers = [mark for mark in found.drawing.marks if isinstance(mark, Text) and mark.role == "figures" and mark.bold]
    sides = {int(mark.words) % 2: mark.at[0] < left for mark in numbers}
    assert sides == {1: False, 0: True}
    # The middle of sixty alike rows is not drawn, and the chart says which rows these are.
    assert [mark.words for mark in numbers] == ["1", "2", "3", "4", "56", "57", "58", "59", "60"]
    assert "Rows 5 to 55 are like these and not drawn." in found.description


def test_loops_are_drawn_as_the_right_side_shows_them() -> None:
    """Published rule for charts: on a row with the wrong side in front the mark is that of the opposite loop (standards
    of chart symbols, front and back loop marks)."""
    _, found = fabric_and_chart(cap("kittiwake"), 0, 0)
    uses = [line.split()[1:4] for line in strokes(found.drawing).splitlines() if line.startswith("use")]
    kinds = [" ".join(words[:2]) for words in uses]
    # Rows 2, 4, 56, 58 and 60 have the wrong side in front; all are worked in the back loop. Row 1 is in the chain.
    assert (kinds.count("front loop"), kinds.count("back loop")) == (6 * 5, 6 * 3)
    assert any("work the other one" in line for line in found.key)


def _charts() -> list[Chart]:
    return [
        fabric_and_chart(cap(name), piece, size)[1]
        for name, piece in (("kittiwake", 1), ("saltmarsh", 0))
        for size in range(5)
    ]


def test_every_letter_can_be_read_on_its_cell() -> None:
    """At least 4.5 to 1, success criterion 1.4.3 of the Web Content Accessibility Guidelines."""
    for found in (*_charts(), chart(TERN_CUFF)):
        stretches = [one for _, held in _rows(found.drawing) for one in held]
        for letter in _letters(found.drawing):
            x, y = letter.at
            under = [
                one
                for one in stretches
                if one.points[0][0] <= x <= one.points[2][0] and one.points[0][1] <= y <= one.points[2][1]
            ]
            assert len(under) == 1
            assert contrast(letter.fill, under[0].paint.fill) >= ENOUGH


def test_nothing_runs_off_the_paper() -> None:
    for found in (*_charts(), chart(TERN_CUFF, size=1)):
        width, height = found.drawing.width, found.drawing.height
        for mark in _all(found.drawing.marks):
            if isinstance(mark, Polygon):
                assert all(0 <= x <= width and 0 <= y <= height for x, y in mark.points)
            elif isinstance(mark, Text):
                # Half the size is a careful guess for the width of a letter.
                length = len(mark.words) * mark.size * Fraction(1, 2)
                parts = {"start": Fraction(0), "middle": Fraction(1, 2), "end": Fraction(1)}
                start = mark.at[0] - length * parts[mark.anchor]
                assert start >= 0
                assert start + length <= width
                assert 0 <= mark.at[1] <= height


def test_the_same_chart_twice_is_the_same_strokes() -> None:
    assert chart(TERN_CUFF) == chart(TERN_CUFF)
