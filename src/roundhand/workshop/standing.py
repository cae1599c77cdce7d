"""Queries that somebody has looked at once and let stand: kept in a small table beside the pattern.

`saltmarsh-cap.txt.stands.csv` stands beside `saltmarsh-cap.txt`. Of each query it holds the name, the row, the sizes,
the words of the line and what the query rests on, and no line number: so it stays quiet wherever its row moves, and is
said again when the row, or what it comes to, has changed.
"""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from collections.abc import Iterable, Sequence
from pathlib import Path

import msgspec

from roundhand.checks import Choice
from roundhand.checks.folding import with_followers
from roundhand.findings import Finding, Source, Span
from roundhand.findings.finding import Fact
from roundhand.notation.tree import Pattern
from roundhand.workshop.text import read_text
from roundhand.workshop.use import UseError, spoken

ENDING = ".stands.csv"
_COLUMNS = ("query", "row", "sizes", "words", "rests on", "said")
# Facts that tell where something stands on the page, which changes with every line that is added above.
_PLACE = re.compile(r"(?:^|_)(?:lines?|columns?|start|end|offset)$")


class Standing(msgspec.Struct, frozen=True):
    """A query that stands: how it is known again, and what was `said` of the row, for whoever reads the table."""

    name: str
    row: str
    sizes: str
    words: str
    rests_on: str
    said: str = ""

    def key(self) -> tuple[str, ...]:
        """By what a query is known again."""
        return (self.name, self.row, self.sizes, self.words, self.rests_on)


def beside_pattern(pattern: Path) -> Path:
    """The table that belongs to a pattern file, whether it is there or not."""
    return pattern.with_name(pattern.name + ENDING)


def standing(finding: Finding, source: Source, pattern: Pattern) -> Standing:
    """A finding as the table keeps it."""
    facts: dict[str, Fact] = {key: value for key, value in finding.facts.items() if not _PLACE.search(key)}
    return Standing(
        finding.name,
        finding.row,
        ", ".join(finding.sizes),
        _plain(_line_of(finding.span, source, pattern).of(source.text)),
        msgspec.json.encode(facts, order="sorted").decode(),
        _plain(finding.headline),
    )


def read_table(text: str) -> tuple[tuple[Standing, ...], str]:
    """The queries of a table, and a sentence for a text that is no such table.

    >>> found, wrong = read_table("query,row,sizes,words,rests on,said\\ncaution,,S,Cap,{},nothing is said\\n")
    >>> found[0].name, wrong
    ('caution', '')
    """
    if not text.strip():
        return (), ""
    head = text.lstrip("\ufeff").partition("\n")[0]
    try:
        rows = list(csv.DictReader(io.StringIO(text.lstrip("\ufeff")), delimiter=";" if ";" in head else ","))
    except csv.Error as problem:
        return (), f"it is no table ({problem})"
    if not rows or not {"query", "words", "rests on"} <= {str(key).strip().lower() for key in rows[0]}:
        return (), "it has no columns query, words and rests on" if rows else ""
    found = []
    for row in rows:
        cells = {str(key).strip().lower(): value for key, value in row.items() if isinstance(value, str)}
        found.append(Standing(*(cells.get(column, "") for column in _COLUMNS)))
    return tuple(found), ""


def write_table(stands: Iterable[Standing]) -> bytes:
    """The table as a file."""
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\n")
    table.writerow(_COLUMNS)
    for one in stands:
        table.writerow([*one.key(), one.said])
    return out.getvalue().encode("utf-8", "surrogatepass")


def quieted(
    findings: Sequence[Finding], stands: Sequence[Standing], source: Source, pattern: Pattern
) -> tuple[list[Finding], list[Finding]]:
    """The findings without those that stand and what follows from them, and these. One that was let stand once and is
    there twice now is said once."""
    known = Counter(one.key() for one in stands)
    standing_now = []
    for finding in findings:
        key = standing(finding, source, pattern).key() if not finding.follows and known else ()
        if known[key]:
            known[key] -= 1
            standing_now.append(finding)
    return with_followers(findings, standing_now, source)


def let_stand(
    path: Path, findings: Sequence[Finding], source: Source, pattern: Pattern, choice: Choice
) -> tuple[int, Path]:
    """Lets the findings on a pattern file stand from now on: writes the table beside it, and gives how many it holds
    and where it is.

    What stood before and is no longer there is taken out of it; where nothing is left the table is taken away. Queries
    that the choice does not want stay as they were. Raises `UseError` where the table cannot be written.
    """
    # Loaded only by whoever writes, since `check` has to answer quickly.
    from roundhand.workshop.writing import write_file

    place = beside_pattern(path)
    before, wrong = read_table(read_text(place).text) if place.exists() else ((), "")
    if wrong:
        raise UseError(f"“{spoken(place)}” is no table of roundhand ({wrong}), so it was left; move it away first.")
    stands = [one for one in before if not choice.wants(one.name)]
    stands += [standing(one, source, pattern) for one in findings if not one.follows]
    if stands:
        write_file(place, write_table(stands))
    else:
        place.unlink(missing_ok=True)
    return len(stands), place


def _line_of(span: Span, source: Source, pattern: Pattern) -> Span:
    """The row or step that a span stands in, else the lines of the page."""
    for part in pattern.parts:
        for line in part.lines:
            if line.span.start <= span.start <= line.span.end:
                return line.span
    first, _ = source.place(span.start)
    last, _ = source.place(max(span.start, span.end - 1))
    return source.line_span(first).to(source.line_span(last))


def _plain(words: str) -> str:
    return " ".join(words.split())
