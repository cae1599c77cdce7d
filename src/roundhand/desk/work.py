"""What a worker does with a text: a small function for each question of the page, from what is asked to the answer."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import Any, NamedTuple

import msgspec

from roundhand.desk import answers, asked
from roundhand.workshop import OpenPage, Reading, understood, why
from roundhand.workshop.margins import line_counts, look_at, own_unit, table_rows
from roundhand.workshop.meanings import meanings
from roundhand.workshop.queries import page_queries
from roundhand.workshop.telling import accounts, heading
from roundhand.workshop.tidying import tidied, tidy_answer

# A page cannot show more queries than this in any useful way.
_MOST_QUERIES = 400
# The page as it was at the last keystroke: of the next text only what has changed is read and worked.
_PAGE = OpenPage()
# Readings of the latest texts are kept, since panels ask about a text that was just read.
_KEPT = 6


class Task(NamedTuple):
    """A question: what is asked, what is answered, and who answers it."""

    asks: type[msgspec.Struct]
    gives: type[msgspec.Struct]
    answer: Callable[[Any], msgspec.Struct]


def read(one: asked.ReadAsked) -> answers.Read:
    """A text read and counted."""
    reading = _counted(one.text)
    size = _size(reading, one.size) or 0
    return answers.Read(
        one.number,
        reading.pattern.title,
        reading.sizes,
        size,
        reading.pattern.language,
        "in" if own_unit(reading) == "in" else "cm",
        understood(reading).sentence(),
        look_at(reading),
        line_counts(reading, size),
        table_rows(reading),
        meanings(reading),
    )


def queries(one: asked.ReadAsked) -> answers.Queries:
    """The whole edit of a text."""
    reading = _understood(one.text)
    found = page_queries(reading, _size(reading, one.size))
    return answers.Queries(one.number, found[:_MOST_QUERIES], len(found[_MOST_QUERIES:]))


def reasons(one: asked.WhyAsked) -> answers.WhyAnswer:
    """The reasons behind a row, in the words of `counts --why`."""
    reading = _counted(one.text)
    where = f"{one.label}{f' of {one.part}' if one.part else ''}{f', line {one.line}' if one.line else ''}"
    found = why(reading, where, _size(reading, one.size))
    lines = [heading(found)]
    told = accounts(found)
    for sizes, sentences in told:
        if len(told) > 1:
            lines.append(f"{', '.join(sizes)}:")
        lines += sentences
    return answers.WhyAnswer(tuple(lines))


def tidy(one: asked.TextAsked) -> answers.TextChanged:
    """A text in house style."""
    found = tidied(_counted(one.text))
    return answers.TextChanged(found.after, len(tidy_answer(found).changes))


def shift(one: asked.ShiftAsked) -> answers.TextChanged:
    """A text in other terms, its layout as it stands."""
    from roundhand.notation.shifting import shift as shifted

    after = shifted(one.text, one.to)
    before = one.text.splitlines()
    changed = sum(old != new for old, new in zip(before, after.splitlines(), strict=False))
    return answers.TextChanged(after, changed + abs(len(after.splitlines()) - len(before)))


TASKS: Mapping[str, Task] = {
    "read": Task(asked.ReadAsked, answers.Read, read),
    "queries": Task(asked.ReadAsked, answers.Queries, queries),
    "why": Task(asked.WhyAsked, answers.WhyAnswer, reasons),
    "tidy": Task(asked.TextAsked, answers.TextChanged, tidy),
    "shift": Task(asked.ShiftAsked, answers.TextChanged, shift),
}


@lru_cache(_KEPT)
def _counted(text: str) -> Reading:
    return _PAGE.counted(text)


@lru_cache(_KEPT)
def _understood(text: str) -> Reading:
    return _PAGE.understood(text)


def _size(reading: Reading, size: int | None) -> int | None:
    """A size that the text still has; while somebody types it may lose some."""
    return None if size is None else min(size, len(reading.sizes) - 1)
