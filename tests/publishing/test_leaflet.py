"""The leaflet says what the pattern says: her words, every count, the abbreviations she uses, each in its place."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roundhand import notation, tally
from roundhand.findings import Source
from roundhand.press import plain
from roundhand.publishing import Leaflet, leaflet
from roundhand.publishing.leaflet import Block
from roundhand.publishing.words import said
from tests.publishing.making import SHIPPED, leaflet_of, shipped_text

SAMPLE = """\
MARSH HAT

A hat for windy days.

Sizes: Small (Medium, Large)
To fit head: 20 (21, 22) in
Height: 8 in, before the fold
Level: easy
Version: 1.2, Rnd 4 put right
Terms: {terms}

SIZING
body: head less 1 in at 14 sts = 4 in; multiple of 4

MATERIALS
Yarn A: worsted, 100 g = 200 m, kelp; 1 (1, 2) balls
Hook: 5 mm
Editor: leave count-differs in Rnd 4, it is meant

GAUGE
14 sts and 10 rnds = 4 in in half double crochet
Swatch: A, hdc, 14 sts x 10 rows, 10.2 x 10.2 cm, 7.6 g, washed

NOTES
The turning chain never counts as a stitch.

CROWN
With A, make a magic ring.
Rnd 1: 8 {half} in ring.
Rnds 2-3: Inc in each st around.
Medium and up: Rnd 4: *{half} in next 3 sts, inc; rep from * around. (40 sts)
Next 2 (3, 4) rnds: {half} in each st around.

FINISHING
Fasten off.

