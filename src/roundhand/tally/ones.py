"""A single chain at the start of a row that counts as a stitch, against usage: `Ch 1, sc in next 11 sts. (12)`.

By usage one chain only climbs, so a count that is one off is a slip more often than a sign. It is read as a stitch only
where a count asks for it, no other row of the pattern speaks against it, and more than one number speaks for it: a
second row, the stitches of the row below, which then all are worked into, or a round that is joined to the chain.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence

import msgspec

from roundhand.notation.tree import Chain, Evenly, Join, Node, Ring, Skip, Times, Work
from roundhand.tally.model import Choice, Offer
from roundhand.tally.section import Instance
from roundhand.tally.standing import Standing

KIND = "chain of one"
_NO, _YES = "does not count", "counts"
_Counts = tuple[int | None, ...]
# So many rows are asked whether they speak against it.
_MOST_ASKED = 40
# More than one number has to speak for a chain that counts.
_ENOUGH = 2


def choice_of_one(
    nodes: tuple[Node, ...], below: Iterable[Offer], rules: Mapping[int, bool], before: int
) -> Choice | None:
    """The choice that a silent chain of one leaves at the start of a row; None where there is none, or where the words
    say that it is no stitch: a note, a round joined to the first stitch.

    `before` is the key of a chain that was made at the end of the row below."""
    if 1 in rules or 0 in rules:
        return None
    ring = next((at for at, node in enumerate(nodes) if isinstance(node, Ring)), -1)
    rest = nodes[ring + 1 :]
    leading = next((node for node in rest if isinstance(node, Work | Times | Chain | Evenly | Skip)), None)
    first = next((node for node in rest if isinstance(node, Work | Times | Evenly | Skip)), None)
    if leading is None or first is None or any(_forbids(node) for node in rest):
        return None
    if isinstance(leading, Chain):
        own = leading.counts is None and leading.amount.values == (1,)
        return Choice(KIND, leading.span, (_NO, _YES), leading.span.start, True) if own else None
    made = any(offer.turning == 1 and offer.turning_counts is None for offer in below)
    return Choice(KIND, first.span, (_NO, _YES), before, True) if made else None


def _forbids(node: Node) -> bool:
    if isinstance(node, Join):
        return node.target == "stitch"
    return isinstance(node, Work) and node.into.kind == "from_hook"


class _Asked(msgspec.Struct, frozen=True):
    """A row whose count comes out while its chain is no stitch."""

    row: Instance
    places: tuple[Standing, ...]
    readings: dict[int, str]
    stated: _Counts


class Ones:
    """What the rows of a pattern say of chains of one, gathered in the first walk over it."""

    def __init__(self) -> None:
        self.counts = False
        self.settled = False
        self._for = 0
        self._asked: list[_Asked] = []

    @property
    def open(self) -> bool:
        """Whether a row may still be read so that its chain counts."""
        return self.counts or not self.settled

    def speaks_for(self, nodes: tuple[Node, ...], closes: bool) -> None:
        """A count comes out only if the chain counts; `closes` where the row below comes out by that as well."""
        joined = any(isinstance(node, Join) and node.target == "chain" for node in nodes)
        self._for += _ENOUGH if closes or joined else 1

    def asks(
        self, row: Instance, places: Sequence[Standing], readings: Mapping[int, str], choice: Choice, stated: _Counts
    ) -> None:
        """A row to be asked later whether it would come out as well if its chain counted."""
        if not self.settled and len(self._asked) < _MOST_ASKED:
            kept = tuple(msgspec.structs.replace(place) for place in places)
            self._asked.append(_Asked(row, kept, {**readings, choice.key: _YES}, stated))

    def settle(self, work: Callable[[Instance, Sequence[Standing], dict[int, str]], _Counts]) -> bool:
        """Whether chains of one count; true where any row was read so, and the pattern has to be walked again."""
        found = self._for > 0
        self.settled = True
        self.counts = self._for >= _ENOUGH and not any(
            one.stated != _said(work(one.row, one.places, one.readings), one.stated) for one in self._asked
        )
        self._asked = []
        return found


def _said(made: _Counts, stated: _Counts) -> _Counts:
    """The counts made, in the sizes of which a count is stated."""
    return tuple(value if want is not None else None for value, want in zip(made, stated, strict=True))
