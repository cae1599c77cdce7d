"""The chain that a piece begins with, on a line of its own, as people write it: with a name, a colour, or neither."""

from __future__ import annotations

import random

import pytest

from roundhand.notation import read
from roundhand.tally import count

BEGINNINGS = """\
Foundation: {n}ch
Foundation: ch {n}
Foundation chain: {n}ch
Foundation row: {n} ch
Foundation chain: with A, ch {n}
Base chain: {n}ch.
Start: ch {n}
Set-up: ch {n}
Ch{n}
Ch {n}
CH {n}
{n}ch.
{n} ch
Chain {n}
Ch {n}, turn
Ch {n} loosely
Loosely ch {n}.
Ch {n} in A
Make {n} ch
Make a chain of {n}
Make a foundation chain of {n} sts
Work {n} ch
Commence with {n} ch.
Begin with {n} chains
Start with {n} ch in yarn A
Using A, {n}ch.
With A make {n}ch
""".splitlines()


@pytest.mark.parametrize("heading", ["", "SCARF\n", "Scarf\n\n"])
@pytest.mark.parametrize("wording", BEGINNINGS)
def test_a_piece_begins_with_its_chain(wording: str, heading: str) -> None:
    chains = random.Random(wording + heading).randint(5, 180)
    text = (
        f"Tern Scarf\nTerms: US\nYarn A: slate\n\n{heading}{wording.format(n=chains)}\n"
        f"Row 1: Sc in 2nd ch from hook and in each ch across, turn. ({chains - 1})\n"
        f"Row 2: Ch 1, sc in each st across. ({chains - 1})\n"
    )
    tally, _ = count(read(text)[0])
    assert [row.worked for row in tally.rows()] == [(chains - 1,)] * 2


@pytest.mark.parametrize(
    "line",
    [
        "Ch 2 counts as a st throughout",
        "Chain 3 at the start counts as a dc",
        "Ch 1 does not count as a st",
        "24 ch-2 sps in all",
    ],
)
def test_what_says_how_chains_count_begins_nothing(line: str) -> None:
    text = f"Tern Scarf\nTerms: US\n\n{line}\n\nCh 12.\nRow 1: Sc in 2nd ch from hook and in each ch across. (11)"
    tally, _ = count(read(text)[0])
    assert [row.worked for row in tally.rows()] == [(11,)]
    assert len(tally.pieces) == 1
