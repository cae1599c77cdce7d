"""Published patterns replayed row by row; the source of each stands in its expectation.

The texts in `tests/sources/replays` are written by us from the numbers of their sources: W1 (flat discs, and the cap of
a tutorial in half doubles), W7 (tam, 1918), W8 (cap and hoods, 1918), W9 (a sailor's helmet, 1915).
"""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest

from roundhand.notation import read
from roundhand.stitches import dictionary
from roundhand.tally import count
from roundhand.terms import vocabulary

SOURCES = Path(__file__).parent.parent / "sources"
REPLAYS = sorted((SOURCES / "replays").glob("*.txt"))
WORD = {"single": "sc", "half_double": "hdc", "double": "dc", "treble": "tr"}


def test_there_are_replays() -> None:
    """The files are where they belong."""
    assert len(REPLAYS) >= 10


@pytest.mark.parametrize("file", REPLAYS, ids=[file.stem for file in REPLAYS])
def test_replay(file: Path) -> None:
    """Every row of a published pattern comes to what its source says or implies."""
    want = json.loads(file.with_suffix(".expected.json").read_text(encoding="utf-8"))
    pattern, findings = read(file.read_text(encoding="utf-8"))
    tally, more = count(pattern)
    assert findings == []
    assert [one for one in more if one.severity == "error"] == [], want["source"]
    rows = list(tally.rows())
    assert [
        [row.label.replace("Rnd", label.split()[0]), row.worked[0]]
        for row, (label, _) in zip(rows, want["rows"], strict=True)
    ] == want["rows"], want["source"]
    assert sum(row.worked[0] or 0 for row in rows) == want["total"], want["source"]
    for row in rows:
        result = row.results[0]
        assert result is not None
        assert not result.lacking, row.label
        assert row.stated[0] in (None, row.worked[0]), row.label


def _chains() -> list[dict[str, str]]:
    with (SOURCES / "foundation_chains.csv").open(encoding="utf-8", newline="") as file:
        return [row for row in csv.DictReader(file) if row["stitch"] in WORD]


@pytest.mark.parametrize("fact", _chains(), ids=lambda fact: f"{fact['stitch']} {fact['start_counts']}")
@pytest.mark.parametrize("more", [0, 1, 17])
def test_foundation_chains(fact: dict[str, str], more: int) -> None:
    """So many chains for so many stitches, with the first stitch in the chain that the source names, and for other
    numbers of stitches as well: the chains beyond the stitches stay the same (source: see the row)."""
    stitches, chains = int(fact["example_stitches"]) + more, int(fact["example_chain"]) + more
    assert chains - stitches == int(fact["chains_beyond_stitches"])
    nth = int(fact["first_stitch_in_chain"])
    assert dictionary()[fact["stitch"]].id == fact["stitch"]
    word = vocabulary("US").short(fact["stitch"])
    counts = "count as a st" if fact["start_counts"] == "yes" else "do not count as a st"
    ordinal = {2: "2nd", 3: "3rd", 4: "4th", 5: "5th"}[nth]
    row = f"{word} in {ordinal} ch from hook (skipped ch {counts}) and in each ch across."
    text = f"Swatch\n\nCh {chains}.\nRow 1: {row}\n"
    tally, _ = count(read(text)[0])
    assert [row.worked for row in tally.rows()] == [(stitches,)], fact["source"]
