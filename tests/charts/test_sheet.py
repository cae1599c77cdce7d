"""The sheet of all symbols, and the picture of it that is kept; run this file to make the picture anew."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from roundhand.charts import symbol_sheet
from roundhand.drawing import Drawing, Group, Line, Mark, Text
from roundhand.drawing import Path as Curve
from roundhand.press.svg import svg
from roundhand.stitches import dictionary
from roundhand.stitches.symbols import symbol_marks, symbol_of
from roundhand.terms import languages, vocabulary
from roundhand.workshop import UseError
from roundhand.workshop import symbol_sheet as sheet_bytes

PICTURE = Path(__file__).parents[2] / "docs" / "pictures" / "symbols.svg"


def texts(marks: tuple[Mark, ...]) -> list[Text]:
    """All words of a drawing, those of its groups among them."""
    found: list[Text] = []
    for mark in marks:
        if isinstance(mark, Group):
            found += texts(mark.marks)
        elif isinstance(mark, Text):
            found.append(mark)
    return found


def groups(drawing: Drawing) -> list[Group]:
    return [mark for mark in drawing.marks if isinstance(mark, Group)]


def test_the_picture_that_is_kept_is_the_sheet_of_to_day() -> None:
    made = sheet_bytes("US")
    assert PICTURE.read_bytes() == made, (
        "the symbols have changed: run tests/charts/test_sheet.py and look at the picture"
    )


@pytest.mark.parametrize("language", languages())
def test_every_stitch_and_mark_is_on_the_sheet_with_its_evidence(language: str) -> None:
    sheet = symbol_sheet(language)
    words = vocabulary(language)
    *families, marks = groups(sheet)
    # The name of a cell is bold, its evidence slanted.
    said = [one for group in families for one in texts(group.marks)[1:] if one.bold or one.italic]
    pairs = sorted((one.words, other.words) for one, other in zip(said[::2], said[1::2], strict=True))
    assert pairs == sorted((words.short(id), symbol_of(id).evidence) for id in dictionary())
    known = [one.words for one in texts(marks.marks) if one.italic]
    assert known == [mark.evidence for mark in symbol_marks().values()]


def test_every_family_is_in_one_group() -> None:
    drawn = [mark for group in groups(symbol_sheet())[:-1] for mark in group.marks if isinstance(mark, Curve)]
    assert len(drawn) == sum(len(symbol_of(id).strokes) for id in dictionary())


@pytest.mark.parametrize("language", languages())
def test_nothing_on_the_sheet_runs_into_its_neighbour(language: str) -> None:
    sheet = symbol_sheet(language)
    for group in groups(sheet):
        lines = [mark for mark in group.marks if isinstance(mark, Line)][1:]
        cells = sorted((line.start[1], line.start[0], line.end[0]) for line in lines)
        for mark in group.marks:
            if isinstance(mark, Curve):
                xs = [x for _, points in mark.steps for x, _ in points[-1:]]
                assert any(left <= min(xs) and max(xs) <= right for _, left, right in cells)
            elif isinstance(mark, Text) and mark.anchor == "middle":
                # Half the size is a careful guess for the width of a letter, a little more for a bold one.
                half = len(mark.words) * mark.size * Fraction(1, 4)
                room = next(right - left for _, left, right in cells if left < mark.at[0] < right)
                assert half <= room / 2 + 2, mark.words
    for one in texts(sheet.marks):
        assert 0 < one.at[0] < sheet.width
        assert 0 < one.at[1] < sheet.height


def test_terms_that_are_not_there_are_told() -> None:
    with pytest.raises(UseError, match="There are no terms called “Latin”"):
        sheet_bytes("Latin")


if __name__ == "__main__":
    PICTURE.parent.mkdir(exist_ok=True)
    PICTURE.write_text(svg(symbol_sheet(), "symbols"), encoding="utf-8")
