"""An open page answers as if every text were the first: whatever is typed, the answer is that of a fresh reading."""

from __future__ import annotations

import random
from collections.abc import Iterator

import pytest

from roundhand.workshop import OpenPage, Reading, understand
from roundhand.workshop.counting import counted
from tests.laws.mutating import MARKS, WORDS, mutated, sources

TRIALS, MANY_TRIALS = 24, 600
SHARES = 4
KEYS = 5


def keystrokes(text: str, chance: random.Random) -> Iterator[str]:
    """The texts that a page becomes while somebody writes: letters typed and taken back, numbers changed, lines moved,
    pasted and lost, the head edited, and now and then something wilder."""
    for _ in range(KEYS):
        at = chance.randrange(len(text) + 1)
        way = chance.randrange(8)
        lines = text.split("\n")
        line = chance.randrange(len(lines))
        numbers = [place for place, sign in enumerate(text) if sign.isdigit()]
        if way == 0:
            text = text[:at] + chance.choice(MARKS + "abcdefgh 0123456789") + text[at:]
        elif way == 1:
            text = text[:at] + text[at + 1 :]
        elif way == 2 and numbers:
            place = chance.choice(numbers)
            text = text[:place] + chance.choice("0123456789") + text[place + 1 :]
        elif way == 3:
            lines[line:line] = [chance.choice(lines)]
            text = "\n".join(lines)
        elif way == 4:
            del lines[line]
            text = "\n".join(lines)
        elif way == 5:
            text = text[:at] + chance.choice(WORDS) + text[at:]
        elif way == 6:
            text = text.replace("Terms: US", "Terms: UK") if "Terms: US" in text else text.replace("UK", "US")
        else:
            text = mutated(text, chance)
        yield text


def the_same(one: Reading, other: Reading) -> bool:
    return (one.pattern, one.tally, one.findings, one.left) == (other.pattern, other.tally, other.findings, other.left)


@pytest.mark.parametrize("share", range(SHARES))
def test_what_is_typed_is_answered_as_if_read_afresh(share: int, long_run: bool) -> None:
    texts = sources()
    kinds = list(texts)
    for trial in range(share, MANY_TRIALS if long_run else TRIALS, SHARES):
        chance = random.Random(trial)
        page = OpenPage()
        text = chance.choice(texts[kinds[trial % len(kinds)]])
        page.counted(text)
        for key, typed in enumerate(keystrokes(text, chance)):
            assert the_same(page.counted(typed), counted(typed)), f"trial {trial}, key {key}"
        assert the_same(page.understood(typed), understand(typed)), f"trial {trial}"


def test_two_pages_in_turn_are_answered_each_for_itself() -> None:
    """Whoever asks about another page in between loses time and nothing else."""
    texts = sources()["patterns"][:2]
    page = OpenPage()
    for text in (*texts, *texts):
        assert the_same(page.counted(text), counted(text))
        assert the_same(page.understood(text), understand(text))
