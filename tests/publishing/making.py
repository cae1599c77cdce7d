"""Leaflets for tests: of a text, and of the shipped caps with invented measures, yarn and a chart."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

from roundhand import notation, tally
from roundhand.findings import Source
from roundhand.measures import Length
from roundhand.publishing import Chart, Leaflet, MeasureLine, YarnLineNeed, leaflet

PATTERNS = Path(__file__).parents[2] / "patterns"
SHIPPED = tuple(sorted(path.stem for path in PATTERNS.glob("*.txt")))

SVG = b"""\
<svg xmlns="http://www.w3.org/2000/svg" width="120" height="80" viewBox="0 0 120 80">\
<title>Chart</title><rect width="120" height="80" fill="#fff"/>\
<rect x="10" y="10" width="40" height="30" fill="#465a66"/><text x="24" y="30" font-size="14" fill="#fff">A</text>\
<rect x="50" y="10" width="40" height="30" fill="#c08a2a"/><text x="64" y="30" font-size="14">B</text></svg>"""


def leaflet_of(text: str, **given: tuple[object, ...]) -> Leaflet:
    """The leaflet of a text; `given` are measures, needs and charts."""
    pattern, _ = notation.read(text)
    counted, _ = tally.count(pattern)
    return leaflet(Source(text), pattern, counted, **given)  # type: ignore[arg-type]


def shipped_text(name: str) -> str:
    """The text of one of our own patterns."""
    return (PATTERNS / f"{name}.txt").read_text(encoding="utf-8")


def shipped(name: str) -> Leaflet:
    """The leaflet of one of our own patterns, with all that can be worked out for one; its numbers are invented."""
    text = shipped_text(name)
    sizes = len(notation.read(text)[0].sizes)
    return leaflet_of(
        text,
        measures=(
            MeasureLine("Round", inches(*range(14, 14 + sizes)), inches(*range(16, 16 + sizes))),
            MeasureLine("Worn depth", (None, *inches(*range(5, 4 + sizes)))),
        ),
        needs=(
            YarnLineNeed("A", "slate", (51.73,) * sizes, (28.28,) * sizes, (Fraction(1),) * sizes, ("65 yd",) * sizes),
            YarnLineNeed("B", "", (), (), (), ("40 yd",) * sizes),
        ),
        charts=(Chart("Body", SVG, "Colours of the body", "Two stitches, A and B.", ("Rnd 1: 1 A, 1 B",), b"\x89PNG"),),
    )


def inches(*values: int) -> tuple[Length, ...]:
    """Lengths in inches."""
    return tuple(Length.of(Fraction(value), "in") for value in values)


def squeezed(text: str) -> str:
    """A text without white space, as far as a page may break it differently."""
    return "".join(text.split())
