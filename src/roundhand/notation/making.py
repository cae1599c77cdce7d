"""How many of a piece are made: `SLEEVE (make 2)`, `Back and front (both alike)`, `Make 24.`, `Work 15 more leaves.`"""

from __future__ import annotations

import re

_NUMBERS = {
    "one": 1, "two": 2, "both": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9,
    "ten": 10, "twelve": 12, "twice": 2, "another": 1, "second": 1,
}  # fmt: skip
_N = r"(?P<n>\d{1,4}|one|two|both|three|four|five|six|seven|eight|nine|ten|twelve)"
_HEADING = re.compile(
    rf"\s*[-\u2013,:(\[]*\s*(?:\b(?:make|work|crochet|knit)\s+{_N}(?:\s+(?:pieces?|of\s+each|times|the\s+same))?(?:\s+alike)?"
    rf"|\b{_N.replace('<n>', '<m>')}\s+(?:pieces?\s+)?(?:alike|required|needed|pieces)"
    r"|(?<=[(\[])\s*(?:x\s*(?P<x>\d{1,3})|(?P<y>\d{1,3})\s*x)(?=\s*[)\]]))\s*[)\]]*",
    re.IGNORECASE,
)
_THING = r"(?:\s+(?!more\b)[^\W\d_][\w-]*){0,3}"
_IN_ALL = re.compile(
    rf"(?:make|work)\s+{_N}(?:\s+alike|{_THING}\s+alike|{_THING}\s+in\s+(?:all|total)|\s+pieces)?\s*[.!]?\s*$",
    re.IGNORECASE,
)
_MORE = re.compile(
    r"(?:make|work|crochet)\s+(?:(?P<n>\d{1,4}|one|two|three|four|five|six|seven|eight|nine|ten|twelve)\s+more\b.*"
    r"|(?P<another>another)\b.*"
    r"|(?:a\s+|the\s+)?(?P<second>second)\s+[^.]*\b(?:same|alike|likewise|identical)\b.*)$",
    re.IGNORECASE | re.DOTALL,
)
# "Make 2 more rows" speaks of rows.
_ROWS = re.compile(r"\b(?:rows?|rnds?|rounds?|sts?|stitch(?:es)?|times|incs?|increases?|ch|chains?)\b", re.IGNORECASE)


def made_times(name: str) -> tuple[int, str]:
    """How many a heading says are made, and the heading without these words.

    >>> made_times("SLEEVE (make 2)"), made_times("Back and Front (both alike)"), made_times("Crown")
    ((2, 'SLEEVE'), (2, 'Back and Front'), (1, 'Crown'))
    >>> made_times("Leaf - Make 24"), made_times("PETAL (x5)"), made_times("Pocket (2 alike)")
    ((24, 'Leaf'), (5, 'PETAL'), (2, 'Pocket'))
    """
    found = _HEADING.search(name)
    if found is None:
        return 1, name
    number = _value(found["n"] or found["m"] or found["x"] or found["y"])
    kept = name[: found.start()] + (" " if name[found.end() :].strip() else "") + name[found.end() :]
    return max(number, 1), kept.strip(" ([-\u2013,:") or name


def made_again(words: str) -> tuple[int, bool] | None:
    """How many a line of its own says are made, and whether it means so many more; None for any other line.

    >>> made_again("Make 24."), made_again("Make 2 alike."), made_again("Work 15 more leaves.")
    ((24, False), (2, False), (15, True))
    >>> made_again("Make another sleeve the same way."), made_again("Make 2 more rows."), made_again("Make a ring.")
    ((1, True), None, None)
    """
    words = words.strip()
    if len(words) > 120 or _ROWS.search(words):
        return None
    more = _MORE.match(words)
    if more is not None:
        return _value(more["n"] or more["another"] or more["second"]), True
    found = _IN_ALL.match(words)
    return (max(_value(found["n"]), 1), False) if found is not None else None


def _value(word: str) -> int:
    return int(word) if word.isdecimal() else _NUMBERS.get(word.lower(), 1)
