"""The symbol of a stitch: the one that its file gives, else the one that the rule makes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from functools import cache

from roundhand.stitches.reading import dictionary
from roundhand.stitches.stitch import Stitch
from roundhand.stitches.symbols.legs import shape
from roundhand.stitches.symbols.model import Box, Stroke, Symbol, SymbolError
from roundhand.stitches.symbols.rule import box_of, by_rule
from roundhand.stitches.symbols.spelled import prove, read_strokes

_AS = "as "
_BY_RULE = ("by rule",)


@cache
def symbol_of(id: str) -> Symbol:
    """The symbol of a packaged stitch; raises KeyError for an id that no stitch has.

    >>> symbol_of("double_3_together").count("leg"), symbol_of("double_3_together").count("slash")
    (3, 3)
    """
    return symbol(dictionary()[id], dictionary())


def symbol(stitch: Stitch, known: Mapping[str, Stitch]) -> Symbol:
    """The symbol of a stitch, which may be one that a pattern defines; `known` are the stitches it may refer to.

    What its file gives holds for the stitch as it stands among the known ones; if a pattern works it otherwise, its
    symbol is made from the recipe there. Raises SymbolError, in plain words, for a symbol that cannot be used.

    >>> import msgspec
    >>> from roundhand.stitches import read_recipe
    >>> tall = msgspec.structs.replace(dictionary()["double"], id="tall", recipe=read_recipe("yo x 2, insert, \
draw up, pull through 2 x 3"))
    >>> symbol(tall, dictionary()).count("slash"), symbol(tall, dictionary()).evidence
    (2, 'ours')
    """
    box = box_of(stitch)
    if not stitch.symbol or known.get(stitch.id) != stitch:
        return Symbol(box, by_rule(stitch, _Strokes(known)), "ours", "ours, made from the recipe by rule")
    if stitch.symbol == _BY_RULE:
        return Symbol(box, by_rule(stitch, _Strokes(known)), stitch.symbol_evidence, stitch.symbol_source)
    if stitch.symbol[0].startswith(_AS):
        other = symbol(_other(stitch, known), known)
        return Symbol(box, other.strokes, stitch.symbol_evidence, stitch.symbol_source)
    return Symbol(box, read_strokes(stitch.symbol), stitch.symbol_evidence, stitch.symbol_source)


def turning_chain() -> Symbol:
    """The symbol of a turning chain, however long it is: ovals that stand upright, one on the other. Published lists
    show it so; a chart that stands for any number draws two.

    >>> turning_chain().count("chain"), turning_chain().evidence
    (2, 'found')
    """
    chain = symbol_of("chain")
    half = Fraction(9, 20)
    strokes = tuple(Stroke("chain", ((Fraction(0), half * (2 * at + 1)), (half, half / 2)), 90) for at in range(2))
    return Symbol(Box(Fraction(1), Fraction(0), 4 * half), strokes, chain.evidence, chain.source)


def prove_symbol(stitch: Stitch, known: Mapping[str, Stitch]) -> None:
    """Raises SymbolError where the symbol of a stitch's file has an unknown stroke, leaves its box, or does not have
    the slashes and legs that the recipe gives."""
    if stitch.symbol in ((), _BY_RULE):
        return
    found = symbol(stitch, known)
    said = shape(stitch.recipe)
    legs = 0 if said.slipped and len(said.legs) == 1 else len(said.legs)
    lines = stitch.symbol if len(stitch.symbol) == len(found.strokes) else stitch.symbol * len(found.strokes)
    prove(lines, found.strokes, found.box, said.slashes, legs)


def _other(stitch: Stitch, known: Mapping[str, Stitch]) -> Stitch:
    id = stitch.symbol[0].removeprefix(_AS)
    if id not in known:
        raise SymbolError(f'no file holds "{id}", whose symbol it is said to have')
    other = known[id]
    if id == stitch.id or any(line.startswith(_AS) for line in other.symbol):
        raise SymbolError(f'"{id}" has no symbol of its own to be drawn as')
    return other


class _Strokes(Mapping[str, tuple[Stroke, ...]]):
    """The strokes of the known stitches by their ids, drawn when they are asked for."""

    def __init__(self, known: Mapping[str, Stitch]) -> None:
        self._known = known

    def __getitem__(self, id: str) -> tuple[Stroke, ...]:
        return symbol(self._known[id], self._known).strokes

    def __iter__(self) -> Iterator[str]:
        return iter(self._known)

    def __len__(self) -> int:
        return len(self._known)
