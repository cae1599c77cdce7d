"""The editor's word: it leaves what it names, where it says, with all that follows from it, and nothing else."""

from __future__ import annotations

import random

import pytest

from roundhand.checks import Choice, Edited, Sheet, edited
from roundhand.findings import Source
from roundhand.notation import read
from roundhand.publishing.text import plain_text
from roundhand.tally import count
from roundhand.workshop import understand
from roundhand.workshop.leaflets import compose

_PAGE = """Samphire Cap

Sizes: S (M, L)

CROWN
Rnd 1: {n} sc in a magic ring. ({n})
Rnd 2: 2 sc in each st around. ({two} ({two}, {off}))
{word}
Rnd 3: *Sc in next st, inc; rep from * around. ({three})

BAND
Rnd 4: Sc in each st around. ({last})
"""
_LEAVING = (
    "Editor: leave count-differs in Rnd 2 of Crown, the spaces are counted",
    "Editor: leave count-differs in Rnd 2",
    "editor : leave Count-Differs in round 2; asked and answered",
    "**Editor:** leave count-differs in Rnds 1-3.",
    "Editor: leave counts in rnd 2 \u2013 as before",
    "Editor: leave count-differs in Crown",
    "Editor: leave count-differs for L in Crown",
    "Editor: leave counts and colours in Rnd 2 for size L",
)
_PASSING_BY = (
    "Editor: leave count-differs in Rnd 3, the spaces are counted",
    "Editor: leave count-differs in Rnd 2 of Band",
    "Editor: leave count-differs in Rnd 2 for S",
    "Editor: leave repeat-left-over in Rnd 2",
    "Editor: leave count-difers in Rnd 2",
)


def _edited(word: str, n: int = 6, choice: Choice | None = None, last: int = 0) -> Edited:
    page = _PAGE.format(n=n, two=2 * n, off=2 * n + 1, three=3 * n, last=3 * n + last, word=word)
    pattern, said = read(page)
    tally, more = count(pattern)
    return edited(Sheet(Source(page), tally, (*said, *more)), choice or Choice())


def _names(found: Edited) -> list[str]:
    return [one.name for one in found.findings if not one.follows]


@pytest.mark.parametrize("word", _LEAVING)
@pytest.mark.parametrize("n", [5, 8, 13])
def test_what_it_names_is_left_there_and_nowhere_else(word: str, n: int) -> None:
    assert _names(_edited("", n)) == ["count-differs"]
    found = _edited(word, n, last=1)
    unused = ["editor-word-unused"] if "colours" in word else []
    assert _names(found) == [*unused, "count-differs"]
    assert found.findings[-1].row == "Rnd 4"
    assert [one.row for one in found.left] == ["Rnd 2"]


@pytest.mark.parametrize("word", _PASSING_BY)
def test_one_that_leaves_nothing_is_told(word: str) -> None:
    found = _edited(word)
    assert _names(found) == ["count-differs", "editor-word-unused"]
    (unused,) = [one for one in found.findings if one.name == "editor-word-unused"]
    assert unused.severity == "advice"
    assert "leave" in word[: word.index("count" if "count" in word else "repeat")]
    assert unused.help


def test_a_name_that_is_nearly_one_is_told_the_right_one() -> None:
    (unused,) = [one for one in _edited("Editor: leave count-difers").findings if one.name == "editor-word-unused"]
    assert "“count-differs” is near" in unused.because


def test_a_word_on_what_is_not_looked_for_is_not_called_unused() -> None:
    assert _names(_edited(_LEAVING[0], choice=Choice(only=("colours",)))) == []
    assert _names(_edited(_PASSING_BY[0], choice=Choice(only=("colours",)))) == []


def test_what_follows_is_left_with_its_cause() -> None:
    page = "Cap\n\nRnd 1: 6 sc in a magic ring. (6)\nRnd 2: 2 zc in each st around. (13)\n"
    for word, said in (("", 2), ("Editor: leave words-unknown in Rnd 2, she knows it\n", 0)):
        pattern, more = read(page + word)
        tally, found = count(pattern)
        edit = edited(Sheet(Source(page + word), tally, (*more, *found)))
        assert (len(edit.findings), len(edit.left)) == (said, 2 - said)


def test_the_rows_are_read_as_if_it_were_not_there() -> None:
    """It stands between rows, behind a row and in the head, and changes no count and no piece."""
    chance = random.Random(6)
    page = _PAGE.format(n=6, two=12, off=12, three=18, last=18, word="")
    plain = [row.worked for row in count(read(page)[0])[0].rows()]
    lines = page.splitlines()
    for _ in range(20):
        at = chance.randint(1, len(lines))
        word = chance.choice(_LEAVING + _PASSING_BY)
        pattern, said = read("\n".join([*lines[:at], word, *lines[at:]]) + "\n")
        assert [row.worked for row in count(pattern)[0].rows()] == plain
        assert [part.name for part in pattern.parts] == ["Crown", "Band"]
        assert said == []


@pytest.mark.parametrize("word", [*_LEAVING, *_PASSING_BY])
def test_it_is_printed_in_no_leaflet(word: str) -> None:
    page = _PAGE.format(n=6, two=12, off=12, three=18, last=18, word=word)
    without = page.replace(word + "\n", "")
    for text in (page, without.replace("CROWN", f"{word}\n\nCROWN"), without + word):
        leaflet = plain_text(compose(understand(text), pictures=False))
        assert leaflet == plain_text(compose(understand(without), pictures=False))
