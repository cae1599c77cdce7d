"""The sizes of a pattern: their names in `Sizes:`, and phrases that name some of them, such as `Child and up:`."""

from __future__ import annotations

import re

from roundhand.findings import Finding, Span
from roundhand.measures import number_word

_SPLIT = re.compile(
    r"\s+-\s+|\s*(?:[,;/|\u2022\[\]()]|(?<!\d)\u2013|\u2013(?!\d)|\band\b|\bor\b|&|:)\s*", re.IGNORECASE
)
# What the names in a list are numbers of: "2 (4, 6, 8) yrs", "0-3 (3-6) months".
_UNIT = re.compile(
    r"(?:yrs?|years?|mths?|mos?|months?|weeks?|ins?|inch(?:es)?|cms?|mm|ft|feet)(?:\s+old)?|old|sizes?|us|uk|eu|\"",
    re.IGNORECASE,
)
_PHRASE = re.compile(
    r"(?:for\s+)?(?P<word>sizes?\s+)?(?P<names>.*?)\s*"
    r"(?P<scope>\bsizes?\s+only|\bonly|and\s+(?:up|larger|above|over|bigger|upwards?)|\+|upwards"
    r"|and\s+(?:down|smaller|below|under))?\s*(?:sizes?)?\s*(?:only)?",
    re.IGNORECASE,
)
_WORD = "|".join(("one", "two", "three", "four", "five", "six", "seven", "eight", r"\d"))
_ORDER = r"\d+(?:st|nd|rd|th)|first|second|third|fourth|fifth|sixth|seventh|eighth|last"
# Sizes named by where they stand in the list: "two largest sizes", "first 3 sizes", "3rd and 4th sizes".
_END = re.compile(
    rf"(?:for\s+)?(?:the\s+)?(?:(?P<number>{_WORD})\s+)?(?P<end>larger|largest|biggest|smaller|smallest|first|last)"
    rf"(?:\s+(?P<late>{_WORD}))?\s+(?:sizes?|(?=only))\s*(?:only)?",
    re.IGNORECASE,
)
_PLACES = re.compile(
    rf"(?:for\s+)?(?:the\s+)?(?P<places>(?:{_ORDER})(?:\s*(?:,|&|\band\b|\bor\b)\s*(?:{_ORDER}))*)\s+sizes?\s*(?:only)?",
    re.IGNORECASE,
)
_SPAN = re.compile(r"\s*(?:[-\u2013]|\bto\b|\bthrough\b|\bthru\b)\s*", re.IGNORECASE)
_EXCEPT = re.compile(
    r"(?:for\s+)?(?:all|every)\s+(?:other\s+)?(?:sizes?\s+)?(?:except|but)\s+(?:for\s+)?(?P<rest>.+)", re.IGNORECASE
)
_ALL = re.compile(r"(?:for\s+)?(?:all|every)\s+sizes?(?:\s+again)?", re.IGNORECASE)


def read_size_names(text: str) -> tuple[str, ...]:
    """The names in the value of a `Sizes:` line, in order, without marks.

    >>> read_size_names("Baby (Toddler, Child, Adult S, Adult L)")
    ('Baby', 'Toddler', 'Child', 'Adult S', 'Adult L')
    >>> read_size_names("S [M, L, XL]."), read_size_names("S/M/L"), read_size_names("Adult")
    (('S', 'M', 'L', 'XL'), ('S', 'M', 'L'), ('Adult',))
    >>> read_size_names("2 (4, 6, 8) yrs"), read_size_names("0-3 (3-6) months")
    (('2', '4', '6', '8'), ('0-3', '3-6'))
    """
    names = [name.strip(" .*_") for name in _SPLIT.split(text.strip())]
    seen: list[str] = []
    for name in names:
        if name and name not in seen and any(letter.isalnum() for letter in name):
            seen.append(name)
    if len(seen) > 1 and any(any(letter.isdigit() for letter in name) for name in seen):
        seen = [name for name in seen if _UNIT.fullmatch(name) is None]
    return tuple(seen)


