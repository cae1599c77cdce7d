"""The sizing section: read, used in rows, remarked on, solved, written back.

The numbers of the hat were worked out by hand from 15 sts and 20 rnds = 4 in, a band of 16 sts and 19 rows = 4 in that
stretches by a quarter, and heads of 16 to 22 in: nearest multiple of 6, nearest even number, nearest set of six rounds.
"""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roundhand import workshop
from roundhand.notation import read
from roundhand.sizing import remarks_on, solve
from roundhand.workshop.solving import solved, written

HEAD = """Kittiwake numbers

Sizes: Baby (Toddler, Child, Adult S, Adult L)
To fit head: 16 (17 1/2, 19, 20 1/2, 22) in
Length: 6 3/4 (7 1/4, 8, 8 3/4, 9 1/4) in

GAUGE
Body: 15 sts and 20 rnds = 4 in in single crochet
Band: 16 sts and 19 rows = 4 in in single crochet

SIZING
"""
HAT = (
    HEAD
    + """depth: 6 (7, 8, 9, 10)
body: head less 1 1/2 in at body gauge; multiple of 6
band: head / 1.25 at band row gauge; even
rounds: length less {depth} at band gauge less 0.1 in at 20 rnds = 4 in; multiple of 6 plus 2
sets: ({rounds} - 8) / 6
skipped: {band} - {body}
"""
)
BY_HAND = {
    "depth": (6, 7, 8, 9, 10),
    "body": (54, 60, 66, 72, 78),
    "band": (60, 66, 72, 78, 84),
    "rounds": (26, 26, 32, 32, 32),
    "sets": (3, 3, 4, 4, 4),
    "skipped": (6, 6, 6, 6, 6),
}


def test_the_hat_comes_out_as_by_hand() -> None:
    found = solve(read(HAT)[0])
    assert {one.name: one.counts for one in found.answers} == BY_HAND
    assert not found.clashes and not found.remarks and not found.waiting


def test_what_is_next_on_each_side_and_what_it_measures() -> None:
    body = solve(read(HAT)[0]).of("body")
    assert body is not None
    adult = body.choices[3]
    assert (adult.fewer, adult.more, adult.target) == (66, 78, Fraction(285, 4))
    assert adult.length == Fraction(96, 5) * Fraction(254, 10)
    assert adult.off == Fraction(1, 5) * Fraction(254, 10)


@pytest.mark.parametrize("step", [2, 4, 5, 7, 10, 12])
def test_another_multiple_and_another_gauge(step: int) -> None:
    page = HEAD + f"body: head less 1 1/2 in at {step + 9} sts = 4 in; multiple of {step}\n"
    found = solve(read(page)[0]).of("body")
    assert found is not None
    for choice in found.choices:
        assert choice.count % step == 0
        assert abs(choice.count - choice.target) <= step


def test_values_are_written_below_their_lines_and_read_back() -> None:
    reading = workshop.understand(
        HAT + "\nBODY\nCh {body}, join with sl st in first ch.\nRnd 1: Sc in each ch around.\n"
    )
    text = written(reading, solved(reading))
    assert "\nbody = 54 (60, 66, 72, 78)\n" in text and "\nrounds = 26 (26, 32, 32, 32)\n" in text
    assert "skipped =" not in text
    again = workshop.understand(text)
    assert [row.worked for row in again.tally.rows()] == [(54, 60, 66, 72, 78)]
    assert not [one for one in again.findings if one.severity == "error" and "quantity" in one.name]
    assert written(again, solved(again)) == text


def test_counts_stand_in_rows_as_size_lists_do() -> None:
    head = "Cap\nSizes: S (M, L)\n\nSIZING\nbody: 24 (36, 48)\nplain: {body} / 6 - 2\n\nBODY\n"
    rows = (
        "Ch {body}, join with sl st in first ch.\nRnd 1: Sc in each ch around. ({body})\n"
        "Rnd 2: *Sc in next {plain} sts, sc2tog; rep from * 6 times. ({body - 6})\n"
        "Rnd 3: {sc in next 2 sts, 2 sc in next st} around. ({(body - 6) / 3 * 4})\n"
    )
    reading = workshop.understand(head + rows)
    assert [row.worked for row in reading.tally.rows()] == [(24, 36, 48), (18, 30, 42), (24, 40, 56)]
    assert [row.stated for row in reading.tally.rows()][:2] == [(24, 36, 48), (18, 30, 42)]
    assert not [one for one in reading.findings if one.severity == "error"]


