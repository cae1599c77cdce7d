"""Yarn per colour and size, as a value and as the answer of `yarn`."""

from __future__ import annotations

from math import log
from typing import Literal

import msgspec
from msgspec import UNSET, UnsetType

from roundhand.workshop.reading import Reading
from roundhand.yarn import Calibration, Entry, YarnEstimate, YarnNeed, calibrate, estimate

_DIGITS = 4


class SizeNeed(msgspec.Struct, frozen=True):
    """What one size takes of a yarn: metres, between which metres two makers of three would come out, grams, and balls
    to buy. Grams and balls are nothing where the pattern gives no length for a mass."""

    size: str
    length_m: float
    low_m: float
    high_m: float
    mass_g: float | None
    balls: int | None


class YarnNeeds(msgspec.Struct, frozen=True):
    """What every size takes of a yarn. `label` is empty for stitches in a yarn that the pattern gives no label."""

    label: str
    sizes: tuple[SizeNeed, ...]


class YarnAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """The answer of `yarn`. `path` is there only where several files were asked for."""

    schema: Literal["roundhand.yarn/1"] = "roundhand.yarn/1"
    path: str | UnsetType = UNSET
    yarns: tuple[YarnNeeds, ...]


class Sureness(msgspec.Struct, frozen=True):
    """What an estimate rests on, and how far two makers of three come out from it, in hundredths either way.

    `rests_on` is `lengths` for a maker's measured stitches, `swatches` for weighed swatches, or `formulas`. `with_one`
    is how far it would be with one weighed swatch.
    """

    rests_on: Literal["lengths", "swatches", "formulas"]
    swatches: int
    percent: int
    with_one: int


def reckon(reading: Reading) -> YarnEstimate:
    """The yarn of a pattern with its breakdown, by what the designer has measured and weighed.

    Yarns stand in the order of the materials, those that are not among them behind.

    >>> from roundhand.workshop.reading import understand
    >>> need = reckon(understand("Cap\\n\\nRnd 1: 8 sc in a magic ring. (8)")).needs[0]
    >>> [(one.what, one.kind, one.count) for one in need.entries]
    [('stitches', 'single', 8), ('tails', 'tail', 2)]
    """
    found = estimate(reading.tally, reading.lengths, reading.swatches)
    declared = {yarn.label: at for at, yarn in reversed(list(enumerate(reading.pattern.yarns)))}
    ordered = sorted(found.needs, key=lambda need: declared.get(need.label, len(declared)))
    return msgspec.structs.replace(found, needs=tuple(ordered))


def yarn(reading: Reading, size: int | None = None, path: str | None = None) -> YarnAnswer:
    """The yarn of all sizes, or of one, colour by colour.

    >>> from roundhand.workshop.reading import understand
    >>> found = yarn(understand("Cap\\n\\nYarn: worsted, 100 g = 200 m\\n\\nCAP\\nRnd 1: 8 sc in a magic ring. (8)"))
    >>> [(one.size, one.balls) for one in found.yarns[0].sizes]
    [('One size', 1)]
    """
    needs = reckon(reading).needs
    asked = reading.sizes if size is None else (reading.sizes[size],)
    labels = dict.fromkeys(need.label for need in needs)
    yarns = [
        YarnNeeds(label, tuple(_size(need) for need in needs if need.label == label and need.size in asked))
        for label in labels
    ]
    return YarnAnswer(path=UNSET if path is None else path, yarns=tuple(one for one in yarns if one.sizes))


def sureness(found: YarnEstimate) -> Sureness:
    """What an estimate rests on and how sure it is.

    >>> from roundhand.workshop.reading import understand
    >>> sureness(reckon(understand("Cap\\n\\nRnd 1: 8 sc in a magic ring. (8)")))
    Sureness(rests_on='formulas', swatches=0, percent=20, with_one=6)
    """
    with_one = _percent(calibrate([(1.0, 1.0)]))
    if found.measured:
        return Sureness("lengths", 0, 5, with_one)
    swatches = found.calibration.swatches
    return Sureness("swatches" if swatches else "formulas", swatches, _percent(found.calibration), with_one)


def breakdown(found: YarnEstimate, need: YarnNeed) -> tuple[Entry, ...]:
    """The lines that a need is the sum of, each as long as it comes out in the hands of this maker.

    Tails are cut to length, so that no swatch changes them.
    """
    scale = 1.0 if found.measured else found.calibration.scale
    return tuple(
        entry if entry.kind == "tail" else msgspec.structs.replace(entry, each_mm=entry.each_mm * scale)
        for entry in need.entries
    )


def _percent(calibration: Calibration) -> int:
    return round(100 * log(calibration.low_high(1.0)[1]))


def _size(need: YarnNeed) -> SizeNeed:
    return SizeNeed(
        need.size,
        round(need.length_m, _DIGITS),
        round(need.low_m, _DIGITS),
        round(need.high_m, _DIGITS),
        round(need.mass_g, _DIGITS) if need.mass_g is not None else None,
        need.balls,
    )
