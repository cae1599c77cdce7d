"""The list of abbreviations explains what the pattern never uses.

A maker learns a stitch for nothing, or wonders which row she has missed. Often it is left from an earlier version.

Bad:
    ABBREVIATIONS
    sc - single crochet
    sl st - slip stitch
    dtr - double treble crochet
    CAP
    Rnd 1: 6 sc in a magic ring, sl st in first sc. (6)
    Rnd 2: 2 sc in each st around. (12)

Good:
    ABBREVIATIONS
    sc - single crochet
    sl st - slip stitch
    CAP
    Rnd 1: 6 sc in a magic ring, sl st in first sc. (6)
    Rnd 2: 2 sc in each st around. (12)
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.spoken import Entry, entries
from roundhand.findings import Finding, Mark
from roundhand.terms import WORDS, vocabulary

GROUP = "words"

_FEWEST = 3
_BOUND = r"(?<![^\W\d_]){}(?![^\W\d_])"
# So many unused entries are named one by one.
_NAMED = 5


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for all entries of the list that nothing else on the page uses."""
    page = sheet.paper
    listed = entries(page)
    if len(listed) < _FEWEST or not any(line.kind == "row" for line in page.lines):
        return
    unused = [entry for entry in listed if not _used(sheet, entry, listed)]
    if not unused:
        return
    names = [entry.names[0] for entry in unused]
    if len(names) > _NAMED:
        headline = f"{len(names)} abbreviations of the list are never used"
    else:
        together = names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
        headline = f"{together} {'is' if len(names) == 1 else 'are'} in the list and never used"
    yield Finding(
        "term-unused",
        "advice",
        headline,
        unused[0].span,
        because=f"no row, step or note has {'it' if len(names) == 1 else 'them'}",
        help="leave out what is not used, or look whether a row should have it",
        facts={"terms": tuple(names)},
        see=tuple(Mark(entry.span, "never used") for entry in unused[1:]),
        label="never used",
    )


def _used(sheet: Sheet, entry: Entry, listed: list[Entry]) -> bool:
    own = {one.span for one in listed}
    elsewhere = [sheet.text[: entry.span.start], sheet.text[entry.span.end :]]
    if any(_names(name).search(text) for name in entry.names for text in elsewhere):
        return True
    # What it is short for may stand written out in the rows.
    meant = re.sub(r"^\W+", "", entry.span.of(sheet.text)[len(entry.names[0]) :]).lower()
    words = " ".join(re.findall(r"[^\W\d_]+", meant)[:3])
    told = (line for line in sheet.paper.lines if line.whole not in own and line.section != "terms")
    return len(words) > 3 and any(words in sheet.paper.words(line).lower() for line in told)


def _names(name: str) -> re.Pattern[str]:
    """Where a text uses an abbreviation: in the plural, behind a number, and in what is put together with it."""
    plain = re.sub(r"\((?:e?s)\)", "", name)
    parts = [re.escape(part) for part in re.split(r"[\s.\u2010-\u2014-]+", plain) if part]
    body = r"[\s.\u2010-\u2014-]*".join(parts)
    cut = [found[0] for found in WORDS.finditer(plain.lower())]
    found = vocabulary("US").find(cut, 0) if cut else None
    if found is not None and found.kind == "stitch" and found.length == len(cut):
        return re.compile(_BOUND.format(rf"(?:fp|bp)?{body}(?:e?s|\d*tog|blo|flo)?"), re.IGNORECASE)
    # Parts of stitches' names, such as tog or fp, stand inside of words.
    return re.compile(body if len(plain) <= 3 else _BOUND.format(rf"{body}(?:e?s)?"), re.IGNORECASE)
