"""Right texts altered so that they stay right: in house style with all counts written, in the other terms, in fewer
sizes. What each row comes to is known from the text it was made of."""

from __future__ import annotations

import re
from collections.abc import Callable

from roundhand.workshop import Reading
from roundhand.workshop.tidying import tidied

# Lines for some sizes alone name them, and a text that has such lines keeps all of its sizes.
_SOME_SIZES = re.compile(r"\b(?:only|and up)\b[^\n]*:", re.IGNORECASE)
# A value of a list: a number or a dash, a range, a number with a fraction, a number word; and the name of a size.
_VALUE = r"(?:\d[\d.]*(?:\s+\d+/\d+|/\d+)?(?:-\d+)?|-|(?:zero|one|two|three|four|five|six)\b)"
_NAME = r"(?:\w[\w ]*)"


def counted(reading: Reading) -> str:
    """In house style, with a count behind every row; empty where this changes nothing."""
    after = tidied(reading, counts=True).after
    return after if after != reading.source.text else ""


def other_terms(reading: Reading) -> str:
    """In UK terms for US ones, and the other way round."""
    language = reading.pattern.language
    if reading.pattern.terms_shown or language not in ("US", "UK"):
        return ""
    after = tidied(reading, terms="UK" if language == "US" else "US").after
    return after if after != reading.source.text else ""


def without_last(reading: Reading) -> str:
    """In all sizes but the last."""
    return _with_sizes(reading, tuple(range(len(reading.sizes) - 1)))


def without_first(reading: Reading) -> str:
    """In all sizes but the first."""
    return _with_sizes(reading, tuple(range(1, len(reading.sizes))))


WAYS: dict[str, Callable[[Reading], str]] = {
    "all counts written": counted,
    "in the other terms": other_terms,
    "without the last size": without_last,
    "without the first size": without_first,
}


def _with_sizes(reading: Reading, keep: tuple[int, ...]) -> str:
    text = reading.source.text
    if len(keep) < 2 or _SOME_SIZES.search(text):
        return ""
    return in_sizes(text, len(reading.sizes), keep)


def in_sizes(text: str, number: int, keep: tuple[int, ...]) -> str:
    """A text in fewer sizes: of every list with a value for each of its sizes, those of the sizes kept.

    >>> in_sizes("Ch 40 (48, 56).", 3, (1, 2))
    'Ch 48 (56).'
    >>> in_sizes("Rows 2-25 (29, 33)", 3, (1, 2))
    'Rows 2-29 (33)'
    """
    lines = text.split("\n")
    return "\n".join(_fewer(line, number, keep, _NAME if line.startswith("Sizes:") else _VALUE) for line in lines)


def _fewer(line: str, number: int, keep: tuple[int, ...], item: str) -> str:
    inner = rf"\s*,\s*{item}" * (number - 2)
    listed = re.compile(rf"(?<![\w/])(?P<first>{item})\s*(?P<open>[(\[])(?P<rest>\s*{item}{inner})(?P<close>[)\]])")

    def fewer(found: re.Match[str]) -> str:
        values = [found["first"], *(one.strip() for one in found["rest"].split(","))]
        kept = [values[at] for at in keep]
        lead = re.match(r"\d+-", found["first"])
        if lead is not None and kept[0].isdigit():
            # In "2-25 (29, 33)" the bare numbers replace the end alone.
            kept[0] = f"{lead[0]}{kept[0]}"
        return f"{kept[0]} {found['open']}{', '.join(kept[1:])}{found['close']}"

    return listed.sub(fewer, line)
