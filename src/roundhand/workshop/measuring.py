"""The finished measurements of a pattern, as a value and as the answer of `measure`."""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction
from typing import Literal

import msgspec
from msgspec import UNSET, UnsetType

from roundhand import shape
from roundhand.shape import Measures, PieceMeasures
from roundhand.tally import PieceTally
from roundhand.workshop.reading import Reading

_HAT = re.compile(r"\b(?:hats?|caps?|beanies?|berets?|tams?|toques?|bonnets?|hoods?|helmets?)\b", re.IGNORECASE)
_DIGITS = 4  # A thousandth of a millimetre, far below what a tape shows.


class Measured(msgspec.Struct, frozen=True):
    """A measurement in centimetres with a value for every size, nothing where it is not known; `stretched_cm` has
    values where the gauge says how far the piece stretches."""

    what: str
    cm: tuple[float | None, ...]
    stretched_cm: tuple[float | None, ...]


class RowHeight(msgspec.Struct, frozen=True):
    """The height of one row in centimetres; `labels` hold nothing for a size that has no such row."""

    label: str
    labels: tuple[str | None, ...]
    cm: tuple[float | None, ...]


class PieceMeasured(msgspec.Struct, frozen=True):
    """The measurements of a piece, and the heights of its rows in working order."""

    name: str
    measures: tuple[Measured, ...]
    rows: tuple[RowHeight, ...]


class MeasureAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """The answer of `measure`: the pieces, and last, under the pattern's title, the item as a whole. Values stand in
    the order of the sizes. `path` is there only where several files were asked for."""

    schema: Literal["roundhand.measure/1"] = "roundhand.measure/1"
    path: str | UnsetType = UNSET
    pieces: tuple[PieceMeasured, ...]


def measures(reading: Reading) -> Measures:
    """The finished measurements, in exact millimetres, by piece and as a whole; those without a gauge are named.

    >>> from roundhand.workshop.reading import understand
    >>> reading = understand("Cap\\nGauge: 16 sts and 20 rnds = 4 in in sc\\nRnd 1: 8 sc in a magic ring. (8)")
    >>> measures(reading).whole.of("round").mm
    (Fraction(254, 5),)
    """
    found = shape.measure(reading.tally, reading.source.text)
    if _is_worn_on_the_head(reading):
        return found
    whole = tuple(one for one in found.whole.measures if one.what != "worn depth")
    return msgspec.structs.replace(found, whole=msgspec.structs.replace(found.whole, measures=whole))


def measure(reading: Reading, size: int | None = None, path: str | None = None) -> MeasureAnswer:
    """The finished measurements of all sizes, or of one.

    >>> from roundhand.workshop.answers import encode
    >>> from roundhand.workshop.reading import understand
    >>> reading = understand("Cap\\nGauge: 16 sts and 20 rnds = 4 in in sc\\nRnd 1: 8 sc in a magic ring. (8)")
    >>> encode(measure(reading).pieces[0].measures[0])
    b'{"what":"round","cm":[5.08],"stretched_cm":[null]}'
    """
    found = measures(reading)
    sizes = tuple(range(len(reading.sizes))) if size is None else (size,)
    pieces = [_piece(piece, tally, sizes) for piece, tally in zip(found.pieces, reading.tally.pieces, strict=True)]
    return MeasureAnswer(path=UNSET if path is None else path, pieces=(*pieces, _piece(found.whole, None, sizes)))


def _is_worn_on_the_head(reading: Reading) -> bool:
    """Whether the pattern is for a hat, by its title or by the heads that it names."""
    pattern = reading.pattern
    return _HAT.search(pattern.title) is not None or any("head" in fact.key.lower() for fact in pattern.facts)


def _piece(found: PieceMeasures, tally: PieceTally | None, sizes: Sequence[int]) -> PieceMeasured:
    rows = []
    for at, (label, heights) in enumerate(found.rows):
        labels = tuple(tally.rows[at].label_in(size) or None for size in sizes) if tally is not None else ()
        if any(labels):
            rows.append(RowHeight(next(filter(None, labels), label), labels, _cm(heights, sizes)))
    return PieceMeasured(
        found.name,
        tuple(Measured(one.what, _cm(one.mm, sizes), _cm(one.stretched, sizes)) for one in found.measures),
        tuple(rows),
    )


def _cm(values: tuple[Fraction | None, ...], sizes: Sequence[int]) -> tuple[float | None, ...]:
    if not values:
        return (None,) * len(sizes)
    found = (values[size] for size in sizes)
    return tuple(round(float(value) / 10, _DIGITS) if value is not None else None for value in found)
