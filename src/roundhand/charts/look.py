"""The look of charts: paper and ink, accents named after dyes, and letters that can be read on any yarn.

Whether a letter can be read is told by the contrast ratio of the Web Content Accessibility Guidelines 2.2 (success
criterion 1.4.3; the formula is quoted from memory): at least 4.5 for the letters in cells.
"""

from __future__ import annotations

import re
from fractions import Fraction
from functools import lru_cache

import msgspec

_HEX = re.compile(r"#(?:[0-9a-fA-F]{6}|[0-9a-fA-F]{3})\b")
ENOUGH = 4.5


class Look(msgspec.Struct, frozen=True):
    """The colours of a chart, as `#rrggbb`. `tints` stand in for yarns whose colour nobody has given."""

    paper: str = "#fbf7ee"
    ink: str = "#2b2520"
    soft: str = "#6b5d50"
    rule: str = "#9d8f7f"
    madder: str = "#a33b2c"
    woad: str = "#2f5577"
    tints: tuple[str, ...] = (
        "#f0e8d6",
        "#7f9bb5",
        "#d9b95a",
        "#b8695a",
        "#8d7a66",
        "#a9b58c",
        "#d8c3bb",
        "#4f6b6a",
    )


def colour_in(words: str) -> str:
    """The first colour value in some words, as `#rrggbb` in small letters; empty where there is none.

    >>> colour_in("oat (#D8C9A3)"), colour_in("kelp #343"), colour_in("ochre")
    ('#d8c9a3', '#334433', '')
    """
    found = _HEX.search(words)
    if found is None:
        return ""
    value = found[0][1:].lower()
    return f"#{value}" if len(value) == 6 else "#" + "".join(one * 2 for one in value)


@lru_cache(maxsize=1024)
def mixed(colour: str, other: str, part: Fraction) -> str:
    """A colour with so much of another in it.

    >>> mixed("#000000", "#ffffff", Fraction(1, 2))
    '#808080'
    """
    pairs = zip(_channels(colour), _channels(other), strict=True)
    return "#" + "".join(f"{round(one + (two - one) * part):02x}" for one, two in pairs)


def contrast(colour: str, other: str) -> float:
    """The contrast ratio of two colours, from 1 to 21.

    >>> round(contrast("#000000", "#ffffff")), contrast("#777777", "#777777")
    (21, 1.0)
    """
    light, dark = sorted((_luminance(colour), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@lru_cache(maxsize=1024)
def readable(on: str, look: Look) -> str:
    """The colour of a letter on a cell: the ink or the paper if it can be read there, else plain black or white.

    >>> look = Look()
    >>> readable("#ffffff", look) == look.ink, readable("#202020", look) == look.paper
    (True, True)
    >>> all(contrast(readable(f"#{grey:02x}{grey:02x}{grey:02x}", look), f"#{grey:02x}{grey:02x}{grey:02x}") >= ENOUGH \
for grey in range(256))
    True
    """
    best = max((look.ink, look.paper), key=lambda one: contrast(one, on))
    if contrast(best, on) >= ENOUGH:
        return best
    return max(("#000000", "#ffffff"), key=lambda one: contrast(one, on))


def _channels(colour: str) -> tuple[int, int, int]:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def _luminance(colour: str) -> float:
    red, green, blue = (_linear(one / 255) for one in _channels(colour))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(part: float) -> float:
    return part / 12.92 if part <= 0.04045 else float(((part + 0.055) / 1.055) ** 2.4)
