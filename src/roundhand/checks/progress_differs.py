"""What the work should measure at some row is not what its rows and stitches come to by then.

Such a line is there so that a maker can check her gauge half way. If it is wrong she rips out what was right, or goes
on in a size that she did not want.

Bad:
    GAUGE
    16 sts and 20 rows = 4 in in single crochet
    SCARF
    Ch 33.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (32)
    Rows 2-40: Ch 1, sc in each st across, turn. (32) Piece should measure 6 in from beginning.

Good:
    GAUGE
    16 sts and 20 rows = 4 in in single crochet
    SCARF
    Ch 33.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (32)
    Rows 2-40: Ch 1, sc in each st across, turn. (32) Piece should measure 8 in from beginning.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from roundhand.checks.edit import Sheet
from roundhand.checks.measure_differs import say
from roundhand.findings import Finding, Span
from roundhand.measures import Length, length_unit, read_number
from roundhand.notation.tree import Plan
from roundhand.sizing import GaugeBook, gauge_book
from roundhand.tally import PieceTally, RowTally

GROUP = "gauge"

_N = r"(?:\d+(?:\.\d+)?(?:\s+\d+/\d+|/\d+|\s*[\u00bc-\u00be\u2150-\u215e])?|[\u00bc-\u00be\u2150-\u215e])"
_SAID = re.compile(
    r"\b(?:[a-z]+\s+(?:should|will|must)\s+(?:now\s+)?measure"
    r"|(?:piece|work|hat|cap|crown|circle|disc|disk|band|panel|square|sleeve|back|front|body|scarf|it)\s+(?:now\s+)?measures)"
    r"\s+(?:about|approx(?:imately|\.)?|around|roughly)?"
    rf"\s*(?P<low>{_N})(?:\s*(?P<list>[(\[][^)\]]*[)\]]))?\s*(?P<unit>in(?:ch(?:es)?)?\b\.?|\"|\u201d|cm\b)"
    r"(?P<tail>[^.;\n]{0,40})",
    re.IGNORECASE,
)
# Words that make a length the end of the work, or a thing to reach and not to find.
_UNTIL = re.compile(r"\b(?:until|till|when|once|if|to|before|after|where|while)\s+(?:the\s+|your\s+)?$", re.IGNORECASE)
_ACROSS = re.compile(r"\b(?:across|in\s+diameter|diameter)\b", re.IGNORECASE)
_WIDE = re.compile(r"\b(?:wide|in\s+width|width)\b", re.IGNORECASE)
_LONG = re.compile(
    r"\b(?:from\s+(?:the\s+)?(?:beg|begin\w*|start|foundation|bottom|cast|edge|center|centre|ring)\b|long|in\s+length"
    r"|tall|high|deep|in\s+depth)",
    re.IGNORECASE,
)
# Such a line says "about"; within so much a maker is told what she may find.
_TOLERANCE, _LEAST = Fraction(12, 100), Fraction(127, 10)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every line that says what the work measures, off by more than an eighth and half an inch."""
    book = gauge_book(sheet.pattern)
    if not book.fabrics:
        return
    for piece in sheet.tally.pieces:
        lines = {id(row.line): at for at, row in enumerate(piece.rows)}
        for at in lines.values():
            row = piece.rows[at]
            if any(isinstance(node, Plan) for node in row.line.nodes):
                continue
            for found in _SAID.finditer(sheet.text, row.line.span.start, row.line.span.end):
                if not _UNTIL.search(sheet.text, row.line.span.start, found.start()):
                    yield from _judge(sheet, piece, at, found, book)


def _judge(sheet: Sheet, piece: PieceTally, at: int, found: re.Match[str], book: GaugeBook) -> Iterator[Finding]:
    values = _values(sheet.text, found, len(sheet.pattern.sizes))
    wrong: dict[int, tuple[Fraction, Fraction]] = {}
    for size, stated in enumerate(values):
        if stated is None or piece.rows[at].results[size] is None:
            continue
        comes = _comes_to(piece, at, size, found["tail"], book)
        if not comes:
            continue
        wanted = stated
        near = min((abs(one - wanted), one) for one in comes)[1]
        if abs(near - stated) > max(_TOLERANCE * near, _LEAST):
            wrong[size] = (stated, near)
    if not wrong:
        return
    size = min(wrong)
    stated, near = wrong[size]
    unit = length_unit(found["unit"].rstrip(".")) or "in"
    row = piece.rows[at]
    yield Finding(
        "progress-differs",
        "warning",
        f"{say(stated, unit)} written here, {say(near, unit)} by the gauge",
        Span(found.start("low"), found.end("unit")),
        tuple(sheet.pattern.sizes[one] for one in wrong),
        row=row.label_in(size),
        because=f"up to {row.label_in(size)} the rows and stitches come to {say(near, unit)} by the gauge given",
        help="write what the gauge makes, or look at the number of rows and at the gauge",
        facts={"stated_mm": round(float(stated), 1), "comes_to_mm": round(float(near), 1)},
        label=f"comes to {say(near, unit)}",
    )


def _values(text: str, found: re.Match[str], sizes: int) -> list[Fraction | None]:
    unit = length_unit(found["unit"].rstrip(".")) or "in"
    places = [found.start("low")]
    if found["list"] is not None:
        places += [found.start("list") + one.start() for one in re.finditer(_N, found["list"])]
    numbers = [read_number(text, place) for place in places]
    lengths = [Length.of(one[0], unit).mm if one is not None else None for one in numbers]
    if len(lengths) == 1:
        return lengths * sizes
    return lengths if len(lengths) == sizes else []


def _comes_to(piece: PieceTally, at: int, size: int, tail: str, book: GaugeBook) -> list[Fraction]:
    """What the work may be said to measure by the end of a line; several, where the words leave open from where."""
    last = max(place for place, row in enumerate(piece.rows) if row.line is piece.rows[at].line)
    rows = [row for row in piece.rows[: last + 1] if row.results[size] is not None]
    if any(row.results[size] is None and row.labels[size] is not None for row in piece.rows[: last + 1]):
        return []
    here = [row for row in rows if row.part == piece.rows[at].part]
    heights, own = _height(rows, size, book), _height(here, size, book)
    result = piece.rows[last].results[size]
    width = book.width(piece.rows[last].part, result.offer.main) if result is not None else None
    if _ACROSS.search(tail) and all(row.kind == "round" for row in rows):
        return [2 * heights] if heights is not None else []
    if _WIDE.search(tail) and all(row.kind == "row" for row in rows):
        return [width * result.count] if width is not None and result is not None else []
    if _LONG.search(tail):
        return [one for one in dict.fromkeys((heights, own)) if one is not None]
    return []


def _height(rows: list[RowTally], size: int, book: GaugeBook) -> Fraction | None:
    total = Fraction(0)
    for row in rows:
        result = row.results[size]
        if result is None or not book.knows(result.offer.main):
            return None
        height = book.height(row.part, result.offer.main)
        if height is None:
            return None
        total += height
    return total
