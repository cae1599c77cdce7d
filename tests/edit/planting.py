"""A plant: a right text with one fault in it, and the row in which the fault stands."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Sequence
from functools import cache
from typing import NamedTuple

from roundhand.findings import Span
from roundhand.workshop import Reading, understand
from tests.edit.clean import Clean, cleans
from tests.edit.fabric import fabric


class Change(NamedTuple):
    """What is done to a text: words exchanged, one after the other; `at` is the place of the fault in the right text,
    and `also` more places where it may show (rows worked by a definition that was changed)."""

    edits: tuple[tuple[Span, str], ...]
    at: int
    also: tuple[int, ...] = ()
    said: str = ""

    def made_in(self, text: str) -> str:
        """The text with the change made."""
        for span, new in sorted(self.edits, reverse=True):
            text = text[: span.start] + new + text[span.end :]
        return text

    def moved(self, offset: int) -> int:
        """Where a place of the right text stands in the changed one; the place of words that are gone where they
        stood."""
        by = 0
        for span, new in sorted(self.edits):
            if span.end <= offset:
                by += len(new) - (span.end - span.start)
            elif span.start < offset:
                return span.start + by
        return offset + by


def change(span: Span, new: str, at: int | None = None, also: tuple[int, ...] = ()) -> Change:
    """One piece of text exchanged for another."""
    return Change(((span, new),), span.start if at is None else at, also)


class Plant(NamedTuple):
    """A fault planted: of which kind, in which text, and the text with it, understood."""

    kind: str
    clean: Clean
    change: Change
    reading: Reading

    def words(self) -> str:
        """What was changed, in its words: before and after."""
        text = self.clean.text
        return "; ".join(
            f"{_around(text, span)[0]}[{_short(text[span.start : span.end])} > {_short(new)}]{_around(text, span)[1]}"
            for span, new in self.change.edits[:2]
        )


def _short(words: str) -> str:
    words = words.replace("\n", "\\n")
    return words if len(words) <= 60 else f"{words[:40]} … {words[-15:]}"


def _around(text: str, span: Span) -> tuple[str, str]:
    before = text[max(text.rfind("\n", 0, span.start) + 1, span.start - 46) : span.start]
    line_end = (text + "\n").find("\n", span.end)
    return before, text[span.end : min(line_end, span.end + 30)]


Finder = Callable[[Clean], Sequence[Change]]
# A kind has its name, whether its goal is fixed, and what finds all places in a text where it can be planted.
KINDS: dict[str, tuple[bool, Finder]] = {}
_TRIES = 5000


def kind(name: str, goal: bool = True) -> Callable[[Callable[[Clean], Iterator[Change]]], Finder]:
    """Enters a kind of fault under its name; its places in a text are found once."""

    def enter(find: Callable[[Clean], Iterator[Change]]) -> Finder:
        @cache
        def found(clean: Clean) -> tuple[Change, ...]:
            return tuple(find(clean))

        KINDS[name] = goal, found
        return found

    return enter


def drawn(name: str, trial: int) -> Plant:
    """The plant of a trial: a text that has places for it, and one of them. A change that leaves the fabric and all
    stated facts as they were is drawn anew."""
    chance = random.Random(f"{name} {trial}")
    texts = cleans()
    for _ in range(_TRIES):
        clean = chance.choice(texts)
        places = KINDS[name][1](clean) if clean.text else ()
        if not places:
            continue
        made = chance.choice(places)
        reading = understand(made.made_in(clean.text))
        if fabric(reading) != clean.fabric:
            return Plant(name, clean, made, reading)
    raise AssertionError(f"no fault of the kind {name!r} could be planted")
