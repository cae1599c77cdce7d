"""Bodies: the packaged tables against published rows, conflicts, own tables, one person, and bodies between sizes.

Heads of the maker chart: Hat size chart, calicojoy.com/size-chart. Hands by age: kids' glove and mitten size chart,
app.sendy.io/blog/kids-glove-mitten-size-chart. Upper bust edges: CYC-based women sizing in published patterns,
yayforyarn.com. Head medians: WHO Child Growth Standards, from memory.
"""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roundhand.measures import Length
from roundhand.sizing import (
    Ease,
    between_sizes,
    body_tables,
    conflicts,
    ease_rules,
    measures_known,
    person,
    published,
    read_bodies,
    read_ease,
)

EVIDENCE = {"found", "memory", "common practice", "ours"}


@pytest.mark.parametrize(
    ("measure", "size", "table", "least", "most", "unit", "evidence"),
    [
        ("head", "Newborn", "maker chart", "13", "13", "in", "found"),
        ("head", "3-6 months", "maker chart", "15", "15", "in", "found"),
        ("head", "12-18 months", "maker chart", "17", "17", "in", "found"),
        ("head", "boy 12 months", "WHO median", "46.1", "46.1", "cm", "memory"),
        ("hand", "Child 6-8", "retailer chart", "6", "6.5", "in", "found"),
        ("hand", "8", "EN 420 hand size", "20.3", "20.3", "cm", "memory"),
        ("bust", "Woman M", "Craft Yarn Council, woman", "36", "38", "in", "found"),
        ("bust", "5X woman", "Craft Yarn Council, woman", "60", "62", "in", "found"),
        ("chest", "man 2X", "Craft Yarn Council, man", "50", "52", "in", "memory"),
        ("upper arm", "man Large", "Craft Yarn Council, man", "15", "15", "in", "memory"),
        ("chest", "baby 3 months", "Craft Yarn Council, baby", "16", "16", "in", "memory"),
    ],
)
def test_a_published_row_is_found_by_name(
    measure: str, size: str, table: str, least: str, most: str, unit: str, evidence: str
) -> None:
    row = next(one for one in published(measure, size) if one.table == table)
    assert (row.least.to(unit), row.most.to(unit)) == (Fraction(least), Fraction(most))
    assert row.evidence == evidence and row.source


def test_every_row_has_its_source_and_evidence() -> None:
    for one in body_tables():
        assert one.source and one.evidence in EVIDENCE, one
        assert 0 < one.least.mm <= one.most.mm, one
        assert one.measure == one.measure.lower() and one.size and one.table


def test_every_row_is_found_by_its_own_name() -> None:
    for one in body_tables():
        name = f"{one.group} {one.size}".strip()
        assert one in published(one.measure, name), name


def test_a_finished_item_is_no_body() -> None:
    assert all(not one.basis.startswith("finished") for one in published("head"))
    assert published("hat circumference (snug)", "Newborn")[0].basis == "finished item"


def test_tables_that_conflict_are_both_shown_with_their_names() -> None:
    # A published chart of hands stops at 6 in where another begins at 6 1/2 for the oldest children.
    said = [one.said() for one in conflicts(published("head", "Toddler"), "Toddler")]
    assert said
    assert any("Craft Yarn Council, older booklet" in one and "designer chart" in one for one in said)


def test_tables_that_touch_are_no_conflict() -> None:
    own, _ = read_bodies("table,size,measure,least,most,unit\nA,M,knee,10,12,in\nB,M,knee,12,14,in\nC,M,knee,15,15,in")
    found = [one for one in published("knee", "M", own) if one.table in "ABC"]
    assert {(one.one.table, one.other.table) for one in conflicts(found, "M")} == {("A", "C"), ("B", "C")}


def test_a_table_of_ones_own_comes_first_and_may_name_new_measures() -> None:
    own, wrong = read_bodies("size,measure,value,unit\nToddler,head,19 1/4,in\nPony,ear,6,in\n")
    assert not wrong
    first = published("head", "Toddler", own)[0]
    assert (first.table, first.least.to("in")) == ("own table", Fraction(77, 4))
    assert "ear" in measures_known(own) and "ear" not in measures_known()


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("size,measure,value,unit\nA,head,0,in", 2),
        ("size,measure,value,unit\nA,head,-3,in", 2),
        ("size,measure,value,unit\nA,head,22,stone", 2),
        ("size,measure,value\nA,head,22\nB,,22", 3),
        ("size,measure,value\nA,head,twenty two", 2),
    ],
)
def test_a_line_that_makes_no_sense_is_told_and_left_out(text: str, line: int) -> None:
    found, wrong = read_bodies(text)
    assert len(found) == len(text.splitlines()) - 2
    assert len(wrong) == 1 and wrong[0].startswith(f"line {line}:")


@given(st.text(max_size=200))
def test_no_table_makes_reading_fail(text: str) -> None:
    found, wrong = read_bodies(text)
    assert all(one.least.mm > 0 for one in found)
    assert all(isinstance(one, str) for one in wrong)


def test_one_person_is_a_table() -> None:
    ada = person("Ada", {"Head": Length.of(Fraction(58), "cm"), "hand": Length.of(Fraction(19), "cm")})
    assert [one.least.to("cm") for one in published("head", "Ada", ada)] == [58]
    assert published("hand", "Ada", ada)[0].table == "measured"
    assert not published("hand", "Ida", ada)


def test_bodies_between_sizes_are_the_gaps() -> None:
    ranges = [(one.least, one.most) for one in published("bust") if one.table == "Craft Yarn Council, woman"]
    gaps = [(str(low.to("in")), str(high.to("in"))) for low, high in between_sizes(ranges)]
    assert gaps == [(str(upper), str(upper + 2)) for upper in range(30, 62, 4)]
    assert between_sizes([]) == []


@given(st.fractions(1, 100), st.fractions(-50, 50), st.fractions(-90, 90))
def test_ease_is_a_length_and_a_share(body: Fraction, length: Fraction, percent: Fraction) -> None:
    around = Length.of(body, "in")
    only = Ease(length=Length.of(length, "in")).on(around).to("in")
    share = Ease(percent=percent).on(around).to("in")
    both = Ease(length=Length.of(length, "in"), percent=percent).on(around).to("in")
    assert only == body + length
    assert share == body * (100 + percent) / 100
    assert both == only + share - body


def test_ease_as_it_is_written() -> None:
    head = Length.of(Fraction(22), "in")
    for words, finished in [("-1 in", "21"), ("minus 2.54 cm", "21"), ("5 %", "23.1"), ("-5 percent", "20.9")]:
        ease = read_ease(words)
        assert ease is not None, words
        assert ease.on(head).to("in") == Fraction(finished)
    for words in ("", "in", "1", "-", "1 in 2", "1/0 in in"):
        assert read_ease(words) is None, words


def test_published_ease_has_sources_and_open_ends() -> None:
    rules = ease_rules()
    assert all(one.source and one.evidence in EVIDENCE for one in rules)
    assert all(one.least is None or one.most is None or one.least <= one.most for one in rules)
    over = next(one for one in ease_rules("garment on the chest") if one.fit == "oversized")
    assert over.least == 6
    assert over.most is None
