"""Which gauge holds where: stitch widths and row heights of every part, from the gauges that the pattern states.

Where a gauge gives rows of one stitch and the part is worked in another, heights go by the nominal heights of the
stitches (`height` in the dictionary of stitches, with its evidence), scaled so that the stated one comes out as stated.
"""

from __future__ import annotations

from fractions import Fraction

import msgspec

from roundhand.notation.tree import Gauge, Pattern
from roundhand.stitches import dictionary
from roundhand.terms import vocabulary


class Fabric(msgspec.Struct, frozen=True):
    """A stated gauge in millimetres: the width of a stitch and the height of a row, None where it gives none."""

    gauge: Gauge
    stitch: str
    width: Fraction | None
    height: Fraction | None
    stretch: Fraction | None


class GaugeBook(msgspec.Struct, frozen=True):
    """All gauges of a pattern, asked by part and stitch."""

    fabrics: tuple[Fabric, ...]

    def width(self, part: str, stitch: str) -> Fraction | None:
        """The width of a stitch in millimetres; None where no gauge gives one."""
        found = self._best(part, stitch, "width")
        return found.width if found is not None else None

    def height(self, part: str, stitch: str) -> Fraction | None:
        """The height of a row of a stitch in millimetres; None where no gauge gives one."""
        found = self._best(part, stitch, "height")
        if found is None or found.height is None:
            return None
        if found.stitch in ("", stitch):
            return found.height
        return found.height * _nominal(stitch) / _nominal(found.stitch)

    def knows(self, stitch: str) -> bool:
        """Whether some gauge is stated for a stitch itself, both ways, so that nothing is scaled from another."""
        return any(
            fabric.stitch in ("", stitch) and fabric.width is not None and fabric.height is not None
            for fabric in self.fabrics
        )

    def stretch(self, part: str) -> Fraction | None:
        """How much longer rows of a part become when pulled comfortably, as a factor; None where it is not said."""
        for fabric in self.fabrics:
            if fabric.stretch is not None and (not fabric.gauge.of or _same(fabric.gauge.of, part)):
                return fabric.stretch
        return None

    def _best(self, part: str, stitch: str, what: str) -> Fabric | None:
        """The gauge that fits best: of this part and stitch, of this part, of this stitch, then any."""
        having = [fabric for fabric in self.fabrics if getattr(fabric, what) is not None]
        if not having:
            return None

        def fit(fabric: Fabric) -> tuple[bool, bool, bool]:
            own = bool(fabric.gauge.of) and _same(fabric.gauge.of, part)
            alien = bool(fabric.gauge.of) and not own
            return own, fabric.stitch == stitch, not alien

        return max(having, key=fit)


def gauge_book(pattern: Pattern) -> GaugeBook:
    """The gauges of a pattern with their stitches and exact widths and heights.

    >>> from roundhand.notation import read
    >>> pattern, _ = read("Cap\\n\\nGAUGE\\n15 sts and 20 rnds = 4 in in single crochet")
    >>> book = gauge_book(pattern)
    >>> float(book.width("Body", "single")), float(book.height("Body", "half_double"))
    (6.773333333333333, 7.62)
    """
    return GaugeBook(tuple(_fabric(gauge, pattern) for gauge in pattern.gauges))


def _fabric(gauge: Gauge, pattern: Pattern) -> Fabric:
    over = gauge.over.mm if gauge.over is not None else None
    width = over / gauge.stitches if over is not None and gauge.stitches else None
    height = over / gauge.rows if over is not None and gauge.rows else None
    stretch = gauge.stretched.mm / over if gauge.stretched is not None and over else None
    return Fabric(gauge, _stitch_of(gauge.fabric, pattern), width, height, stretch)


def _stitch_of(words: str, pattern: Pattern) -> str:
    """The plain stitch that a gauge's words name, empty where they name none."""
    known = vocabulary(pattern.language)
    said = words.lower().split()
    for start in range(len(said)):
        found = known.find(said, start)
        if found is not None and found.kind == "stitch":
            return dictionary()[found.value].family
    return ""


def _same(name: str, part: str) -> bool:
    one, other = name.lower().strip(), part.lower().strip()
    return one == other or one in other.split() or other in one.split()


def _nominal(stitch: str) -> Fraction:
    return dictionary()[stitch].height if stitch in dictionary() else Fraction(1)