SAFETY
Keep away from flames.
"""


def sample(terms: str = "US") -> Leaflet:
    return leaflet_of(SAMPLE.format(terms=terms, half={"US": "hdc", "UK": "htr"}[terms]))


def blocks(made: Leaflet) -> list[Block]:
    return [block for section in made.sections for block in section.blocks]


def row(made: Leaflet, label: str) -> Block:
    return next(block for block in blocks(made) if said(block.label) == label)


def test_every_part_of_a_pattern_has_its_place() -> None:
    made = sample()
    assert made.title == "Marsh Hat"
    assert [said(words) for words in made.intro] == ["A hat for windy days."]
    assert made.sizes == ("Small", "Medium", "Large")
    assert [line.what for line in made.stated] == ["To fit head"]
    assert [(entry.key, said(entry.words)) for entry in made.about] == [
        ("Height", "8 in, before the fold"),
        ("Level", "easy"),
    ]
    assert [said(entry.words) for entry in made.version] == ["1.2, Rnd 4 put right"]
    assert [(entry.key, entry.role) for entry in made.materials] == [("Yarn A", "yarn"), ("Hook", "hook")]
    assert [(colour.label, colour.name) for colour in made.colours] == [("A", "kelp")]
    assert [(entry.key, entry.role) for entry in made.gauge] == [("", "gauge"), ("Swatch", "swatch")]
    assert [section.name for section in made.opening] == ["Notes"]
    assert [(section.name, section.kind) for section in made.sections] == [
        ("Crown", "work"),
        ("Finishing", "finishing"),
    ]
    assert [(section.name, section.care) for section in made.closing] == [("Safety", True)]


def test_what_is_not_for_makers_is_not_printed() -> None:
    made = repr(sample())
    assert "multiple of 4" not in made
    assert "leave count-differs" not in made


def test_counts_that_she_left_out_are_filled_in_for_every_size() -> None:
    made = sample()
    assert [(one.rows, one.counts) for one in row(made, "Rnd 1:").filled] == [("", (8, 8, 8))]
    assert [(one.rows, one.counts) for one in row(made, "Rnds 2-3:").filled] == [
        ("Rnd 2", (16, 16, 16)),
        ("Rnd 3", (32, 32, 32)),
    ]
    assert row(made, "Medium and up: Rnd 4:").filled == ()
    assert [one.counts for one in row(made, "Next 2 (3, 4) rnds:").filled] == [(32, 40, 40)]
    assert said(row(made, "Rnds 2-3:").filled[1].words) == "Rnd 3: 32 sts"


def test_rows_without_a_number_get_theirs_in_every_size() -> None:
    next_rows = row(sample(), "Next 2 (3, 4) rnds:")
    assert said(next_rows.numbers) == "Rnds 4-5 (5-7, 5-8)"
    assert next_rows.labels == ("Rnds 4-5", "Rnds 5-7", "Rnds 5-8")
    assert row(sample(), "Medium and up: Rnd 4:").labels == (None, "Rnd 4", "Rnd 4")
    assert row(sample(), "Medium and up: Rnd 4:").sizes == (1, 2)


def test_numbers_of_a_size_know_their_size() -> None:
    label = row(sample(), "Next 2 (3, 4) rnds:").label
    assert [(run.text, run.sizes) for run in label if run.sizes] == [("2", (0,)), ("3", (1,)), ("4", (2,))]


def test_a_list_for_some_sizes_belongs_to_these() -> None:
    made = leaflet_of(
        "Hat\nSizes: S (M, L)\nM and up: Rnd 1: 6 (8) sc in a magic ring. (6 (8) sts)\n"
        "Rnd 2: (sc, 2 dc) in 3 (4, 5) sts."
    )
    first, second = blocks(made)
    assert [(run.text, run.sizes) for run in first.words if run.sizes] == [
        ("6", (1,)),
        ("8", (2,)),
        ("6", (1,)),
        ("8", (2,)),
    ]
    assert [run.sizes for run in second.words if run.sizes] == [(0,), (1,), (2,)]


@pytest.mark.parametrize(
    ("terms", "expected"),
    [("US", ("hdc", "half double crochet")), ("UK", ("htr", "half treble crochet"))],
)
def test_abbreviations_are_those_used_in_the_terms_of_the_pattern(terms: str, expected: tuple[str, str]) -> None:
    listed = {(one.short, one.meaning) for one in sample(terms).abbreviations}
    assert expected in listed
    assert ("rnd", "round") in listed
    shorts = {short for short, _ in listed}
    assert shorts == {"hdc" if terms == "US" else "htr", "inc", "rep", "rnd", "st"}


@pytest.mark.parametrize(
    ("terms", "short", "meaning"),
    [
        ("US", "dc", "double crochet"),
        ("UK", "dc", "double crochet"),
        ("US", "tr", "treble crochet"),
        ("UK", "dtr", "double treble crochet"),
        ("US", "sc2tog", "single crochet two together"),
        ("UK", "dc2tog", "double crochet two together"),
        ("US", "fpdc", "front post double crochet"),
        ("US", "sl st", "slip stitch"),
        ("UK", "ss", "slip stitch"),
        ("US", "blo", "back loop only"),
        ("UK", "yrh", "yarn round hook"),
        ("US", "tog", "together"),
        ("US", "MC", "main color"),
        ("UK", "MC", "main colour"),
    ],
)
def test_a_short_word_is_written_out(terms: str, short: str, meaning: str) -> None:
    made = leaflet_of(f"Hat\nTerms: {terms}\nRnd 1: 6 sts in a magic ring.\nRnd 2: {short} in each st around.")
    assert (short, meaning) in {(one.short, one.meaning) for one in made.abbreviations}
    assert (short, meaning) in {(run.text, run.meaning) for run in blocks(made)[1].words}


def test_her_own_list_comes_first_and_is_not_told_twice() -> None:
    made = leaflet_of(
        "Hat\nTerms: US\n\nABBREVIATIONS\nsc: single of mine\nsl st = slip it\n\nCROWN\n"
        "Rnd 1: 6 sc in a magic ring, join with sl st."
    )
    assert [(entry.key, said(entry.words)) for entry in made.listed] == [("sc", "single of mine"), ("sl st", "slip it")]
    assert "sc" not in {one.short for one in made.abbreviations}
    meanings = {run.text: run.meaning for run in blocks(made)[0].words if run.meaning}
    assert meanings == {"sc": "single of mine", "sl st": "slip it"}


def test_a_stitch_that_she_defines_means_what_she_says() -> None:
    made = leaflet_of(shipped_text("saltmarsh-cap"))
    meanings = {one.short: one.meaning for one in made.abbreviations}
    assert meanings["fphdc"] == "front post half double crochet"
    assert meanings["spike sc"] == "spike single crochet"


def test_rows_before_any_heading_are_instructions_and_so_is_their_start() -> None:
    made = leaflet_of("Hat\n\nA plain hat.\n\nWith A, ch 7.\nRow 1: Sc in 2nd ch from hook and in each ch across. (6)")
    assert [said(words) for words in made.intro] == ["A plain hat."]
    assert [(section.name, [block.kind for block in section.blocks]) for section in made.sections] == [
        ("Instructions", ["step", "row"])
    ]


def test_a_sentence_that_begins_like_a_step_is_no_step_where_no_row_follows() -> None:
    made = leaflet_of("Hat\n\nMake this hat for a friend.\n\nHook: 5 mm\n\nCROWN\nRnd 1: 6 sc in a magic ring.")
    assert [said(words) for words in made.intro] == ["Make this hat for a friend."]


def test_rows_after_notes_are_not_notes() -> None:
    made = leaflet_of("Hat\n\nNOTES\nKeep it loose.\n\nRnd 1: 6 sc in a magic ring.")
    assert [section.name for section in made.opening] == ["Notes"]
    assert [section.kind for section in made.sections] == ["work"]


def test_a_phrase_of_sizes_holds_for_the_lines_below_it() -> None:
    made = leaflet_of(
        "Hat\nSizes: S (M, L)\n\nCROWN\nRnd 1: 6 sc in a magic ring.\nSize L only:\nRnd 2: Inc in each st around.\n"
        "Cut A.\nAll sizes:\nFasten off."
    )
    assert [(block.kind, block.sizes) for block in blocks(made)] == [
        ("row", (0, 1, 2)),
        ("sizes", (2,)),
        ("row", (2,)),
        ("step", (2,)),
        ("sizes", (0, 1, 2)),
        ("step", (0, 1, 2)),
    ]


def test_bold_marks_and_bullets_around_a_label_are_no_words() -> None:
    made = leaflet_of("Hat\n\n**Rnd 1:** 6 sc in a magic ring.\n\u2022 Rnd 2: *sc in next st, inc; rep from * around.")
    assert [(said(block.label), said(block.words)) for block in blocks(made)] == [
        ("Rnd 1:", "6 sc in a magic ring."),
        ("Rnd 2:", "*sc in next st, inc; rep from * around."),
    ]


@pytest.mark.parametrize("name", SHIPPED)
def test_the_rows_of_our_own_patterns_are_in_her_words_and_all_of_them(name: str) -> None:
    text = shipped_text(name)
    made = leaflet_of(text)
    shown = [" ".join(filter(None, (said(block.label), said(block.words)))) for block in blocks(made)]
    lines = text.splitlines()
    for line in shown:
        assert line in lines
    worked = [line for line in lines if line.startswith(("Rnd", "Row", "Next")) or ": Rnd " in line]
    assert [line for line in shown if line in worked] == worked


@pytest.mark.parametrize("name", SHIPPED)
def test_every_row_of_our_own_patterns_has_a_count_in_every_size(name: str) -> None:
    text = shipped_text(name)
    pattern, _ = notation.read(text)
    counted, _ = tally.count(pattern)
    made = leaflet_of(text)
    by_label = {said(block.label).rpartition(": ")[2].rstrip(":"): block for block in blocks(made) if block.label}
    checked = 0
    for one in counted.rows():
        block = by_label[one.line.label.span.of(text)]
        told = {count for filled in block.filled for count in filled.counts}
        stated = any(run.count for run in block.words)
        for count in one.worked:
            if count is not None:
                checked += 1
                assert stated or count in told
    assert checked > 100


def test_no_text_keeps_a_leaflet_from_being_made() -> None:
    for text in ("", "\n\n", "Rnd", "Sizes:", "# #", "Rnd 1:", "Notes:\nNotes:\n", "\x00", "Sizes: a (b\nRnd 1: 1 (2"):
        assert leaflet_of(text).title


@given(
    st.lists(
        st.sampled_from(SAMPLE.splitlines() + shipped_text("kittiwake-cap").splitlines()) | st.text(max_size=60),
        max_size=30,
    )
)
def test_pages_in_any_order_become_leaflets_whose_runs_join_to_words(lines: list[str]) -> None:
    text = "\n".join(lines)
    pattern, _ = notation.read(text)
    made = leaflet(Source(text), pattern, tally.count(pattern)[0])
    squeezed = "".join(plain(text).split())
    for section in (*made.opening, *made.sections, *made.closing):
        for block in section.blocks:
            assert "".join(said(block.words).split()) in squeezed
            assert "  " not in said(block.words)
            assert all(run.text for run in block.words)
