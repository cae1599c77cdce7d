"""Published patterns worked row by row: the texts in `replays/`, each with what its source says or implies."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

from roundhand.tally import RowTally
from tests.sources.compare import Check, Value, quantity, rows_by_label, worked

FOLDER = Path(__file__).parent / "replays"


def checks() -> Iterator[Check]:
    """A check for each text: the count of every row, the sum, and what else its expectation names."""
    for file in sorted(FOLDER.glob("*.txt")):
        want = json.loads(file.with_suffix(".expected.json").read_text(encoding="utf-8"))
        yield Check(want["group"], want["source"], file.stem, tuple(_values(file.read_text(encoding="utf-8"), want)))


def _values(text: str, want: dict[str, object]) -> Iterator[Value]:
    rows, values = worked(text)
    yield from values
    found = dict(rows_by_label(rows))
    listed = want["rows"]
    assert isinstance(listed, list)
    yield Value("labels", [label for label, _ in listed], list(found))
    for label, count in listed:
        row = found.get(label)
        yield Value(label, count, _count_of(row))
    yield Value("total", want["total"], sum(row.worked[0] or 0 for row in rows))
    more = want.get("also", [])
    assert isinstance(more, list)
    for label, what, number in more:
        yield Value(f"{label} {what}", number, quantity(found[label], what) if label in found else None)


def _count_of(row: RowTally | None) -> object:
    """What a row comes to; in words where the count written behind it is another one."""
    if row is None or row.stated[0] in (None, row.worked[0]):
        return row and row.worked[0]
    return f"{row.worked[0]} worked, {row.stated[0]} written"
