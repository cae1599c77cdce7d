"""How a stitch is worked, in words that read well aloud, made from its recipe; `read_movements` reads them back.

The words are those of the room of terms, so that the same recipe is told in the terms of a pattern.
"""

from __future__ import annotations

from collections.abc import Sequence

from roundhand.stitches import Operation, dictionary, loops
from roundhand.terms import vocabulary

# Stitches that an explanation may name instead of telling their movements, the highest first.
_PLAIN = ("triple_treble", "double_treble", "treble", "double", "half_double", "single")


def explain(recipe: Sequence[Operation], language: str) -> str:
    """The movements of a recipe as a sentence in the terms of a language, with the loops that lie on the hook.

    Raises KeyError where no words are packaged for the language.

    >>> explain(dictionary()["single"].recipe, "US")
    'Insert the hook in the stitch, draw up a loop (2 loops on the hook), yarn over, draw through both loops.'
    >>> explain(dictionary()["half_double"].recipe, "UK").partition(",")[0]
    'Yarn round hook'
    """
    words = _Teller(language, recipe).clauses()
    first = 1 if words.startswith("(") else 0
    return f"{words[:first]}{words[first].upper()}{words[first + 1 :]}." if words else ""


class _Teller:
    """Tells one recipe. `counts` are the loops on the hook after each of its movements."""

    def __init__(self, language: str, recipe: Sequence[Operation]) -> None:
        words = vocabulary(language)
        self.says = words.says
        self.places = words.places
        self.names = words.full_names
        self.recipe = tuple(recipe)
        self.counts = (1, *loops(recipe))
        places = [one.where for one in recipe if one.act == "insert"]
        # Where the hook goes into one stitch alone that stitch needs no "next".
        self.onward = "" in places[1:]

    def clauses(self) -> str:
        """The whole recipe, passages that come again told once."""
        said: list[str] = []
        at = 0
        while at < len(self.recipe):
            found = self._stitches(at) or self._passage(at)
            if found is None:
                found = self._one(at, False)
            words, length = found
            at += length
            left = self.counts[at]
            ahead = self.recipe[at].act if at < len(self.recipe) else ""
            closes = ahead == "pull through" and left > 1
            if closes and (self.recipe[at - 1].act != "pull through" or (length > 3 and left > 2)):
                words += f" ({left} {self._loops(left)} {self.says['on_the_hook']})"
            said.append(words)
        return ", ".join(said)

    # Whole stitches.

    def _stitches(self, at: int) -> tuple[str, int] | None:
        """Whole stitches where only one loop lies on the hook, with more to do behind them: `work 5 double crochet`."""
        if self.counts[at] != 1:
            return None
        if self._locks(at):
            number = 1
            while at + number < len(self.recipe) and self._locks(at + number):
                number += 1
            return f"{self.names['chain']} {number}", number
        for stitch in _PLAIN:
            own = dictionary()[stitch].recipe
            places, end = self._runs(own, at)
            if len(places) < 2 or not set(places[1:]) <= {"same"} or places[0] != "" or self._more_of(own, end):
                continue
            name = self.names.get(stitch, stitch.replace("_", " "))
            # Behind other places of the same stitch this is a further one.
            where = "next_stitch" if any(one.act == "insert" for one in self.recipe[:at]) else "the_stitch"
            return f"{self.says['work']} {len(places)} {name} {self.says[where]}", end - at
        return None

    def _locks(self, at: int) -> bool:
        return len(self.recipe) > 1 and self.recipe[at] == Operation("pull through", 1) and self.counts[at] == 1

    def _runs(self, own: tuple[Operation, ...], at: int) -> tuple[list[str], int]:
        """The places of one whole stitch after the other from here, and where they end."""
        places: list[str] = []
        while True:
            here = self.recipe[at : at + len(own)]
            if len(here) != len(own):
                return places, at
            where = next((one.where for one in here if one.act == "insert"), "")
            bare = tuple(Operation("insert") if one.act == "insert" else one for one in here)
            if bare != own or where not in ("", "same") or (places and where != "same"):
                return places, at
            places.append(where)
            at += len(own)

    def _more_of(self, own: tuple[Operation, ...], end: int) -> bool:
        """Whether what follows still belongs to the last stitch, such as a further pull-through."""
        return end < len(self.recipe) and self.counts[end] != 1

    # Passages that come again.

    def _passage(self, at: int) -> tuple[str, int] | None:
        """A passage that is worked twice or more from here on: the one that says most."""
        best: tuple[int, int] = (0, 0)
        for length in range(1, (len(self.recipe) - at) // 2 + 1):
            first = self.recipe[at]
            if length == 1 and first.act != "pull through":
                continue
            if length > 1 and first.act not in ("yarn over", "insert"):
                break
            if length > 1 and self.recipe[at + length - 1].act == "yarn over":
                continue
            passage = self.recipe[at : at + length]
            times = 1
            while self.recipe[at + times * length : at + (times + 1) * length] == passage:
                times += 1
            if times > 1 and length * times > best[0] * best[1]:
                best = (length, times)
        length, times = best
        if times < 2:
            return None
        return f"({self._inside(at, length)}) {self._times(times)}", length * times

    def _inside(self, at: int, length: int) -> str:
        said = []
        end = at + length
        while at < end:
            words, taken = self._one(at, True, end)
            said.append(words)
            at += taken
        return ", ".join(said)

    def _times(self, times: int) -> str:
        return self.says["twice"] if times == 2 else f"{times} {self.says['times']}"

    # Single movements.

    def _one(self, at: int, inside: bool, end: int = 10**6) -> tuple[str, int]:
        """One movement, or several yarn overs, and how many of the recipe it tells; `inside` a passage told once."""
        one = self.recipe[at]
        says = self.says
        if one.act == "yarn over":
            number = 1
            while at + number < min(len(self.recipe), end) and self.recipe[at + number].act == "yarn over":
                number += 1
            return says["yarn_over"] + (f" {self._times(number)}" if number > 1 else ""), number
        if one.act == "insert":
            return f"{says['insert']} {self._place(at)}", 1
        if one.act == "draw up":
            if one.where == "tall":
                return says["draw_up_tall"], 1
            return f"{says['draw_up']} {one.where}".rstrip(), 1
        if one.act == "pull through":
            return self._pull(at, inside), 1
        if one.act == "slip through":
            loops_named = says["one_loop_left"] if one.loops == 1 else f"{one.loops} {self._loops(one.loops)}"
            return f"{says['slip_through']} {loops_named}", 1
        return says[one.act.replace(" ", "_")], 1

    def _pull(self, at: int, inside: bool) -> str:
        one = self.recipe[at]
        if one.loops == 1 and self.counts[at] == 1 and not one.where:
            through = self.says["one_loop_left"]
        else:
            every = one.loops == self.counts[at] and one.loops > 1 and not inside
            which = (self.says["both"] if one.loops == 2 else f"{self.says['all']} {one.loops}") if every else one.loops
            through = f"{which} {self._loops(one.loops)}"
        return f"{self.says['yarn_over']}, {self.says['pull_through']} {through} {one.where}".rstrip()

    def _loops(self, number: int) -> str:
        return self.says["loop"] if number == 1 else self.says["loops"]

    def _place(self, at: int) -> str:
        where = self.recipe[at].where
        if not where:
            return self.says["next_stitch"] if self.onward else self.says["the_stitch"]
        known = self.places.get(where)
        return known[0] if known is not None else f"in the {where}"
