"""Care for whoever makes a thing, wears it or is given it: for whom a page is, what on it may hurt, and what it says
of that.

These remarks are the usual care of the trade in our own words. They are no law and no test of safety, so each points
to the documents and to the rules where the designer sells. The facts stand in `data/cautions.toml`.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping, Sequence
from functools import cache
from importlib.resources import files

import msgspec

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Span

_BABY = re.compile(
    r"\b(?:bab(?:y|ies)(?:'s|\u2019s)?|newborns?|preemies?|premature|infants?|toddlers?|months?|mos?|0-3|3-6|6-12|bibs?|lov(?:ey|ie)s?"
    r"|comforters?|booties|rattles?|teethers?|nursery)\b",
    re.IGNORECASE,
)
_CHILD = re.compile(
    r"\b(?:child(?:ren)?(?:'s|\u2019s)?|kids?(?:'|\u2019)?s?|years?|yrs?|girls?|boys?|junior)\b", re.IGNORECASE
)
_TOY = re.compile(
    r"\b(?:toys?|dolls?|dollies|amigurumi|tedd(?:y|ies)|plush(?:ies?)?|softies?|stuffed (?:animals?|toys?)"
    r"|cuddl(?:y|ies)|rattles?|lov(?:ey|ie)s?|puppets?)\b",
    re.IGNORECASE,
)
_ADULT = re.compile(r"\b(?:adults?|women|men|ladies|mens|womens)\b", re.IGNORECASE)
_NO_TOY = re.compile(
    r"\b(?:not (?:a|intended as a) toy|for display only|pin ?cushions?|ornaments?|cushions?|pillows?)\b", re.IGNORECASE
)


class Document(msgspec.Struct, frozen=True):
    """A document in which `rules` or `advice` stand. `about` is empty where only its name is known, and is never
    printed as a demand: what a document asks for is to be looked up there."""

    name: str
    kind: str
    about: str
    source: str
    evidence: str


class Caution(msgspec.Struct, frozen=True):
    """One line of the table: words that show a danger, words that show that the page speaks of it, documents."""

    shown: re.Pattern[str] | None
    settled: re.Pattern[str]
    documents: tuple[Document, ...]


@cache
def cautions() -> Mapping[str, Caution]:
    """The packaged table by name.

    >>> [document.name for document in cautions()["cords"].documents]
    ['ASTM F1816 and 16 CFR 1120 (US)', 'EN 14682 (EU, UK)']
    """
    text = (files("roundhand.checks") / "data" / "cautions.toml").read_text(encoding="utf-8")
    return {
        name: Caution(
            re.compile(row["shown"], re.IGNORECASE) if "shown" in row else None,
            re.compile(row["settled"], re.IGNORECASE),
            tuple(Document(**document) for document in row["documents"]),
        )
        for name, row in tomllib.loads(text).items()
    }


def small_sizes(sheet: Sheet) -> tuple[str, ...]:
    """The sizes that are for babies and toddlers; all of them where the title says that it is for one."""
    named = tuple(name for name in sheet.pattern.sizes if _BABY.search(name))
    return named or (sheet.pattern.sizes if _BABY.search(sheet.pattern.title) else ())


def baby_sizes(sheet: Sheet) -> tuple[str, ...]:
    """The same, and all sizes as well where a part of the page is for a baby."""
    small = small_sizes(sheet)
    return small or (sheet.pattern.sizes if any(_BABY.search(part.name) for part in sheet.pattern.parts) else ())


def child_sizes(sheet: Sheet) -> tuple[str, ...]:
    """The sizes that are for children of any age; all of them where the page says that it is for one."""
    named = tuple(
        name for name in sheet.pattern.sizes if (_BABY.search(name) or _CHILD.search(name)) and not _ADULT.search(name)
    )
    titles = (sheet.pattern.title, *(part.name for part in sheet.pattern.parts))
    meant = any(_BABY.search(title) or _CHILD.search(title) for title in titles)
    return named or (sheet.pattern.sizes if meant else ())


def is_toy(sheet: Sheet) -> bool:
    """Whether the page is for a toy: it says so before the rows or in a heading, or stuffs something with a face."""
    page = sheet.paper
    if _NO_TOY.search(page.text):
        return False
    spoken = (line for line in page.lines if line.kind == "heading" or line.section in ("head", "notes", "sizes"))
    head = "\n".join(page.words(line) for line in spoken)
    if _TOY.search(head):
        return True
    stuffing = cautions()["stuffing"].shown
    faced = re.search(
        r"\beyes?\b(?! (?:of the needle|and hook))|\bface\b|\bnose\b|\bears?\b(?! lobes?)", page.text, re.IGNORECASE
    )
    return stuffing is not None and stuffing.search(page.text) is not None and faced is not None


def shown(sheet: Sheet, name: str) -> Span | None:
    """The first words that show a danger on a page that says nothing of it; None where nothing does, or it is said."""
    caution = cautions()[name]
    if caution.shown is None or caution.settled.search(sheet.text):
        return None
    for line in sheet.paper.lines:
        found = caution.shown.search(sheet.text, line.whole.start, line.whole.end)
        if found is not None:
            return Span(found.start(), found.end())
    return None


def settled(sheet: Sheet, name: str) -> bool:
    """Whether the page speaks of a danger."""
    return cautions()[name].settled.search(sheet.text) is not None


def remark(
    check: str,
    caution: str,
    headline: str,
    span: Span,
    because: str,
    line_of_care: str,
    sizes: Sequence[str] = (),
    label: str = "say so",
    sold: bool = True,
) -> Finding:
    """The remark on a danger that nothing is said of: always advice, with where to look.

    `sold` is false for what concerns the maker alone, so that no rules of sale can speak of it.
    """
    documents = cautions()[caution].documents
    advice = [document.name for document in documents if document.kind == "advice"]
    rules = [document.name for document in documents if document.kind == "rules"]
    way = line_of_care + (f"; {' and '.join(advice)} says more" if advice else "")
    if not advice or rules or sold:
        way += f"; check the rules where you sell{', such as ' if rules else ''}{' and '.join(rules)}"
    return Finding(
        check,
        "advice",
        headline,
        span,
        tuple(sizes),
        because=f"{because} (usual care and no rule of law)",
        help=way,
        facts={"caution": caution, "documents": tuple(document.name for document in documents)},
        label=label,
    )
