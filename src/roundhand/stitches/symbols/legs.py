"""What a recipe says of the shape of a stitch: its legs, what lies across them, and how they are closed."""

from __future__ import annotations

import re
from collections.abc import Sequence

import msgspec

from roundhand.stitches.recipe import Operation, loops
from roundhand.stitches.stitch import OWN_PART

_SHARED = re.compile(r"\bwhere (?:it|last) ended\b")


class Leg(msgspec.Struct, frozen=True):
    """A leg: from one insertion up to where it is closed.

    `slashes` are the yarn overs that are worked off by themselves; `wraps` those of a leg whose yarn overs, two or
    more, are all drawn through in one go, as round a bullion. `links` are the loops drawn through bars of the stitch
    before, and `sides` those through other parts of it. `where` says in the words of the recipe where the hook goes,
    `drawn` how the loop is drawn up. `chain` is true where a chain is worked before the leg is closed; it is the
    `base` of a foundation stitch. A leg that `leans` has its new loop slipped through one of the others.
    """

    where: str = ""
    drawn: str = ""
    yarn_overs: int = 0
    slashes: int = 0
    wraps: int = 0
    links: int = 0
    sides: int = 0
    chain: bool = False
    base: bool = False
    leans: bool = False

    @property
    def same(self) -> bool:
        """Whether it stands in the place of the leg before."""
        return self.where == "same"

    @property
    def shared(self) -> bool:
        """Whether it stands where the stitch before ended."""
        return _SHARED.search(self.where) is not None


class Shape(msgspec.Struct, frozen=True):
    """The legs of a stitch and how they are closed: `eye`, a chain that a later stitch enters; `lid`, the loop of a
    popcorn, empty for none, else the side from which it is drawn through; `slipped`, without new yarn."""

    legs: tuple[Leg, ...]
    eye: bool = False
    lid: str = ""
    slipped: bool = False
    chains: int = 0

    @property
    def slashes(self) -> int:
        """All slashes of the symbol."""
        return sum(leg.slashes for leg in self.legs)


def shape(recipe: Sequence[Operation]) -> Shape:
    """The shape that a recipe gives.

    >>> from roundhand.stitches import read_recipe
    >>> [leg.slashes for leg in shape(read_recipe("yo x 2, insert, draw up, pull through 2 x 3")).legs]
    [2]
    >>> shape(read_recipe("yo, insert, draw up, pull through 3")).slashes
    0
    >>> shape(read_recipe("(yo, insert, draw up, pull through 2) x 3, pull through 4")).slashes
    3
    """
    legs: list[Leg] = []
    # What was done since the last leg and belongs to the next one.
    yarn_overs = links = sides = 0
    before = ""
    own = lid = ""
    eye = slipped = False
    chains = 0
    counts = loops(recipe)
    for one, left in zip(recipe, counts, strict=True):
        if one.act == "yarn over":
            yarn_overs += 1
        elif one.act == "insert" and OWN_PART.search(one.where):
            own = one.where
        elif one.act == "insert":
            legs.append(Leg(one.where, "", yarn_overs, links=links, sides=sides))
            yarn_overs = links = sides = 0
            own = ""
        elif one.act == "draw up" and own:
            links, sides = links + ("bar" in own.split()), sides + ("bar" not in own.split())
            own = ""
        elif one.act == "draw up" and legs:
            legs[-1] = msgspec.structs.replace(legs[-1], drawn=one.where)
        elif one.act == "pick up dropped loop":
            lid = "back" if own.endswith("from back") else "front"
        elif one.act == "pull through" and legs:
            legs[-1] = _worked_off(legs[-1], one, left, before)
            eye = eye or one.where == "as eye"
        elif one.act == "pull through":
            chains += 1
        elif one.act == "slip through" and legs:
            slipped = left == 1
            if left > 1:
                legs[-1] = msgspec.structs.replace(legs[-1], leans=True)
        before = one.act
    return Shape(tuple(_settled(leg) for leg in legs), eye, lid, slipped, chains)


def _worked_off(leg: Leg, one: Operation, left: int, before: str) -> Leg:
    """The leg after a pull-through: a chain on the loop just drawn up, or a yarn over that is worked off by itself."""
    if one.loops == 1 and before == "draw up":
        return msgspec.structs.replace(leg, chain=True, base="base" in one.where.split())
    if left > 1 and one.loops <= 2:
        return msgspec.structs.replace(leg, slashes=leg.slashes + 1)
    return leg


def _settled(leg: Leg) -> Leg:
    """A leg has no more slashes than yarn overs, or links in their place; without any, two yarn overs are wraps."""
    slashes = min(leg.slashes, leg.yarn_overs + leg.links)
    return msgspec.structs.replace(leg, slashes=slashes, wraps=leg.yarn_overs if leg.yarn_overs > 1 > slashes else 0)
