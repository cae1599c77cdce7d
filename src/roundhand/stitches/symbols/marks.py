"""The marks at the foot of a symbol and over it, read from `marks.toml`: facts with their source, and their strokes."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from importlib.resources import files
from typing import Literal

import msgspec

from roundhand.stitches.symbols.model import Stroke
from roundhand.stitches.symbols.spelled import read_strokes


class SymbolMark(msgspec.Struct, frozen=True):
    """A mark: what it says to a maker, what a recipe says for it, its strokes about the place where it stands, and the
    height at which a leg then begins.

    It stands `at` the foot of a leg, the top of the stitch, or the line between the rows. `evidence` and `source` are
    those of its shape.
    """

    name: str
    words: str
    said: tuple[str, ...]
    strokes: tuple[Stroke, ...]
    foot: Fraction
    at: Literal["foot", "top", "line"]
    evidence: str
    source: str


@cache
def symbol_marks() -> Mapping[str, SymbolMark]:
    """Every mark by its name.

    >>> symbol_marks()["back_loop"].evidence, symbol_marks()["third_loop"].evidence
    ('found', 'ours')
    """
    text = (files("roundhand.stitches") / "symbols" / "marks.toml").read_text(encoding="utf-8")
    return {
        name: SymbolMark(
            name,
            facts["words"],
            tuple(facts["said"]),
            read_strokes(facts["strokes"]),
            Fraction(facts.get("foot", "0")),
            facts.get("at", "foot"),
            facts["evidence"],
            facts["source"],
        )
        for name, facts in tomllib.loads(text).items()
    }


@cache
def marks_for(words: str) -> tuple[SymbolMark, ...]:
    """The marks of what a recipe says of a movement, in the order of the file."""
    spaced = f" {words} "
    return tuple(mark for mark in symbol_marks().values() if any(f" {said} " in spaced for said in mark.said))