def size_phrase(text: str, names: tuple[str, ...]) -> tuple[int, ...] | None:
    """The positions of the sizes that a phrase names; None where it names none.

    >>> sizes = ("Toddler", "Child", "Adult S", "Adult M", "Adult L")
    >>> size_phrase("Child and up", sizes), size_phrase("Adult S only", sizes), size_phrase("All sizes", sizes)
    ((1, 2, 3, 4), (2,), (0, 1, 2, 3, 4))
    >>> size_phrase("Sizes Adult M and Adult L only", sizes), size_phrase("Adult sizes only", sizes)
    ((3, 4), (2, 3, 4))
    >>> size_phrase("Two largest sizes only", sizes), size_phrase("Child to Adult M", sizes)
    ((3, 4), (1, 2, 3))
    >>> size_phrase("2nd and 4th sizes", sizes), size_phrase("All sizes except Toddler", sizes)
    ((1, 3), (1, 2, 3, 4))
    >>> size_phrase("Seam", sizes) is None
    True
    """
    text = text.strip()
    if len(names) < 2 or len(text) > 120:
        return None
    if _ALL.fullmatch(text):
        return tuple(range(len(names)))
    without = _EXCEPT.fullmatch(text)
    if without is not None:
        left_out = size_phrase(without["rest"], names)
        return None if left_out is None else tuple(at for at in range(len(names)) if at not in left_out)
    placed = _by_place(text, len(names))
    if placed is not None:
        return placed
    found = _PHRASE.fullmatch(text)
    if found is None or not found["names"]:
        return None
    scope = " ".join((found["scope"] or "").lower().split())
    said = read_size_names(found["names"])
    positions: list[int] = []
    for name in said:
        between = _between(name, names)
        matches = between or _matching(name, names)
        if not matches or (len(matches) > 1 and not (between or scope or "size" in text.lower())):
            return None
        positions += matches
    if not positions:
        return None
    if scope.startswith("and") and scope.split()[1] in ("up", "larger", "above", "over", "bigger", "upward", "upwards"):
        return tuple(range(min(positions), len(names)))
    if scope in ("+", "upwards"):
        return tuple(range(min(positions), len(names)))
    if scope.startswith("and"):
        return tuple(range(max(positions) + 1))
    return tuple(sorted(set(positions)))


def sizes_unknown(names: tuple[str, ...], phrase: str, span: Span) -> Finding:
    """The finding on words that are to name sizes and name none of the pattern's."""
    return Finding(
        "size-missing",
        "warning",
        f"“{phrase}” names no size of this pattern",
        span,
        sizes=names,
        because=f"the sizes are {', '.join(names)}; the row was worked in all of them",
        help=f"name the sizes, as in “{names[-1]} only:” or “{names[1]} and up:”",
        facts={"phrase": phrase},
    )


def _by_place(text: str, count: int) -> tuple[int, ...] | None:
    """The sizes that a phrase names by where they stand among all; None for any other phrase."""
    end = _END.fullmatch(text)
    if end is not None:
        number = end["number"] or end["late"]
        last = end["end"].lower() in ("larger", "largest", "biggest", "last")
        several = 1 if end["end"].lower() in ("largest", "biggest", "smallest", "first", "last") else 0
        many = (number_word(number) or int(number)) if number and not number.isdecimal() else int(number or several)
        if not 0 < many < count:
            return None
        return tuple(range(count - many, count)) if last else tuple(range(many))
    places = _PLACES.fullmatch(text)
    if places is None:
        return None
    found = []
    for word in re.findall(_ORDER, places["places"], re.IGNORECASE):
        lower = word.lower()
        at = count if lower == "last" else _ORDINALS.get(lower) or int(re.sub(r"\D", "", lower) or 0)
        if not 0 < at <= count:
            return None
        found.append(at - 1)
    return tuple(sorted(set(found)))


_ORDINALS = {
    word: at
    for at, word in enumerate(("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth"), start=1)
}


def _between(name: str, names: tuple[str, ...]) -> list[int]:
    """Positions of the sizes from one to another, `M-XL`, `M to XL`, `M through XL`."""
    for cut in _SPAN.finditer(name):
        first, last = _matching(name[: cut.start()].strip(), names), _matching(name[cut.end() :].strip(), names)
        if len(first) == len(last) == 1 and first[0] < last[0]:
            return list(range(first[0], last[0] + 1))
    return []


def _matching(name: str, names: tuple[str, ...]) -> list[int]:
    """Positions of the sizes with this name, or that begin with it as a whole word."""
    lower = name.lower()
    if lower in ("largest", "largest size", "biggest"):
        return [len(names) - 1]
    if lower in ("smallest", "smallest size"):
        return [0]
    exact = [at for at, other in enumerate(names) if other.lower() == lower]
    if exact:
        return exact
    return [at for at, other in enumerate(names) if other.lower().startswith(lower + " ")]


def find_size(asked: str, names: tuple[str, ...]) -> int | None:
    """The size that a person asks for by name, by its unique beginning, or else by position from 1; None if unclear.

    >>> find_size("adult l", ("Baby", "Adult S", "Adult L")), find_size("b", ("Baby", "Adult S"))
    (2, 0)
    >>> find_size("2", ("S", "M"))
    1
    >>> find_size("adult", ("Baby", "Adult S", "Adult L")) is None
    True
    """
    lower = asked.strip().lower()
    exact = [at for at, name in enumerate(names) if name.lower() == lower]
    if exact:
        return exact[0]
    begins = [at for at, name in enumerate(names) if name.lower().startswith(lower)] if lower else []
    if len(begins) == 1:
        return begins[0]
    if not begins and lower.isdecimal() and 1 <= int(lower) <= len(names):
        return int(lower) - 1
    return None
