"""Rows counted by run lengths in every size; readings chosen, with the evidence for each.

Count first, build later: a tally settles counts, readings and most of the technical edit in plain Python.
"""

from roundhand.tally.alike import AlikeRows
from roundhand.tally.count import count
from roundhand.tally.model import (
    Against,
    Block,
    Choice,
    Chosen,
    LeftOver,
    Missing,
    Offer,
    PieceTally,
    RowTally,
    Run,
    Segment,
    StepTally,
    Tally,
    Worked,
    YarnEvent,
    distinct,
    flat,
    totals,
)
from roundhand.tally.telling import readings_of

__all__ = [
    "Against",
    "AlikeRows",
    "Block",
    "Choice",
    "Chosen",
    "LeftOver",
    "Missing",
    "Offer",
    "PieceTally",
    "RowTally",
    "Run",
    "Segment",
    "StepTally",
    "Tally",
    "Worked",
    "YarnEvent",
    "count",
    "distinct",
    "flat",
    "readings_of",
    "totals",
]
