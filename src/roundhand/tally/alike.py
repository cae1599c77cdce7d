"""Rows that say the same in other places of the text: what is worked once is moved there, and not worked again."""

from __future__ import annotations

from collections.abc import Hashable, Mapping

import msgspec

from roundhand.notation.moving import moved
from roundhand.notation.tree import Definition, Node
from roundhand.tally.entering import CHAINS, LEFT
from roundhand.tally.model import Worked
from roundhand.tally.readings import BARE, BEFORE

Body = tuple[Node, ...]
Outcome = tuple[Worked | None, bool]

# Readings that hold for a whole row are known by these keys; others by the place of their words.
_OF_ROW = frozenset((BARE, BEFORE, LEFT, CHAINS))


class AlikeRows:
    """What rows have come to, by what they say and not by where they say it: those of the pattern that is being
    counted, and of the pattern counted before."""

    def __init__(self) -> None:
        self._context: Hashable = None
        self._last = 0
        self._numbers: dict[Body, int] = {}
        self._numbers_before: dict[Body, int] = {}
        self._outcomes: dict[Hashable, tuple[Body, Outcome]] = {}
        self._outcomes_before: dict[Hashable, tuple[Body, Outcome]] = {}

    def begin(self, definitions: Mapping[str, Definition], said: Mapping[int, str]) -> None:
        """Begins a pattern. Rows of the one before are of use where its stitches are defined in the same words, and
        its notes say the same of turning chains."""
        context = (tuple((name, moved(one, -one.span.start)) for name, one in definitions.items()), tuple(said.items()))
        same = context == self._context
        self._context = context
        self._numbers_before, self._numbers = (self._numbers if same else {}), {}
        self._outcomes_before, self._outcomes = (self._outcomes if same else {}), {}

    def shape(self, body: Body) -> tuple[int, int]:
        """The number of what a row says, which is the same wherever it says so, and where it begins."""
        start = _start(body)
        words = moved(body, -start)
        number = self._numbers.get(words)
        if number is None:
            number = self._numbers_before.get(words)
            if number is None:
                number = self._last = self._last + 1
            self._numbers[words] = number
        return number, start

    def find(self, key: Hashable, body: Body) -> Outcome | None:
        """What a row comes to, if one of the same shape was worked before."""
        found = self._outcomes.get(key)
        if found is None:
            found = self._outcomes_before.get(key)
            if found is None:
                return None
            self._outcomes[key] = found
        there, outcome = found
        by = _start(body) - _start(there)
        return outcome if not by else (_moved_to(body, there, outcome[0], by), outcome[1])

    def keep(self, key: Hashable, body: Body, outcome: Outcome) -> None:
        """Keeps what a row has come to."""
        self._outcomes[key] = body, outcome


def _start(body: Body) -> int:
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
