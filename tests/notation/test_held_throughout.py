"""Strands held together by a note, said once: what the note says, where it holds, and what yarn that takes.

The wordings are those in common use (common practice); the patterns are ours.
"""

from __future__ import annotations

import pytest

from roundhand.notation import read
from roundhand.tally import count
from roundhand.tally.strands import ends
from roundhand.yarn import estimate

_PAGE = """Cuff

Sizes: One size
Terms: {terms}
Gauge: 12 sts and 14 rnds = 4 in in {plain}
Yarn A: worsted, 100 g = 200 m, slate{told}
Yarn B: worsted, 100 g = 200 m, pale
{head}

BRIM
With {brim}, ch 12, join to form a ring.
Rnd 1: Ch 1, {stitch} in each ch around, join. (12)

BODY
Rnd 2: With {body}, ch 1, {stitch} in each st around, join. (12)
Fasten off.
"""


def page(head: str, brim: str = "A", body: str = "A", terms: str = "US", told: str = "") -> str:
    """A cuff whose yarns are told at its head and in its rows."""
    stitch, plain = {"US": ("sc", "single crochet"), "UK": ("dc", "double crochet")}[terms]
    return _PAGE.format(head=head, brim=brim, body=body, terms=terms, stitch=stitch, plain=plain, told=told)


def metres(text: str) -> dict[str, float]:
    """What a text takes of every yarn."""
    pattern, findings = read(text)
    tally, more = count(pattern)
    assert [(one.name, one.headline) for one in (*findings, *more)] == []
    return {need.label: need.length_m for need in estimate(tally).needs}


@pytest.mark.parametrize("terms", ["US", "UK"])
@pytest.mark.parametrize(
    ("note", "strands"),
    [
        ("Notes: 2 strands are held together throughout.", "+"),
        ("Work with two strands of yarn held together throughout.", "+"),
        ("Notes: Yarn is held double throughout.", "+"),
        ("Hold yarn double.", "+"),
        ("Use yarn doubled throughout.", "+"),
        ("Worked throughout with double yarn.", "+"),
        ("The cuff is made with three strands held together.", "++"),
        ("Work holding 4 strands together.", "+++"),
        ("Notes: A is used double throughout.", "A+A"),
        ("Worked with 2 strands of A.", "A+A"),
        ("Two strands of slate are worked together throughout.", "A+A"),
        ("Notes: A and B are held together throughout.", "A+B"),
        ("Hold one strand of A and one strand of B together throughout.", "A+B"),
        ("Worked holding both yarns together.", "A+B"),
        ("One strand of each yarn is held together throughout.", "A+B"),
    ],
)
def test_a_note_takes_as_much_as_the_same_words_in_every_row(note: str, strands: str, terms: str) -> None:
    """Said once at the head, or in each row: the same yarn, and the same ends."""
    pattern, _ = read(page(note, terms=terms))
    assert [(one.strands, one.part) for one in pattern.held] == [(strands, "")]
    number = strands.count("+") + 1
    rows = "A and B held together" if strands == "A+B" else f"{number} strands of A held together"
    assert metres(page(note, terms=terms)) == pytest.approx(metres(page("", rows, rows, terms)))
    assert ends(count(pattern)[0], 0) == ends(count(read(page("", rows, rows, terms))[0])[0], 0)


def test_a_yarn_is_held_double_on_its_own_line() -> None:
    """The line of a yarn speaks of that yarn alone."""
    twice = metres(page("", "A", "B", told=", held double"))
    once = metres(page("", "A", "B"))
    assert twice == pytest.approx({"A": 2 * once["A"], "B": once["B"]})


@pytest.mark.parametrize("note", ["The brim is worked with 2 strands held together.", "Brim: yarn is held double."])
def test_a_note_on_one_part_leaves_the_others_alone(note: str) -> None:
    """A heading in the sentence says which part is meant."""
    assert metres(page(f"Notes: {note}")) == pytest.approx(metres(page("", "2 strands of A held together", "A")))


def test_a_sentence_among_the_rows_of_a_part_is_for_that_part() -> None:
    """Where no heading is named, the part that it stands in is meant."""
    text = page("").replace("BODY\n", "BODY\nYarn is held double in this part.\n")
    assert metres(text) == pytest.approx(metres(page("", "A", "2 strands of A held together")))


@pytest.mark.parametrize(
    "note",
    [
        "If you use a thinner yarn, hold it double.",
        "Do not hold the yarn double.",
        "Use 2 strands of A held together for the tassels.",
        "Double crochet is used throughout.",
        "Sew A and B together.",
        "Join motifs A and B together.",
        "Two ends are left to weave in together.",
        "The rounds are worked double quick.",
        "Worked with 2 strands of A or with 1 strand of a bulky yarn.",
    ],
)
def test_words_that_hold_nothing_together_leave_the_yarn_as_it_is(note: str) -> None:
    """Choices, denials, tassels and seams are no strands of the fabric."""
    assert read(page(f"Notes: {note}"))[0].held == ()


@pytest.mark.parametrize(
    "words",
    [
        "2 strands held together", "two strands of yarn held together", "yarn held double", "a double strand of A",
        "the yarn doubled", "2 threads worked together",
    ],
)  # fmt: skip
def test_a_row_may_hold_the_yarn_in_hand_double_without_its_name(words: str) -> None:
    """Strands of no named yarn are strands of the one in hand."""
    rows = "With A, ch 12, join to form a ring.\nRnd 1: {}ch 1, sc in each ch around, join. (12)"
    text = page("").split("BRIM")[0] + "BRIM\n" + rows
    named = metres(text.format("with 2 strands of A held together, "))
    assert metres(text.format(f"with {words}, ")) == pytest.approx(named)
