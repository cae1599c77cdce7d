"""What a piece comes to: stitches by kind and colour, rounds, repeats, row ends, seams, climbs and ends of yarn.

All of it is read off a tally; nothing is worked again. Numbers are per size, in the order of the pattern's sizes.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

import msgspec

from roundhand.notation.tree import Join
from roundhand.tally.model import Block, PieceTally, RowTally, Run, Tally, Worked, totals
from roundhand.tally.strands import strands

# By kind of stitch and colour.
Kinds = Mapping[tuple[str, str], int]


class Ledger(msgspec.Struct, frozen=True):
    """What a pattern comes to in one size.

    `stitches` are those that count, by kind and colour; `chains` are foundation chains, `joins` the slip stitches that
    close rounds, `seams` the slip stitches of seams. `rows` and `rounds` are how many there are, `rounds_in` the rounds
    by the colours used in them. `row_ends` is how many row ends were worked along, `skipped` how many of them without a
    stitch. `climbs` counts for each colour how often it is taken up again after it was left resting without being cut;
    `ends` counts the ends of yarn to weave in, two for every strand; where no yarn has a name, each piece is one.
    """

    stitches: Kinds
    chains: int
    joins: int
    seams: int
    rows: int
    rounds: int
    rounds_in: Mapping[str, int]
    row_ends: int
    skipped: int
    climbs: Mapping[str, int]
    ends: int

    @property
    def total(self) -> int:
        """All stitches that count."""
        return sum(self.stitches.values())


def ledger(tally: Tally, size: int, piece: PieceTally | None = None) -> Ledger:
    """What a whole pattern comes to in a size, by its position from 0, each piece as often as it is made; or what one
    piece comes to, made once.

    >>> from roundhand.notation import read
    >>> from roundhand.tally import count
    >>> pattern, _ = read("Cap\\n\\nRnd 1: 6 sc in a magic ring.\\nRnd 2: 2 sc in each st around. Fasten off.")
    >>> found = ledger(count(pattern)[0], 0)
    >>> found.total, found.rounds, found.ends
    (18, 2, 2)
    """
    if piece is not None:
        tally = msgspec.structs.replace(tally, pieces=(msgspec.structs.replace(piece, make=(1,)),))
    pieces = [one for one in tally.pieces for _ in range(one.made(size))]
    climbs: dict[str, int] = {}
    threads = 0
    for strand in strands(tally, size):
        times = tally.made(strand.piece, size)
        threads += times
        climbs[strand.colour] = climbs.get(strand.colour, 0) + len(strand.climbs) * times
    stitches: dict[tuple[str, str], int] = {}
    rounds_in: dict[str, int] = {}
    rows = rounds = joins = row_ends = skipped = 0
    for row, result in _worked(pieces, size):
        for key, number in counted(result).items():
            stitches[key] = stitches.get(key, 0) + number
        if row.kind == "round":
            rounds += 1
            for colour in result.colours:
                rounds_in[colour] = rounds_in.get(colour, 0) + 1
        else:
            rows += 1
        joins += any(isinstance(node, Join) for node in row.nodes[size] or ())
        if result.ends is not None:
            used, there = result.ends
            row_ends += there
            skipped += there - used
    return Ledger(
        stitches,
        _steps(pieces, size, "chain", seams=False),
        joins,
        _steps(pieces, size, "slip_stitch", seams=True),
        rows,
        rounds,
        rounds_in,
        row_ends,
        skipped,
        {colour: number for colour, number in climbs.items() if number},
        2 * (threads or sum(1 for one in pieces if one.rows)),
    )


def counted(result: Worked) -> dict[tuple[str, str], int]:
    """The stitches of a row that count, by kind and colour."""
    found: dict[tuple[str, str], int] = {}
    for run in _counting(result):
        found[run] = found.get(run, 0)
    made = totals(result.made)
    return {key: made[key] for key in found}


def _counting(result: Worked) -> Iterator[tuple[str, str]]:
    """The kinds and colours that count in a row."""
    todo: list[Run | Block] = list(reversed(result.made))
    while todo:
        one = todo.pop()
        if isinstance(one, Block):
            todo += reversed(one.runs)
        elif one.counts:
            yield one.stitch, one.colour


def _worked(pieces: Iterable[PieceTally], size: int) -> Iterator[tuple[RowTally, Worked]]:
    for piece in pieces:
        for row in piece.rows:
            result = row.results[size]
            if result is not None:
                yield row, result


def _steps(pieces: Iterable[PieceTally], size: int, stitch: str, seams: bool) -> int:
    """How many of a stitch the steps of a piece make, in its seams or apart from them."""
    number = 0
    for piece in pieces:
        for step in piece.steps:
            result = step.results[size]
            if result is not None and (step.step.act == "seam") == seams:
                number += sum(count for (kind, _), count in totals(result.made).items() if kind == stitch)
    return number


def repeats(tally: Tally) -> list[tuple[RowTally, tuple[int | None, ...]]]:
    """The rows that hold a repeat, with how often it is worked in every size (None: not in the size)."""
    found = []
    for row in tally.rows():
        times = tuple(result.repeats if result is not None else None for result in row.results)
        if any(times):
            found.append((row, times))
    return found
