"""The technical edit on a page: what was understood, every query with its words and marks, and how many there are."""

from __future__ import annotations

from collections.abc import Sequence

from roundhand.cli.screen.letters import width, wrapped
from roundhand.cli.screen.line import BLANK, Line, Piece, line
from roundhand.cli.screen.marks import excerpt
from roundhand.findings import Finding, severity_word
from roundhand.measures import say_count
from roundhand.workshop import Reading, concerning, summary, understood
from roundhand.workshop.answers import Summary
from roundhand.workshop.spelling import spelt_finding

_INDENT = 5
_BECAUSE = "because: "
_WAY_ON = "way on:  "


def edit_page(reading: Reading, size: int | None, cells: int) -> list[Line]:
    """Everything that `check` says of a pattern, or of one size of it."""
    findings = concerning(reading, size)
    page = [*understood_lines(reading, size, cells), BLANK]
    for cause, followers in folded(findings, reading):
        page += [*query(reading, cause, cells, followers), BLANK]
    return [*page, line(said_in_all(summary(findings)), "title"), *left_lines(reading)]


def understood_lines(reading: Reading, size: int | None, cells: int) -> list[Line]:
    """The title of a pattern, and what was understood of it."""
    found = understood(reading, size)
    title = [line(words, "title") for words in wrapped(found.title, cells)]
    return [*title, *(line(words) for words in wrapped(found.sentence(), cells))]


def said_in_all(found: Summary) -> str:
    """How many queries there are of each weight, or that there are none.

    >>> said_in_all(Summary(3, 2, 0)), said_in_all(Summary())
    ('3 Fix, 2 Look.', 'No queries: nothing to fix, to look at or to consider.')
    """
    weights = [(found.errors, "Fix"), (found.warnings, "Look"), (found.advice, "Consider")]
    said = ", ".join(f"{count} {word}" for count, word in weights if count)
    return f"{said}." if said else "No queries: nothing to fix, to look at or to consider."


def left_lines(reading: Reading) -> list[Line]:
    """What is said of queries that are not shown, because the editor's word leaves them or they were let stand."""
    lines = []
    left, stand = (sum(not one.follows for one in found) for found in (reading.left, reading.standing))
    if left:
        lines.append(
            line(f"{say_count(left, 'query', 'queries')} left as the editor's word on the page says.", "faint")
        )
    if stand:
        words = "that was let stand is not shown; --anew shows it."
        words = words if stand == 1 else "that were let stand are not shown; --anew shows them."
        lines.append(line(f"{say_count(stand, 'query', 'queries')} {words}", "faint"))
    return lines


def folded(findings: Sequence[Finding], reading: Reading) -> list[tuple[Finding, int]]:
    """The findings that are causes, each with how many follow from it.

    One that follows from something that is not among them stands for itself.
    """
    places = {_key(finding, reading): finding for finding in findings}
    followers: dict[str, int] = {}
    causes = []
    for finding in findings:
        root = finding
        passed = [finding]
        while root.follows in places:
            root = places[root.follows]
            if root in passed:
                # Each follows from the other; the first on the page is taken for the cause, so that none is lost.
                root = min(passed, key=lambda one: one.span)
                break
            passed.append(root)
        if root is finding:
            causes.append(finding)
        else:
            key = _key(root, reading)
            followers[key] = followers.get(key, 0) + 1
    return [(cause, followers.get(_key(cause, reading), 0)) for cause in causes]


def query(reading: Reading, finding: Finding, cells: int, followers: int = 0) -> list[Line]:
    """One query: the row and the fact first, then the words with their marks, the reason, and a way on."""
    finding = spelt_finding(finding, reading.pattern.language)
    where = finding.row or f"line {reading.source.place(finding.span.start)[0]}"
    sizes = sizes_words(finding, reading)
    weight = severity_word(finding.severity)
    head = f"{where}{f' ({sizes})' if sizes else ''}  "
    lead = f"{weight}  " if len(weight) > 4 else f"{weight:<{_INDENT}}"
    lines: list[Line] = []
    room = cells - width(lead + head)
    # A headline that has no room beside a long list of sizes goes below it.
    if room < 24 and width(finding.headline) > room:
        lines.append((Piece(lead, finding.severity), Piece(head, "title")))
        lines += [_indented(words) for words in wrapped(finding.headline, cells - _INDENT)]
    else:
        first, *rest = wrapped(finding.headline, room) or [""]
        lines.append((Piece(lead, finding.severity), Piece(head, "title"), Piece(first)))
        lines += [(Piece(" " * width(lead + head)), Piece(words)) for words in rest]
    if reading.source.text.strip():
        lines += [(Piece(" " * _INDENT), *pieces) for pieces in excerpt(reading.source, finding, cells - _INDENT)]
    lines += _told(_BECAUSE, finding.because, cells) + _told(_WAY_ON, finding.help, cells)
    if followers:
        lines.append((Piece(" " * _INDENT), Piece(f"and {followers} more that follow from it", "faint")))
    return lines


def _indented(words: str) -> Line:
    return (Piece(" " * _INDENT), Piece(words))


def _told(lead: str, sentence: str, cells: int) -> list[Line]:
    lines: list[Line] = []
    for at, words in enumerate(wrapped(sentence, cells - _INDENT - len(lead))):
        lines.append((Piece(" " * _INDENT), Piece(lead if not at else " " * len(lead), "faint"), Piece(words)))
    return lines


def sizes_words(finding: Finding, reading: Reading) -> str:
    """The sizes a finding concerns; nothing where the pattern has but one or the finding is on no size."""
    if len(reading.sizes) < 2 or not finding.sizes:
        return ""
    if set(finding.sizes) >= set(reading.sizes):
        return "all sizes"
    without = [size for size in reading.sizes if size not in finding.sizes]
    return f"all but {without[0]}" if len(without) == 1 and len(reading.sizes) > 3 else ", ".join(finding.sizes)


def _key(finding: Finding, reading: Reading) -> str:
    """A finding's name and place, as those that follow from it name it."""
    number, column = reading.source.place(finding.span.start)
    return f"{finding.name} {number}:{column}"
