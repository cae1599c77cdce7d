"""Both shipped caps, row by row and in their totals, against numbers worked out apart from the program.

`tests/patterns_expected/README.md` says where each of them comes from.
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from roundhand.notation import read
from roundhand.tally import RowTally, Tally, count
from roundhand.tally.ledger import Ledger, ledger, repeats

ROOT = Path(__file__).parent.parent.parent
CAPS = ("kittiwake-cap", "saltmarsh-cap")


@cache
def expected(name: str) -> dict[str, Any]:
    """What a cap must come to."""
    found: dict[str, Any] = json.loads((ROOT / "tests" / "patterns_expected" / f"{name}.json").read_text("utf-8"))
    return found


@cache
def counted(name: str) -> Tally:
    """The tally of a shipped cap, of which reading and counting have nothing to say."""
    pattern, findings = read((ROOT / "patterns" / f"{name}.txt").read_text(encoding="utf-8"))
    tally, more = count(pattern)
    assert findings + more == []
    return tally


def ledgers(name: str) -> list[Ledger]:
    """What the cap comes to in every size."""
    tally = counted(name)
    return [ledger(tally, size) for size in range(len(tally.pattern.sizes))]


def labels(row: RowTally) -> list[str | None]:
    """The label of a row in every size, None where it is not in the size."""
    return [row.label_in(size) or None for size in range(len(row.labels))]


def colours(row: RowTally) -> list[str]:
    """The colours of a row in order of use, over all sizes."""
    return list(dict.fromkeys(colour for result in row.results if result is not None for colour in result.colours))


@pytest.mark.parametrize("name", CAPS)
def test_every_row_of_every_size(name: str) -> None:
    """Labels, kinds, colours, worked and stated counts of all rows of all pieces."""
    tally, want = counted(name), expected(name)
    assert list(tally.pattern.sizes) == want["sizes"]
    assert [piece.name for piece in tally.pieces] == [piece["name"] for piece in want["pieces"]]
    for piece, wanted in zip(tally.pieces, want["pieces"], strict=True):
        got = [
            {
                "label": row.label,
                "labels": labels(row),
                "kind": row.kind,
                "colours": colours(row),
                "worked": list(row.worked),
                "stated": list(row.stated),
            }
            for row in piece.rows
        ]
        assert got == wanted["rows"]


@pytest.mark.parametrize("name", CAPS)
def test_stitches_by_kind_and_colour(name: str) -> None:
    """How many of each stitch in each colour, and in all."""
    want = expected(name)["totals"]
    by_colour: dict[str, dict[str, list[int]]] = {}
    found = ledgers(name)
    for kind, colour in sorted({key for one in found for key in one.stitches}):
        by_colour.setdefault(colour, {})[kind] = [one.stitches.get((kind, colour), 0) for one in found]
    assert by_colour == want["stitches"]
    assert [one.total for one in found] == want["all_stitches"]


def test_stitches_of_each_piece_of_the_kittiwake_cap() -> None:
    """Band and body apart."""
    tally, want = counted("kittiwake-cap"), expected("kittiwake-cap")["totals"]["stitches_by_piece"]
    for piece in tally.pieces:
        found = [ledger(tally, size, piece) for size in range(len(tally.pattern.sizes))]
        by_colour: dict[str, dict[str, list[int]]] = {}
        for kind, colour in {key for one in found for key in one.stitches}:
            by_colour.setdefault(colour, {})[kind] = [one.stitches.get((kind, colour), 0) for one in found]
        assert by_colour == want[piece.name]


@pytest.mark.parametrize("name", CAPS)
def test_rounds_joins_seams_and_row_ends(name: str) -> None:
    """What else the totals hold."""
    want, found = expected(name)["totals"], ledgers(name)
    assert [one.rounds for one in found] == want["rounds"]
    assert [one.joins for one in found] == want["joining_slip_stitches"]
    assert [one.seams for one in found] == want["seam_stitches"]
    assert [one.skipped for one in found] == want["row_ends_skipped"]
    for colour, rounds in want["rounds_by_colour"].items():
        assert [one.rounds_in[colour] for one in found] == rounds
    if "row_ends" in want:
        assert [one.row_ends for one in found] == want["row_ends"]
        assert [one.rows for one in found] == want["band_rows"]
        assert [one.chains for one in found] == want["foundation_chain"]


@pytest.mark.parametrize("name", CAPS)
def test_climbs_and_ends(name: str) -> None:
    """How often a resting colour is taken up again, and the ends to weave in."""
    want, found = expected(name)["totals"], ledgers(name)
    for colour, climbs in want["climbs"].items():
        assert [one.climbs.get(colour, 0) for one in found] == climbs
    assert [one.ends for one in found] == want["ends_to_weave"]


@pytest.mark.parametrize("name", CAPS)
def test_repeats(name: str) -> None:
    """How often the repeat of a row is worked, in every size."""
    got = [{"labels": labels(row), "times": list(times)} for row, times in repeats(counted(name))]
    assert got == expected(name)["totals"]["repeats"]
