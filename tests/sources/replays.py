"""Published patterns worked row by row: the texts in `replays/`, each with what its source says or implies."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

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
        yield Value(label, count, row and row.worked[0])
        if row is not None and row.stated[0] is not None:
            yield Value(f"{label} as written", count, row.stated[0])
    yield Value("total", want["total"], sum(row.worked[0] or 0 for row in rows))
    more = want.get("also", [])
    assert isinstance(more, list)
    for label, what, number in more:
        yield Value(f"{label} {what}", number, quantity(found[label], what) if label in found else None)
