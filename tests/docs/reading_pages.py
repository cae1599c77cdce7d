"""The page "How roundhand reads", made from the tables of cases and worked by the code, so that it cannot go stale.

python -m tests.docs.reading_pages          prints it
python -m tests.docs.reading_pages --write  puts it into the folder of documents
"""

from __future__ import annotations

import re
import sys
import textwrap
from collections.abc import Iterator
from itertools import groupby
from pathlib import Path

from roundhand.findings import Finding, Source
from roundhand.measures import say_count
from roundhand.notation import LIMITS
from roundhand.notation.page import cut_page
from roundhand.tally import PieceTally, RowTally, Worked, flat
from roundhand.tally.copies import MOST_ROWS
from roundhand.tally.stitching import MOST_STITCHES
from roundhand.tally.stretches import strands_in
from roundhand.terms import languages, vocabulary
from roundhand.workshop.text import MOST_BYTES
from tests.docs.reading_sections import EVIDENCE, LACKING, SECTIONS, TWO_WAYS
from tests.notation.survey_cases import Made, line_of, made_of, pages, survey
from tests.notation.survey_table import GROUPS
from tests.notation.test_forms import Case, cases

ROOT = Path(__file__).resolve().parents[2]
PAGE = ROOT / "docs" / "guide" / "how-roundhand-reads.md"
# The pattern whose lines are shown, one of every kind.
SHOWN = ROOT / "patterns" / "saltmarsh-cap.txt"
WIDTH = 116
# So many wordings of a case are shown, and so many of one whose wordings are long.
MOST_WORDINGS, MOST_LONG, LONG = 4, 3, 50

_HEAD = (
    "You write as you always do; this page shows what is made of it. It is put together from the tables of cases that "
    "roundhand is tested with. What it says of counts, readings and remarks roundhand worked out itself when the page "
    "was made (`python -m tests.docs.reading_pages --write`), and a test fails where it no longer says the same. It "
    "shows a few wordings of each kind; the tables hold {wordings} of them, and what is built in the same way is read "
    "as they are, with your numbers and your stitches.",
    "Nothing is ever refused. Whatever a page holds, the rest of it is read, and what was not understood is told, with "
    "its place.",
)

_KINDS = {
    "title": "the title: the first line of the page",
    "key": "a word and a colon at the head of the page: a fact about the pattern",
    "heading": "a short line of its own: it begins a section, and if a chain or a ring follows, a piece",
    "step": "no number: it makes no row, but may begin a piece, join, cut or end a yarn",
    "row": "a label and what is worked under it, up to the next label, heading or empty line",
    "prose": "whole sentences: read for what they say of chains, colours and depths, and else left to your maker",
}


def page() -> str:
    """The whole page."""
    tables = {case.name: case for case in (*cases(), *survey())}
    wordings = sum(len(case.wordings) + len(case.patterns) for case in tables.values())
    head = [_wrapped(words.format(wordings=f"more than {wordings // 1000 * 1000:,}")) for words in _HEAD]
    parts = ["# How roundhand reads\n", *(f"{words}\n" for words in head)]
    parts += [_kinds_of_lines()]
    for section in SECTIONS:
        parts.append(f"## {section.title}\n\n{_wrapped(section.words)}\n")
        # Wordings of one row stand in a list, and pages of several rows behind it.
        rows = [_row(tables[name], lead) for name, lead in section.cases if not tables[name].patterns]
        parts += [*rows, ""] if rows else []
        parts += [_page(tables[name], lead) for name, lead in section.cases if tables[name].patterns]
    parts += [_evidence(tables), _two_ways(tables), _lacking(tables), _limits(), _not_read()]
    return re.sub(r"\n{3,}", "\n\n", "\n".join(parts)).rstrip("\n") + "\n"


# What each part says.


