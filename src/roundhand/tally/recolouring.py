"""The colours of stitches already made, where words behind them change the yarn in one of them."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from roundhand.stitches import dictionary
from roundhand.tally.model import Block, Run


def stitches_in(made: Sequence[Run | Block]) -> int:
    """How many stitches there are in runs and repeats; chains and joins are none."""
    number = 0
    for one in made:
        if isinstance(one, Block):
            number += one.times * stitches_in(one.runs)
        elif one.counts:
            known = dictionary().get(one.stitch)
            number += one.count * (known.makes if known is not None else 1)
    return number


def recoloured(made: Sequence[Run | Block], keep: int, before: str, after: str) -> list[Run | Block]:
    """Runs with the colour `after` in place of `before` behind the first `keep` stitches.

    >>> from roundhand.findings import Span
    >>> runs = recoloured([Run("single", 9, "A", Span(0, 4))], 1, "A", "B")
    >>> [(run.count, run.colour) for run in runs]
    [(1, 'A'), (8, 'B')]
    """
    found: list[Run | Block] = []
    for one in made:
        number = stitches_in((one,))
        if keep <= 0:
            found.append(_in_colour(one, before, after))
        elif keep >= number:
            found.append(one)
        elif isinstance(one, Run):
            each = number // one.count
            whole = -(-keep // each)
            found.append(msgspec.structs.replace(one, count=whole))
            found.append(_in_colour(msgspec.structs.replace(one, count=one.count - whole), before, after))
        else:
            found += _parted(one, keep, number // one.times, before, after)
        keep -= number
    return [one for one in found if isinstance(one, Block) or one.count]


def _parted(block: Block, keep: int, each: int, before: str, after: str) -> list[Run | Block]:
    """A repeat parted at one of its runs: those before it, that run itself, and those behind it."""
    whole, rest = divmod(keep, each)
    found: list[Run | Block] = []
    if whole:
        found.append(msgspec.structs.replace(block, times=whole))
    behind = block.times - whole
    if rest:
        runs = tuple(recoloured(block.runs, rest, before, after))
        found.append(msgspec.structs.replace(block, times=1, runs=runs))
        behind -= 1
    if behind:
        found.append(_in_colour(msgspec.structs.replace(block, times=behind), before, after))
    return found


def _in_colour(one: Run | Block, before: str, after: str) -> Run | Block:
    if isinstance(one, Block):
        return msgspec.structs.replace(one, runs=tuple(_in_colour(run, before, after) for run in one.runs))
    return msgspec.structs.replace(one, colour=after) if one.colour == before else one
