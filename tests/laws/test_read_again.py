"""What is kept of lines read before changes no answer: a text is read the same with nothing kept, with its own lines
kept, and with those of the text that it was a moment ago."""

from __future__ import annotations

import random

import pytest

from roundhand.notation import read
from roundhand.notation.kept import KeptLines, Told, Wording
from roundhand.notation.tree import RowLine
from tests.laws.mutating import drawn, mutated, sources

TRIALS, MANY_TRIALS = 200, 5_000
SHARES = 4
EDITS = 3


class Forgetful(KeptLines):
    """Keeps nothing: every line is read word by word."""

    def find(self, wording: Wording) -> Told | None:
        return None


@pytest.mark.parametrize("share", range(SHARES))
def test_a_text_is_read_the_same_whatever_was_read_before(share: int, long_run: bool) -> None:
    texts = sources()
    for trial in range(share, MANY_TRIALS if long_run else TRIALS, SHARES):
        chance = random.Random(trial)
        text = drawn(texts, trial)
        kept = KeptLines()
        for _ in range(EDITS):
            plain = read(text, Forgetful())
            assert read(text) == plain, f"trial {trial}"
            assert read(text, kept) == plain, f"trial {trial}"
            text = mutated(text, chance)


def test_rows_that_say_the_same_are_read_once() -> None:
    """Of rows that differ in their plain number alone the words are read once, in one text and from text to text."""
    asked: list[bool] = []

    class Watched(KeptLines):
        def find(self, wording: Wording) -> Told | None:
            found = super().find(wording)
            asked.append(found is not None)
            return found

    kept = Watched()
    rows = [f"Rnd {number}: Hdc in each st around, join. (24 sts)" for number in range(9, 14)]
    text = "\n".join(["Cap", "", "Rnd 8: 24 hdc in ring, join. (24 sts)", *rows, ""])
    first, _ = read(text, kept)
    assert asked == [False, False, True, True, True, True]
    rows_read = [line for line in first.parts[0].lines if isinstance(line, RowLine)]
    assert [line.label.words(0) for line in rows_read] == [f"Rnd {number}" for number in range(8, 14)]
    asked.clear()
    read(text.replace("24 hdc", "24 sc"), kept)
    assert asked == [False, True, True, True, True, True]


def test_lines_are_read_anew_where_words_mean_something_else() -> None:
    """Another `Terms:` line, another name of a size: nothing that was kept holds any longer."""
    kept = KeptLines()
    text = "Cap\n\nSizes: S (M)\nTerms: US\n\nRnd 1: 6 dc in ring. (6)\nRnd 2: 2 dc in each st around. (12)\n"
    read(text, kept)
    for changed in (text.replace("US", "UK"), text.replace("(M)", "(M, L)"), text.replace("US", "US\nYarn D: oat")):
        assert read(changed, kept) == read(changed, Forgetful())
