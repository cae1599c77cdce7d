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
    sums: list[int] = []
    for label, wanted in listed:
        for size, (mark, count) in enumerate(_by_size(wanted)):
            sums += [0] * (size + 1 - len(sums))
            sums[size] += count
            yield Value(f"{label}{mark}", count, _count_of(found.get(label), size))
    yield Value("total", want["total"], sums[0])
    more = want.get("also", [])
    assert isinstance(more, list)
    for label, what, wanted in more:
        for size, (mark, number) in enumerate(_by_size(wanted)):
            yield Value(f"{label} {what}{mark}", number, quantity(found[label], what, size) if label in found else None)


def _by_size(wanted: int | list[int]) -> list[tuple[str, int]]:
    """A number, or one for each size, with the words that tell the sizes apart."""
    if isinstance(wanted, int):
        return [("", wanted)]
    return [(f", size {at}", number) for at, number in enumerate(wanted, 1)]


def _count_of(row: RowTally | None, size: int) -> object:
    """What a row comes to; in words where the count written behind it is another one, its chains counted or not."""
    result = row.results[size] if row is not None else None
    if row is None or result is None:
        return None
    if row.stated[size] in (None, result.count, result.count + result.offer.chains):
        return result.count
    return f"{result.count} worked, {row.stated[size]} written"
