"""Weighed swatches: what the pattern's own line says of one, and what each should have taken by the formulas."""

from __future__ import annotations

import re
from collections.abc import Sequence

import msgspec

from roundhand.notation.tree import Pattern
from roundhand.stitches import dictionary
from roundhand.tally.stretches import as_held, strands_in
from roundhand.terms import vocabulary
from roundhand.yarn.lengths import stitch_length, yarn_diameter
from roundhand.yarn.put_up import metres_per_100_g, metres_together, yarn_of


class SwatchWeight(msgspec.Struct, frozen=True):
    """A weighed swatch: stitches, rows, stitch id, grams and metres in 100 g; of one strand
    where it is worked with several."""

    stitch: str
    stitches: int
    rows: int
    width_mm: float
    height_mm: float
    grams: float
    metres_per_100_g: float


_SWATCH = re.compile(r"(\d+)\s*sts?\s*(?:x|\u00d7|by|and)\s*(\d+)\s*(?:rows?|rnds?)", re.IGNORECASE)
_SIZE = re.compile(r"(\d+(?:\.\d+)?)\s*(?:x|\u00d7|by)\s*(\d+(?:\.\d+)?)\s*(cm|mm|in)", re.IGNORECASE)
_GRAMS = re.compile(r"(\d+(?:\.\d+)?)\s*g\b")


def swatch_of(pattern: Pattern) -> SwatchWeight | None:
    """The swatch line of a pattern, if it gives stitches, rows, size and mass."""
    fact = next((one for one in pattern.facts if one.key.lower().startswith("swatch")), None)
    if fact is None:
        return None
    counts, size, grams = _SWATCH.search(fact.text), _SIZE.search(fact.text), _GRAMS.search(fact.text)
    if counts is None or size is None or grams is None:
        return None
    parts = [part.strip() for part in fact.text.split(",")]
    metres = metres_per_100_g(yarn_of(pattern, parts[0]))
    # Where it is worked with several strands, what one of them weighs.
    share = metres_together(pattern, strands_in(as_held(pattern, parts[0], ""))) / metres
    words = vocabulary(pattern.language)
    stitch = "single"
    for part in parts[:3]:
        said = part.lower().split()
        meaning = words.find(said, 0) if said else None
        if meaning is not None and meaning.kind == "stitch" and meaning.length == len(said):
            stitch = meaning.value
    to_mm = {"cm": 10.0, "mm": 1.0, "in": 25.4}[size[3].lower()]
    return SwatchWeight(
        stitch,
        int(counts[1]),
        int(counts[2]),
        float(size[1]) * to_mm,
        float(size[2]) * to_mm,
        float(grams[1]) * share,
        metres,
    )


def weighed(pattern: Pattern, more: Sequence[SwatchWeight]) -> list[tuple[float, float]]:
    """Model metres and measured metres of every weighed swatch."""
    own = swatch_of(pattern)
    pairs = []
    for swatch in ([own] if own is not None else []) + list(more):
        if not swatch.stitches or not swatch.rows:
            continue
        width, height = swatch.width_mm / swatch.stitches, swatch.height_mm / swatch.rows
        diameter = yarn_diameter(swatch.metres_per_100_g)
        each = stitch_length(swatch.stitch, width, height, diameter)
        chain = stitch_length("chain", width, height, diameter)
        chains = dictionary()[swatch.stitch].turning_chain or 1 if swatch.stitch in dictionary() else 1
        model = swatch.stitches * swatch.rows * each + (swatch.stitches + chains * swatch.rows) * chain
        pairs.append((model / 1000, swatch.grams * swatch.metres_per_100_g / 100))
    return pairs
