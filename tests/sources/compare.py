"""What an outside check is: a published source, what is asked of it, and every value beside the one roundhand gives."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from roundhand.tally import RowTally, flat
from roundhand.workshop import Reading, understand


class Value(NamedTuple):
    """One value: where it stands, what the source has, and what roundhand came to."""

    where: str
    wanted: object
    found: object


class Check(NamedTuple):
    """An outside check. `group` is the line of the table that it belongs to, `source` where its values come from;
    `grows` is true for a group that has a check for every stitch of the dictionary."""

    group: str
    source: str
    name: str
    values: tuple[Value, ...]
    grows: bool = False

    def wrong(self) -> list[str]:
        """The values that differ, in words."""
        return [
            f"{one.where}: the source has {one.wanted}, found {one.found}"
            for one in self.values
            if one.wanted != one.found
        ]


def worked(text: str, where: str = "") -> tuple[list[RowTally], list[Value]]:
    """The rows of a pattern that is right, in order; and, as values, that nobody finds an error or a doubt in it.

    Advice is no doubt: it says how something was read.
    """
    reading = understand(text)
    return list(reading.tally.rows()), [Value(f"{where}remarks", [], remarks(reading))]


def remarks(reading: Reading) -> list[str]:
    """The errors and warnings of an edit, with the words that they stand under."""
    return [
        f"{one.name} at {reading.source.text[one.span.start : one.span.end]!r}: {one.headline}"
        for one in reading.findings
        if one.severity in ("error", "warning")
    ]


def quantity(row: RowTally, what: str, size: int = 0) -> int | None:
    """A number of a row: `count`, `used`, `left`, `lacking`, `repeats`, `row ends`; `sps` and `chains`, the chain
    spaces that it offers and the chains in them; `sps of 2`, those of two chains; `3 chain, 3 double`, groups of these;
    or the number of a stitch, by id."""
    result = row.results[size]
    if result is None:
        return None
    if what == "sps":
        return result.offer.layout.count(b"o")
    if what == "chains":
        return result.offer.chains
    if what == "row ends":
        return result.ends[0] if result.ends is not None else None
    if what.startswith("sps of "):
        return sum(run.stitch == "chain" and run.count == int(what[7:]) for run in flat(result.made))
    if ", " in what:
        return sum(group.times for group in result.groups or () if group.kind == what)
    if what in ("count", "used", "left", "lacking", "repeats"):
        found = getattr(result, what)
        assert isinstance(found, int)
        return found
    return sum(run.count for run in flat(result.made) if run.stitch == what)


def rows_by_label(rows: list[RowTally]) -> Iterator[tuple[str, RowTally]]:
    """Rows with labels by which they are known: the part in front where a label stands in several."""
    labels = [row.label for row in rows]
    for row in rows:
        yield (f"{row.part}, {row.label}" if labels.count(row.label) > 1 else row.label), row
