"""A row worked again with one of its numbers exchanged, and what the rows after it make of the outcome."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from roundhand.notation.tree import Chain, Evenly, Node, Pattern, RowLine, Times, Work
from roundhand.tally import Offer, PieceTally, RowTally, Worked
from roundhand.tally.entering import entered
from roundhand.tally.hand import Hand
from roundhand.tally.lost_stars import with_star
from roundhand.tally.readings import chain_rules, said_of_hook
from roundhand.tally.standing import restarts
from roundhand.tally.working import climbs, works_from_hook

# So many rows with a stated count are asked what they make of a mend, and so many rows are looked at for that.
_STATED_AHEAD = 3
_ROWS_AHEAD = 6
_ANY_DEPTH = 99


class Outcome(msgspec.Struct, frozen=True):
    """What came of a row in one size: whether its places and its count come out, and how many of the statements that
    were asked, its own and those of the rows after it, agree."""

    comes_out: bool
    met: int
    asked: int
    count: int | None


_FAILED = Outcome(False, 0, 1, None)


class Exchanger:
    """Works the rows of a pattern with other numbers. `numbers` are by the offset at which the amount begins."""

    def __init__(self, pattern: Pattern) -> None:
        self._definitions = pattern.definitions
        lines = [line for part in pattern.parts for line in part.lines if isinstance(line, RowLine)]
        rules = chain_rules(lines, pattern.count_notes)
        said = {number: rules.get(number, rules.get(0)) for number in range(1, 9)}
        self._said = {
            -2 - number: "counts" if rule else "does not count" for number, rule in said.items() if rule is not None
        }

    def outcome(
        self,
        piece: PieceTally,
        at: int,
        size: int,
        numbers: Mapping[int, int],
        chain: int | None = None,
        stated: int | None = None,
    ) -> Outcome:
        """The row at a position of its piece in one size, with other numbers, another foundation chain below it or
        another stated count."""
        row = piece.rows[at]
        offer, want = row.below[size], stated if stated is not None else row.stated[size]
        if offer is None:
            return _FAILED
        if chain is not None:
            offer = msgspec.structs.replace(offer, total=chain)
        worked = self._work(row, size, offer, numbers)
        if (
            worked is None
            or worked.lacking
            or worked.left_over
            or (worked.left and not worked.leaves)
            or worked.missing
        ):
            return _FAILED
        if want is not None and worked.count != want:
            return _FAILED
        met, asked = self._after(piece, at, size, worked.offer, numbers)
        own = 1 if want is None else 2
        return Outcome(True, met + own, asked + own, worked.count)

    def as_it_is(self, piece: PieceTally, at: int, size: int) -> Worked | None:
        """The row with the numbers it has; None where it cannot be worked by itself as the tally worked it."""
        row = piece.rows[at]
        offer, result = row.below[size], row.results[size]
        if offer is None or result is None:
            return None
        worked = self._work(row, size, offer, {})
        same = worked is not None and (worked.count, worked.used, worked.left) == (
            result.count,
            result.used,
            result.left,
        )
        return worked if same else None

    def counted(self, piece: PieceTally, at: int, size: int, numbers: Mapping[int, int]) -> tuple[int, int] | None:
        """What the row makes, and how many places it uses or asks for, whether or not it comes out."""
        row = piece.rows[at]
        offer = row.below[size]
        worked = self._work(row, size, offer, numbers) if offer is not None else None
        return (worked.count, worked.used + worked.lacking) if worked is not None else None

    def _after(
        self, piece: PieceTally, at: int, size: int, offer: Offer, numbers: Mapping[int, int]
    ) -> tuple[int, int]:
        """How many of the next rows agree with an outcome, and how many were asked."""
        met = asked = seen = 0
        for row in piece.rows[at + 1 : at + 1 + _ROWS_AHEAD]:
            body, below = row.nodes[size], row.below[size]
            if row.results[size] is None:
                continue
            if body is None or below is None or below.kind != "row" or restarts(body) or any(row.rejoined):
                break
            worked = self._work(row, size, offer, numbers)
            if worked is None:
                break
            want = row.stated[size]
            closes = not worked.lacking and not worked.left_over
            if want is not None:
                asked += 1
                seen += 1
                met += closes and worked.count == want
            elif not closes:
                asked += 1
            if seen >= _STATED_AHEAD:
                break
            offer = worked.offer
        return met, asked

    def _work(self, row: RowTally, size: int, offer: Offer, numbers: Mapping[int, int]) -> Worked | None:
        body = row.nodes[size]
        if body is None:
            return None
        chosen = {one.choice.key: one.reading for one in row.chosen}
        nodes = body = with_star(body, chosen)
        if offer.kind == "chain" and works_from_hook(body):
            nodes = _without_foundation(body, offer, size)
        readings = {**self._said, **said_of_hook(body), **chosen}
        offer = entered(offer, body, chosen)
        return Hand(offer, size, "", readings, self._definitions, _ANY_DEPTH, numbers).work(nodes)


def _without_foundation(body: tuple[Node, ...], offer: Offer, size: int) -> tuple[Node, ...]:
    """A foundation chain made in the row itself is what the row is worked into."""
    first = next((node for node in body if isinstance(node, Work | Times | Evenly) or climbs(node)), None)
    if isinstance(first, Chain) and offer.total == first.amount.at(size):
        return tuple(node for node in body if node is not first)
    return body
