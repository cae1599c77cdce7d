"""Where a size stands while its piece is worked, and what the next row is worked from after a row that went wrong."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import msgspec

from roundhand.notation.tree import Node, Ring, Times, Work
from roundhand.tally.edges import Edges
from roundhand.tally.held import Held
from roundhand.tally.model import Block, Offer, Run, Worked
from roundhand.tally.past import Floor
from roundhand.tally.section import Instance
from roundhand.tally.working import Bench

_LOOK_AHEAD = 8
# Rows without a stated count say little of whether the counts close; after so many the look ahead ends.
_MOST_AHEAD = 40
NOTHING = Offer("none")

Usual = Callable[[Instance], dict[int, str]]


class Standing(msgspec.Struct):
    """What lies below the next row of one size, the colour on the hook, how many rows the piece has, and those rows."""

    offer: Offer = NOTHING
    colour: str = ""
    depth: int = 0
    foundation: Offer = NOTHING
    worked: int = 0
    held: list[Held] = msgspec.field(default_factory=list)
    rejoined: bool = False
    past: Floor | None = None
    edges: Edges = Edges()
    edging: bool = False

    def begin(self, offer: Offer) -> None:
        """Something new is begun: a chain, a ring."""
        self.offer = offer
        self.depth = 0
        self.edges = self.edges.anew()
        self.edging = False

    def go_along(self, offer: Offer) -> None:
        """Stitches along an edge of what is there: it keeps its edges, and what is worked now adds none."""
        self.offer = offer
        self.depth = 0
        self.edging = True

    def go_on(self, row: Instance, size: int, result: Worked | None, stated: int | None, stands: str) -> None:
        """Moves on to what the next row is worked from."""
        self.depth += 1
        self.past = laid_on(self.past, row, size, self.offer, result)
        if not self.edging:
            if self.offer.kind == "chain" and result is not None:
                self.edges = msgspec.structs.replace(self.edges, foundation=result.used + result.chain_counted)
            elif result is not None and _makes_foundation(result.made):
                # Stitches that make their own chain as they go.
                self.edges = msgspec.structs.replace(self.edges, foundation=result.count)
            elif self.offer.kind == "ring" and self.offer.total:
                # A chain joined in a ring has another side as well.
                self.edges = msgspec.structs.replace(self.edges, foundation=self.offer.total)
            main = result.offer.main if result is not None else self.offer.main
            self.edges = self.edges.with_row(main, row.kind == "row")
        if result is None:
            self.offer = Offer("row", stated, peaks=True) if stated is not None else self.offer
            return
        self.colour = result.colour or self.colour
        self.offer = result.offer
        if not self.edging:
            self.edges = msgspec.structs.replace(self.edges, top=result.offer)
        if stands == "stated" and stated is not None:
            self.offer = as_stated(stated, result.offer)
        elif stated is not None:
            self.offer = msgspec.structs.replace(self.offer, open=False)


def _makes_foundation(made: tuple[Run | Block, ...]) -> bool:
    for run in made:
        if isinstance(run, Block):
            if _makes_foundation(run.runs):
                return True
        elif run.stitch.startswith("foundation_"):
            return True
    return False


def laid_on(past: Floor | None, row: Instance, size: int, offer: Offer, result: Worked | None) -> Floor | None:
    """The rows below with one more on top; a row that could not be worked is left out."""
    body = row.bodies[size]
    if result is None or body is None:
        return past
    return Floor(row.labels[size], row.kind, body, result.base or offer, result, past)


def as_stated(stated: int, offer: Offer) -> Offer:
    """What a row offers if it came out as stated: so many stitches, of the same kind."""
    return Offer("row", stated, b"", 0, offer.main, offer.turning, offer.turning_counts, peaks=True)


def stands_on(
    bench: Bench,
    usual: Usual,
    row: Instance,
    following: Sequence[Instance],
    place: Standing,
    size: int,
    result: Worked | None,
    stated: int | None,
) -> str:
    """`worked` or `stated`: whichever lets more of the next eight stated rows close; worked where neither does."""
    if result is None:
        return "stated" if stated is not None else "worked"
    if stated is None or stated == result.count:
        return "worked"
    if row.stated is not None and not row.last[size]:
        return "worked"
    depth = place.depth + 1
    past = laid_on(place.past, row, size, place.offer, result)
    by_worked = closing(bench, usual, following, result.offer, size, result.colour, depth, past)
    by_stated = closing(bench, usual, following, as_stated(stated, result.offer), size, result.colour, depth, past)
    return "stated" if by_stated > by_worked else "worked"


def closing(
    bench: Bench,
    usual: Usual,
    following: Sequence[Instance],
    offer: Offer,
    size: int,
    colour: str,
    depth: int,
    past: Floor | None,
) -> int:
    """How many of the next eight stated rows come out as stated when they are worked from an offer."""
    closed = seen = 0
    for row in following[:_MOST_AHEAD]:
        body = row.bodies[size]
        if body is None or row.labels[size] is None:
            continue
        if offer.kind == "none" or restarts(body):
            break
        want = row.stated.counts[0][0].at(size) if row.stated is not None and len(row.stated.counts) == 1 else None
        worked = bench.work(body, offer, size, colour, usual(row), depth, past, None, want)
        if worked is None:
            break
        past = laid_on(past, row, size, offer, worked)
        if want is not None and row.last[size]:
            seen += 1
            closed += worked.count == want and not worked.left_over and not worked.lacking and not worked.left
            if seen >= _LOOK_AHEAD:
                break
        elif worked.left_over or worked.lacking or rest_of_groups(worked, offer):
            closed -= 1
        offer = worked.offer
        depth += 1
    return closed


def rest_of_groups(worked: Worked, offer: Offer) -> int:
    """How many stitches "in every 6th st" leaves plain behind its last group: right, but seldom what was meant."""
    for segment in worked.segments:
        if isinstance(segment.node, Times) and segment.node.every and segment.each_uses > 1:
            return offer.total % segment.each_uses
    return 0


def restarts(body: tuple[Node, ...]) -> bool:
    """Whether a row begins anew, in a ring or a chain."""
    return any(
        isinstance(node, Ring) or (isinstance(node, Work) and node.into.kind in ("ring", "from_hook")) for node in body
    )
