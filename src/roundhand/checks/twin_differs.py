"""Two pieces that belong together are worked by the same words, and one of their numbers differs.

Front and back of a bag, or a left and a right half, are written once and copied. A digit that slips in one of them
leaves edges of two lengths, and the maker finds out at the seam. Where the words ease one edge to the other, or say
that one is longer, nothing is said.

Bad:
    Bag

    FRONT
    Ch 13.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (12)
    Rows 2-14: Ch 1, sc in each st across, turn. (12)

    BACK
    Ch 13.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (12)
    Rows 2-15: Ch 1, sc in each st across, turn. (12)

Good:
    Bag

    FRONT
    Ch 13.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (12)
    Rows 2-14: Ch 1, sc in each st across, turn. (12)

    BACK
    Ch 13.
    Row 1: Sc in 2nd ch from hook and in each ch across, turn. (12)
    Rows 2-14: Ch 1, sc in each st across, turn. (12)
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import combinations

from roundhand.checks import seam_differs
from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Mark, Span
from roundhand.notation.tree import Part, RowLine, Step

GROUP = "seams"

# What two pieces of a pair are told apart by; with these words gone their names must be the same.
_PAIRED = re.compile(r"\b(?:front|back|left|right|first|second|one|two|1st|2nd|[12ab])\b", re.IGNORECASE)
# Words by which two edges may be of two lengths.
_UNLIKE = re.compile(r"\b(?:eas(?:e|ed|es|ing)|gather\w*|longer|shorter|deeper|wider|narrower|lower|higher)\b", re.I)
_NUMBER = re.compile(r"\d+")
# A pair of pieces this short shows no words that were copied.
_FEWEST_LINES = 2


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every two pieces of a pair whose words differ in a single number of a row's label."""
    if _UNLIKE.search(sheet.text):
        return
    parts = [part for part in sheet.pattern.parts if _PAIRED.search(part.name)]
    for one, other in combinations(parts, 2):
        if _found_at_seam(sheet):
            # The seam that two pieces are too unlike for tells the same, and what has to meet what.
            return
        if one.name.lower() == other.name.lower() or _bare(one.name) != _bare(other.name):
            continue
        found = _one_number(sheet.text, one, other)
        if found is not None:
            yield _finding(sheet, one, other, *found)


def _found_at_seam(sheet: Sheet) -> bool:
    """Whether a seam whose edges cannot meet is told of."""
    return next(seam_differs.check(sheet), None) is not None


def _bare(name: str) -> str:
    return " ".join(_PAIRED.sub(" ", name).lower().split())


def _one_number(text: str, one: Part, other: Part) -> tuple[RowLine, Span, Span] | None:
    """The single number by which the words of two pieces differ, in both, and the row of the second that it labels."""
    if len(one.lines) != len(other.lines) or sum(isinstance(line, RowLine) for line in one.lines) < _FEWEST_LINES:
        return None
    found: list[tuple[RowLine | Step, Span, Span]] = []
    for mine, theirs in zip(one.lines, other.lines, strict=True):
        words = mine.span.of(text), theirs.span.of(text)
        if words[0] == words[1]:
            continue
        if _NUMBER.sub("#", words[0]) != _NUMBER.sub("#", words[1]):
            return None
        for first, second in zip(_NUMBER.finditer(words[0]), _NUMBER.finditer(words[1]), strict=True):
            if first[0] != second[0]:
                found.append((theirs, _moved(first, mine.span.start), _moved(second, theirs.span.start)))
    if len(found) != 1 or not isinstance(found[0][0], RowLine):
        return None
    row, first_span, second_span = found[0]
    assert isinstance(row, RowLine)
    return (row, first_span, second_span) if second_span.end <= row.label.span.end else None


def _moved(found: re.Match[str], start: int) -> Span:
    return Span(start + found.start(), start + found.end())


def _finding(sheet: Sheet, one: Part, other: Part, row: RowLine, first: Span, second: Span) -> Finding:
    text = sheet.text
    return Finding(
        "twin-differs",
        "warning",
        f"{second.of(text)} in {other.name.capitalize()}, {first.of(text)} in {one.name.capitalize()}",
        second,
        tuple(sheet.pattern.sizes[size] for size in row.sizes),
        because="all their other words and numbers are the same",
        help="let both pieces have as many rows, or say why one of them is longer",
        facts={"here": int(second.of(text)), "there": int(first.of(text)), "pieces": (one.name, other.name)},
        see=(Mark(first, f"{first.of(text)} in {one.name.capitalize()}"),),
        label="not as in the other",
    )
