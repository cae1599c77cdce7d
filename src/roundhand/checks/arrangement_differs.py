"""Motifs are to be joined in so many rows of so many, but another number of them is made.

A maker who has joined the last row finds a gap in it, or motifs left in her basket, when all yarn is used.

Bad:
    SQUARE (make 24)
    Rnd 1: 8 sc in a magic ring, join. (8)

    FINISHING
    Join squares in 5 rows of 6.

Good:
    SQUARE (make 30)
    Rnd 1: 8 sc in a magic ring, join. (8)

    FINISHING
    Join squares in 5 rows of 6.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import combinations

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Mark, Span
from roundhand.measures import number_word

GROUP = "seams"

_WORDS = "one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve"
_LIST = rf"(?:\d{{1,4}}|{_WORDS})(?:\s*[(\[]\s*\d{{1,4}}(?:\s*[,;/]\s*\d{{1,4}})*\s*[)\]])?"
_MOTIF = (
    r"(?:motif|square|hexagon|octagon|pentagon|triangle|circle|block|flower|tile|medallion|granny|grannies|rosette"
    r"|snowflake|patch|wheel|star)s?"
)
# How many are made: "(make 24)", "Make 24 (30, 36) motifs".
_MADE = re.compile(
    rf"\bmake\s+(?:a\s+total\s+of\s+)?(?P<made>{_LIST})(?=\s*(?:[)\].:]|$|(?:[\w-]+\s+){{0,3}}{_MOTIF}\b))",
    re.IGNORECASE | re.MULTILINE,
)
_ARRANGED = re.compile(
    rf"\b(?P<rows>{_LIST})\s+(?:rows|strips|columns)\s+of\s+(?P<each>{_LIST})(?=\s*(?:(?:[\w-]+\s+)?{_MOTIF}\b|each\b|[.,;)]|$))"
    rf"|\b(?P<wide>{_LIST})\s+(?:{_MOTIF}\s+)?(?:across|wide)\s*(?:,|by|x|\u00d7|and)?\s*(?:by|x|\u00d7|and)?\s*"
    rf"(?P<long>{_LIST})\s+(?:{_MOTIF}\s+)?(?:down|long|high|deep|tall)\b"
    rf"|\b(?P<one>{_LIST})\s*(?:x|\u00d7|by)\s*(?P<other>{_LIST})\s+(?:{_MOTIF}|grid|layout)\b",
    re.IGNORECASE | re.MULTILINE,
)
_JOINED = re.compile(r"\b(?:join|sew|seam|arrang|lay|laid|whip|assembl|place|set|layout|form)\w*", re.IGNORECASE)
_SENTENCE = re.compile(r"[.\n]")
# Of so many kinds of motifs all sums are tried; a page with more is left alone.
_MOST_KINDS = 8


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every arrangement that takes another number of motifs than are made, in any size."""
    sizes = len(sheet.pattern.sizes)
    made = [(numbers, found) for found in _MADE.finditer(sheet.text) if (numbers := _numbers(found["made"], sizes))]
    if not made or len(made) > _MOST_KINDS:
        return
    for found in _ARRANGED.finditer(sheet.text):
        if not _is_joining(sheet.text, found):
            continue
        first, second = (
            _numbers(found[a] or "", sizes) or _numbers(found[b] or "", sizes)
            for a, b in (("rows", "wide"), ("each", "long"))
        )
        if found["one"] is not None:
            first, second = _numbers(found["one"], sizes), _numbers(found["other"], sizes)
        if not first or not second:
            continue
        asked = [one * other for one, other in zip(first, second, strict=True)]
        wrong = [size for size in range(sizes) if asked[size] not in _sums([numbers[size] for numbers, _ in made])]
        if wrong:
            yield _finding(sheet, found, made, asked, first, second, wrong)


def _finding(
    sheet: Sheet,
    found: re.Match[str],
    made: list[tuple[list[int], re.Match[str]]],
    asked: list[int],
    first: list[int],
    second: list[int],
    wrong: list[int],
) -> Finding:
    size = wrong[0]
    total = sum(numbers[size] for numbers, _ in made)
    missing = asked[size] - total
    rest = f"{missing} are missing" if missing > 0 else f"{-missing} are left over"
    return Finding(
        "arrangement-differs",
        "error",
        f"{asked[size]} motifs are joined, {total} are made",
        Span(found.start(), found.end()),
        tuple(sheet.pattern.sizes[at] for at in wrong),
        because=f"{first[size]} times {second[size]} is {asked[size]}, so {rest}",
        help=f"make {asked[size]} motifs, or join them in another number of rows",
        see=tuple(Mark(Span(one.start("made"), one.end("made")), f"{numbers[size]} made") for numbers, one in made),
        facts={"joined": asked[size], "made": total, "rows": first[size], "each": second[size]},
        label=f"{first[size]} x {second[size]} = {asked[size]}",
    )


def _numbers(words: str, sizes: int) -> list[int]:
    """The number of every size; none where a list has another length."""
    said = re.findall(rf"\d+|{_WORDS}", words, re.IGNORECASE)
    values = [int(one) if one.isdigit() else number_word(one) or 0 for one in said]
    if len(values) == 1:
        return values * sizes
    return values if len(values) == sizes else []


def _is_joining(text: str, found: re.Match[str]) -> bool:
    """Whether the sentence around an arrangement speaks of joining or laying out."""
    begins = max((one.end() for one in _SENTENCE.finditer(text, 0, found.start())), default=0)
    ends = _SENTENCE.search(text, found.end())
    return _JOINED.search(text, begins, ends.start() if ends is not None else len(text)) is not None


def _sums(numbers: list[int]) -> set[int]:
    """Numbers of motifs that some or all kinds come to together."""
    return {sum(some) for size in range(1, len(numbers) + 1) for some in combinations(numbers, size)}