def _kinds_of_lines() -> str:
    text = SHOWN.read_text(encoding="utf-8")
    first: dict[str, str] = {}
    for line in cut_page(Source(text), ("Toddler", "Child", "Adult S", "Adult M", "Adult L")):
        words = " ".join(line.whole.of(text).split())
        if line.kind in _KINDS:
            first.setdefault(line.kind, words if len(words) <= 60 else f"{words[:57].rsplit(' ', 1)[0]} …")
    rows = "\n".join(f"| `{first[kind]}` | {said} |" for kind, said in _KINDS.items())
    return (
        "## Kinds of lines\n\n"
        + _wrapped("What a line is shows in how it begins. These stand in a pattern of ours, the Saltmarsh Cap:")
        + f"\n\n| line | what it is |\n| --- | --- |\n{rows}\n"
    )


def _row(case: Case, lead: str) -> str:
    """A case of one row: a few of its wordings, and what all of them come to."""
    made, _, _ = pages(case, 0)
    coloured = any(key == "colours" for key, _ in case.results)
    told = {wording: _of_row(made_of(text), case.below, coloured) for wording, text in made}
    result = told[made[0][0]]
    return _item(f"**{lead}:** {_or([one for one in told if told[one] == result])}. {result}")


def _page(case: Case, lead: str) -> str:
    """A case of several rows: what they come to, other wordings that come to the same, and the page itself."""
    made, _, _ = pages(case, 0)
    coloured = any(key == "colours" for key, _ in case.results)
    told = {text: _of_page(made_of(text), coloured) for _, text in made}
    result = told[made[0][1]]
    same = [wording for wording, text in made if wording in case.wordings and told[text] == result]
    others = _few(same)[1:]
    also = f" So it is with {_or(others)}." if others else ""
    return f"{_wrapped(f'**{lead}.** {result}{also}')}\n\n{_block(made[0][1])}\n"


def _evidence(tables: dict[str, Case]) -> str:
    lines = [
        "## Two ways to read it\n",
        _wrapped(
            "Some phrases mean two things, and good designers use both. roundhand keeps both and lets the page decide. "
            "This is asked for, in this order; what comes first wins:"
        ),
        "",
    ]
    for number, (kind, lead, words, name) in enumerate(EVIDENCE, 1):
        made = made_of(pages(tables[name], 0)[0][0][1])
        told = [chosen.evidence for row in made.rows for chosen in row.chosen]
        assert kind in told, f"{name} is settled by {told}, not by {kind}"
        lines.append(_wrapped(f"{number}. **{lead}.** {words}", 3))
    return "\n".join(lines) + "\n"


def _two_ways(tables: dict[str, Case]) -> str:
    lines = [_wrapped("So it goes with these, each read by what stands round it:"), ""]
    for name in (*TWO_WAYS, EVIDENCE[-1][3]):
        text = pages(tables[name], 0)[0][0][1]
        made = made_of(text)
        found = next((one for one in made.said if one.name.startswith("reading-")), None)
        assert found is not None, f"nothing is said of a reading in {name}"
        line = text[: found.span.end].rsplit("\n", 1)[-1] + text[found.span.end :].split("\n", 1)[0]
        below = next((row for row in made.rows if line.startswith(row.label)), made.rows[0])
        lines.append(_item(f"`{line.strip()}`{_stands_on(below)}") + f"\n  {_remark(found, 2, on=False)}")
    return "\n".join(lines) + "\n"


def _lacking(tables: dict[str, Case]) -> str:
    lines = [
        "## Where something is missing\n",
        _wrapped("What cannot be known is asked for, once, and the rest is worked:"),
        "",
    ]
    for name in LACKING:
        text = pages(tables[name], 0)[0][0][1]
        made = made_of(text)
        found = next(one for one in made.edited if not one.name.startswith("reading-") and one.span.end)
        at, to = text.rfind("\n", 0, found.span.start) + 1, text.find("\n", found.span.start)
        lines.append(_item(f"`{text[at:to].strip()}`") + f"\n  {_remark(found, 2)}")
    return "\n".join(lines) + "\n"


