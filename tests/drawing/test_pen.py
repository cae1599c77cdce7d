"""The pen: exact numbers, marks in order, nothing of its own."""

from __future__ import annotations

import ast
import re
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import roundhand.drawing
from roundhand.drawing import CURRENT, Group, Line, Paint, Pen, Symbol, circle, strokes, written
from roundhand.drawing import Path as Curve

NUMBERS = st.one_of(st.integers(-(10**6), 10**6), st.fractions(-(10**4), 10**4, max_denominator=10**4))


@given(NUMBERS)
def test_a_number_is_written_to_the_thousandth(number: int | Fraction) -> None:
    said = written(number)
    assert re.fullmatch(r"-?\d+(\.\d{1,3})?", said)
    assert abs(Fraction(said) - number) <= Fraction(1, 2000)
    assert said != "-0"
    assert not ("." in said and said.endswith("0"))


@pytest.mark.parametrize("slip", [1.5, "3", None])
def test_inexact_numbers_are_refused(slip: object) -> None:
    with pytest.raises(TypeError, match="exact"):
        written(slip)  # type: ignore[arg-type]


def test_marks_lie_in_the_order_of_drawing_and_groups_hold_theirs() -> None:
    pen = Pen()
    ink = Paint(stroke="ink", width=Fraction(1, 3))
    pen.line((0, 0), (1, 0), ink)
    with pen.group("outer", "what it is", (2, Fraction(1, 2))):
        pen.polygon(((0, 0), (1, 0), (0, 1)), Paint(fill="paper"))
        with pen.group("inner"):
            pen.text((1, 1), "2 < 3", 3, "ink", anchor="end", role="figures", bold=True, italic=True)
        with pen.group("empty"):
            pass
    pen.path(Curve((("M", ((0, 0),)), ("C", ((0, 1), (1, 1), (1, 0))), ("Z", ())), Paint("a", "b", 1, (2, 1))))
    drawing = pen.drawing(10, Fraction(21, 2), "A try", "Some marks.")
    assert strokes(drawing).splitlines() == [
        "drawing 10 x 10.5: A try",
        "line 0,0 1,0 stroke ink 0.333",
        "group outer by 2,0.5",
        "  polygon 0,0 1,0 0,1 fill paper",
        "  group inner",
        "    figures 1,1 end 3 bold italic ink: 2 < 3",
        "path M 0,0 C 0,1 1,1 1,0 Z fill a stroke b 1 dash 2 1",
    ]
    assert isinstance(drawing.marks[1], Group)
    assert drawing.marks[1].description == "what it is"


def test_a_drawing_does_not_change_when_the_pen_goes_on() -> None:
    pen = Pen()
    pen.line((0, 0), (1, 1), Paint(stroke="ink", width=1))
    first = pen.drawing(1, 1, "one", "")
    pen.line((1, 1), (0, 0), Paint(stroke="ink", width=1))
    assert len(first.marks) == 1
    with pytest.raises(AttributeError):
        first.width = 2  # type: ignore[misc]
    assert first == pen_with_one_line().drawing(1, 1, "one", "")


def pen_with_one_line() -> Pen:
    pen = Pen()
    pen.line((0, 0), (1, 1), Paint(stroke="ink", width=1))
    return pen


def test_a_symbol_is_kept_once_and_its_name_means_one_thing() -> None:
    pen = Pen()
    dot = Symbol("dot", (circle((0, 0), 1, Paint(fill=CURRENT)),))
    pen.use(dot, (1, 1), "ink")
    pen.use(dot, (2, 2))
    drawing = pen.drawing(3, 3, "dots", "")
    assert drawing.symbols == (dot,)
    assert [line for line in strokes(drawing).splitlines() if line.startswith("use")] == [
        "use dot 1,1 ink",
        "use dot 2,2",
    ]
    with pytest.raises(ValueError, match="two symbols"):
        pen.use(Symbol("dot", (Line((0, 0), (1, 1), Paint()),)), (0, 0))


def test_a_step_with_too_few_points_is_refused() -> None:
    with pytest.raises(ValueError, match="3 points, not 1"):
        Curve((("C", ((0, 0),)),), Paint())


@given(st.fractions(1, 50, max_denominator=20))
def test_a_circle_is_round_to_a_third_of_a_thousandth(radius: Fraction) -> None:
    """Four curves stay within 0.03 % of the true circle (the known bound for this handle)."""
    steps = circle((0, 0), radius, Paint()).steps
    start = steps[0][1][0]
    for _, points in steps[1:5]:
        for tenth in range(11):
            at = Fraction(tenth, 10)
            corners = (start, *points)
            weights = ((1 - at) ** 3, 3 * at * (1 - at) ** 2, 3 * at**2 * (1 - at), at**3)
            x, y = (
                sum(Fraction(corner[axis]) * weight for corner, weight in zip(corners, weights, strict=True))
                for axis in (0, 1)
            )
            assert abs(float(x * x + y * y) ** 0.5 / float(radius) - 1) < 0.0003
        start = points[-1]


def test_the_pen_has_no_colours_of_its_own() -> None:
    folder = Path(roundhand.drawing.__file__).parent
    for path in folder.glob("*.py"):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        docs = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
        words = [node.value for node in ast.walk(tree) if isinstance(node, ast.Constant) and id(node) not in docs]
        assert not [word for word in words if isinstance(word, str) and re.fullmatch(r"#[0-9a-fA-F]{3,8}", word)]
