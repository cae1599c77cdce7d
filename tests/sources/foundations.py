"""So many chains for so many stitches, and where sources disagree: `foundation_chains.csv`,
`foundation_conflicts.csv`."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from pathlib import Path

from roundhand.workshop import understand
from tests.sources.compare import Check, Value, remarks

FOLDER = Path(__file__).parent
_WORD = {"single": "sc", "half_double": "hdc", "double": "dc", "treble": "tr", "tunisian_simple": "tss"}
_MORE = (0, 1, 17, 230)
_ORDINAL = {2: "2nd", 3: "3rd", 4: "4th", 5: "5th"}
_GROUP = "Foundation chains"


def rows_of(name: str) -> list[dict[str, str]]:
    """The rows of a list of facts."""
    with (FOLDER / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def checks() -> Iterator[Check]:
    """A check for every row of both lists."""
    for fact in rows_of("foundation_chains.csv"):
        yield Check(_GROUP, fact["source"], f"{fact['stitch']} {fact['convention']}", tuple(_of_chain(fact)))
    for fact in rows_of("foundation_conflicts.csv"):
        yield Check(f"{_GROUP}, where sources disagree", fact["source"], fact["name"], tuple(_of_conflict(fact)))


def _of_chain(fact: dict[str, str]) -> Iterator[Value]:
    """The example of the source, and other numbers of stitches: the chains beyond the stitches stay the same."""
    word = _WORD[fact["stitch"]]
    counts = "count as a st" if fact["start_counts"] == "yes" else "do not count as a st"
    nth = _ORDINAL[int(fact["first_stitch_in_chain"])]
    for more in _MORE:
        stitches = int(fact["example_stitches"]) + more
        chains = stitches + int(fact["chains_beyond_stitches"])
        if not more:
            yield Value("chains of the example", int(fact["example_chain"]), chains)
        row = f"Row 1: {word} in {nth} ch from hook (skipped ch {counts}) and in each ch across. ({stitches} {word})"
        if fact["stitch"] == "tunisian_simple":
            # The loop on the hook is the first stitch; no chain is skipped for it.
            row = f"Row 1: {word} in {nth} ch from hook and in each ch across, return. ({stitches} {word})"
        reading = understand(f"Swatch\n\nTerms: US\n\nCh {chains}.\n{row}\n")
        yield Value(f"ch {chains}", stitches, next(reading.tally.rows()).worked[0])
        yield Value(f"ch {chains} remarks", [], [one for one in remarks(reading) if "gauge" not in one])


def _of_conflict(fact: dict[str, str]) -> Iterator[Value]:
    """What a row comes to on its words, and the remark that it must or must not bring."""
    reading = understand(f"Strip\n\nTerms: US\n\nCh {fact['chains']}.\nRow 1: {fact['row']}\n")
    yield Value("count", int(fact["count"]), next(reading.tally.rows()).worked[0])
    found = sorted({one.name for one in reading.findings if one.severity == "error" and not one.follows})
    yield Value("errors", [fact["error"]] if fact["error"] else [], found)
