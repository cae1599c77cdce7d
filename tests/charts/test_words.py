"""What a chart says, held against counts worked out by hand, and against the fabric it was read from."""

from __future__ import annotations

import re

import pytest

from roundhand.charts import row_lines, setting
from roundhand.fabric import build
from roundhand.notation import read
from roundhand.tally import count
from tests.charts.samples import cap, chart, fabric_and_chart


def test_the_kittiwake_body_in_words() -> None:
    _, found = fabric_and_chart(cap("kittiwake"), 1, 3)
    assert found.title == "Kittiwake Cap: color chart of Body, Adult S"
    assert found.lines[:7] == (
        "Rnd 1, in A: 72 hdc along the row ends",
        "Rnd 2, in A: 72 sc",
        "Rnds 3 to 5, in B: 72 sc",
        "Rnd 6, in A: 2 long sc, 4 sc; 12 times",
        "Rnds 7 to 8, in A: 72 sc",
        "Rnd 9, in B: 3 sc, 2 long sc, 1 sc; 12 times",
        "Rnds 10 to 11, in B: 72 sc",
    )
    assert found.lines[-1] == "Rnds 31 to 32, in A: 72 sc"
    assert found.key == (
        "A, harbour grey",
        "B, ochre",
        "plain cell: hdc (half double crochet); sc (single crochet)",
        "long sc (long single crochet): worked 3 rounds below, where the stem ends",
        "the repeat: 6 stitches, worked 12 times",
        "tints stand for colors that the pattern gives no value for",
    )


def test_the_saltmarsh_cap_in_words_with_its_own_names_of_stitches() -> None:
    _, found = fabric_and_chart(cap("saltmarsh"), 0, 0)
    assert found.title == "Saltmarsh Cap: color chart of Sides and Band, Toddler"
    assert found.lines == (
        "Rnd 1, in A: 8 hdc in the ring",
        "Rnd 2, in A: 2 hdc in each of 8 places",
        "Rnd 3, in A: 1 hdc, 2 hdc in one place; 8 times",
        "Rnd 4, in A: 2 hdc, 2 hdc in one place; 8 times",
        "Rnd 5, in A: 3 hdc, 2 hdc in one place; 8 times",
        "Rnd 6, in A: 4 hdc, 2 hdc in one place; 8 times",
        "Rnd 7, in A: 5 hdc, 2 hdc in one place; 8 times",
        "Rnds 8 to 15, in A: 56 hdc",
        "Rnd 16, in B: 1 sc, 1 spike sc, 2 sc; 14 times",
        "Rnd 17, in A: 56 sc",
        "Rnd 18, in B: 3 sc, 1 spike sc; 14 times",
        "Rnds 19 to 20, in B: 1 fphdc, 1 bphdc; 28 times",
    )
    assert found.not_drawn == "Rnds 1 to 7 stand in words only, since the number of stitches changes there."


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("*sk next st, 2 sc in next st; rep from * around", "skip 1, 2 sc in one place; 6 times"),
        ("*sc2tog; rep from * around", "6 sc2tog"),
        ("*sc in next st, sc in blo of next st; rep from * around", "1 sc, 1 sc in the back loop; 6 times"),
        ("*(sc, dc) in next st, sk next st; rep from * around", "1 sc and 1 dc in one place, skip 1; 6 times"),
        ("*sc in next 2 sts, sk next 2 sts; rep from * around", "2 sc, skip 2; 3 times"),
        ("with A, sc in next 6 sts, with B, sc in next 6 sts", "6 sc in A, 6 sc in B"),
        ("sc in next 12 sts", "12 sc"),
    ],
)
def test_one_round_in_words(row: str, words: str) -> None:
    text = f"Try\n\nRnd 1: 12 sc in a magic ring. (12)\nRnd 2: {row}."
    tally = count(read(text)[0])[0]
    fabric = build(tally)
    line = row_lines(fabric, setting(tally, fabric))[1]
    assert line == f"Rnd 2: {words}"


def test_words_and_fabric_have_the_same_number_of_stitches() -> None:
    """The numbers in the words, multiplied out, are the stitches of the row."""
    for name, pieces in (("kittiwake", (0, 1)), ("saltmarsh", (0,))):
        for piece in pieces:
            for size in range(5):
                fabric, found = fabric_and_chart(cap(name), piece, size)
                counts = {row.label: row.count for row in fabric.worked}
                for line in found.lines:
                    _, _, words = line.rpartition(": ")
                    times = int(found_times[1]) if (found_times := re.search(r"; (\d+) times$", words)) else 1
                    body = words.partition("; ")[0]
                    each = 0
                    for phrase in body.split(", "):
                        number = int(phrase.split()[0])
                        many = re.search(r"in each of (\d+) places", phrase)
                        each += number * (int(many[1]) if many else 1)
                    first = re.match(r"(?:Rnd|Row)s? (\d+)", line)
                    assert first is not None
                    word = "Row" if line.startswith("Row") else "Rnd"
                    assert each * times == counts[f"{word} {first[1]}"], line


def test_spelling_and_stitches_follow_the_terms() -> None:
    text = "Flat\n\nTerms: UK\n\nYarn A: aran, grey\n\nPIECE\nWith A, ch 7.\n"
    text += "Row 1: Dc in 2nd ch from hook and in each ch across, turn."
    found = chart(text)
    assert found.title == "Flat: colour chart of Piece"
    assert found.lines == ("Row 1, in A: 6 dc along the chain",)
    assert "plain cell: dc (double crochet)" in found.key
    assert chart(text.replace("UK", "US").replace("Dc", "Sc")).title == "Flat: color chart of Piece"


def test_the_picture_carries_its_rows_for_those_who_hear_it() -> None:
    _, found = fabric_and_chart(cap("kittiwake"), 1, 0)
    assert found.drawing.title == found.title
    assert "Rnd 6, in A: 2 long sc, 4 sc; 9 times" in found.drawing.description
