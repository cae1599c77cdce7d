"""The symbols of stitches: what a chart draws for a stitch, as strokes in a box, with how well the shape is known.

Shapes that published lists of symbols agree on, or that are recalled, stand in the stitch's file (`spelled` says how);
every other symbol is made from the recipe by one rule (`rule`), also for a stitch that a pattern defines, and is ours.

>>> from roundhand.stitches.symbols import symbol_of
>>> double = symbol_of("double")
>>> [(stroke.part, double.box.holds(stroke)) for stroke in double.strokes]
[('leg', True), ('slash', True), ('bar', True)]
>>> double.evidence, symbol_of("treble_5_together").evidence
('found', 'ours')
"""

from roundhand.stitches.symbols.given import prove_symbol, symbol, symbol_of, turning_chain
from roundhand.stitches.symbols.legs import Leg, Shape, shape
from roundhand.stitches.symbols.marks import SymbolMark, symbol_marks
from roundhand.stitches.symbols.model import Box, Stroke, Symbol, SymbolError
from roundhand.stitches.symbols.rule import box_of

__all__ = [
    "Box",
    "Leg",
    "Shape",
    "Stroke",
    "Symbol",
    "SymbolError",
    "SymbolMark",
    "box_of",
    "prove_symbol",
    "shape",
    "symbol",
    "symbol_marks",
    "symbol_of",
    "turning_chain",
]