def names(page: str) -> list[tuple[str, str]]:
    pattern, _ = read(page)
    return [(one.what, one.span.of(page)) for one in remarks_on(pattern, page)]


@pytest.mark.parametrize(
    ("lines", "name", "words"),
    [
        ("body: head less 1 in", "gauge-missing", "head less 1 in"),
        ("body: head at 0 sts = 4 in", "gauge-missing", "at 0 sts = 4 in"),
        ("body: head at 15 sts = 4", "unit-missing", "at 15 sts = 4"),
        ("body: 8 at 15 sts = 4 in", "unit-missing", "8"),
        ("body: head less 2 at 15 sts = 4 in", "unit-missing", "2"),
        ("body: head at cuff gauge", "gauge-missing", "at cuff gauge"),
        ("body: hat at body gauge", "quantity-unknown", "hat"),
        ("body: {cuff} / 2", "quantity-unknown", "{cuff}"),
        ("body: {body} + 2", "quantity-circular", "body"),
        ("body: {cuff} + 2\ncuff: {body} - 2", "quantity-circular", "body"),
        ("body: 55 (60, 66, 72, 78)\nhalf: {body} / 2", "quantity-not-whole", "half"),
        ("body: head at body gauge; even; odd", "rules-clash", "odd"),
        ("body: head at body gauge; multiple of 6; multiple of 4 plus 1", "rules-clash", "multiple of 4 plus 1"),
        ("body: head at body gauge; multiple of 0", "rules-clash", "multiple of 0"),
        ("body: head less 30 in at body gauge", "rules-clash", "head less 30 in at body gauge"),
        ("body: head at body gauge\nbody: head at band gauge", "rules-clash", "body"),
        ("body: head at body gauge; snug", "words-unknown", "snug"),
        ("body: \u221e in at body gauge", "words-unknown", "\u221e"),
        ("body: 8 (9, 10)", "size-list-length", "8 (9, 10)"),
        ("body: head at body gauge; multiple of 6\nbody = 54 (60, 66, 72, 79)", "sizing-stale", None),
        ("body: head at body gauge; multiple of 6\nbody = 60 (66, 72, 78, 96)", "sizing-stale", None),
        ("body: 54 (60, 66, 72, 78)\nbody = 54 (60, 66, 72, 80)", "sizing-stale", None),
    ],
)
def test_what_makes_no_sense_is_told_once_with_its_place(lines: str, name: str, words: str | None) -> None:
    found = names(HEAD + lines + "\n")
    assert len(found) == 1, found
    assert found[0][0] == name
    if words is not None:
        assert found[0][1] == words


def test_a_use_without_a_value_is_told() -> None:
    page = HEAD + "body: head at body gauge\n\nBODY\nCh {body}.\nRow 1: Sc across. ({body})\n"
    assert names(page) == [("quantity-unknown", "{body}")]


def test_a_clash_names_the_tolerance_and_the_multiple_and_what_would_do() -> None:
    # Half a repeat of eight at 15 stitches in 4 in is 1.07 in: no tolerance of half an inch holds everywhere.
    clash = solve(read(HEAD + "body: head at body gauge; multiple of 8; within 1/2 in; at least 8\n")[0]).clashes[0]
    assert set(clash.rules) == {"multiple of 8", "within 1/2 in"}
    assert "in more" in clash.needed


def test_what_waits_for_a_clash_is_told() -> None:
    page = HEAD + "body: head at body gauge; multiple of 40; within 0.1 in\nhalf: {body} / 2\n"
    found = solve(read(page)[0])
    assert [one.name for one in found.clashes] == ["body"] and found.waiting == ("half",)


@given(
    st.text(
        alphabet="abody: ;=()[]{}0123456789/+-*.,%in at sts gauge head less multiple of\n\u00bd\u221e", max_size=120
    )
)
def test_no_sizing_section_makes_anything_fail(lines: str) -> None:
    page = HEAD + lines + "\n\nBODY\nRnd 1: 6 sc in a magic ring.\nRnd 2: Sc in next {body} sts.\n"
    reading = workshop.understand(page)
    for one in remarks_on(reading.pattern, page):
        assert 0 <= one.span.start <= one.span.end <= len(page)
    solve(reading.pattern)
