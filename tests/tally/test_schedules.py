"""Schedules written out: always an end, whatever the numbers, and every generated row points at its sentence."""

from __future__ import annotations

from itertools import pairwise

import pytest

from roundhand.findings import Finding
from roundhand.notation import read
from roundhand.tally import Tally, count

HEAD = """A Form

Gauge: 16 sc and 20 rows = 4 in

Ch 70.
Row 1: Sc in 2nd ch from hook and in each ch across, turn. (69)
"""


def worked(words: str, after: str = "") -> tuple[Tally, list[Finding]]:
    """The tally of a piece of 69 stitches that goes on with these words."""
    pattern, said = read(HEAD + words + "\n" + after)
    tally, more = count(pattern)
    return tally, [*said, *more]


@pytest.mark.parametrize(
    "words",
    [
        "Inc 1 st each end of every 2nd row 99999999 times.",
        "Inc 1 st each end of every row until there are 99999999 sts.",
        "Work even until piece measures 99999999 in.",
        "Dec 1 st each end of every 0 rows until 5 sts rem.",
        "Dec 0 sts each end of every row until 5 sts rem.",
        "Dec 1 st each end of every row until 0 sts rem.",
        "Dec 1 st each end of every row 60 times.",
        "Continue in this way, adding 0 sts between increases each rnd, until there are 990 sts.",
        "Inc 1 st each end of Row 99999999999 and every row after until 80 sts.",
        "Dec 1 st each end of every row until 5 sts rem. " * 60,
    ],
)
def test_a_schedule_ends_whatever_its_numbers(words: str) -> None:
    tally, _ = worked(words, "Row 9: Sc in each st across.\n")
    assert sum(1 for _ in tally.rows()) <= 1_300


@pytest.mark.parametrize(
    "words", ["At the same time", "Dec 1 st each end of", "Work even until piece", "Until 45 sts rem"]
)
def test_words_that_tell_no_rows_make_none(words: str) -> None:
    tally, _ = worked(words)
    assert [row.label for row in tally.rows()] == ["Row 1"]


def test_every_row_points_at_the_sentence_that_told_it() -> None:
    words = "Dec 1 st each end of 2nd row and every 3rd row after until 45 sts rem."
    tally, findings = worked(words)
    rows = list(tally.rows())[1:]
    assert not findings
    assert [row.labels[0] for row in rows] == list(range(2, 37))
    start = HEAD.index(words) if words in HEAD else len(HEAD)
    assert all(start <= row.line.span.start and row.line.span.end <= start + len(words) for row in rows)
    assert [row.labels[0] for before, row in pairwise(rows) if row.worked != before.worked] == list(range(3, 37, 3))


@pytest.mark.parametrize(("goal", "nearest"), [(46, (47, 45)), (50, (51, 49)), (44, (45, 43))])
def test_a_count_that_the_steps_miss_is_said_with_the_two_nearest(goal: int, nearest: tuple[int, int]) -> None:
    _, findings = worked(f"Dec 1 st each end of every 2nd row until {goal} sts rem.")
    (finding,) = findings
    assert finding.name == "shaping-overruns"
    assert finding.facts["nearest"] == nearest


@pytest.mark.parametrize(("every", "times", "room"), [(10, 7, 47), (8, 6, 40), (12, 5, 50)])
def test_an_overrun_says_which_rhythm_would_fit(every: int, times: int, room: int) -> None:
    left = 69 - 2 * (times + 1)
    words = f"Rows 2-{room}: Sc across, turn; at the same time dec 1 st each end of Row 10, then every {every}th row "
    words += f"{times} times. ({left})"
    _, findings = worked(words, f"Row {room + 1}: Sc in each st across. ({left})\n")
    (finding,) = findings
    assert finding.name == "shaping-overruns"
    assert finding.facts["ends"] == 10 + every * times
    fits = finding.facts["would_fit"]
    assert isinstance(fits, int)
    assert 10 + fits * times <= room < 10 + (fits + 1) * times


