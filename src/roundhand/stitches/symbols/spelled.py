"""Strokes as they are written in a stitch file, and the proof that they fit the stitch.

    "leg 0 0 0 2"                      a straight stroke from one point to another; of four points, a curve
    "slash -0.18 1.2 0.18 1.32"        across a leg; so are "bar" and "mark"
    "chain 0 0.25 0.45 0.22"           an open oval: its centre, half its width and half its height, and, if it is
                                       turned, by how many degrees; so is "ring"; "dot" is a filled one
    "as cluster_3_double"              the symbol of another stitch, from which the trade does not tell it apart
    "by rule"                          what the rule makes, for a shape that is known from outside and comes out so

Numbers are whole, decimal or fractions, in widths of a single crochet from the foot of the stitch.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from roundhand.stitches.symbols.model import OVALS, PARTS, Box, Stroke, SymbolError


def read_strokes(lines: Iterable[str]) -> tuple[Stroke, ...]:
    """The strokes that lines of a file say; raises SymbolError for one that is none.

    >>> read_strokes(["bar -1/3 2 1/3 2"])[0].points[1]
    (Fraction(1, 3), Fraction(2, 1))
    >>> read_strokes(["zigzag 0 0 1 1"])
    Traceback (most recent call last):
    roundhand.stitches.symbols.model.SymbolError: "zigzag 0 0 1 1" is no stroke; there are leg, slash, bar, mark, \
chain, ring, dot
    """
    return tuple(_stroke(line) for line in lines)


def _stroke(line: str) -> Stroke:
    part, *words = line.split() or [""]
    if part not in PARTS:
        raise SymbolError(f'"{line}" is no stroke; there are {", ".join(PARTS)}')
    numbers = [_number(word, line) for word in words]
    wanted = (4, 5) if part in OVALS else (4, 8)
    if len(numbers) not in wanted:
        said = f"{len(numbers)} numbers" if len(numbers) != 1 else "1 number"
        raise SymbolError(f'"{line}" has {said}; a {part} has {wanted[0]} or {wanted[1]}')
    turn = 0
    if part in OVALS:
        if min(numbers[2:4]) <= 0:
            raise SymbolError(f'"{line}" is an oval without width or height')
        turn = int(numbers[4]) if len(numbers) == 5 else 0
        numbers = numbers[:4]
    points = tuple(zip(numbers[::2], numbers[1::2], strict=True))
    return Stroke(part, points, turn)


def _number(word: str, line: str) -> Fraction:
    try:
        return Fraction(word)
    except (ValueError, ZeroDivisionError):
        raise SymbolError(f'"{word}" in "{line}" is not a number') from None


def prove(lines: Iterable[str], strokes: Iterable[Stroke], box: Box, slashes: int, legs: int) -> None:
    """Raises SymbolError where strokes leave the box, or where slashes or legs are not as many as the recipe has."""
    found = tuple(strokes)
    for line, stroke in zip(lines, found, strict=True):
        if not box.holds(stroke):
            half = _said(box.width / 2)
            raise SymbolError(
                f'"{line}" leaves the box of the symbol, which reaches from -{half} to {half} across '
                f"and from {_said(box.low)} to {_said(box.high)} upwards"
            )
    for part, parts, wanted in (("slash", "slashes", slashes), ("leg", "legs", legs)):
        drawn = sum(stroke.part == part for stroke in found)
        if drawn != wanted:
            raise SymbolError(
                f"the symbol has {drawn} {part if drawn == 1 else parts}, and the recipe gives {wanted or 'none'}"
            )


def _said(number: Fraction) -> str:
    return str(number) if number.denominator == 1 else f"{float(number):g}"
