"""Runs every check over a tally, and folds what follows from one cause behind it."""

from __future__ import annotations

import pkgutil
from collections.abc import Callable, Iterable
from functools import cache, cached_property
from importlib import import_module
from typing import cast

import msgspec

from roundhand import checks
from roundhand.checks.folding import fold
from roundhand.checks.troubles import Trouble, find_troubles
from roundhand.findings import Finding, Source, in_order
from roundhand.notation.tree import Pattern
from roundhand.shape import Measures, measure
from roundhand.tally import Tally
from roundhand.yarn import MeasuredLength, YarnEstimate, estimate
from roundhand.yarn.swatches import SwatchWeight

# Modules of this room that serve the checks and are none themselves.
_NOT_CHECKS = frozenset(
    (
        "absent",
        "counted_kinds",
        "edit",
        "finishing",
        "folding",
        "footing",
        "mends",
        "mentions",
        "misnamed",
        "numbering",
        "pencil",
        "prepared",
        "troubles",
        "unfit",
        "unfit_chains",
    )
)


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
    def troubles(self) -> tuple[Trouble, ...]:
        """Rows that do not come out, each with its cause; found once for all checks that tell of them."""
        names = ("reference-incomplete", "row-range-differs", "shaping-overruns")
        return find_troubles(self.tally, self.text, tuple(one.span for one in self.said if one.name in names))

    @cached_property
    def measures(self) -> Measures:
        """The finished measurements, worked out once."""
        return measure(self.tally, self.text)

    @cached_property
    def yarn(self) -> YarnEstimate:
        """What the pattern takes of every yarn, worked out once."""
        return estimate(self.tally, self.lengths, self.swatches)


Check = Callable[[Sheet], Iterable[Finding]]


@cache
def _checks() -> dict[str, Check]:
    found: dict[str, Check] = {}
    for module in pkgutil.iter_modules(checks.__path__):
        if module.name not in _NOT_CHECKS:
            loaded = import_module(f"{checks.__name__}.{module.name}")
            found[module.name.replace("_", "-")] = cast(Check, loaded.check)
    return found


def names() -> tuple[str, ...]:
    """The names of all checks, in alphabetical order; a check's file is named as its finding."""
    return tuple(sorted(_checks()))


def edit(sheet: Sheet) -> list[Finding]:
    """All findings on a pattern, in the order of the page; those that follow from another carry its name."""
    found = list(sheet.said)
    for name in names():
        found += _checks()[name](sheet)
    return fold(in_order(found), sheet.source, sheet.pattern)
