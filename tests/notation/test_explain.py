"""Explanations in words read back to the same movements: every stitch of the dictionary, and recipes made by chance."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from roundhand.notation.explain import explain
from roundhand.notation.movements import read_movements
from roundhand.stitches import Operation, closes, dictionary, loops
from roundhand.terms import languages, older, vocabulary

TOLD = Path(__file__).parent / "told_in_words.txt"
# Words that definitions are made of.
WORDS = [
    *"()[]*,.",
    *[
        "yo",
        "insert",
        "hook",
        "in",
        "st",
        "draw",
        "up",
        "a",
        "loop",
        "through",
        "all",
        "3",
        "loops",
        "rep",
        "from",
        "twice",
        "5",
        "dc",
        "drop",
        "until",
        "remain",
    ],
    *["and", "pull", "last", "same", "next"],
]
DRAWN = ("draw up", "pull through")
PLACES = (
    "same",
    "post from front",
    "post from back",
    "n rows below",
    "front loop of next",
    "base chain",
    "bar of last",
)


@pytest.mark.parametrize("language", [*languages(), *older()])
@pytest.mark.parametrize("stitch", dictionary())
def test_every_stitch_reads_back(stitch: str, language: str) -> None:
    """What is said of a stitch is read to its own movements, and to the places it goes past, also in old words."""
    known = dictionary()[stitch]
    said = explain(known.recipe, language)
    read = read_movements(said, vocabulary(language))
    assert read.recipe == known.recipe, said
    assert read.lacking is None
    assert read.uses <= max(known.uses, 1), said


@pytest.mark.parametrize("language", languages())
def test_how_a_loop_is_drawn_has_words_for_every_recipe(language: str) -> None:
    said = {one.where for stitch in dictionary().values() for one in stitch.recipe if one.act in DRAWN and one.where}
    assert said == set(vocabulary(language).hook["how"])


@st.composite
def recipes(draw: st.DrawFn) -> tuple[Operation, ...]:
    """Loops drawn up in one place or several, some worked off between, all worked off at the end, perhaps locked."""
    moves: list[Operation] = []
    for leg in range(draw(st.integers(1, 5))):
        moves += [Operation("yarn over")] * draw(st.integers(0, 4))
        moves.append(Operation("insert", 1, draw(st.sampled_from(("", *(PLACES[1:] if leg == 0 else PLACES))))))
        moves.append(Operation("draw up", 1, draw(st.sampled_from(("", "", "tall", "level with this row")))))
        for _ in range(draw(st.integers(0, 3))):
            count = loops(moves)[-1]
            moves.append(Operation("pull through", draw(st.integers(1, count))))
    if loops(moves)[-1] > 1:
        moves.append(Operation("pull through", loops(moves)[-1]))
    moves += [Operation("pull through", 1)] * draw(st.integers(0, 3))
    return tuple(moves)


@given(recipes(), st.sampled_from([*languages(), *older()]))
def test_any_recipe_reads_back(recipe: tuple[Operation, ...], language: str) -> None:
    """The law holds for recipes that no stitch has."""
    assert closes(recipe)
    said = explain(recipe, language)
    assert read_movements(said, vocabulary(language)).recipe == recipe, said


@given(st.text(max_size=300))
def test_reading_never_raises(text: str) -> None:
    """Anything at all may stand in a definition."""
    read_movements(text, vocabulary("US"))


@given(
    st.lists(
        st.sampled_from(WORDS),
        max_size=40,
    )
)
@example(["yo", "insert", "hook", "in", "yo", "next", "loops"])
def test_reading_words_of_the_trade_never_raises(words: list[str]) -> None:
    """Words of the trade in any order at all."""
    read_movements(" ".join(words), vocabulary("US"))


def test_told_in_words() -> None:
    """The file that a crocheter can read: some stitches in both terms, word by word."""
    stitch = ""
    shown = 0
    for line in TOLD.read_text(encoding="utf-8").splitlines():
        language, colon, said = line.partition(": ")
        if colon and language in languages():
            assert explain(dictionary()[stitch].recipe, language) == said
            shown += 1
        elif line in dictionary():
            stitch = line
        else:
            assert not line or not stitch, f"{line!r} is no stitch"
    assert shown >= 20
