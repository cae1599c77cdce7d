"""Remarks chosen by name, by group and by house style; what is not chosen changes nothing in what is."""

from __future__ import annotations

import pytest

from roundhand.checks import GROUPS, Choice, Sheet, edit, names, pages
from roundhand.findings import Finding, Source
from roundhand.notation import read
from roundhand.tally import count
from tests.checks.test_handbook import SHOWN, example

_TWO = """Cap

MATERIALS
Yarn A: worsted, slate
Yarn B: worsted, samphire

CROWN
Rnd 1: With A, 6 sc in a magic ring. (6)
Rnd 2: With B, inc in each st around. (13)
Rnd 3: With A, sc in each st around. (12)
Fasten off.
"""


def _said(text: str, choice: Choice) -> list[Finding]:
    pattern, said = read(text)
    tally, more = count(pattern)
    return edit(Sheet(Source(text), tally, (*said, *more)), choice)


def _names(text: str, **words: tuple[str, ...]) -> list[str]:
    return [one.name for one in _said(text, Choice(**words))]


def test_a_name_and_a_group_mean_the_same_remarks() -> None:
    assert _names(_TWO) == ["colour-never-ended", "count-differs"]
    assert _names(_TWO, only=("count-differs",)) == _names(_TWO, only=("counts",)) == ["count-differs"]
    assert _names(_TWO, without=("count-differs",)) == _names(_TWO, without=("counts",)) == ["colour-never-ended"]
    assert _names(_TWO, only=("counts", "colours"), without=("count-differs",)) == ["colour-never-ended"]


@pytest.mark.parametrize("name", SHOWN)
def test_every_bad_example_is_found_by_its_name_and_by_its_group_alone(name: str) -> None:
    for word in (name, pages()[name].group):
        assert name in _names(example(name, "Bad"), only=(word,))
    assert name not in _names(example(name, "Bad"), without=(name,), also=(name,))


@pytest.mark.parametrize("group", GROUPS)
def test_a_group_holds_nothing_of_another(group: str) -> None:
    for name in names():
        assert Choice(only=(group,)).wants(name) == (pages()[name].group == group)


def test_house_style_speaks_only_when_asked() -> None:
    for name, page in pages().items():
        assert Choice().wants(name) is not page.when_asked
        assert Choice(also=("style",)).wants(name)
        assert Choice(only=("style",)).wants(name) is page.when_asked


def test_what_follows_stands_for_itself_where_its_cause_is_not_wanted() -> None:
    """Nothing is said to follow from a remark that nobody sees."""
    text = "Cap\n\nRnd 1: 6 sc in a magic ring. (6)\nRnd 2: 2 zc in each st around. (13)\n"
    assert [(one.name, bool(one.follows)) for one in _said(text, Choice())] == [
        ("words-unknown", False),
        ("count-differs", True),
    ]
    assert [(one.name, one.follows) for one in _said(text, Choice(only=("counts",)))] == [("count-differs", "")]
