"""The sizes of a pattern: their names in `Sizes:`, and phrases that name some of them, such as `Child and up:`."""

from __future__ import annotations

import re

_SPLIT = re.compile(r"\s+-\s+|\s*(?:[,;/|\u2022\[\]()\u2013]|\band\b|\bor\b|&|:)\s*", re.IGNORECASE)
_PHRASE = re.compile(
    r"(?:for\s+)?(?P<word>sizes?\s+)?(?P<names>.*?)\s*"
    r"(?P<scope>\bsizes?\s+only|\bonly|and\s+(?:up|larger|above|over|bigger|upwards?)|\+|upwards"
    r"|and\s+(?:down|smaller|below|under))?\s*(?:sizes?)?\s*(?:only)?",
    re.IGNORECASE,
)
_ALL = re.compile(r"(?:for\s+)?(?:all|every)\s+sizes?(?:\s+again)?", re.IGNORECASE)


def read_size_names(text: str) -> tuple[str, ...]:
    """The names in the value of a `Sizes:` line, in order, without marks.

    >>> read_size_names("Baby (Toddler, Child, Adult S, Adult L)")
    ('Baby', 'Toddler', 'Child', 'Adult S', 'Adult L')
    >>> read_size_names("S [M, L, XL]."), read_size_names("S/M/L"), read_size_names("Adult")
    (('S', 'M', 'L', 'XL'), ('S', 'M', 'L'), ('Adult',))
    """
    names = [name.strip(" .*_") for name in _SPLIT.split(text.strip())]
    seen: list[str] = []
    for name in names:
        if name and name not in seen and any(letter.isalnum() for letter in name):
            seen.append(name)
    return tuple(seen)


def size_phrase(text: str, names: tuple[str, ...]) -> tuple[int, ...] | None:
    """The positions of the sizes that a phrase names; None where it names none.

    >>> sizes = ("Toddler", "Child", "Adult S", "Adult M", "Adult L")
    >>> size_phrase("Child and up", sizes), size_phrase("Adult S only", sizes), size_phrase("All sizes", sizes)
    ((1, 2, 3, 4), (2,), (0, 1, 2, 3, 4))
    >>> size_phrase("Sizes Adult M and Adult L only", sizes), size_phrase("Adult sizes only", sizes)
    ((3, 4), (2, 3, 4))
    >>> size_phrase("Seam", sizes) is None
    True
    """
    text = text.strip()
    if len(names) < 2 or len(text) > 120:
        return None
    if _ALL.fullmatch(text):
        return tuple(range(len(names)))
    found = _PHRASE.fullmatch(text)
    if found is None or not found["names"]:
        return None
    scope = " ".join((found["scope"] or "").lower().split())
    said = read_size_names(found["names"])
    positions: list[int] = []
    for name in said:
        matches = _matching(name, names)
        if not matches or (len(matches) > 1 and not (scope or "size" in text.lower())):
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
