"""An abbreviation is used in the rows and is not in the pattern's own list of abbreviations.

A maker who has the list before her looks there first, and thinks that she has overlooked something.

Bad:
    ABBREVIATIONS
    ch - chain
    sc - single crochet
    sl st - slip stitch
    CAP
    Rnd 1: Ch 4, sl st in first ch to form a ring, 6 sc in ring. (6)
    Rnd 2: 2 hdc in each st around. (12)

Good:
    ABBREVIATIONS
    ch - chain
    sc - single crochet
    sl st - slip stitch
    hdc - half double crochet
    CAP
    Rnd 1: Ch 4, sl st in first ch to form a ring, 6 sc in ring. (6)
    Rnd 2: 2 hdc in each st around. (12)
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.spoken import Spoken, bare, entries, spoken
from roundhand.findings import Finding, Mark

GROUP = "words"

# A list of fewer names only what is unusual.
_FEWEST = 3
_REST_KNOWN = re.compile(
    r"\b(?:standard|usual|common|basic|general|other|full list|see|only (?:the )?(?:special|unusual))\b[^.\n]{0,40}"
    r"\b(?:abbreviations?|terms|stitches)\b|https?://|\bwww\.",
    re.IGNORECASE,
)
_PARTS = ("fp", "bp", "long", "ext", "e", "f", "rev", "r")


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for all abbreviations of stitches that a page uses and its own list leaves out."""
    page = sheet.paper
    listed = entries(page)
    if len(listed) < _FEWEST or _REST_KNOWN.search(page.text):
        return
    known = {bare(name) for entry in listed for name in entry.names}
    known |= {bare(name) for one in sheet.pattern.defined for name in (one.name, *one.names)}
    missing: dict[str, Spoken] = {}
    for word in spoken(page):
        if word.form not in missing and not _covered(word.form, known) and not _explained(sheet, word):
            missing[word.form] = word
    if missing:
        yield _finding(sheet, list(missing.values()))


def _covered(form: str, known: set[str]) -> bool:
    """Whether a list explains a form: itself, its singular, or the parts that it is put together from."""
    if form in known or form.removesuffix("s") in known or f"{form}s" in known:
        return True
    joined = re.fullmatch(r"([a-z]+?)(\d+)tog", form)
    if joined is not None:
        return ("tog" in known and joined[1] in known) or f"{joined[1]}tog" in known or f"{joined[1]}2tog" in known
    return any(form.startswith(part) and part in known and form.removeprefix(part) in known for part in _PARTS)


def _explained(sheet: Sheet, word: Spoken) -> bool:
    """Whether the page says elsewhere what a short word is: "half double crochet (hdc)", "hdc = …"."""
    written = re.escape(word.span.of(sheet.text))
    said = re.compile(rf"[(\[]\s*{written}\s*[)\],;]|(?<!\w){written}\s*(?:=|[(\[][a-z]+ [a-z]+)", re.IGNORECASE)
    return said.search(sheet.text) is not None


def _finding(sheet: Sheet, words: list[Spoken]) -> Finding:
    said = [f"\u201c{word.span.of(sheet.text).lower()}\u201d" for word in words]
    together = said[0] if len(said) == 1 else f"{', '.join(said[:-1])} and {said[-1]}"
    return Finding(
        "term-undefined",
        "advice",
        f"{together} {'is' if len(said) == 1 else 'are'} not in the list of abbreviations",
        words[0].span,
        because="the list explains the other stitches, so a maker looks for it there",
        help=f"add {together} to the list",
        facts={"terms": tuple(word.form for word in words)},
        see=tuple(Mark(word.span, "not in the list") for word in words[1:]),
        label="not in the list",
    )
