"""Rows that go different ways in different sizes: `Rnd 2: Size S: sc around. Sizes M and L: inc, sc to end.`, `Rnd 3:
Sc in next 4 sts, (L only: sc in next 2 sts), sc to end.`

Such a line is one row in every size, and is read once for each group of sizes that go the same way.
"""

from __future__ import annotations

import re

import msgspec

from roundhand.notation.sizes import size_phrase
from roundhand.notation.tree import RowLine

# A stretch of the text, from its first sign to behind its last.
Stretch = tuple[int, int]

_PHRASE = re.compile(
    r"(?P<open>[(\[]\s*)?(?P<said>(?:for\s+)?(?:the\s+)?[^\s:;.,()\[\]\n*][^:;.()\[\]\n*]{0,60}?)(?:\s*:\s|,\s)",
    re.IGNORECASE,
)
_OTHERS = re.compile(r"(?:for\s+)?(?:all\s+)?(?:the\s+)?(?:other|remaining|rest\s+of\s+the)\s+sizes?", re.IGNORECASE)
# Where a phrase may begin: at the head of the instructions or behind a mark.
_BEGINS = re.compile(r"(?:(?<=[.;,:)\]])\s+|(?=[(\[]))")
# "S: 60, M: 66" names the values of a list.
_VALUE = re.compile(r"\s*\d+\s*(?:[,;.)\]]|sts?\b|stitches\b|times\b|and\b|$)", re.IGNORECASE)
_CLOSE = {"(": ")", "[": "]"}
_SPEAKS = re.compile(r"\b(?:sizes?|only|for)\b", re.IGNORECASE)


def ways(text: str, start: int, end: int, names: tuple[str, ...]) -> list[tuple[tuple[int, ...], tuple[Stretch, ...]]]:
    """For each group of sizes that go the same way, what of the instructions from `start` to `end` is for them; empty
    where all go one way.

    >>> text = "Size S: sc around. Sizes M and L: inc, sc to end."
    >>> for sizes, stretches in ways(text, 0, len(text), ("S", "M", "L")):
    ...     print(sizes, [text[begin:stop] for begin, stop in stretches])
    (0,) ['sc around. ']
    (1, 2) ['inc, sc to end.']
    """
    if len(names) < 2 or not _named(text[start:end]):
        return []
    everyone = tuple(range(len(names)))
    pieces: list[tuple[tuple[int, ...], Stretch]] = []
    active = everyone
    told: set[int] = set()
    at = begin = start
    while at < end:
        found = _phrase_at(text, at, end, names, told)
        if found is None:
            step = _BEGINS.search(text, at + 1, end)
            if step is None:
                break
            at = max(step.end(), at + 1)
            continue
        sizes, words, behind, opened = found
        told.update(sizes)
        pieces.append((active, (begin, words)))
        if opened:
            close = text.find(_CLOSE[opened], behind, end)
            close = end if close < 0 else close
            pieces.append((sizes, (behind, close)))
            begin = at = min(close + 1, end)
            continue
        active, begin, at = sizes, behind, behind
    pieces.append((active, (begin, end)))
    if all(sizes == everyone for sizes, _ in pieces):
        return []
    grouped: dict[tuple[Stretch, ...], list[int]] = {}
    for size in everyone:
        own = tuple(stretch for sizes, stretch in pieces if size in sizes and stretch[0] < stretch[1])
        grouped.setdefault(own, []).append(size)
    return [(tuple(sizes), own) for own, sizes in grouped.items()]


def with_counts(rows: list[RowLine], count: int) -> list[RowLine]:
    """The rows of one line, where a count that lists all sizes at its end is the count of each of them."""
    if len(rows) < 2:
        return rows
    listed = tuple(one for one in rows[-1].stated if all(len(amount.values) == count for amount, _ in one.counts))
    return [row if row.stated or not listed else msgspec.structs.replace(row, stated=listed) for row in rows]


def _named(text: str) -> bool:
    """Whether a text may name sizes at all, which most rows do not."""
    return ":" in text or _SPEAKS.search(text) is not None


def other_sizes(said: str, told: set[int], count: int) -> tuple[int, ...] | None:
    """The sizes that `All other sizes` means behind those that were named; None for any other words.

    >>> other_sizes("All other sizes", {0}, 3), other_sizes("Size M", {0}, 3)
    ((1, 2), None)
    """
    if not told or _OTHERS.fullmatch(said) is None:
        return None
    return tuple(size for size in range(count) if size not in told) or None


def _phrase_at(
    text: str, at: int, end: int, names: tuple[str, ...], told: set[int]
) -> tuple[tuple[int, ...], int, int, str] | None:
    """The sizes of a phrase that begins at `at`, where it begins and ends, and the bracket that holds it."""
    found = _PHRASE.match(text, at, min(end, at + 100))
    if found is None or _VALUE.match(text, found.end(), end):
        return None
    sizes = size_phrase(found["said"], names) or other_sizes(found["said"], told, len(names))
    if sizes is None or not (text[found.end() - 2] == ":" or _SPEAKS.search(found["said"])):
        return None
    opened = (found["open"] or "").strip()
    return sizes, found.start(), found.end(), opened
