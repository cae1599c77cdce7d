"""Numbers of pages, running heads and lines of rights that were copied between the rows of a printed page.

They are no part of the pattern, so they are read as if nothing stood there, and a row that a page break cuts in two
stays one row. What is taken for such a mark stands behind the first row only, where a heading, a count or a note would
look otherwise.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise

# White space of its own kind: a line of it is no blank line, and ends nothing.
NOTHING = "\x1f"

_ROW = re.compile(r"(?m)^\W*(?:\d{1,3}[.)]\s+)?(?:rnds?|rounds?|rows?)\.?\s*\d", re.IGNORECASE)
_LINE = re.compile(r"[^\n\r\x0b\x0c\x85\u2028\u2029]+")
_MARK = re.compile(
    r"\W*page\s+\d{1,4}(?:\s*(?:of|/|\|)\s*\d{1,4})?\W*"
    r"|\d{1,3}\s*(?:/|of|\|)\s*\d{1,3}"
    r"|[-\u2013\u2014]\s*\d{1,3}\s*[-\u2013\u2014]"
    r"|\W*(?:\u00a9|\(c\)\s*\d{4}|copyright\b).{0,120}"
    r"|.{0,60}\ball rights reserved\W*"
    r"|(?:https?://|www\.)\S+",
    re.IGNORECASE,
)
_ENDED = re.compile(r"(?:[.)\]]|\b\d+(?:\s+[a-z]{2,9})?)$", re.IGNORECASE)
_NUMBER = re.compile(r"\d{1,3}")
_LETTERS = re.compile(r"[\W_]+")
# A running head stands so many written lines from the number of its page, at most.
_NEAR = 2


def without_page_marks(text: str) -> str:
    """The text with the marks of printed pages blotted out, of the same length.

    >>> page = "Cap\\n\\nRnd 1: 6 sc in ring. (6)\\nPage 2 of 3\\nCap\\nRnd 2: 2 sc in each st."
    >>> without_page_marks(page).replace(NOTHING, "").split("\\n")[3:]
    ['', '', 'Rnd 2: 2 sc in each st.']
    """
    first = _ROW.search(text)
    if first is None:
        return text
    for start, end in _marks(text, first.start()):
        text = text[:start] + NOTHING * (end - start) + text[end:]
    return text


def _marks(text: str, begin: int) -> Iterator[tuple[int, int]]:
    title = next((_key(found[0]) for found in _LINE.finditer(text) if found[0].strip()), "")
    lines = [(found[0].strip(), found.start(), found.end()) for found in _LINE.finditer(text, begin)]
    lines = [line for line in lines if line[0]]
    marked = {at for at, (words, _, _) in enumerate(lines) if _MARK.fullmatch(words)} | set(_page_numbers(lines))
    heads = {
        at
        for at, (words, _, _) in enumerate(lines)
        if len(title) > 2 and _key(words) == title and any(abs(at - other) <= _NEAR for other in marked)
    }
    for at in sorted(marked | heads):
        yield lines[at][1:]


def _page_numbers(lines: list[tuple[str, int, int]]) -> list[int]:
    """Lines that hold a number and nothing else, where they count the pages: one more each time. A single one is a
    page where the line before it has come to its end; else it may be a count."""
    found = [at for at, (words, _, _) in enumerate(lines) if _NUMBER.fullmatch(words)]
    values = [int(lines[at][0]) for at in found]
    if len(found) == 1:
        before = lines[found[0] - 1][0] if found[0] else ""
        return found if _ENDED.search(before) and values[0] <= 30 else []
    return found if all(later == value + 1 for value, later in pairwise(values)) else []


def _key(words: str) -> str:
    return _LETTERS.sub(" ", words).strip().casefold()