def _limits() -> str:
    rows = {
        "a file": f"{MOST_BYTES // 1_000_000} MB",
        "a row": f"{LIMITS['row characters']:,} letters and marks",
        "brackets inside brackets": f"{LIMITS['nesting']}",
        "words and marks in all rows": f"{LIMITS['tokens']:,}",
        "lines of rows, and rows written out": f"{min(LIMITS['rows'], MOST_ROWS):,}",
        "sizes": f"{LIMITS['sizes']}",
        "stitches of a size": f"{MOST_STITCHES:,}",
    }
    said = "\n".join(f"| {what} | {most} |" for what, most in rows.items())
    return (
        "## How much is read\n\n"
        + _wrapped("A digit too many must not keep anybody waiting. What goes beyond these is told and left alone:")
        + f"\n\n| what | at most |\n| --- | ---: |\n{said}\n"
    )


def _not_read() -> str:
    lines = {line_of(case) for case in survey()}
    total = max(last for _, last in GROUPS.values())
    missing = set(range(1, total + 1)) - lines
    there = (
        "most are in the tables and read as they say. Of the others some are read, and of the rest the words that are "
        "not known are told."
        if missing
        else "all are in the tables and read as they say."
    )
    words = (
        f"Of {total} ways of writing that a survey of magazines, handbooks and teaching pages came to, {there} Not "
        "read at all are charts and pictures, tables set in columns, and patterns in other languages than English, in "
        f"{_and(languages()[::-1])} terms."
    )
    lost = made_of("A Form\n\nRnd 1: 12 sc in a magic ring.\nRnd 2: Snurfle in each st around.\n")
    remark = next(one for one in lost.edited)
    return (
        "## What is not read\n\n"
        + _wrapped(words)
        + "\n\n"
        + _wrapped("A word that roundhand does not know is said to be so, and explained it is worked like any other:")
        + "\n\n"
        + _item("`Rnd 2: Snurfle in each st around.`")
        + f"\n  {_remark(remark, 2)}\n\n"
        + _wrapped(
            "How to write so that nothing needs asking stands in [your first pattern file](first-pattern.md), every "
            "stitch in [the stitches](../stitches.md)."
        )
        + "\n"
    )


# How it is said.


def _of_row(made: Made, below: str, coloured: bool) -> str:
    """What the last row of a page comes to."""
    row = made.rows[-1]
    results = [result for result in row.results if result is not None]
    assert results, f"{row.label} could not be worked"
    used, count, left = ({getattr(one, key) for one in results}.pop() for key in ("used", "count", "left"))
    offer = row.below[0] if row.below else None
    total = offer.total if offer is not None else 0
    on = {"chain": f"On a chain of {total}", "ring": "In a ring", "ends": f"Along {total} row ends"}.get(
        below.split()[0], f"On {say_count(total, 'stitch', 'stitches')}"
    )
    words = f"{on} it uses {used} and makes {_stitches(results[0], count, made.pattern.language)}"
    words += f", with {left} left" if left else ""
    return f"{words}{_in_colours(row) if coloured else ''}."


def _stitches(worked: Worked, count: int, language: str) -> str:
    """The stitches of a row by kind, with their loops and the chains between them."""
    words = vocabulary(language)
    made: dict[str, int] = {}
    for run in flat(worked.made):
        if run.counts or run.stitch == "chain":
            name = words.short(run.stitch) + (f" in the {run.loop} loop" if run.loop and run.counts else "")
            made[name] = made.get(name, 0) + run.count
    told = [f"{number} {name}" for name, number in made.items()]
    return told[0] if len(told) == 1 and made[next(iter(made))] == count else f"{count}: {_and(told)}"


def _in_colours(row: RowTally) -> str:
    made: dict[str, int] = {}
    for result in row.results[:1]:
        for run in flat(result.made) if result is not None else ():
            if run.counts and run.colour:
                made[run.colour] = made.get(run.colour, 0) + run.count
    told = []
    for colour, number in made.items():
        labels = strands_in(colour)
        named = _and(
            [f"{say_count(many, 'strand')} of {label}" if many > 1 else label for label, many in labels.items()]
        )
        told.append(f"{number} in {named}" if len(made) > 1 else f"in {named}")
    return f", {_and(told)}" if len(told) > 1 else f" {told[0]}" if told else ""


