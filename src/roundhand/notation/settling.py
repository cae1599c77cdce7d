"""Movements as words name them, settled to a recipe: which yarn over belongs to which loop, what "all loops" are."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from roundhand.stitches import Operation, closes, loops, needed_to_close

# What a pull-through takes where the words say "all loops".
ALL = 0
# Acts that stand between the words and the recipe: a yarn over that may be part of the next movement, the same
# pull-through again until few loops are left, `through the loop on the hook`, and places passed over.
YARN, UNTIL, THROUGH_LAST, SKIP = "yarn", "until", "through the last", "skip"
NEXT_ONE = "+"
# Drawn through nothing that is named: with one loop on the hook and nothing entered it is a chain.
NOWHERE = "nowhere"
# Places of their own that stand over a stitch of the row below, each over one.
_OVER_ONE = ("front loop of next", "front loop of following", "back loop of next", "post from", "n rows below", "next ")
# No words come near it.
_MOST_MOVES = 1000


class Move(NamedTuple):
    """One movement as it was said: `loops` and `where` as in a recipe, or how many places are passed over."""

    act: str
    loops: int = 1
    where: str = ""


class Movements(NamedTuple):
    """What words say that the hook does.

    `uses` is how many places of the row below are gone past. `lacking` is what the last pull-through would take for
    the recipe to close: None where it closes, 0 where no number would do. `hook` is false where the words name whole
    stitches and no movement of the hook.
    """

    recipe: tuple[Operation, ...]
    uses: int
    lacking: int | None
    hook: bool


def settle(moves: Sequence[Move], hook: bool, one_place: bool = False) -> Movements:
    """The recipe that the moves come to; `one_place` puts all of it into a single place whatever the words say.

    >>> said = [Move("yarn"), Move("insert"), Move("yarn"), Move("draw up"), Move("yarn"), Move("pull through", ALL)]
    >>> [one.act for one in settle(said, True).recipe], settle(said, True).recipe[-1].loops
    (['yarn over', 'insert', 'draw up', 'pull through'], 3)
    """
    recipe: list[Operation] = []
    places = _Places(one_place)
    count, pending, inserted = 1, 0, False
    for move in moves:
        if len(recipe) > _MOST_MOVES:
            break
        if move.act == YARN:
            pending += 1
            continue
        if move.act == SKIP:
            places.passed += move.loops
            continue
        place, _, how = move.where.partition("|") if move.act == "draw up" else ("", "", "")
        tall = how == "tall" and not place and not recipe
        chained = move.act == "draw up" and not inserted and count == 1 and (place == NOWHERE or tall)
        off_hook = move.act in ("pull through", "slip through", THROUGH_LAST, UNTIL)
        drawn = off_hook or chained or (move.act == "draw up" and inserted)
        real = max(0, pending - 1) if drawn else pending
        count += real
        recipe += [Operation("yarn over")] * real
        wrapped, pending = pending > 0, 0
        if move.act == "insert":
            recipe.append(Operation("insert", 1, places.of(move.where)))
            inserted = True
        elif chained:
            recipe.append(Operation("pull through", 1, how if tall else ""))
        elif move.act == "draw up":
            if not inserted:
                recipe.append(Operation("insert", 1, places.of("" if place == NOWHERE else place)))
            recipe.append(Operation("draw up", 1, how))
            inserted = False
            count += 1
        elif move.act == UNTIL:
            while count > int(move.where) and count > 1:
                recipe.append(Operation("pull through", min(move.loops, count)))
                count -= min(move.loops, count) - 1
                if move.loops < 2:
                    break
        elif move.act == THROUGH_LAST and recipe and recipe[-1].act == "draw up" and not wrapped:
            recipe.append(Operation("slip through", 1))
            count -= 1
        elif move.act in ("pull through", THROUGH_LAST):
            number = move.loops if move.act == "pull through" and move.loops != ALL else max(count, 1)
            recipe.append(Operation("pull through", number, move.where if move.act == "pull through" else ""))
            count -= number - 1
            inserted = False
        else:
            recipe.append(Operation(move.act, move.loops, move.where))
            count += loops(recipe[-1:])[0] - 1
    recipe += [Operation("yarn over")] * pending
    done = tuple(recipe)
    lacking = None if not done or closes(done) else (needed_to_close(done) or 0)
    return Movements(done, places.used, lacking, hook)


class _Places:
    """The places that insertions go into: a new one, or the one before."""

    def __init__(self, one_place: bool) -> None:
        self.one_place = one_place
        self.used = 0
        self.passed = 0
        self.seen: set[str] = set()

    def of(self, said: str) -> str:
        """What the recipe says of an insertion whose words say `next`, `same`, a place of its own, or nothing. A place
        of its own that is said to be a next one has a plus in front."""
        onward = said.startswith(NEXT_ONE)
        said = said.removeprefix(NEXT_ONE)
        if said not in ("", "next", "same"):
            if said.startswith(_OVER_ONE) and (onward or said not in self.seen):
                self._pass()
            self.seen.add(said)
            return said
        begun, new = bool(self.seen), self.used == 0
        self.seen.add("same")
        if said == "same" and begun:
            return "same"
        if new or (said == "next" and not self.one_place):
            self._pass()
            return ""
        return "same"

    def _pass(self) -> None:
        self.used += 1 + self.passed
        self.passed = 0
