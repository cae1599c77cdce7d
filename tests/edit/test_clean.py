"""Nothing is called an error in a text that is right, and there are many of these."""

from __future__ import annotations

import pytest

from tests.edit.clean import Clean, cleans, originals
from tests.edit.judging import findings

# So many tests share the texts, so that several processes can take them up.
SHARES = 6


def _wrong(texts: list[Clean]) -> list[str]:
    return [
        f"{one.group} {one.name}: {found.name} ({found.row or 'no row'}) {found.headline}"
        for one in texts
        if one.text
        for found in findings(one.reading)
        if found.severity == "error"
    ]


def test_shipped_patterns_and_replays_have_no_errors_and_no_warnings() -> None:
    """Neither have the mended halves of the planted slips."""
    texts = [one for one in originals() if one.group != "cases"]
    assert {one.group for one in texts} == {"shipped", "faults", "replays"}
    assert len(texts) >= 80
    assert [(one.name, found.name) for one in texts for found in findings(one.reading)] == []


@pytest.mark.parametrize("share", range(SHARES))
def test_right_texts_have_no_errors(share: int) -> None:
    """Cases of practice, pages made from rules, and copies of all altered so that they stay right."""
    own = [one for at, one in enumerate(cleans()) if at % SHARES == share]
    assert sum(bool(one.text) for one in own) > 400 // SHARES
    assert _wrong(own) == []


@pytest.mark.parametrize("share", range(SHARES))
def test_altered_copies_come_to_the_same_counts(share: int) -> None:
    """What a copy makes is what the text makes that it was made of, in the sizes that it has."""
    first = {one.name: one for one in cleans() if one.group != "altered"}
    seen = 0
    for one in [one for one in cleans() if one.group == "altered"][share::SHARES]:
        if not one.text:
            continue
        name, _, way = one.name.rpartition(", ")
        was = [row.worked for row in first[name].reading.tally.rows()]
        if way == "without the last size":
            was = [worked[:-1] for worked in was]
        elif way == "without the first size":
            was = [worked[1:] for worked in was]
        assert [row.worked for row in one.reading.tally.rows()] == [
            row for row in was if any(n is not None for n in row)
        ], one.name
        seen += 1
    assert seen >= 15
