"""Rows worked once and known again: the same words from the same places in the same reading come to the same."""

from __future__ import annotations

from collections.abc import Mapping

from roundhand.notation.tree import Chain, Evenly, Node, Pattern, Times, Work
from roundhand.tally.entering import entered
from roundhand.tally.hand import Hand
from roundhand.tally.model import Offer, Worked
from roundhand.tally.past import Floor, reach
from roundhand.tally.readings import has_lists, said_of_hook
from roundhand.tally.repeating import Steps

Body = tuple[Node, ...]
_Key = tuple[int, Offer, str, int, int, int, tuple[tuple[int, str], ...]]
# Deeper than this no stitch is worked, so rows further up need not be told apart.
_DEEPEST = 20


class Bench:
    """Works rows of one pattern and remembers them. `too_long` is true where the last row went beyond the limits."""

    def __init__(self, pattern: Pattern, rules: Mapping[int, bool]) -> None:
        self.definitions = pattern.definitions
        self.said: dict[int, str] = {}
        for number in range(1, 9):
            rule = rules.get(number, rules.get(0))
            if rule is not None:
                # What the notes say of turning chains stands under -2 less the number of chains.
                self.said[-2 - number] = "counts" if rule else "does not count"
        self.too_long = False
        self.steps = Steps()
        self._known: dict[_Key, tuple[Worked | None, bool]] = {}
        self._listed: dict[int, bool] = {}
        self._reach: dict[int, str] = {}
        self._kept: list[Body | Floor] = []

    def work(
        self,
        body: Body,
        offer: Offer,
        size: int,
        colour: str,
        readings: Mapping[int, str],
        depth: int,
        past: Floor | None = None,
    ) -> Worked | None:
        """One row in one size; None where a number is missing there, or the row is endlessly long.

        `past` are the rows below; they matter only where the words of the row come back to them."""
        listed = self._listed.get(id(body))
        if listed is None:
            listed = has_lists(body)
            self._listed[id(body)] = listed
            self._reach[id(body)] = reach(body)
            # The body is kept so that its id stays its own.
            self._kept.append(body)
        seen, lower = 0, None
        if past is not None and (far := self._reach[id(body)]):
            lower = past
            seen = id(past) if far == "far" else id(past.nodes)
        key = (id(body), offer, colour, size if listed else -1, min(depth, _DEEPEST), seen, tuple(readings.items()))
        known = self._known.get(key)
        if known is None:
            if lower is not None:
                # Kept like the body, so that its id stays its own.
                self._kept.append(lower)
            known = self._worked(body, offer, size, colour, readings, depth, lower)
            self._known[key] = known
        self.too_long = known[1]
        return known[0]

    def _worked(
        self,
        body: Body,
        offer: Offer,
        size: int,
        colour: str,
        readings: Mapping[int, str],
        depth: int,
        past: Floor | None,
    ) -> tuple[Worked | None, bool]:
        nodes = body
        if offer.kind == "chain" and works_from_hook(body):
            # A foundation chain made in the row itself is what the row is worked into.
            first = next((node for node in body if isinstance(node, Work | Times | Evenly) or climbs(node)), None)
            if isinstance(first, Chain) and offer.total == first.amount.at(size):
                nodes = tuple(node for node in body if node is not first)
        hook = said_of_hook(body)
        known = {**self.said, **hook, **readings} if hook or readings else self.said
        offer = entered(offer, body, readings)
        hand = Hand(offer, size, colour, known, self.definitions, depth, steps=self.steps)
        hand.past = past
        return hand.work(nodes), hand.too_long


def climbs(node: Node) -> bool:
    """Whether a node makes chains; an aside on skipped chains makes none."""
    return isinstance(node, Chain) and node.amount.values != (0,)


def works_from_hook(body: Body) -> bool:
    """Whether a row begins in a chain counted from the hook."""
    return any(isinstance(node, Work) and node.into.kind == "from_hook" for node in body)
