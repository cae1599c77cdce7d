"""Our own words spelt as the terms of the pattern are: `color` beside US terms, `colour` beside UK terms."""

from __future__ import annotations

import re

import msgspec

from roundhand.findings import Finding
from roundhand.terms import side

# Words of the page stand in quotation marks and stay as she spelt them.
_QUOTED = re.compile("(“[^”]*”)")


def spelt(words: str, language: str) -> str:
    """Words of ours in the spelling of a language, what they quote left alone.

    >>> spelt("say which colour is meant by “main colour”", "US"), spelt("colours", "UK")
    ('say which color is meant by “main colour”', 'colours')
    """
    if side(language) != "US":
        return words
    parts = _QUOTED.split(words)
    return "".join(part if at % 2 else part.replace("colour", "color") for at, part in enumerate(parts))


def spelt_finding(finding: Finding, language: str) -> Finding:
    """A finding whose reason and way on are spelt so; its headline and marks hold names of the page."""
    because, way_on = spelt(finding.because, language), spelt(finding.help, language)
    return msgspec.structs.replace(finding, because=because, help=way_on)
