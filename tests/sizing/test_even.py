"""Even spacing against published and worked examples, and the laws that hold for every number.

Facts: tests/sources/even_spacing.csv, each row with its source. The row that spreads shaping over rows of work is the
"magic formula" for shaping, as printed in a knitter's text on sleeve shaping: 140 rows and 36 shapings are every 3rd
row 4 times and every 4th row 32 times.
"""

import csv
import re
from collections import Counter
from itertools import accumulate, pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roundhand.sizing import Spacing, children, decrease_evenly, even_gaps, increase_evenly
from roundhand.terms import vocabulary

SOURCE = Path(__file__).resolve().parents[1] / "sources" / "even_spacing.csv"
with SOURCE.open(encoding="utf-8", newline="") as file:
    EXAMPLES = list(csv.DictReader(file))


def spaced(example: dict[str, str]) -> Spacing:
    work = increase_evenly if example["change"] == "increase" else decrease_evenly
    return work(int(example["stitches"]), int(example["times"]), example["worked"] == "flat")


def named(example: dict[str, str]) -> str:
    sign = "+" if example["change"] == "increase" else "-"
    return f"{example['stitches']} {sign} {example['times']} {example['worked']}"


@pytest.mark.parametrize("example", EXAMPLES, ids=named)
def test_groups_and_result_are_those_of_the_source(example: dict[str, str]) -> None:
    found = spaced(example)
    wanted: Counter[int] = Counter()
    for part in example["group_sizes"].split():
        length, times = part.split("*")
        wanted[int(length)] += int(times)
    assert Counter(found.gaps) == wanted, f"{example['source']} has groups of {example['group_sizes']}"
    assert found.after == int(example["left_after_last"])
    assert found.result == int(example["result"])


@pytest.mark.parametrize("example", [row for row in EXAMPLES if row["shaped_at"]], ids=named)
def test_shapings_fall_on_the_stitches_of_the_source(example: dict[str, str]) -> None:
    assert spaced(example).positions == tuple(int(word) for word in example["shaped_at"].split())


@pytest.mark.parametrize("example", [row for row in EXAMPLES if row["group"]], ids=named)
def test_one_group_written_out_is_the_group_of_the_source(example: dict[str, str]) -> None:
    found = spaced(example)
    assert len(found.groups) == 1, "a single group can be written only where the stitches divide"
    short = vocabulary("US").short
    single = short("single")
    length = found.groups[0][1]
    if found.change == "increase":
        written = f"{single} in next {length - 1} sts; 2 {single} in next st"
    else:
        written = f"{single} in next {length - 2} sts; {short('single_2_together')}"
    assert re.sub(r"\s+", " ", example["group"]) == written


def test_the_remainder_is_told_as_designers_tell_it() -> None:
    assert increase_evenly(99, 8).groups == ((5, 12), (3, 13))
    assert increase_evenly(100, 7).groups == ((5, 14), (2, 15))


def test_shaping_over_rows_of_work() -> None:
    assert Counter(even_gaps(140, 36)) == {3: 4, 4: 32}


counts = st.integers(1, 900)
rounds = counts.flatmap(lambda stitches: st.tuples(st.just(stitches), st.integers(1, stitches), st.booleans()))


@given(rounds)
def test_gaps_make_up_the_stitches_and_differ_by_at_most_one(case: tuple[int, int, bool]) -> None:
    stitches, shapings, flat = case
    gaps = even_gaps(stitches, shapings, flat)
    assert sum(gaps) == stitches
    inner = gaps[1:-1] if flat else gaps
    if inner:
        assert max(inner) - min(inner) <= 1
        # The gap of plain division, or one more.
        assert min(inner) in (stitches // shapings, stitches // shapings + 1)


@given(rounds)
def test_the_edges_of_a_flat_row_are_half_a_gap(case: tuple[int, int, bool]) -> None:
    stitches, shapings, _ = case
    gaps = even_gaps(stitches, shapings, flat=True)
    assert len(gaps) == shapings + 1
    assert gaps[0] - gaps[-1] in (0, 1), "the two edges are alike, to the stitch"
    assert abs(2 * shapings * gaps[0] - stitches) <= shapings, "no further than half a stitch from half a gap"


@given(rounds)
def test_the_longer_gaps_are_spread_as_well(case: tuple[int, int, bool]) -> None:
    stitches, shapings, _ = case
    gaps = even_gaps(stitches, shapings)
    for number, end in enumerate(accumulate(gaps), 1):
        exact = number * stitches / shapings
        assert exact - 1e-6 <= end < exact + 1, "a shaping is never a whole stitch late"


@given(counts, st.integers(0, 2700), st.data())
def test_children_add_up_and_differ_by_at_most_one(below: int, above: int, data: st.DataObject) -> None:
    phase = data.draw(st.integers(0, below - 1))
    found = children(below, above, phase)
    assert len(found) == below
    assert sum(found) == above
    assert max(found) - min(found) <= 1


@given(st.integers(2, 600), st.data())
def test_gaps_between_increases_differ_by_at_most_one_at_every_phase(below: int, data: st.DataObject) -> None:
    times = data.draw(st.integers(1, below - 1))
    phase = data.draw(st.integers(0, below - 1))
    at = [index for index, count in enumerate(children(below, below + times, phase)) if count == 2]
    around = [*at, at[0] + below]
    gaps = [after - before for before, after in pairwise(around)]
    assert max(gaps) - min(gaps) <= 1


@given(rounds)
def test_increases_stand_where_children_puts_two(case: tuple[int, int, bool]) -> None:
    stitches, times, _ = case
    two = tuple(at + 1 for at, count in enumerate(children(stitches, stitches + times)) if count == 2)
    assert increase_evenly(stitches, times).positions == two


@given(st.integers(2, 900), st.data())
def test_decreases_undo_increases(stitches: int, data: st.DataObject) -> None:
    times = data.draw(st.integers(1, stitches // 2))
    flat = data.draw(st.booleans())
    found = decrease_evenly(stitches, times, flat)
    assert sum(found.gaps) + found.after == stitches
    assert min(found.gaps) >= 2, "a decrease needs two stitches of its own"
    back = increase_evenly(found.result, times, flat)
    assert back.result == stitches
    assert back.after == found.after
    assert tuple(gap + 1 for gap in back.gaps) == found.gaps


@given(rounds)
def test_runs_and_groups_say_the_same_as_the_gaps(case: tuple[int, int, bool]) -> None:
    stitches, times, flat = case
    found = increase_evenly(stitches, times, flat)
    assert tuple(length for many, length in found.runs for _ in range(many)) == found.gaps
    inner = found.gaps[1:] if flat else found.gaps
    assert sorted(inner) == [length for many, length in found.groups for _ in range(many)]


@pytest.mark.parametrize(
    ("work", "sentence"),
    [
        (lambda: even_gaps(10, 0), "nothing to spread"),
        (lambda: increase_evenly(5, 6), "6 shapings do not fit into 5 stitches"),
        (lambda: decrease_evenly(11, 6), "6 decreases need 12 stitches, and there are 11"),
        (lambda: children(0, 6), "cannot stand on 0"),
        (lambda: children(6, 12, 6), "the phase is one of 0 to 5"),
    ],
)
def test_what_cannot_be_spread_is_refused_in_a_sentence(work: object, sentence: str) -> None:
    assert callable(work)
    with pytest.raises(ValueError, match=sentence):
        work()
