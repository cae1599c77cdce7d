"""Chains whose number a page leaves to the maker, `ch a multiple of 6 + 4`, or never says: worked here on one of them.

Which one, the rows tell: the first that is long enough for a few groups and on which the rows come out as they are
written. Where none does, any is as good as another, and what does not come out is said of its row.
"""

from __future__ import annotations

from collections.abc import Sequence

from roundhand.findings import Finding, Span
from roundhand.notation.tree import Work
from roundhand.tally.model import Offer
from roundhand.tally.section import Instance
from roundhand.tally.standing import Usual, closing
from roundhand.tally.working import Bench

# No shorter chain shows what a repeat does, and a longer one shows no more.
_SHORTEST = 20
_MOST_TRIED = 48
# The tallest stitch leaves fewer chains than this in front of it.
_MOST_SKIPPED = 12


def chain_for(multiple: tuple[int, ...], bench: Bench, usual: Usual, rows: Sequence[Instance], size: int) -> int:
    """The chain of a multiple that the rows come out on, or the shortest that is worth working on."""
    by, plus = multiple or (1, 0)
    first = max(0, -(-(_SHORTEST - plus) // by))
    lengths = [by * times + plus for times in range(first, first + _MOST_TRIED)]
    told = _told(rows, size)
    if told:
        # A count that is written tells how long the chain is.
        near = [by * times + plus for times in range(1, told + _MOST_SKIPPED)]
        lengths = [length for length in near if told <= length <= told + _MOST_SKIPPED] + lengths
    best, most = lengths[0], -len(rows) - 1
    for length in lengths:
        score = _score(bench, usual, rows, size, length)
        if score > most:
            best, most = length, score
    return best


def _score(bench: Bench, usual: Usual, rows: Sequence[Instance], size: int, length: int) -> int:
    """How many of the rows come out as written on a chain of this length."""
    body = rows[0].bodies[size] if rows else None
    if body is None:
        return 0
    offer = Offer("chain", length)
    worked = bench.work(body, offer, size, "", usual(rows[0]), 0)
    if worked is None or worked.lacking or worked.left_over:
        return -len(rows)
    told = _told(rows, size)
    return closing(bench, usual, rows[1:], worked.offer, size, "", 1, None) + (told == worked.count)


def _told(rows: Sequence[Instance], size: int) -> int:
    """The count that is written for the first row, 0 where none is."""
    first = rows[0].stated if rows else None
    return (first.counts[0][0].at(size) or 0) if first is not None and first.counts else 0


def is_without_chain(row: Instance, size: int) -> bool:
    """Whether a row goes into a chain that stands nowhere: its first stitch is counted from the hook."""
    body = row.bodies[size]
    first = next((node for node in body or () if isinstance(node, Work)), None)
    return first is not None and first.into.kind == "from_hook"


def told_of(multiple: tuple[int, ...], length: int, span: Span, sizes: tuple[str, ...]) -> Finding:
    """What is said of a chain that was chosen."""
    by, plus = multiple or (1, 0)
    sum_of = f"{by} times {(length - plus) // by}" + (f" and {plus}" if plus else "")
    return Finding(
        "reading-chosen",
        "advice",
        f"counted here on a chain of {length}",
        span,
        sizes,
        because=f"no number of chains is said; {length} is {sum_of}" if by > 1 else "no number of chains is said",
        help="say a number as an example, \u201cch 34 (or any multiple of 6 + 4)\u201d, and every count can be given",
        facts={"kind": "open chain", "reading": str(length), "evidence": "rows"},
        label="how many is left open",
    )
