"""Right pages made from rules: each rule is a way to make something, its numbers and its wording are drawn.

Counts, rows and measurements are worked out here by the rule's own arithmetic, and only the yarn is what the
library's estimate comes to, with a margin; so a page is right as far as this arithmetic is.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from fractions import Fraction
from functools import partial
from math import ceil

from roundhand.measures import Length
from roundhand.workshop import reckon, understand
from tests.edit.made_rounds import ROUNDS
from tests.edit.made_rows import ROWS

Rule = Callable[[random.Random], str]
RULES: tuple[Rule, ...] = (*ROUNDS, *ROWS)


def made(number: int) -> Iterator[tuple[str, Callable[[], str]]]:
    """So many pages of every rule, each with its name and what makes it; the same ones in every run."""
    for rule in RULES:
        for at in range(number):
            name = f"{rule.__name__} {at + 1}"
            yield name, partial(_page, rule, name)


def _page(rule: Rule, name: str) -> str:
    return with_yarn(rule(random.Random(name)))


def with_yarn(text: str) -> str:
    """The page with the yarn that every colour and size needs, a tenth over the high end, where it asks for that."""
    if "YARN NEEDED" not in text:
        return text
    reading = understand(text.replace("YARN NEEDED\n", ""))
    labels = list(dict.fromkeys(need.label for need in reckon(reading).needs))
    said = []
    for label in labels:
        metres = [need.high_m for need in reckon(reading).needs if need.label == label]
        yards = [_yards(one) for one in metres]
        own = f"{yards[0]} ({', '.join(map(str, yards[1:]))})" if len(yards) > 1 else str(yards[0])
        said.append(f"{label} {own} yd".strip())
    return text.replace("YARN NEEDED\n", f"Yarn needed: {', '.join(said)}\n")


def _yards(metres: float) -> int:
    """Yards with a margin of a tenth, to the next five."""
    yards = float(Length.of(Fraction(metres).limit_denominator(1000), "m").to("yd"))
    return 5 * ceil(yards * 1.1 / 5)
