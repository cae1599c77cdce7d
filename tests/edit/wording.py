"""How a made page writes its lists, counts and lengths."""

from __future__ import annotations

import random
from collections.abc import Sequence
from fractions import Fraction

SIZES = ("Small", "Medium", "Large", "XL")
STITCHES = {"sc": "single crochet", "hdc": "half double crochet", "dc": "double crochet"}
TURNS = {"sc": 1, "hdc": 2, "dc": 3}


def sizes(number: int) -> str:
    """The line of sizes; nothing for one size."""
    return f"Sizes: {SIZES[0]} ({', '.join(SIZES[1:number])})\n" if number > 1 else ""


def listed(values: Sequence[object]) -> str:
    """A value of every size; one where all are the same.

    >>> listed((4, 6, 8)), listed((5, 5))
    ('4 (6, 8)', '5')
    """
    if len(set(values)) == 1:
        return str(values[0])
    return f"{values[0]} ({', '.join(map(str, values[1:]))})"


def ranged(first: Sequence[int], last: Sequence[int], word: str) -> str:
    """The label of a range in every size."""
    if len(set(first)) == 1:
        return f"{word}s {first[0]}-{listed(last)}"
    pairs = [f"{one}-{other}" for one, other in zip(first, last, strict=True)]
    return f"{word}s {listed(pairs)}"


class Wording:
    """One page's way of writing: the marks round its counts, its words for a repeat and for an increase."""

    def __init__(self, chance: random.Random) -> None:
        self.marks = chance.choice((("(", ")"), ("(", ")"), ("[", "]")))
        self.unit = chance.choice((" sts", " sts", ""))
        self.repeat = chance.choice(("star", "star", "bracket", "times"))
        self.increase = chance.choice(("two", "inc"))

    def count(self, values: Sequence[int], unit: str | None = None) -> str:
        """A stated count."""
        opening, closing = self.marks
        return f"{opening}{listed(values)}{self.unit if unit is None else unit}{closing}"

    def two(self, stitch: str) -> str:
        """An increase."""
        return f"2 {stitch} in next st" if self.increase == "two" else "inc in next st"

    def again(self, body: str, times: Sequence[int], around: str = "around") -> str:
        """A group again and again to the end of the row."""
        if self.repeat == "bracket":
            return f"[{body}] {listed(times)} times"
        if self.repeat == "times":
            return f"({body}) {listed(times)} times"
        return f"*{body}; rep from * {around}"


def some(stitch: str, number: int) -> str:
    """So many plain stitches."""
    return f"{stitch} in next st" if number == 1 else f"{stitch} in next {number} sts"


def inches(value: Fraction) -> str:
    """A length to the quarter of an inch, as it is printed."""
    quarters = round(value * 4)
    whole, rest = divmod(quarters, 4)
    part = {0: "", 1: "1/4", 2: "1/2", 3: "3/4"}[rest]
    return f"{whole} {part}".strip() if whole or not part else part


def capital(words: str) -> str:
    """The words with a capital at their beginning."""
    return words[:1].upper() + words[1:]


class Page:
    """A page that is being written: its head, and line by line what is worked."""

    def __init__(self, title: str, number: int, hook: str, gauge: str) -> None:
        self._title = title
        self._number = number
        self._hook = hook
        self._gauge = gauge
        self._facts: list[str] = []
        self._yarns: list[str] = []
        self._special: list[str] = []
        self._lines: list[str] = []

    def fact(self, key: str, values: Sequence[Fraction]) -> None:
        """A finished measurement in inches."""
        self._facts.append(f"{key}: {listed([inches(one) for one in values])} in")

    def yarn(self, *yarns: str, needed: bool = False) -> None:
        """The yarns; with what is needed of each where that is to be said."""
        self._yarns += [f"Yarn {yarn}" for yarn in yarns] + ["YARN NEEDED"] * needed

    def special(self, words: str) -> None:
        """A stitch that the page defines."""
        self._special.append(words)

    def part(self, name: str) -> None:
        """A heading."""
        self._lines.append(f"\n{name}")

    def line(self, words: str) -> None:
        """A row or a step."""
        self._lines.append(words)

    def text(self) -> str:
        """The whole page."""
        head = [
            self._title,
            "",
            *([sizes(self._number).strip()] if self._number > 1 else []),
            *self._facts,
            "Terms: US",
        ]
        stuff = ["", "MATERIALS", *self._yarns, f"Hook: {self._hook} mm", "", "GAUGE", self._gauge]
        defined = ["", "SPECIAL STITCHES", *self._special] if self._special else []
        return "\n".join([*head, *stuff, *defined, *self._lines]) + "\n"
