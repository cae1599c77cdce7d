"""The marks of a chart: how a stitch other than a plain one is shown in its cell, and how far a long one reaches.

Shapes follow what charts of the trade agree on where they do: the foot of a post stitch curls to one side, a short arc
under a stitch marks a loop, a long stitch has a stem down to the row that it enters (reference: symbols of crochet
charts; common practice, from memory for post and long stitches). None is the same everywhere, so the key always says
what a mark means. Stitches without a shape that is agreed on carry a number that the key explains.
"""

from __future__ import annotations

from fractions import Fraction

from roundhand.drawing import CURRENT, Number, Paint, Path, Point, Step, Symbol, circle

# Symbols are drawn about the point that they are put down at, in a field of this many millimetres each way.
FIELD = Fraction(8, 5)

_STROKE = Paint(stroke=CURRENT, width=Fraction(3, 10))


def post_mark(front: bool) -> Symbol:
    """A stem whose foot curls round the post: to the right from the front, to the left from the back."""
    side = 1 if front else -1
    stem = Path(
        (
            ("M", ((0, -FIELD),)),
            ("L", ((0, Fraction(1, 2)),)),
            (
                "C",
                (
                    (0, Fraction(9, 5)),
                    (side * Fraction(6, 5), Fraction(9, 5)),
                    (side * Fraction(6, 5), Fraction(2, 5)),
                ),
            ),
        ),
        _STROKE,
    )
    bar = Path((("M", ((-Fraction(11, 10), -FIELD),)), ("L", ((Fraction(11, 10), -FIELD),))), _STROKE)
    return Symbol("front post" if front else "back post", (stem, bar))


def loop_mark(loop: str) -> Symbol:
    """A short arc under the stitch: open above for the back loop, open below for the front loop, a bar for a third."""
    bend = {"back": Fraction(3, 4), "front": -Fraction(3, 4)}.get(loop, Fraction(0))
    wide = Fraction(3, 2)
    arc = Path((("M", ((-wide, -bend / 2),)), ("C", ((-wide / 2, bend), (wide / 2, bend), (wide, -bend / 2)))), _STROKE)
    return Symbol(f"{loop} loop", (arc,))


def numbered() -> Symbol:
    """An open ring round a number, which whoever draws the chart writes inside."""
    return Symbol("ring", (circle((0, 0), Fraction(13, 10), Paint(stroke=CURRENT, width=Fraction(1, 5))),))


def tongue(centre: Number, top: Number, foot: Number, width: Number, fill: str, edge: str) -> tuple[Path, Path]:
    """The stem of a long stitch, from its cell down to where it enters, as a shape and its outline.

    It leaves the cell broad, as the drawn-up loop does, narrows, and ends round. The outline leaves the top open, so
    that stem and cell are one.
    """
    narrow = width * Fraction(17, 100)
    broad = width * Fraction(33, 100)
    neck = top + min((foot - top) * Fraction(3, 10), width * Fraction(3, 10))
    bend = (neck - top) * Fraction(3, 5)
    end = foot - narrow
    round_end = foot + narrow * Fraction(1, 3)
    left: tuple[Point, ...] = ((centre - broad, top + bend), (centre - narrow, neck - bend), (centre - narrow, neck))
    right: tuple[Point, ...] = ((centre + narrow, neck - bend), (centre + broad, top + bend), (centre + broad, top))
    sides: tuple[Step, ...] = (
        ("C", left),
        ("L", ((centre - narrow, end),)),
        ("C", ((centre - narrow, round_end), (centre + narrow, round_end), (centre + narrow, end))),
        ("L", ((centre + narrow, neck),)),
        ("C", right),
    )
    # The shape begins a little inside the cell, over the line between the rows.
    inside = top - Fraction(3, 10)
    shape: tuple[Step, ...] = (
        ("M", ((centre - broad, inside),)),
        ("L", ((centre - broad, top),)),
        *sides,
        ("L", ((centre + broad, inside),)),
        ("Z", ()),
    )
    outline: tuple[Step, ...] = (("M", ((centre - broad, top),)), *sides)
    return Path(shape, Paint(fill=fill)), Path(outline, Paint(stroke=edge, width=Fraction(1, 4)))
