"""Symbols of stitches in charts: their size on the paper, and what the key says of them."""

from __future__ import annotations

from fractions import Fraction

import pytest

from roundhand.charts.marks import extent, loop_mark, stitch_mark
from roundhand.drawing import Group, Mark, Path, Use
from roundhand.stitches import dictionary
from roundhand.stitches.symbols import symbol_of
from tests.charts.samples import chart

# A point more than is asked for here is drawn over the edge of its field.
_HAIR = Fraction(1, 100)


def reach(marks: tuple[Mark, ...]) -> tuple[Fraction, Fraction]:
    """How far marks reach from the middle, across and upwards; handles of curves are not looked at."""
    ends = [step[1][-1] for mark in marks if isinstance(mark, Path) for step in mark.steps if step[1]]
    return max(abs(Fraction(x)) for x, _ in ends), max(abs(Fraction(y)) for _, y in ends)


@pytest.mark.parametrize("id", dictionary())
def test_a_symbol_fills_its_field_and_stays_in_it(id: str) -> None:
    strokes = symbol_of(id).strokes
    mark = stitch_mark(id, strokes, Fraction(4), Fraction(6), Fraction(7))
    across, up = reach(mark.marks)
    assert across <= 2 + _HAIR
    assert up <= 3 + _HAIR
    left, bottom, right, top = extent(strokes)
    size = min(Fraction(7), 4 / (right - left), 6 / max(top - bottom, _HAIR))
    # The size of one width is used up: by the width of the field, its height, or the largest that is allowed.
    assert max(across / 2, up / 3, size / 7) > Fraction(9, 10)


@pytest.mark.parametrize("loop", ["back", "front", "third"])
def test_the_mark_of_a_loop_is_a_short_arc_or_a_bar(loop: str) -> None:
    (arc,) = loop_mark(loop).marks
    assert isinstance(arc, Path)
    (_, (start,)), (_, points) = arc.steps
    sags = points[0][1] - start[1]
    assert (sags > 0, sags < 0) == {"back": (True, False), "front": (False, True), "third": (False, False)}[loop]


BAND = """Band

Yarn A: worsted, oat (#d8c9a3)

SPECIAL STITCHES
Knot: (yo, insert hook in st, draw up a loop, yo, pull through 2 loops) {times} times in same st, \
yo, pull through {all} loops.

BAND
With A, ch 12.
Row 1: {stitch} in 3rd ch from hook and in each ch across, turn. (10)
Row 2: Ch 1, *{stitch} in next st, knot in next st; rep from * across. (10)
"""


@pytest.mark.parametrize(("times", "stitch"), [(2, "dc"), (3, "hdc"), (4, "dc"), (5, "sc")])
def test_a_stitch_of_the_pattern_is_shown_as_the_pattern_works_it(times: int, stitch: str) -> None:
    found = chart(BAND.format(times=times, all=times + 1, stitch=stitch))
    used = [symbol for symbol in found.drawing.symbols if "key" not in symbol.name]
    assert len(used) == 1
    # As many legs, a slash on each, and the bar.
    assert len(used[0].marks) == 2 * times + 1
    shown = [mark for mark in found.drawing.marks if isinstance(mark, Use)]
    assert [mark.symbol for mark in shown] == [used[0].name] * 5
    (line,) = [line for line in found.key if line.startswith("knot")]
    assert line.endswith({3: "symbol from memory"}.get(times, "our own symbol"))


def test_the_key_draws_every_symbol_that_the_chart_uses() -> None:
    text = BAND.format(times=6, all=7, stitch="dc").replace("knot in next st", "FPdc around next st, knot in next st")
    found = chart(text.replace("ch 12", "ch 14").replace("(10)", "(12)"))
    used = {mark.symbol for mark in found.drawing.marks if isinstance(mark, Use)}
    (key,) = [mark for mark in found.drawing.marks if isinstance(mark, Group) and mark.title == "Key"]
    explained = {mark.symbol.removesuffix(" in the key") for mark in key.marks if isinstance(mark, Use)}
    assert len(used) == 2
    assert used == explained


def test_a_chart_with_plain_stitches_alone_needs_no_symbols() -> None:
    assert chart("Tube\n\nRnd 1: 12 sc in a magic ring.\nRnds 2-9: sc in each st around.").drawing.symbols == ()


def test_two_stitches_that_look_alike_are_told_apart_by_a_line() -> None:
    """A bobble and a cluster have one symbol, which the trade does not vary; a chart that shows both has to."""
    text = BAND.format(times=3, all=4, stitch="dc").replace(
        "knot in next st;", "3-dc bobble in next st, 3-dc cl in next st;"
    )
    found = chart(text.replace("ch 12", "ch 14").replace("(10)", "(12)"))
    one, other = (symbol for symbol in found.drawing.symbols if "key" not in symbol.name)
    assert len(other.marks) == len(one.marks) + 1
    assert any(line.endswith("our own symbol") for line in found.key)
