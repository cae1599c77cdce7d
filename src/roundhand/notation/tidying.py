"""A text put into house style, row by row, without touching what is hers.

Only rows and steps are printed anew (`printing` says how); prose, headings, keys, notes, blank lines and everything
that is not understood stay as they stand. A row is changed only if the whole text reads the same afterwards.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from roundhand.findings import Edit, Span
from roundhand.notation.likeness import alike
from roundhand.notation.printing import Printer, UnprintableError
from roundhand.notation.read import read_closely
from roundhand.notation.tree import Pattern, RowLine, Step
from roundhand.terms import languages


class Tidied(msgspec.Struct, frozen=True):
    """What tidying comes to: the new text, the edits that lead to it, and the rows that were left as they stand."""

    text: str
    edits: tuple[Edit, ...]
    left: tuple[Span, ...]


def tidy(text: str) -> Tidied:
    """The text in house style. Tidying twice is tidying once; what it reads to does not change.

    >>> print(tidy("Cap\\n\\nROUND 1.  6 single crochet in a magic ring\\nR2: [ sc1,inc ]x3 = 9").text)
    Cap
    <BLANKLINE>
    Rnd 1: 6 sc in a magic ring.
    Rnd 2: (sc, inc) 3 times. (9)
    """
    pattern, _, lexicon = read_closely(text)
    if pattern.language not in languages():
        # The words of an older book are read and not printed: her page stays until its terms are exchanged.
        return Tidied(text, (), tuple(line.span for line in _lines(pattern)))
    printer = Printer(text, lexicon, len(pattern.sizes))
    edits: list[Edit] = []
    left: list[Span] = []
    for line in _lines(pattern):
        try:
            printed = printer.row(line)
        except UnprintableError:
            left.append(line.span)
            continue
        if printed and printed != line.span.of(text):
            edits.append(Edit(line.span, printed, "sure"))
    kept = _kept(text, pattern, edits)
    left += [edit.span for edit in edits if edit not in kept]
    return Tidied(edited(text, kept), tuple(kept), tuple(sorted(left)))


def edited(text: str, edits: Sequence[Edit]) -> str:
    """The text with edits made that do not overlap."""
    out: list[str] = []
    at = 0
    for edit in sorted(edits, key=lambda edit: edit.span.start):
        out += (text[at : edit.span.start], edit.text)
        at = edit.span.end
    return "".join([*out, text[at:]])


def _lines(pattern: Pattern) -> list[RowLine | Step]:
    return [line for part in pattern.parts for line in part.lines]


def _kept(text: str, pattern: Pattern, edits: list[Edit]) -> list[Edit]:
    """The edits after which the text still reads the same: all of them, or those of either half that do."""
    if not edits or _same(pattern, edited(text, edits)):
        return edits
    if len(edits) == 1:
        return []
    middle = len(edits) // 2
    return [*_kept(text, pattern, edits[:middle]), *_kept(text, pattern, edits[middle:])]


def _same(pattern: Pattern, text: str) -> bool:
    read, _, _ = read_closely(text)
    return (
        alike(pattern.parts, read.parts)
        and alike(pattern.count_notes, read.count_notes)
        and alike(tuple(pattern.definitions.items()), tuple(read.definitions.items()))
        and (pattern.sizes, pattern.language) == (read.sizes, read.language)
    )
