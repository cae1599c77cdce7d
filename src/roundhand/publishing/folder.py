"""All that is handed out of a leaflet, as names and contents; the workshop writes them to disk."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable

from roundhand.publishing.html import page
from roundhand.publishing.leaflet import Leaflet
from roundhand.publishing.pdf import pdf
from roundhand.publishing.text import plain_text

_MOST_LETTERS = 40


def outputs(leaflet: Leaflet, root: str) -> dict[str, bytes]:
    """The files of a leaflet: `index.html`, `leaflet-a4.pdf`, `leaflet-letter.pdf`, `pattern.txt`, and for every chart
    `chart-PIECE.svg`, with `chart-PIECE.png` where there is a picture. The same bytes for the same leaflet.

    `root` is the path of an empty folder, which stays empty. Names hold nothing but small letters, digits and hyphens.
    Raises `roundhand.press.PressError` where the PDF cannot be set.
    """
    return {name: make() for name, make in makers(leaflet, root).items()}


def makers(leaflet: Leaflet, root: str) -> dict[str, Callable[[], bytes]]:
    """What makes each file of a leaflet, by name, for whoever wants to say meanwhile how far it is; see `outputs`."""
    files: dict[str, Callable[[], bytes]] = {
        "index.html": lambda: page(leaflet),
        "leaflet-a4.pdf": lambda: pdf(leaflet, "a4", root),
        "leaflet-letter.pdf": lambda: pdf(leaflet, "us-letter", root),
        "pattern.txt": lambda: plain_text(leaflet).encode("utf-8"),
    }
    for name, chart in zip(chart_names([chart.piece for chart in leaflet.charts]), leaflet.charts, strict=True):
        files[f"{name}.svg"] = _kept(chart.svg)
        if chart.png is not None:
            files[f"{name}.png"] = _kept(chart.png)
    return files


def _kept(data: bytes) -> Callable[[], bytes]:
    return lambda: data


def chart_names(pieces: list[str]) -> list[str]:
    """A name for the file of every piece's chart, no two the same.

    >>> chart_names(["Left Front", "../Ärmel", "left front", "袖"])
    ['chart-left-front', 'chart-armel', 'chart-left-front-2', 'chart-4']
    """
    names: list[str] = []
    for at, piece in enumerate(pieces, 1):
        letters = unicodedata.normalize("NFKD", piece.lower()).encode("ascii", "ignore").decode("ascii")
        word = re.sub(r"[^a-z0-9]+", "-", letters)[:_MOST_LETTERS].strip("-")
        name = f"chart-{word or at}"
        again = 2
        while name in names:
            name = f"chart-{word or at}-{again}"
            again += 1
        names.append(name)
    return names