def _of_page(made: Made, coloured: bool) -> str:
    """What the rows of a page come to: rows that are alike together."""
    pieces = []
    several = len({row.part for row in made.rows}) > 1
    for piece, part, own in _parts(made):
        told = []
        for said, group in groupby(own, key=lambda row: _worked(row) + (_in_colours(row) if coloured else "")):
            told.append(f"{_labels(list(group))}: {said}")
        name = f"{part}: " if several else ""
        times = f"; made {piece.make[0]} times" if piece.make[0] != 1 else ""
        pieces.append(f"{name}{'; '.join(told)}{times}")
    return f"{'. '.join(pieces)}."


def _parts(made: Made) -> Iterator[tuple[PieceTally, str, list[RowTally]]]:
    """The rows of a page by the sections they stand in, each with its piece."""
    for piece in made.tally.pieces:
        for part, rows in groupby(piece.rows, key=lambda row: row.part):
            yield piece, part, list(rows)


def _worked(row: RowTally) -> str:
    worked = ["-" if value is None else str(value) for value in row.worked]
    said = worked[0] if len(set(worked)) == 1 else f"{worked[0]} ({', '.join(worked[1:])})"
    result = next((one for one in row.results if one is not None), None)
    spaces = result.offer.layout.count(b"o") if result is not None else 0
    left = f", {result.left} left" if result is not None and result.left else ""
    return f"{said}{f' and {spaces} spaces' if spaces else ''}{left}"


def _labels(rows: list[RowTally]) -> str:
    first, last = (rows[at].label for at in (0, -1))
    if len(rows) == 1:
        return first
    word, number = first.split(" ", 1)
    return f"{word}s {number} {'and' if len(rows) == 2 else 'to'} {last.split(' ', 1)[1]}"


def _stands_on(row: RowTally) -> str:
    below = row.below[0] if row.below else None
    if below is None or not below.total:
        return ""
    return f", on {say_count(below.total, *(('chain',) if below.kind == 'chain' else ('stitch', 'stitches')))}"


def _remark(found: Finding, indent: int, on: bool = True) -> str:
    """A remark as it is shown: what, why, and if it is wanted a way on."""
    words = f"*{found.headline[0].upper()}{found.headline[1:]}.*"
    if found.because:
        words += f" {found.because[0].upper()}{found.because[1:]}."
    if found.help and on:
        words += f" Way on: {found.help}."
    return textwrap.indent(_wrapped(words, indent), " " * indent).lstrip()


def _few(wordings: list[str]) -> list[str]:
    """Some of the wordings, from the first to the last; of long ones fewer."""
    found = list(dict.fromkeys(wordings))
    most = MOST_WORDINGS if all(len(one) <= LONG for one in found) else MOST_LONG
    if len(found) <= most:
        return found
    step = (len(found) - 1) / (most - 1)
    return [found[round(at * step)] for at in range(most)]


def _block(text: str) -> str:
    """A page without its title, set as it stands."""
    return textwrap.indent(re.sub(r"\n{2,}", "\n\n", text.partition("\n")[2].strip("\n")), " " * 4)


def _item(words: str) -> str:
    return "- " + textwrap.indent(_wrapped(words, 2), "  ").lstrip()


def _wrapped(words: str, indent: int = 0) -> str:
    """Words in lines; what stands between backticks is never parted."""
    held = re.sub(r"`[^`]*`", lambda found: found[0].replace(" ", "\u0000").replace("-", "\u0001"), words)
    lines = textwrap.wrap(held, WIDTH - indent, break_long_words=False, break_on_hyphens=False)
    return "\n".join(lines).replace("\u0000", " ").replace("\u0001", "-")


def _or(wordings: list[str]) -> str:
    """Wordings one behind the other, each without its full stop."""
    return ", ".join(f"`{one.rstrip('.')}`" for one in _few(wordings))


def _and(words: list[str] | tuple[str, ...]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


if __name__ == "__main__":
    if sys.argv[1:] == ["--write"]:
        PAGE.write_text(page(), encoding="utf-8")
    else:
        print(page())
