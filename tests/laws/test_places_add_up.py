"""What a row uses of the row below, jumps over and leaves is what the row below offered; what it makes, it offers."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from roundhand.notation import read
from roundhand.stitches import dictionary
from roundhand.tally import RowTally, Run, count, flat

NUMBERS = st.integers(1, 9)
STITCHES = st.sampled_from(("sc", "hdc", "dc", "fpdc", "sc blo"))


@st.composite
def phrases(draw: st.DrawFn) -> str:
    """One phrase of a row."""
    stitch, number = draw(STITCHES), draw(NUMBERS)
    return draw(
        st.sampled_from(
            (
                f"{stitch} in next {number} sts",
                f"{number} {stitch}",
                f"inc in next {number} sts",
                f"{number} dec",
                f"skip next {number} sts",
                f"2 {stitch} in next st",
                f"{stitch} in same st",
                f"{stitch} in last st",
                f"ch {number}, skip {number} sts",
                "sc3tog",
                "sl st in next st",
            )
        )
    )


@st.composite
def rows(draw: st.DrawFn) -> str:
    """A row: phrases, groups of them in every kind of repeat, perhaps to the end."""
    parts = []
    for _ in range(draw(st.integers(1, 4))):
        inner = ", ".join(draw(st.lists(phrases(), min_size=1, max_size=3)))
        times = draw(NUMBERS)
        parts.append(
            draw(
                st.sampled_from(
                    (
                        inner,
                        f"({inner}) {times} times",
                        f"[{inner}] x {times}",
                        f"*{inner}; rep from * {times} more times",
                        f"*{inner}; rep from * to last {times} sts",
                        f"({inner}, ({inner}) twice) {times} times",
                    )
                )
            )
        )
    end = draw(st.sampled_from(("", "", ", sc in each st to end", ", *sc, inc; rep from * around", ", inc 3 evenly")))
    return ", ".join(parts) + end


@given(st.integers(3, 90), st.lists(rows(), min_size=1, max_size=4))
def test_places_and_stitches_add_up(below: int, lines: list[str]) -> None:
    """For every row of every generated piece that does not ask for more than there is."""
    body = "\n".join(f"Rnd {number}: {line}, join." for number, line in enumerate(lines, start=2))
    pattern, _ = read(f"Cap\n\nRnd 1: {below} sc in a magic ring.\n{body}\n")
    tally, _ = count(pattern)
    found = list(tally.rows())
    assert len(found) == len(lines) + 1
    for row in found[1:]:
        _adds_up(row)


def _adds_up(row: RowTally) -> None:
    result, offer = row.results[0], row.below[0]
    assert result is not None
    assert offer is not None
    if not result.lacking:
        assert result.used + result.jumped + result.left == offer.total
    made = [run for run in flat(result.made) if run.counts]
    assert sum(_stitches(run) for run in made) == result.count
    assert result.offer.total == result.count
    if result.offer.layout:
        assert result.offer.layout.count(b"s") == result.count
    assert result.used <= offer.total


def _stitches(run: Run) -> int:
    known = dictionary().get(run.stitch)
    return run.count * (known.makes if known is not None else 1)
