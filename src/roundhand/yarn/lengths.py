"""How much yarn a stitch takes: closed formulas from its recipe, or a maker's own measurements.

Method (COMPUTATION 4.1, ours): a worked stitch has four upright strands of its height and two strands of its width on
top; every half-turn of the yarn is half a circle of one yarn diameter in radius. A yarn over before insertion adds two
half-turns, a stitch pulled through in more than one go two more, and a pull through three loops leaves a third strand
of width. Checked against a maker's table of squares and strips within 10 % an area (WINDCH of the reference), against
one published length of single crochet (2.2 in of worsted on a 5 mm hook), and unchecked for post stitches.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from fractions import Fraction
from math import pi, sqrt

import msgspec

from roundhand.measures import Length, length_unit, read_number
from roundhand.stitches import dictionary

# Grams in a cubic millimetre of yarn as it lies in fabric, air included: worsted of 200 m per 100 g is 1.75 mm thick.
_DENSITY = 100 / 200_000 / (pi * (1.75 / 2) ** 2)
# A drop of n rows is four strands longer; a post goes half a row lower.
_STRANDS = 4


class MeasuredLength(msgspec.Struct, frozen=True):
    """What a maker measured: millimetres of yarn in one stitch of a kind, at a place (empty: any)."""

    kind: str
    place: str
    length: Length


def yarn_diameter(metres_per_100_g: float) -> float:
    """The diameter of a yarn in millimetres as it lies in fabric, from its metres in 100 g.

    >>> round(yarn_diameter(200), 2), round(yarn_diameter(400), 2)
    (1.75, 1.24)
    """
    grams_per_mm = 100 / (metres_per_100_g * 1000)
    return 2 * sqrt(grams_per_mm / _DENSITY / pi)


def stitch_length(
    stitch: str, width: float, height: float, diameter: float, drop: float = 0.0, loop: str = ""
) -> float:
    """Millimetres of yarn in one stitch, before calibration.

    `width` is that of a stitch, `height` that of its row, `diameter` the yarn's, `drop` how much lower than the row
    below it is worked, all in millimetres; `loop` is `back` or `front` where it is worked into one loop.

    >>> heights = {"chain": 0, "single": 6, "half_double": 9}
    >>> [round(stitch_length(one, 6.7733, high, 1.75), 1) for one, high in heights.items()]
    [31.3, 54.0, 83.8]
    >>> round(stitch_length("single", 6.7733, 6, 1.75, drop=6) - stitch_length("single", 6.7733, 6, 1.75), 6)
    24.0
    """
    turn = pi * diameter
    if stitch == "chain":
        return 3 * width + 2 * turn
    if stitch == "slip_stitch":
        return 3 * width + 3 * turn
    known = dictionary().get(stitch)
    if known is None:
        return _STRANDS * height + 2 * width + 3 * turn
    plain = dictionary()[known.family]
    wraps = pulls = deepest = 0
    inserted = False
    for one in plain.recipe:
        if one.act == "yarn over" and not inserted:
            wraps += 1
        elif one.act == "insert":
            inserted = True
        elif one.act in ("pull through", "slip through"):
            pulls += 1
            deepest = max(deepest, one.loops)
    strands = 2 + max(0, deepest - 2)
    length = _STRANDS * height + strands * width + (3 + 2 * wraps + (2 if pulls > 1 else 0)) * turn
    legs = known.legs
    if legs > 1 and known.makes == 1:
        # Partial stitches that share one top.
        length = legs * length - (legs - 1) * (2 * width + turn)
    if known.place in ("front post", "back post"):
        length += turn + _STRANDS * height / 2
    elif loop in ("back", "front"):
        length -= turn / 2
    return length + _STRANDS * drop


def read_measured(text: str) -> tuple[list[MeasuredLength], list[str]]:
    """The rows of a `stitch_lengths.csv` (kind, place, length, unit), and a sentence for each that makes no sense.

    >>> read_measured("kind,place,length,unit\\nsingle,,1.60,in")[0][0].length.mm
    Fraction(1016, 25)
    """
    found: list[MeasuredLength] = []
    wrong: list[str] = []
    for number, row in enumerate(csv.DictReader(io.StringIO(text)), start=2):
        kind = (row.get("kind") or "").strip().lower().replace(" ", "_")
        value = read_number((row.get("length") or "").strip())
        unit = length_unit((row.get("unit") or "mm").strip())
        if not kind or value is None or unit is None or value[0] <= 0:
            wrong.append(f"line {number}: a kind, a length above nothing and a unit are needed")
            continue
        found.append(MeasuredLength(kind, (row.get("place") or "").strip().lower(), Length.of(value[0], unit)))
    return found, wrong


def measured_for(measured: Mapping[tuple[str, str], Fraction], kind: str, place: str) -> Fraction | None:
    """A maker's length for a kind at a place, or at any place."""
    return measured.get((kind, place), measured.get((kind, "")))
