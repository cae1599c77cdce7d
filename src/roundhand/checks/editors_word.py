"""The editor's word: lines of the page that say which remarks are to be left as they are, and where.

    Editor: leave count-differs in Rnd 4 of Crown, the spaces are counted

Names of remarks or of groups, and if wanted a row or rows, a section and sizes; a reason after a comma is for whoever
reads the page. What follows from a remark that is left is left with it. The line is printed in no leaflet.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator, Sequence

import msgspec

from roundhand.checks.choice import words, words_for
from roundhand.checks.folding import with_followers
from roundhand.findings import Finding, Source, Span, in_order
from roundhand.notation.tree import Pattern

_WORD = re.compile(
    r"^[^\w\n]*Editor\b[^\w\n]*?:[^\w\n]*(?P<order>leave\s+"
    r"(?P<names>[a-z-]+(?:\s*,\s*(?:and\s+)?[a-z]+-[a-z-]+|\s+and\s+[a-z-]+|\s*&\s*[a-z-]+)*)"
    r"(?P<where>[^\n\r,;.\u2013\u2014]*))",
    re.IGNORECASE | re.MULTILINE,
)
_NAME = re.compile(r"[a-z]+(?:-[a-z]+)*", re.IGNORECASE)
_ROWS = re.compile(
    r"\b(?:rnds?|rounds?|rds?|rows?|r)\.?\s*(?P<first>\d{1,5})(?:\s*(?:-|\u2013|to|and|&)\s*(?P<last>\d{1,5}))?",
    re.IGNORECASE,
)
_SIZES = re.compile(r"\bfor\s+(?:sizes?\s+)?(?P<sizes>.+?)(?=\s+(?:in|of)\s|$)", re.IGNORECASE)
_PART = re.compile(r"\b(?:of|in)\s+(?:the\s+)?(?P<part>\S.*)", re.IGNORECASE)
_BETWEEN = re.compile(r"\s*(?:,|&|\band\b)\s*", re.IGNORECASE)


class EditorsWord(msgspec.Struct, frozen=True):
    """One line of the editor's: `names` of remarks or groups, and where they are left; what is empty is everywhere."""

    span: Span
    names: tuple[str, ...]
    rows: tuple[int, int] | None = None
    part: str = ""
    sizes: tuple[str, ...] = ()

    def place(self, text: str) -> str:
        """Where the remarks are left, in the editor's own words; empty where that is everywhere."""
        said = self.span.of(text)
        found = re.search(r"\b(?:in|of|for)\b.*", said, re.IGNORECASE)
        return " ".join(found[0].split()) if found is not None else ""


def read_words(text: str, sizes: tuple[str, ...]) -> tuple[EditorsWord, ...]:
    """The editor's words on a page.

    >>> read_words("Editor: leave count-differs in Rnd 4 of Crown, the spaces are counted", ("One size",))[0].rows
    (4, 4)
    """
    found = []
    for word in _WORD.finditer(text):
        where = word["where"]
        rows = _ROWS.search(where)
        named = _SIZES.search(where)
        rest = _ROWS.sub("", where) if rows is not None else where
        rest = _SIZES.sub("", rest).strip()
        part = _PART.search(re.sub(r"^in\s+(?=of\b|in\b|$)", "", rest, flags=re.IGNORECASE))
        found.append(
            EditorsWord(
                Span(word.start("order"), word.start("order") + len(word["order"].rstrip())),
                tuple(name.lower() for name in _NAME.findall(_BETWEEN.sub(" ", word["names"]))),
                (int(rows["first"]), int(rows["last"] or rows["first"])) if rows is not None else None,
                part["part"].strip() if part is not None else "",
                _named(named["sizes"], sizes) if named is not None else (),
            )
        )
    return tuple(found)


def heed(
    findings: Sequence[Finding], source: Source, pattern: Pattern
) -> tuple[list[Finding], list[Finding], list[tuple[EditorsWord, str]]]:
    """The findings that stand, those that the editor's word leaves, and each word and name that leaves nothing."""
    said = read_words(source.text, pattern.sizes)
    if not said:
        return list(findings), [], []
    kept: list[Finding] = []
    left: list[Finding] = []
    used: set[tuple[EditorsWord, str]] = set()
    for finding in findings:
        sizes = finding.sizes or pattern.sizes
        for word in said:
            name = next((name for name in word.names if name in words_for(finding.name)), "")
            if name and _is_there(word, finding, pattern):
                used.add((word, name))
                sizes = tuple(size for size in sizes if word.sizes and size not in word.sizes)
        if not sizes:
            left.append(finding)
        elif sizes == (finding.sizes or pattern.sizes):
            kept.append(finding)
        else:
            kept.append(msgspec.structs.replace(finding, sizes=sizes))
    kept, left = with_followers([*kept, *left], left, source)
    unused = [(word, name) for word in said for name in word.names if (word, name) not in used]
    return in_order(kept), left, unused


def unused_words(
    unused: Sequence[tuple[EditorsWord, str]], findings: Sequence[Finding], source: Source, pattern: Pattern
) -> Iterator[Finding]:
    """`editor-word-unused` for every name that an editor's word leaves for nothing."""
    for word, name in unused:
        place = word.place(source.text)
        near = difflib.get_close_matches(name, words(), n=1)
        elsewhere = [one for one in findings if name in words_for(one.name) and one.row]
        if name not in words():
            because = f"no query has the name \u201c{name}\u201d" + (f"; \u201c{near[0]}\u201d is near" if near else "")
            way = "\u201croundhand check --about all\u201d lists the names"
        else:
            rows = ", ".join(dict.fromkeys(one.row for one in elsewhere))
            because = f"there is such a query in {rows}, and none here" if rows else "there is no such query any more"
            way = f"name {elsewhere[0].row} if that is meant, or take the line out" if rows else "take the line out"
        yield Finding(
            "editor-word-unused",
            "advice",
            f"leaves \u201c{name}\u201d {place}".rstrip() + ", where nothing is said of it",
            word.span,
            pattern.sizes,
            because=because,
            help=way,
            facts={"name": name, "place": place},
            label="leaves nothing",
        )


def _is_there(word: EditorsWord, finding: Finding, pattern: Pattern) -> bool:
    """Whether a finding stands where an editor's word speaks of."""
    if word.sizes and finding.sizes and not set(word.sizes) & set(finding.sizes):
        return False
    if word.part and _plain(word.part) != _plain(_part_of(finding, pattern)):
        return False
    if word.rows is None:
        return True
    first, last = _rows_of(finding)
    return first is not None and last is not None and first <= word.rows[1] and word.rows[0] <= last


def _rows_of(finding: Finding) -> tuple[int | None, int | None]:
    """The numbers of the rows that a finding is on, by its label."""
    numbers = [int(number) for number in re.findall(r"\d+", finding.row)]
    return (numbers[0], numbers[-1]) if numbers else (None, None)


def _part_of(finding: Finding, pattern: Pattern) -> str:
    """The name of the section that a finding stands in."""
    name = ""
    for part in pattern.parts:
        if part.span.start <= finding.span.start:
            name = part.name
    return name


def _plain(words: str) -> str:
    return " ".join(re.findall(r"\w+", words.casefold()))


def _named(said: str, sizes: tuple[str, ...]) -> tuple[str, ...]:
    """The sizes that words name; none of the pattern's is told by leaving nothing."""
    wanted = {_plain(one) for one in _BETWEEN.split(said)} | {_plain(said)}
    return tuple(size for size in sizes if _plain(size) in wanted) or (said,)
