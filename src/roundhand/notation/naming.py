"""How a definition names its stitch: `Shell (sh): …`, `sh - shell: …`, `To work a shell, …`, `V-st = …`.

Gives the names and where the words of the definition begin. What these say is read elsewhere.
"""

from __future__ import annotations

import re
from typing import NamedTuple

_LEAD = re.compile(
    r"(?:(?:special|pattern)\s+stitch(?:es)?\s*[:=-]\s*)?(?:how\s+to\s+|to\s+)?"
    r"(?:(?:work|make|making|working|form|do)\s+(?:an?\s+|the\s+|your\s+|one\s+)?|for\s+(?:an?|the|each|every)\s+|an?\s+(?=\S+\s+(?:\S+\s+)?(?:is|means|consists)\b))?",
    re.IGNORECASE,
)
_SEPARATOR = re.compile(
    r"\s*(?::=|[:=\u2192\u21d2]|\s[-\u2013\u2014\u2212]{1,2}\s|[\u2013\u2014](?=\s)|(?<=\w)\s?-{2}\s?"
    r"|\s(?:is|are)\s+(?:made|worked|formed|done)(?:\s+(?:as\s+follows|by|like\s+this|(?:over|in|on|with)\s[^:,.;\n]{1,30}(?=:)))?\s*[:,]?(?:\s+working)?\s"
    r"|\s(?:means|refers\s+to|stands\s+for|consists\s+of|is\s+made\s+(?:up\s+)?of|is|equals)\s"
    r"|\s(?:made\s+|worked\s+)?as\s+follows\s*[:,]?\s)\s*",
    re.IGNORECASE,
)
_AFTER_COMMA = re.compile(r"\s*,\s*(?=(?:work|yo|insert|make|draw|skip|miss|\[|\(|\*|\d))", re.IGNORECASE)
_BRACKET = re.compile(r"\s*[(\[](?P<inside>[^()\[\]]*)[)\]]\s*$")
_OPENING = re.compile(
    r"\s*(?P<name>[^\W\d_][\w' -]{0,30}?)\s*(?=[(\[]\s*(?:\d|work\b|yo\b|insert\b|make\b|\*|ch\b))", re.IGNORECASE
)
_TRIM = " \t\"'\u201c\u201d\u2018\u2019*_.,;:\u2022\u00b7-\u2013\u2014"
_MADE = re.compile(r"\s+(?:is\s+)?(?:made|worked)\s*$", re.IGNORECASE)
_ABBREVIATED = re.compile(r"\s*,\s*(?:abbreviated|abbr\.?)(?:\s+as|\s+to)?\s+([\w -]+)$", re.IGNORECASE)
_NUMBERED = re.compile(r"^\(?\d{1,2}[.)]\s+(?=\D)")
_ARTICLE = re.compile(r"^(?:an?|the|each|one)\s+", re.IGNORECASE)
# A name is short, and none of these stands in it.
_NO_NAME = frozenset(
    (
        *(
            "in",
            "into",
            "work",
            "make",
            "yo",
            "yoh",
            "yrh",
            "insert",
            "skip",
            "miss",
            "next",
            "same",
            "each",
            "of",
            "on",
        ),
        *("from", "through", "draw", "pull", "then", "and", "repeat", "rep", "join", "until", "rnd", "round", "row"),
        *("rows", "with", "use", "see", "note", "turn", "counts", "count", "size", "sizes", "your", "you", "this"),
    )
)
_NO_ALIAS = re.compile(
    r"\b(?:counts?|worked|over|multiple|uses|makes?|made|same|see|used|for|right|wrong|side|optional)\b|[,=]",
    re.IGNORECASE,
)
_ALIAS_LEAD = re.compile(
    r"^(?:abbreviat(?:ed|ion)(?:\s+as)?|abbr\.?|written(?:\s+as)?|or|also(?:\s+called)?|aka)[\s:]+", re.IGNORECASE
)
_MOST_WORDS = 5
_LONGEST = 60
# The last word of a name and the others that it is known by.
_LAST_WORDS = (("stitch", "st"), ("cluster", "cl"))
_WORDS = re.compile(r"[^\W_]+(?:['\u2019][^\W\d_]+)?|[^\s\w]")


