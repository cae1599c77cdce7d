"""The places of stitches, in cases that a crocheter can read (`places.md`)."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from roundhand.fabric import Fabric, RowMark, build
from roundhand.notation import read
from roundhand.tally import count
from tests.fabric.test_laws import assert_lawful

_CASES = Path(__file__).with_name("places.md").read_text(encoding="utf-8")
_CASE = re.compile(r"^## (.+?)\n\n```pattern\n(.*?)^```\n\n```places\n(.*?)^```", re.DOTALL | re.MULTILINE)
CASES = _CASE.findall(_CASES)


def _said(fabric: Fabric, row: RowMark) -> str:
    below = fabric.rows[fabric.rows.index(row) - row.over]
    words: list[str] = []
    for stitch in range(row.start, row.stop):
        into = []
        for anchor in fabric.worked_into(stitch):
            there, position = fabric.place(anchor)
            into.append(str(position) if there is below else f"{there.label or there.kind}:{position}")
        chain = fabric.kinds[int(fabric.kind[stitch])] == "chain"
        words.append("ch" if chain else "+".join(into) or "-")
    return f"{row.label}: {' '.join(words)} | {row.passed} of {row.offered}"


def test_the_file_is_read_whole() -> None:
    assert len(CASES) == _CASES.count("\n## ")


@pytest.mark.parametrize(("title", "pattern", "places"), CASES, ids=[case[0] for case in CASES])
def test_places(title: str, pattern: str, places: str) -> None:
    tally, _ = count(read(pattern)[0])
    for piece in range(len(tally.pieces)):
        fabric = build(tally, piece)
        assert_lawful(tally, fabric)
        assert all(row.exact for row in fabric.rows)
    wanted = places.strip().splitlines()
    labels = [line.split(":")[0] for line in wanted]
    assert [_said(fabric, fabric.find(label)) for label in labels] == wanted
