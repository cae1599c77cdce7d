"""How many of a piece are made: `SLEEVE (make 2)`, `Back and front (both alike)`, `Make 4 (4, 6).`, `Work 15 more.`

Numbers are per size: one for every size where a list gives them, else one that holds for all.
"""

from __future__ import annotations

import re

from roundhand.measures import number_word

# One number that holds for all sizes, or one for each.
Made = tuple[int, ...]

_WORD = "one|two|both|three|four|five|six|seven|eight|nine|ten|eleven|twelve"
_LIST = r"\d{1,4}(?:\s*[(\[]\s*(?:\d{1,4}|-)(?:\s*[,;]\s*(?:\d{1,4}|-))*\s*[)\]](?:\s*\d{1,4})?|(?:\s*/\s*\d{1,4})+)?"
_N = rf"(?P<n>{_LIST}|{_WORD})"
_HEADING = re.compile(
    rf"\s*[-\u2013,:(\[]*\s*(?:\b(?:make|work|crochet|knit)\s+{_N}(?![^\W\d_])"
    r"(?:\s+(?:pieces?|of\s+each|times|the\s+same))?(?:\s+(?:alike|the\s+same|identical))?"
    rf"|\b{_N.replace('<n>', '<m>')}\s+(?:pieces?\s+)?(?:alike|required|needed|pieces)"
    rf"|(?<=[(\[])\s*(?:[x\u00d7]\s*(?P<x>{_LIST})|(?P<y>{_LIST})\s*[x\u00d7])(?=\s*[)\]]))\s*[)\]]*",
    re.IGNORECASE,
)
_THING = r"(?:\s+(?!more\b)[^\W\d_][\w-]*){0,3}"
_IN_ALL = re.compile(
    rf"(?:make|work|crochet)\s+{_N}(?:\s+alike|{_THING}\s+(?:alike|the\s+same)|{_THING}\s+in\s+(?:all|total)|\s+pieces)?"
    r"\s*[.!]?\s*$",
    re.IGNORECASE,
)
_LIKE = r"(?:same|alike|likewise|identical(?:ly)?|to\s+(?:match|correspond)|as|like)\b"
_MORE = re.compile(
    rf"(?:make|work|crochet)\s+(?:{_N}\s+more\b.*|(?P<another>another)\b.*"
    rf"|(?:a\s+|the\s+)?(?P<second>second|other)\s+(?!side\b|half\b|end\b|shoulder\b)[^.,]*?\b{_LIKE}[^.]*[.!]?\s*)$",
    re.IGNORECASE | re.DOTALL,
)
# "Make 2 more rows" speaks of rows.
_ROWS = re.compile(r"\b(?:rows?|rnds?|rounds?|sts?|stitch(?:es)?|times|incs?|increases?|ch|chains?)\b", re.IGNORECASE)
_TURNED = re.compile(r"\b(?:revers|mirror|symmetr)", re.IGNORECASE)


def made_times(name: str, sizes: int = 1) -> tuple[Made, str]:
    """How many a heading says are made, and the heading without these words.

    >>> made_times("SLEEVE (make 2)"), made_times("Back and Front (both alike)"), made_times("Crown")
    (((2,), 'SLEEVE'), ((2,), 'Back and Front'), ((1,), 'Crown'))
    >>> made_times("Leaf - Make 24"), made_times("PETAL (x5)"), made_times("Pocket (2 alike)")
    (((24,), 'Leaf'), ((5,), 'PETAL'), ((2,), 'Pocket'))
    >>> made_times("Wedge (make 4 (4, 6))", 3)
    ((4, 4, 6), 'Wedge')
    """
    found = _HEADING.search(name)
    if found is None:
        return (1,), name
    number = _values(found["n"] or found["m"] or found["x"] or found["y"], sizes)
    kept = name[: found.start()] + (" " if name[found.end() :].strip() else "") + name[found.end() :]
    return number, kept.strip(" ([-\u2013,:") or name


def made_again(words: str, sizes: int = 1) -> tuple[Made, bool] | None:
    """How many a line of its own says are made, and whether it means so many more; None for any other line.

    >>> made_again("Make 24."), made_again("Make 2 alike."), made_again("Work 15 more leaves.")
    (((24,), False), ((2,), False), ((15,), True))
    >>> made_again("Make another sleeve the same way."), made_again("Make 2 more rows."), made_again("Make a ring.")
    (((1,), True), None, None)
    >>> made_again("Work second sleeve to match."), made_again("Work 3 (3, 5) more.", 3)
    (((1,), True), ((3, 3, 5), True))
    >>> made_again("Work second front as first, reversing shaping.") is None
    True
    """
    words = words.strip()
    if len(words) > 120 or _ROWS.search(words) or _TURNED.search(words):
        return None
    more = _MORE.match(words)
    if more is not None:
        return _values(more["n"] or "one", sizes), True
    found = _IN_ALL.match(words)
    return (_values(found["n"], sizes), False) if found is not None else None


def made_list(words: str) -> tuple[int, int, int] | None:
    """How many values a line gives for how many are made, and where their list begins and ends; None where it gives no
    list.

    >>> made_list("WEDGE (make 4 (4, 6))"), made_list("Make 4 (4)."), made_list("SLEEVE (make 2)")
    ((3, 12, 20), (2, 5, 10), None)
    """
    for form in (_HEADING, _IN_ALL, _MORE):
        found = form.search(words)
        if found is None:
            continue
        name = next((name for name in ("n", "m", "x", "y") if name in form.groupindex and found[name]), "")
        values = len(re.findall(r"\d+|-", found[name])) if name else 0
        return (values, *found.span(name)) if values > 1 else None
    return None


def with_more(made: Made, more: Made) -> Made:
    """So many more in every size.

    >>> with_more((1,), (3, 3, 5)), with_more((2, 4), (1,))
    ((4, 4, 6), (3, 5))
    """
    length = max(len(made), len(more))
    return tuple(_at(made, size) + _at(more, size) for size in range(length))


def _at(made: Made, size: int) -> int:
    return made[min(size, len(made) - 1)]


def _values(words: str, sizes: int) -> Made:
    """The numbers of a list, where it has one for every size; else its first, which is at least one."""
    values = [0 if value == "-" else int(value) for value in re.findall(r"\d+|-", words)]
    if not values:
        word = words.lower()
        return (2,) if word == "both" else (number_word(word) or 1,)
    if len(values) == sizes and any(values):
        return tuple(values) if len(set(values)) > 1 else (values[0],)
    return (max(values[0], 1),)
