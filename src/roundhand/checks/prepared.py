"""Places that words elsewhere must have made ready: a ring, a marked stitch, a second layer.

Such words may stand anywhere on the page, in a note as well as in a row, so the page is searched for them and not the
rows alone: only where nothing at all speaks of it is the place told as missing.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.findings import Finding
from roundhand.notation.tree import Node, Place, Times, Work
from roundhand.tally import RowTally, Tally

_MAKES_RING = re.compile(
    r"\b(?:rings?|circle|magic|mr|mc|dmr|join\w*|unit(?:e|ing)|sl(?:ip)?[- ]?(?:st|knot)\w*|ss|loop)\b", re.IGNORECASE
)
_SAID_MAGIC = re.compile(r"\b(?:magic|adjustable|sliding|double|mr|mc|dmr|circle|loop)\b", re.IGNORECASE)
_MARKS = re.compile(r"\b(?:markers?|mark|marks|marking|pm|safety pins?|marked (?:with|by))\b", re.IGNORECASE)
_LAYS = re.compile(
    r"\b(?:fold\w*|hold\w*|pieces|make (?:two|\d+)|squares?|motifs?|halves|together|lining|hems?|flatten\w*|pinch\w*|"
    r"align\w*|lined up|line up|lay|place[sd]?|wrong sides?|right sides?|front and back|back and front|foundation|"
    r"both (?:pieces|ends|edges)|seam|sew)\b",
    re.IGNORECASE,
)


def unprepared(tally: Tally, text: str) -> Iterator[Finding]:
    """A remark on each first place of its kind that nothing on the page has made ready."""
    told: set[str] = set()
    pieces = sum(max(piece.make) for piece in tally.pieces)
    for row in tally.rows():
        if row.copied:
            continue
        for place in _places(next((nodes for nodes in row.nodes if nodes is not None), ())):
            what = _wanting(place, text, pieces)
            if what and what not in told:
                told.add(what)
                yield _finding(what, row, place, tally)


def _places(nodes: tuple[Node, ...]) -> Iterator[Place]:
    for node in nodes:
        if isinstance(node, Work):
            yield node.into
        elif isinstance(node, Times):
            yield from _places(node.body)


def _wanting(place: Place, text: str, pieces: int) -> str:
    start = place.span.start
    if place.kind == "ring" and place.length is None:
        said = _SAID_MAGIC.search(place.span.of(text)) or _MAKES_RING.search(text, 0, start)
        return "" if said else "ring"
    if place.what == "marked":
        return "" if _MARKS.search(text, 0, start) else "mark"
    if place.kind == "layers" or place.loop == "layers":
        return "" if pieces > 1 or _LAYS.search(text) else "layers"
    return ""


_SAID = {
    "ring": (
        "no ring is made before this",
        "nothing above these words makes a ring, magic or of chains",
        "begin with a magic ring, or join a short chain to form a ring",
    ),
    "mark": (
        "no stitch is marked before this",
        "nothing above these words places a marker",
        "say where the marker goes, in the row that makes the stitch",
    ),
    "layers": (
        "only one layer is there",
        "the pattern has one piece, and nothing folds it or lays it on another",
        "say what is folded, or which pieces are held together",
    ),
}


_PLACES = {"ring": "ring", "mark": "marked stitch", "layers": "through two layers"}


def _finding(what: str, row: RowTally, place: Place, tally: Tally) -> Finding:
    headline, because, way = _SAID[what]
    sizes = tuple(name for name, label in zip(tally.pattern.sizes, row.labels, strict=True) if label is not None)
    return Finding(
        "place-missing",
        "warning",
        headline,
        place.span,
        sizes,
        row=row.label,
        because=because,
        help=way,
        facts={"place": _PLACES[what], "what": what, "wanted": 1, "there": 0},
        label="not there",
    )
