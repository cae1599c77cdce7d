"""Rows of the same words are worked once and moved to where they stand: which changes no count and no place."""

from __future__ import annotations

import pytest

from roundhand.notation import read
from roundhand.notation.tree import Node
from roundhand.tally import count
from roundhand.tally.alike import AlikeRows
from roundhand.tally.hand import Hand
from roundhand.tally.model import Worked
from tests.laws.mutating import drawn, sources

TRIALS, MANY_TRIALS = 200, 5_000
SHARES = 4


@pytest.mark.parametrize("share", range(SHARES))
def test_a_row_comes_to_the_same_worked_or_moved(share: int, long_run: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    texts = sources()
    patterns = []
    for trial in range(share, MANY_TRIALS if long_run else TRIALS, SHARES):
        text = drawn(texts, trial)
        # The same rows once more, further down.
        patterns.append((trial, read(f"{text}\n\nAGAIN\n\n{text}")[0]))
    moved = [count(pattern) for _, pattern in patterns]
    monkeypatch.setattr(AlikeRows, "find", lambda *_: None)
    for (trial, pattern), counted in zip(patterns, moved, strict=True):
        assert count(pattern) == counted, f"trial {trial}"


def test_rows_of_the_same_words_on_the_same_stitches_are_worked_once(monkeypatch: pytest.MonkeyPatch) -> None:
    worked: list[int] = []
    work = Hand.work

    def watched(hand: Hand, nodes: tuple[Node, ...]) -> Worked | None:
        worked.append(nodes[0].span.start)
        return work(hand, nodes)

    monkeypatch.setattr(Hand, "work", watched)
    rows = [f"Rnd {number}: Hdc in each st around, join. (24 sts)" for number in range(9, 14)]
    text = "\n".join(["Cap", "", "Rnd 8: 24 hdc in ring, join. (24 sts)", *rows, ""])
    tally, _ = count(read(text)[0])
    assert [row.worked for row in tally.rows()] == [(24,)] * 6
    assert worked == [text.index("24 hdc"), text.index("Hdc in each")]
    last = list(tally.rows())[-1].results[0]
    assert last is not None
    assert last.made[0].span.of(text) == "Hdc in each st around"
    assert last.made[0].span.start == text.rindex("Hdc in each")
