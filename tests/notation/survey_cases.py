"""Every numbered line of the survey of the trade's notation, as cases in `survey/*.md`, and what must come of each.

The tables are those of `forms/`, with a few more lines; `survey/README.md` says which. Each case is worked as written
and with other numbers and another stitch in its place.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from roundhand import checks
from roundhand.findings import Finding, Source
from roundhand.notation import read
from roundhand.notation.tree import Pattern
from roundhand.tally import RowTally, Tally, count
from tests.notation.test_forms import (
    OTHER_STITCHES,
    VARIANTS,
    Case,
    _expected,
    _fact,
    _listed,
    _one_row,
    _page,
    _row_line,
    _rows_expected,
    _values,
    exchanged,
    tables,
)

SURVEY = Path(__file__).parent / "survey"
PLACEHOLDER = "LINE"
# Results that speak of a whole page and not of its last row.
_OF_THE_PAGE = (
    "title",
    "sizes",
    "language",
    "hook",
    "yarns",
    "parts",
    "pieces",
    "gauges",
    "defined",
    "seams",
    "events",
)


@dataclass
class Made:
    """What was made of one page: as read and as counted, what both say of it, and what the edit says."""

    pattern: Pattern
    tally: Tally
    rows: list[RowTally]
    said: list[Finding]
    edited: list[Finding]


def survey(folder: Path = SURVEY) -> list[Case]:
    """All cases of the survey; the name of each begins with its group and its line, `07 repeats: 96 …`."""
    return tables(folder)


def group_of(case: Case) -> str:
    """The file that holds a case."""
    return case.name.partition(": ")[0]


def line_of(case: Case) -> int:
    """The number of the survey's line that a case stands for."""
    return int(case.name.partition(": ")[2].split()[0])


def pages(case: Case, variant: int) -> tuple[list[tuple[str, str]], dict[str, int], str]:
    """The pages of a case, each with the wording that it tries; the numbers and the stitch in them."""
    chance = random.Random(f"{case.name} {variant}") if variant else None
    values = _values(case, chance)
    stitch = case.stitch
    if chance is not None and stitch:
        stitch = chance.choice((stitch, *OTHER_STITCHES[stitch]))
    frames = [text for text in case.patterns if PLACEHOLDER in text]
    made = []
    for wording in case.wordings:
        if frames:
            made += [
                (wording, exchanged(frame.replace(PLACEHOLDER, wording), case, values, stitch)) for frame in frames
            ]
        else:
            line = exchanged(wording, case, values, stitch)
            made.append((wording, _page(case, line, values, stitch)))
    for text in case.patterns:
        if PLACEHOLDER not in text:
            made.append((text, exchanged(text, case, values, stitch)))
    return made, values, stitch


def variants(case: Case) -> range:
    """How often a case is tried: once where it has neither a number nor a stitch to exchange."""
    return range(VARIANTS + 1 if case.numbers or case.stitch else 1)


def made_of(page: str) -> Made:
    """A page read, counted and edited."""
    pattern, found = read(page)
    tally, more = count(pattern)
    said = [*found, *more]
    edited = checks.edit(checks.Sheet(Source(page), tally, tuple(said))) if any(tally.rows()) else said
    return Made(pattern, tally, list(tally.rows()), said, [one for one in edited if not one.follows])


def judge(case: Case, page: str, values: dict[str, int], stitch: str) -> str:
    """What is wrong with what was made of a page, empty where nothing is."""
    made = made_of(page)
    rows = made.rows
    results = dict(case.results)
    unread = [row.label for row in rows for result in row.results if result is not None and result.unread]
    if unread and "unread" not in results:
        return f"words of {', '.join(unread)} were not read"
    names = {one.name for one in made.said} | {one.name for one in made.edited if one.severity == "error"}
    wanted = {name.strip() for name in results.get("findings", "").split(",") if name.strip()}
    if names != wanted:
        return f"said of it: {', '.join(sorted(names)) or 'nothing'}; not: {', '.join(sorted(wanted)) or 'nothing'}"
    if "rows" not in results and any(key not in _OF_THE_PAGE for key in results):
        for key in ("left", "lacking"):
            results.setdefault(key, "0")
        if not rows:
            return "no row was read"
    for key, value in results.items():
        wrong = _wrong(case, key, value, values, stitch, made)
        if wrong:
            return wrong
    return ""


