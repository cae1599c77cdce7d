"""The width and length of a flat piece as stated are not what its rows come to by the gauge.

A blanket or scarf is chosen by its size. A row number or a chain changed late, and the size on the first page is that
of an earlier version.

Bad:
    Finished size: 8 in wide x 66 in long
    GAUGE
    16 sts and 12 rows = 4 in in half double crochet
    SCARF
    Ch 33.
    Row 1: Hdc in 2nd ch from hook and in each ch across, turn. (32)
    Rows 2-180: Ch 1, hdc in each st across, turn. (32)

Good:
    Finished size: 8 in wide x 60 in long
    GAUGE
    16 sts and 12 rows = 4 in in half double crochet
    SCARF
    Ch 33.
    Row 1: Hdc in 2nd ch from hook and in each ch across, turn. (32)
    Rows 2-180: Ch 1, hdc in each st across, turn. (32)
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from roundhand.checks.edit import Sheet
from roundhand.checks.measure_differs import say
from roundhand.findings import Finding, Span
from roundhand.measures import Length, length_unit, read_number
from roundhand.notation.tree import Evenly, Plan
from roundhand.sizing import gauge_book
from roundhand.tally import PieceTally

GROUP = "gauge"

_KEY = re.compile(r"\b(?:finished|size|measure\w*|dimensions?)\b", re.IGNORECASE)
_NOT = re.compile(r"\b(?:fit|head|hook|yarn|swatch|gauge|circumference)\b", re.IGNORECASE)
_N = r"\d+(?:\.\d+)?(?:\s+\d+/\d+|/\d+|\s*[\u00bc-\u00be\u2150-\u215e])?"
_UNIT = r"in(?:ch(?:es)?)?\b\.?|\"|\u201d|cm\b"
_WIDE, _LONG = r"wide|across|in\s+width", r"long|tall|high|deep|in\s+length"
_SAID = re.compile(
    rf"(?P<one>{_N})\s*(?P<unit1>{_UNIT})?\s*(?P<word1>{_WIDE}|{_LONG})?\s*,?\s*(?:x|\u00d7|by|and)\s*"
    rf"(?P<two>{_N})\s*(?P<unit2>{_UNIT})\s*(?P<word2>{_WIDE}|{_LONG})?",
    re.IGNORECASE,
)
# Blankets are measured on the floor; what is off by more is another number of rows.
_TOLERANCE, _LEAST = Fraction(6, 100), Fraction(10)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for a side of a piece worked to and fro that is off by more than 6 %."""
    pieces = [piece for piece in sheet.tally.pieces if piece.rows]
    if len(pieces) != 1 or len(sheet.pattern.sizes) != 1 or not _is_plain(pieces[0]):
        return
    piece = pieces[0]
    book = gauge_book(sheet.pattern)
    results = [(row, row.results[0]) for row in piece.rows]
    widths, length = [], Fraction(0)
    for row, result in results:
        if result is None or not book.knows(result.offer.main):
            return
        width, height = book.width(row.part, result.offer.main), book.height(row.part, result.offer.main)
        if width is None or height is None:
            return
        widths.append(width * result.count)
        length += height
    for fact in sheet.pattern.facts:
        found = _SAID.search(sheet.text, fact.span.start, fact.span.end)
        if found is None or not _KEY.search(fact.key) or _NOT.search(fact.key):
            continue
        yield from _judge(sheet, found, max(widths), length)


def _is_plain(piece: PieceTally) -> bool:
    """Whether a piece is one rectangle: rows to and fro of nearly one count, made once, and nothing worked round it."""
    counts = [result.count for row in piece.rows for result in row.results if result is not None]
    told = any(isinstance(node, Plan | Evenly) for row in piece.rows for node in row.line.nodes)
    return (
        len(piece.rows) > 1
        and max(piece.make) == 1
        and not told
        and all(row.kind == "row" for row in piece.rows)
        and bool(counts)
        and min(counts) * 100 >= 95 * max(counts)
    )


def _judge(sheet: Sheet, found: re.Match[str], width: Fraction, length: Fraction) -> Iterator[Finding]:
    unit2 = found["unit2"].rstrip(".")
    values = []
    for name, unit in (("one", (found["unit1"] or unit2).rstrip(".")), ("two", unit2)):
        number = read_number(sheet.text, found.start(name))
        if number is None:
            return
        values.append(Length.of(number[0], length_unit(unit) or "in").mm)
    ways = [(width, length), (length, width)]
    for at, name in enumerate(("word1", "word2")):
        if found[name]:
            wide = re.fullmatch(_WIDE, found[name], re.IGNORECASE) is not None
            ways = [way for way in ways if way[at] == (width if wide else length)][:1]
    off = [[_off(value, comes) for value, comes in zip(values, way, strict=True)] for way in ways]
    if not off or not all(any(one) for one in off):
        return
    # The order in which fewer sides are off is the one that was meant.
    best = min(range(len(off)), key=lambda at: sum(off[at]))
    for at, name in enumerate(("one", "two")):
        if off[best][at]:
            yield _finding(sheet, found, name, at, values[at], ways[best][at], ways[best][at] == width)


def _off(stated: Fraction, comes: Fraction) -> bool:
    return abs(stated - comes) > max(_TOLERANCE * comes, _LEAST)


def _finding(
    sheet: Sheet, found: re.Match[str], name: str, at: int, stated: Fraction, comes: Fraction, wide: bool
) -> Finding:
    unit = length_unit((found[f"unit{at + 1}"] or found["unit2"]).rstrip(".")) or "in"
    what = "width" if wide else "length"
    return Finding(
        "finished-size-differs",
        "warning",
        f"{say(stated, unit)} stated, the {what} comes to {say(comes, unit)}",
        Span(found.start(name), found.end(name)),
        sheet.pattern.sizes,
        because=f"by the gauge the {'stitches' if wide else 'rows'} of this piece come to {say(comes, unit)}",
        help=f"write {say(comes, unit)}, or look at the number of {'stitches' if wide else 'rows'} and at the gauge",
        facts={"what": what, "stated_mm": round(float(stated), 1), "comes_to_mm": round(float(comes), 1)},
        label=f"comes to {say(comes, unit)}",
    )