def test_a_schedule_that_fits_its_rows_is_not_remarked_on() -> None:
    words = (
        "Rows 2-80: Sc across, turn; at the same time dec 1 st each end of Row 10, then every 10th row 7 times. (53)"
    )
    tally, findings = worked(words, "Row 81: Sc in each st across. (53)\n")
    assert not findings
    assert [row.worked for row in tally.rows()][-2:] == [(53,), (53,)]


PLAIN = HEAD.replace(" and 20 rows", "")


@pytest.mark.parametrize(("low", "high"), [(17, 18), (12, 14), (8, 9)])
@pytest.mark.parametrize("between", ["-", " to ", "\u2013"])
def test_a_length_between_two_leaves_the_rows_of_both_open(low: int, high: int, between: str) -> None:
    tally, findings = worked(f"Work even until piece measures {low}{between}{high} in.")
    (finding,) = findings
    rows = sum(1 for _ in tally.rows())
    assert finding.name == "reading-chosen"
    assert finding.facts["may_stop"] == (5 * low - 1, 5 * high - 1)
    assert 5 * low <= rows <= 5 * high


def test_without_a_row_gauge_the_rows_beside_a_length_are_worked() -> None:
    for words, rows in (("about 30 rows", 31), ("about 30-34 rows", 31)):
        pattern, _ = read(PLAIN + f"Work even until piece measures 6-7 in ({words}).\n")
        assert sum(1 for _ in count(pattern)[0].rows()) == rows
    pattern, said = read(PLAIN + "Work even until piece measures 6-7 in.\n")
    tally, more = count(pattern)
    assert [finding.name for finding in (*said, *more)] == ["gauge-missing"]
    assert sum(1 for _ in tally.rows()) == 1


@pytest.mark.parametrize(("side", "names"), [("RS", ["reading-chosen"]), ("WS", ["rules-clash"])])
def test_stripes_that_never_end_on_the_side_asked_for_are_told(side: str, names: list[str]) -> None:
    head = HEAD.replace("Gauge", "Yarn A: cream\nYarn B: navy\nGauge")
    pattern, said = read(
        head + f"Work even in stripes of 2 rows B, 2 rows A until piece measures 8 in, ending with a {side} row.\n"
    )
    tally, more = count(pattern)
    assert [finding.name for finding in (*said, *more)] == names
    colours = [row.results[0].colours for row in tally.rows() if row.results[0] is not None]
    assert colours[1:5] == [("B",), ("B",), ("A",), ("A",)]
    assert len(colours) % 2


@pytest.mark.parametrize(
    "words",
    [
        "Inc 1 st each end of every 2nd row 99999999 times.",
        "Work even until piece measures 99999999 in.",
        "Rep last row until there are 9999 sts.",
        "Rep last row until piece measures 99999 in.",
    ],
)
def test_numbers_beyond_all_work_are_told_and_not_tried(words: str) -> None:
    tally, findings = worked(words, "Row 9: Sc in each st across.\n")
    assert [finding.name for finding in findings] == ["limit-reached"]
    assert [row.labels[0] for row in tally.rows()] == list(range(1, 10))


@pytest.mark.parametrize("words", ["Work even for 5 rows.", "Dec 1 st each end of next row and every 2nd row 2 times."])
def test_generated_rows_keep_the_turning_chain_of_the_row_below(words: str) -> None:
    head = "A Form\n\nCh 72.\nRow 1: Dc in 4th ch from hook and in each ch across, turn. (70)\n"
    pattern, _ = read(head + "Row 2: Ch 3 (counts as dc), dc in next 69 sts, turn. (70)\n" + words)
    rows = list(count(pattern)[0].rows())[2:]
    assert len(rows) == 5
    for row in rows:
        (result,) = row.results
        assert result is not None
        assert result.chain_counted
        assert not result.left
        assert not result.lacking


@pytest.mark.parametrize("again", ["Row 2", "this row", "last row"])
def test_a_row_that_repeats_itself_up_to_a_count_is_the_first_of_them(again: str) -> None:
    tally, findings = worked(f"Row 2: Sc2tog, sc in each st to last 2 sts, sc2tog, turn. Rep {again} until 45 sts rem.")
    assert not findings
    assert [row.worked[0] for row in tally.rows()] == list(range(69, 44, -2))
