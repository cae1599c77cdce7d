"""Rows that say the same in other places of the text: what is worked once is moved there, and not worked again."""

from __future__ import annotations

from collections.abc import Hashable, Mapping

import msgspec

from roundhand.notation.moving import moved
from roundhand.notation.tree import Definition, Node
from roundhand.tally.entering import CHAINS, LEFT
from roundhand.tally.model import Worked
from roundhand.tally.past import reach
from roundhand.tally.readings import BARE, BEFORE, has_lists
from roundhand.tally.speaking import says_depth, speaks_of_edges

Body = tuple[Node, ...]
Outcome = tuple[Worked | None, bool]

# Readings that hold for a whole row are known by these keys; others by the place of their words.
_OF_ROW = frozenset((BARE, BEFORE, LEFT, CHAINS))


class Shape(msgspec.Struct, frozen=True):
    """What rows of the same words have in common: a number of their own, whether any of theirs differs by size, whether
    they speak of edges or go down into rows below, and how far they look for their places."""

    number: int
    listed: bool
    edged: bool
    reach: str
    deep: bool


class AlikeRows:
    """What rows have come to, by what they say and not by where they say it: those of the pattern that is being
    counted, and of the pattern counted before."""

    def __init__(self) -> None:
        self._context: Hashable = None
        self._last = 0
        self._definitions: Mapping[str, Definition] = {}
        self._shapes: dict[Body, Shape] = {}
        self._shapes_before: dict[Body, Shape] = {}
        self._outcomes: dict[Hashable, tuple[Body, Outcome]] = {}
        self._outcomes_before: dict[Hashable, tuple[Body, Outcome]] = {}
        # The same by shape and place: above the place where somebody types nothing moves.
        self._placed: dict[Hashable, Outcome] = {}
        self._placed_before: dict[Hashable, Outcome] = {}

    def begin(self, definitions: Mapping[str, Definition], said: Mapping[int, str]) -> None:
        """Begins a pattern. Rows of the one before are of use where its stitches are defined in the same words, and
        its notes say the same of turning chains."""
        context = (tuple((name, moved(one, -one.span.start)) for name, one in definitions.items()), tuple(said.items()))
        same = context == self._context
        self._context = context
        self._definitions = definitions
        self._shapes_before, self._shapes = (self._shapes if same else {}), {}
        self._outcomes_before, self._outcomes = (self._outcomes if same else {}), {}
        self._placed_before, self._placed = (self._placed if same else {}), {}

    def shape(self, body: Body) -> Shape:
        """What a row says, which is the same wherever it says so."""
        words = moved(body, -start_of(body))
        shape = self._shapes.get(words)
        if shape is None:
            shape = self._shapes_before.get(words)
            if shape is None:
                self._last += 1
                deep = says_depth(body, self._definitions)
                shape = Shape(self._last, has_lists(body), speaks_of_edges(body), reach(body), deep)
            self._shapes[words] = shape
        return shape

    def find(self, key: Hashable, body: Body) -> Outcome | None:
        """What a row comes to, if one of the same shape was worked before."""
        found = self._outcomes.get(key)
        if found is None:
            found = self._outcomes_before.get(key)
            if found is None:
                return None
            self._outcomes[key] = found
        place = (key, start_of(body))
        outcome = self._placed.get(place) or self._placed_before.get(place)
        if outcome is None:
            there, outcome = found
            by = place[1] - start_of(there)
            if by:
                outcome = _moved_to(body, there, outcome[0], by), outcome[1]
        self._placed[place] = outcome
        return outcome

    def keep(self, key: Hashable, body: Body, outcome: Outcome) -> None:
        """Keeps what a row has come to."""
        self._outcomes[key] = body, outcome
        self._placed[key, start_of(body)] = outcome


def start_of(body: Body) -> int:
    """Where the words of a row begin."""
    return body[0].span.start if body else 0


def _moved_to(body: Body, there: Body, worked: Worked | None, by: int) -> Worked | None:
    """What a row has come to, with its places in a row that says the same. The phrases are those of that row."""
    if worked is None:
        return None
    nodes = {id(old): new for old, new in zip(there, body, strict=True)}
    segments = tuple(
        msgspec.structs.replace(one, node=nodes[id(one.node)], span=nodes[id(one.node)].span)
        if id(one.node) in nodes
        else moved(one, by)
        for one in worked.segments
    )
    return msgspec.structs.replace(moved(msgspec.structs.replace(worked, segments=()), by), segments=segments)


def said_from(readings: Mapping[int, str], start: int) -> tuple[tuple[int, str], ...] | None:
    """Readings by the place of their words in a row that begins at `start`; None where a reading is known otherwise.

    >>> said_from({BARE: "all in one", 120: "counts"}, 100)
    ((-1000, 'all in one'), (20, 'counts'))
    """
    if not readings:
        return ()
    found = []
    for key, reading in readings.items():
        if key < 0 and (key not in _OF_ROW or reading == "cut"):
            return None
        found.append((key - start if key >= 0 else key, reading))
    return tuple(found)
