"""Runs every check over a tally, and folds what follows from one cause behind it."""

from __future__ import annotations

from functools import cached_property

import msgspec

from roundhand.checks.choice import Choice
from roundhand.checks.editors_word import heed, unused_words
from roundhand.checks.exchanging import Exchanger
from roundhand.checks.folding import fold
from roundhand.checks.handbook import looking, pages
from roundhand.checks.paper import Paper, paper
from roundhand.checks.troubles import Trouble, find_troubles
from roundhand.findings import Finding, Source, in_order
from roundhand.notation.tree import Pattern
from roundhand.shape import Measures, measure
from roundhand.tally import Tally
from roundhand.tally.across import Across, across
from roundhand.yarn import MeasuredLength, YarnEstimate, estimate
from roundhand.yarn.swatches import SwatchWeight

_EVERYTHING = Choice()


class Sheet(msgspec.Struct, frozen=True, dict=True):
    """What a check looks at: the text, the tally, and what reading and counting have said already.

    `lengths` are a maker's measured yarn per stitch and `swatches` those she weighed, where she keeps them beside the
    pattern.
    """

    source: Source
    tally: Tally
    said: tuple[Finding, ...] = ()
    lengths: tuple[MeasuredLength, ...] = ()
    swatches: tuple[SwatchWeight, ...] = ()

    @property
    def pattern(self) -> Pattern:
        """The pattern as read."""
        return self.tally.pattern

    @property
    def text(self) -> str:
        """The decoded text."""
        return self.source.text

    @cached_property
    def paper(self) -> Paper:
        """What the page says beside its rows, sorted once for all checks."""
        return paper(self.source, self.pattern)

    @cached_property
    def troubles(self) -> tuple[Trouble, ...]:
        """Rows that do not come out, each with its cause; found once for all checks that tell of them."""
        names = ("reference-incomplete", "row-range-differs", "shaping-overruns")
        return find_troubles(self.tally, self.text, tuple(one.span for one in self.said if one.name in names))

    def across(self, piece: int, size: int) -> tuple[Across, ...]:
        """The rows of a piece, by its position, as they lie one above the other in a size; read once for all checks."""
        key = piece, size
        if key not in self._across:
            self._across[key] = across(self.tally.pieces[piece], size)
        return self._across[key]

    @cached_property
    def _across(self) -> dict[tuple[int, int], tuple[Across, ...]]:
        return {}

    @cached_property
    def exchanger(self) -> Exchanger:
        """Works rows again with other numbers, for the mends."""
        return Exchanger(self.pattern)

    @cached_property
    def measures(self) -> Measures:
        """The finished measurements, worked out once."""
        return measure(self.tally, self.text)

    @cached_property
    def yarn(self) -> YarnEstimate:
        """What the pattern takes of every yarn, worked out once."""
        return estimate(self.tally, self.lengths, self.swatches)


def names() -> tuple[str, ...]:
    """The names of all remarks that the handbook has a page for, in alphabetical order."""
    return tuple(pages())


class Edited(msgspec.Struct, frozen=True):
    """The findings on a pattern, and those that are left because the editor's word on the page says so."""

    findings: tuple[Finding, ...]
    left: tuple[Finding, ...] = ()


def edited(sheet: Sheet, choice: Choice = _EVERYTHING) -> Edited:
    """The findings on a pattern that are wanted, in the order of the page; those that follow from another carry its
    name. Without a choice it is all but house style."""
    found = list(sheet.said)
    for name, check in looking().items():
        # What one remark follows from may be another that is not wanted, so all are looked for but house style.
        if not pages()[name].when_asked or choice.wants(name):
            found += check(sheet)
    found = fold(in_order(found), sheet.source, sheet.pattern)
    kept, left, unused = heed(found, sheet.source, sheet.pattern)
    if unused:
        # Of house style nothing is known where nobody has asked for it.
        there = [(word, name) for word, name in unused if choice.looks_for(name)]
        kept = in_order([*kept, *unused_words(there, found, sheet.source, sheet.pattern)])
    return Edited(tuple(choice.of(kept)), tuple(choice.of(left)))


def edit(sheet: Sheet, choice: Choice = _EVERYTHING) -> list[Finding]:
    """The findings alone, as `edited` gives them."""
    return list(edited(sheet, choice).findings)
