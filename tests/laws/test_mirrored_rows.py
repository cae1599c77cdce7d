"""A row in mirror image makes what the row makes, in the other order; mirrored once more it is as it was."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from roundhand.notation import read
from roundhand.notation.tree import RowLine
from roundhand.tally import RowTally, count, flat
from roundhand.tally.mirroring import mirrored

NUMBERS = st.integers(1, 5)
STITCHES = st.sampled_from(("sc", "hdc", "dc"))


@st.composite
def shapings(draw: st.DrawFn) -> str:
    """A phrase that works a known number of places."""
    stitch, number = draw(STITCHES), draw(NUMBERS)
    return draw(
        st.sampled_from(
            (
                f"{stitch} in next {number} sts",
                f"2 {stitch} in next st",
                f"{stitch}2tog",
                f"({stitch} in next st, 2 sc in next st) {number} times",
                f"skip next {number} sts",
                f"(sc, ch 1, {stitch}) in next st",
            )
        )
    )


@st.composite
def shaped_rows(draw: st.DrawFn) -> str:
    """A row with shaping at either end, and something that goes on between them or stops short."""
    begin = draw(st.lists(shapings(), max_size=3))
    end = draw(st.lists(shapings(), max_size=3))
    middle = draw(
        st.sampled_from(
            ("sc in each st to last {} sts", "*sc in next st; rep from * to last {} sts", "hdc in next 3 sts")
        )
    )
    rest = sum(_uses(phrase) for phrase in end)
    if "{}" in middle:
        middle = middle.format(rest) if rest else middle.replace(" to last {} sts", " across")
    first = draw(st.sampled_from(("", "sl st over first 3 sts, ")))
    return first + "ch 1, " + ", ".join((*begin, middle, *end)) + draw(st.sampled_from((", turn.", ".")))


def _uses(phrase: str) -> int:
    numbers = [int(word) for word in phrase.replace("(", " ").split() if word.isdigit()]
    if "times" in phrase:
        return 2 * numbers[-1]
    if "2tog" in phrase:
        return 2
    return numbers[-1] if phrase.endswith("sts") else 1


def _page(row: str, reverse: bool) -> str:
    left = f"LEFT\nRnd 1: 90 sc in a magic ring.\nRow 2: {row}\n"
    return f"Cap\n\n{left}" + ("\nRIGHT\nWork as for left, reversing shaping.\n" if reverse else "")


def _stitches(row: RowTally) -> list[str]:
    result = row.results[0]
    assert result is not None
    return [run.stitch for run in flat(result.made) for _ in range(run.count) if run.counts]


@given(shaped_rows())
def test_a_mirrored_row_is_the_row_backwards(row: str) -> None:
    """The same stitches in the other order, the same count, and no place lost."""
    tally, findings = count(read(_page(row, reverse=True))[0])
    assert not findings
    _, straight, _, turned = tally.rows()
    assert straight.worked == turned.worked
    mine, theirs = straight.results[0], turned.results[0]
    assert mine is not None
    assert theirs is not None
    assert (mine.lacking, len(mine.left_over)) == (theirs.lacking, len(theirs.left_over))
    if not mine.lacking:
        assert theirs.used + theirs.jumped + theirs.left == 90
        assert _stitches(turned) == _stitches(straight)[::-1]


@given(shaped_rows())
def test_mirrored_twice_it_is_as_it_was(row: str) -> None:
    """The words of a row, mirrored and mirrored back, make the same row again."""
    pattern, _ = read(_page(row, reverse=False))
    line = pattern.parts[0].lines[1]
    assert isinstance(line, RowLine)
    once = mirrored(line.nodes, 1)
    assert once is not None
    twice = mirrored(once, 1)
    assert twice is not None
    assert [type(node) for node in twice if not _quiet(node)] == [type(node) for node in line.nodes if not _quiet(node)]


def _quiet(node: object) -> bool:
    return type(node).__name__ in ("Leave", "Skip", "Note")