def _wrong(case: Case, key: str, value: str, values: dict[str, int], stitch: str, made: Made) -> str:
    """What is wrong with one result, empty where it is as it should be."""
    if key in ("findings", "unread"):
        return ""
    if key == "today":
        want = ", ".join(sorted(_listed(value, case, values, stitch)))
        got = _one_row("stitches", made.rows[-1], "US")
        return "" if got == want else f"in US terms of today it is {got}, not {want}"
    if key in _SAYINGS:
        return _SAYINGS[key](made, exchanged(value, case, values, stitch))
    if key == "right":
        return _right(made, _expected(value, case, values, stitch)[0])
    if key == "rows":
        got_rows, want_rows = [_row_line(row) for row in made.rows], _rows_expected(value, case, values, stitch)
        return "" if got_rows == want_rows else f"rows are {_short(got_rows)}, not {_short(want_rows)}"
    if key == "last row":
        (want,) = _rows_expected(value, case, values, stitch)
        got = _row_line(made.rows[-1])
    elif key in ("stitches", "colours"):
        want = ", ".join(sorted(_listed(value, case, values, stitch)))
        got = _one_row(key, made.rows[-1], made.pattern.language)
    elif key in _OF_THE_PAGE or key.startswith(("yarn ", "put-up ", "fact ")):
        want = exchanged(value, case, values, stitch)
        got = _fact(key, made.pattern, made.tally)
    else:
        want = " | ".join(_expected(value, case, values, stitch))
        got = _one_row(key, made.rows[-1], made.pattern.language)
    return "" if got == want else f"{key} is {got}, not {want}"


def _readings(made: Made, value: str) -> str:
    wanted = {one.strip() for one in value.split(",")}
    kept = [set(one.facts) for one in made.said if one.name.startswith("reading-")]
    return "" if any(wanted <= names for names in kept) else f"readings told are {kept}, not {value}"


def _taken(made: Made, value: str) -> str:
    taken = [str(one.facts.get("reading")) for one in made.said if one.name.startswith("reading-")]
    return "" if value in taken else f"the reading taken is {taken}, not {value}"


def _warned(made: Made, value: str) -> str:
    lacking = {one.strip() for one in value.split(",")} - {one.name for one in made.edited}
    return f"{', '.join(sorted(lacking))} was not said" if lacking else ""


def _says(made: Made, value: str) -> str:
    texts = [f"{one.headline} {one.because} {one.help}".lower() for one in made.edited]
    return "" if any(value.lower() in text for text in texts) else f"nothing says {value!r}"


def _verdict(made: Made, value: str) -> str:
    errors = sorted({one.name for one in made.edited if one.severity == "error"})
    if value == "right" and errors:
        return f"a right pattern is called wrong: {', '.join(errors)}"
    if value == "wrong" and not errors:
        return "a wrong pattern is not called wrong"
    if value == "doubtful" and (errors or not any(one.severity == "warning" for one in made.edited)):
        return "what no count proves is a warning and no error"
    if value == "undecidable" and not made.edited:
        return "nothing is said of what is missing"
    return ""


def _right(made: Made, want: str) -> str:
    """Whether an error tells the number that would be right, in its words, its facts or its mends."""
    errors = [one for one in made.edited if one.severity == "error"]
    told = " ".join(f"{one.headline} {one.because} {one.help} {dict(one.facts)}" for one in errors)
    told += " " + " ".join(edit.text for one in errors for edit in one.edits)
    there = re.search(rf"(?<![\w.]){re.escape(want)}(?![\w]|\.\d)", told) is not None
    return "" if there else f"the right number {want} is not told"


def _made_of(made: Made, value: str) -> str:
    got = "/".join(map(str, made.tally.pieces[-1].make))
    return "" if got == value else f"it is made {got} times, not {value}"


def _sides(made: Made, value: str) -> str:
    got = ", ".join(row.line.label.side or "-" for row in made.rows)
    return "" if got == value else f"the sides are {got}, not {value}"


# Results that are read off what is said, and not off the counts.
_SAYINGS: dict[str, Callable[[Made, str], str]] = {
    "readings": _readings,
    "taken": _taken,
    "warned": _warned,
    "says": _says,
    "verdict": _verdict,
    "made of": _made_of,
    "sides": _sides,
}


def _short(lines: list[str]) -> str:
    return "; ".join(lines) if len(lines) <= 24 else "; ".join([*lines[:12], "…", *lines[-12:]])