class Named(NamedTuple):
    """The names of a stitch, the usual one first, and where the words that define it begin."""

    names: tuple[str, ...]
    start: int


def read_name(text: str, start: int, end: int) -> Named | None:
    """The name that a line of definitions begins with; None where it begins with none.

    >>> line = "sh \u2013 shell: 5 dc in same st"
    >>> read_name(line, 0, len(line))
    Named(names=('shell', 'sh'), start=12)
    >>> read_name("Yo, insert hook in st.", 0, 22) is None
    True
    """
    found = _one(text, start, end)
    if found is None:
        opening = _OPENING.match(text, start, end)
        if opening is None or (names := _names(opening["name"])) is None:
            return None
        return Named(names, opening.end())
    names, behind = found
    second = _one(text, behind, end)
    if second is None:
        opening = _OPENING.match(text, behind, end)
        said = _names(opening["name"]) if opening is not None else None
        second = (said, opening.end()) if opening is not None and said is not None and not _stitched(said) else None
    if second is not None and len(second[0][0]) > 1:
        longest = max((*names, *second[0]), key=len)
        names = tuple(dict.fromkeys((longest, *names, *second[0])))
        behind = second[1]
    return Named(names, behind)


def _stitched(names: tuple[str, ...]) -> bool:
    """Whether a name is rather what is done: `work`, `dc`."""
    return len(names[0]) <= 3


def _one(text: str, start: int, end: int) -> tuple[tuple[str, ...], int] | None:
    lead = _NUMBERED.match(text[start : min(end, start + 8)])
    begin = start + (lead.end() if lead is not None else 0)
    led = _LEAD.match(text, begin, end)
    begun = led.end() if led is not None else begin
    stop = min(end, begun + _LONGEST)
    separator = _SEPARATOR.search(text, begun, stop)
    if separator is None and begun > begin:
        separator = _AFTER_COMMA.search(text, begun, stop)
    if separator is None or separator.start() == begun or separator.end() >= end:
        return None
    names = _names(text[begun : separator.start()])
    return (names, separator.end()) if names is not None else None


def _names(said: str) -> tuple[str, ...] | None:
    """The names in the words in front of a separator: one, and others in brackets behind it."""
    aliases: list[str] = []
    said = _MADE.sub("", _ABBREVIATED.sub(r" (\1)", said))
    while (bracket := _BRACKET.search(said)) is not None:
        inside = bracket["inside"]
        if not _NO_ALIAS.search(inside.replace(",", " ")):
            for part in re.split(r"[,;/]|\bor\b", inside):
                alias = _ALIAS_LEAD.sub("", part.strip()).strip(_TRIM)
                if alias and len(alias.split()) <= _MOST_WORDS:
                    aliases.append(alias)
        said = said[: bracket.start()]
    parts = [_ARTICLE.sub("", part.strip(_TRIM)).strip(_TRIM) for part in re.split(r"\s+or\s+|\s*/\s*", said)]
    names = [part for part in parts if part]
    if not names:
        return None
    for name in names:
        words = name.lower().split()
        if len(words) > _MOST_WORDS or set(words) & _NO_NAME or re.search(r"[(){}\[\].,;=*]", name):
            return None
        if not re.search(r"[^\W\d_]", name):
            return None
    return tuple(dict.fromkeys((*names, *aliases)))


def spellings(name: str) -> tuple[str, ...]:
    """The ways in which rows may write a name, in small letters, its words parted as a page is cut.

    >>> spellings("V-stitch")
    ('v - stitch', 'v stitch', 'v - stitches', 'v stitches', 'v - st', 'v st', 'v - sts', 'v sts')
    """
    words = _WORDS.findall(name.lower().replace("\u2019", "'"))
    if not words:
        return ()
    found: list[str] = []
    lasts = {words[-1]}
    for pair in _LAST_WORDS:
        if words[-1].rstrip(".") in pair and len(words) > 1:
            lasts = {words[-1], *pair}
    for last in sorted(lasts, key=lambda one: one != words[-1]):
        for form in (last, f"{last}es" if last.endswith(("ch", "sh", "x")) and len(last) > 2 else f"{last}s"):
            for body in ([*words[:-1], form], [word for word in (*words[:-1], form) if word != "-"]):
                if " ".join(body) not in found:
                    found.append(" ".join(body))
    return tuple(found)
