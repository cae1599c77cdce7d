"""Where the colours of a pattern change, float, climb and end, in every size, as plain data."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

import msgspec

from roundhand.tally import RowTally
from roundhand.tally.changes import changes
from roundhand.tally.strands import Strand, ends, strands
from roundhand.workshop.reading import Reading


class ColourChange(msgspec.Struct, frozen=True):
    """Changes of a row from `before` to `after`: on the last yarn over of each of its `stitches`, counted from 1.

    `how` is `stitch` for that, `join` where the slip stitch that joins the round is drawn in the new colour, and `anew`
    where the new yarn is joined at the beginning of the row, in front of its first stitch. `used` is false where no
    stitch is made in the new colour."""

    part: str
    label: str
    before: str
    after: str
    how: Literal["stitch", "join", "anew"]
    stitches: tuple[int, ...]
    used: bool


class ColourFloat(msgspec.Struct, frozen=True):
    """A colour that lies behind `length` stitches of others, or inside them where it is `carried`, after each of the
    `stitches` named."""

    part: str
    label: str
    colour: str
    length: int
    stitches: tuple[int, ...]
    carried: bool


class ColourClimb(msgspec.Struct, frozen=True):
    """A colour carried up past so many whole `rows`, from the row `left` to the row `taken`, and `across` so many
    stitches."""

    part: str
    colour: str
    left: str
    taken: str
    rows: int
    across: int


class SizeColours(msgspec.Struct, frozen=True):
    """The colours at work in one size. `ends` are those of each colour to be woven in."""

    size: str
    changes: tuple[ColourChange, ...]
    floats: tuple[ColourFloat, ...]
    climbs: tuple[ColourClimb, ...]
    ends: Mapping[str, int]


def size_colours(reading: Reading, size: int) -> SizeColours:
    """What becomes of every colour in one size, by its position from 0.

    >>> from roundhand.workshop.reading import understand
    >>> rows = "Rnd 1: With A, 6 sc in a magic ring.\\nRnd 2: With B, sc in each st around."
    >>> found = size_colours(understand("Cap\\n\\nYarn A: oat\\nYarn B: kelp\\n\\nCAP\\n" + rows), 0)
    >>> found.changes[0].label, found.changes[0].stitches, found.ends
    ('Rnd 1', (6,), {'A': 2, 'B': 2})
    """
    threads = strands(reading.tally, size)
    return SizeColours(
        reading.sizes[size],
        tuple(_changes(reading, size)),
        tuple(_floats(threads, size)),
        tuple(
            ColourClimb(
                rest.taken_in.part,
                strand.colour,
                rest.left_in.label_in(size),
                rest.taken_in.label_in(size),
                len(rest.rows),
                rest.across,
            )
            for strand in threads
            for rest in strand.climbs
        ),
        ends(reading.tally, size),
    )


def row_changes(reading: Reading, row: RowTally, size: int) -> tuple[ColourChange, ...]:
    """The changes that fall in one row."""
    return tuple(_changes(reading, size, row))


def _changes(reading: Reading, size: int, only: RowTally | None = None) -> list[ColourChange]:
    grouped: dict[tuple[int, str, str, str, bool], tuple[RowTally, list[int]]] = {}
    for one in changes(reading.tally, size):
        if only is None or one.row is only:
            key = (id(one.row), one.before, one.after, one.how, one.used)
            grouped.setdefault(key, (one.row, []))[1].append(one.stitch)
    return [
        ColourChange(row.part, row.label_in(size), before, after, _how(how), tuple(stitches), used)
        for (_, before, after, how, used), (row, stitches) in grouped.items()
    ]


def _how(how: str) -> Literal["stitch", "join", "anew"]:
    return "join" if how == "join" else "anew" if how == "anew" else "stitch"


def _floats(threads: tuple[Strand, ...], size: int) -> list[ColourFloat]:
    grouped: dict[tuple[int, str, int, bool], tuple[RowTally, list[int]]] = {}
    for strand in threads:
        for rest in strand.rests:
            carried = rest.how == "over"
            length = rest.stitches if carried else rest.across
            if length and not rest.is_climb:
                key = (id(rest.left_in), strand.colour, length, carried)
                grouped.setdefault(key, (rest.left_in, []))[1].append(rest.left)
    return [
        ColourFloat(row.part, row.label_in(size), colour, length, tuple(stitches), carried)
        for (_, colour, length, carried), (row, stitches) in grouped.items()
    ]
