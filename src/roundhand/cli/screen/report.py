"""The edit as a report in Markdown, for an editor or a tester: by weight, with every mend before and after."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import msgspec

from roundhand.checks import Choice
from roundhand.cli.screen.letters import plain
from roundhand.cli.screen.line import bare
from roundhand.cli.screen.marks import excerpt
from roundhand.cli.screen.queries import folded, left_lines, said_in_all, sizes_words
from roundhand.findings import Edit, Finding, Severity, severity_word
from roundhand.measures import say_count
from roundhand.workshop import Reading, concerning, summary, understood
from roundhand.workshop.answers import Summary
from roundhand.workshop.folders import REPORT_MARK
from roundhand.workshop.mending import mended
from roundhand.workshop.spelling import spelt_finding

_WEIGHTS: tuple[tuple[Severity, str], ...] = (
    ("error", "a maker would go wrong"),
    ("warning", "probably wrong or unclear"),
    ("advice", "worth a thought"),
)
_CELLS = 100
# Signs that mean something in Markdown; in words of ours and of the page they mean themselves.
_SIGNS = re.compile(r"([\\`*_{}\[\]<>#|~])|^(\s*)([-+])(?=\s)|^(\s*\d+)([.)])(?=\s)")
_CERTAINTY = {"sure": "leaves the fabric as it is", "ask": "changes what is made, so ask the designer first"}


class Part(msgspec.Struct, frozen=True):
    """The part of a report that is about one pattern."""

    title: str
    path: str
    summary: Summary
    text: str


def part_of(reading: Reading, size: int | None, path: str, choice: Choice) -> Part:
    """The part of a report on one pattern, or on one size of it."""
    found = understood(reading, size)
    findings = concerning(reading, size)
    counted = summary(findings)
    lines = [escaped(found.sentence()), "", escaped(said_in_all(counted)), ""]
    lines += [f"{escaped(bare(pieces))}\n" for pieces in left_lines(reading)]
    causes = folded(findings, reading)
    for severity, meaning in _WEIGHTS:
        own = [(one, followers) for one, followers in causes if one.severity == severity]
        if own:
            lines += [f"### {severity_word(severity)} ({len(own)}): {meaning}", ""]
        for number, (finding, followers) in enumerate(own, 1):
            lines += [*_query(reading, finding, followers, number, choice), ""]
    return Part(found.title, path, counted, "\n".join(lines).rstrip("\n") + "\n")


def whole(parts: Sequence[Part], asked: int, passed_over: Sequence[str] = ()) -> str:
    """The report on all patterns that were looked at, of so many that were asked for. `passed_over` are sentences on
    those that could not be."""
    lines = [REPORT_MARK, "", "# Technical edit", ""]
    if len(parts) < asked:
        lines += [f"Stopped after {len(parts)} of {say_count(asked, 'pattern')}; the others were not looked at.", ""]
    if asked > 1:
        total = sum((part.summary for part in parts), Summary())
        lines += [escaped(f"{say_count(len(parts), 'pattern')} together: {said_in_all(total)}"), ""]
        lines += ["| pattern | Fix | Look | Consider |", "| --- | ---: | ---: | ---: |"]
        for part in parts:
            counts = (part.summary.errors, part.summary.warnings, part.summary.advice)
            lines.append(f"| {escaped(part.path)} | {' | '.join(str(count or '') for count in counts)} |")
        lines.append("")
    lines += [f"- {escaped(sentence)}" for sentence in passed_over] + ([""] if passed_over else [])
    for part in parts:
        lines += [f"## {escaped(part.title or part.path)}", ""]
        lines += [escaped(part.path), ""] if asked > 1 and part.title else []
        lines.append(part.text)
    return "\n".join(lines).rstrip("\n") + "\n"


def escaped(words: str) -> str:
    """Words on one line that mean themselves in Markdown.

    >>> escaped("*sc in next st; rep from * [twice]")
    '\\\\*sc in next st; rep from \\\\* \\\\[twice\\\\]'
    """

    def safe(found: re.Match[str]) -> str:
        if found[1]:
            return "\\" + found[1]
        return f"{found[2]}\\{found[3]}" if found[3] else f"{found[4]}\\{found[5]}"

    return _SIGNS.sub(safe, plain(" ".join(words.split())))


def _query(reading: Reading, finding: Finding, followers: int, number: int, choice: Choice) -> Iterator[str]:
    """One query: where and what, the words with their marks, why, a way on, and its mends."""
    told = spelt_finding(finding, reading.pattern.language)
    line, column = reading.source.place(finding.span.start)
    sizes = sizes_words(finding, reading)
    where = f"{finding.row or f'line {line}'}{f' ({sizes})' if sizes else ''}"
    yield f"#### {number}. {escaped(where)}: {escaped(told.headline)}"
    yield ""
    yield f"`{finding.name}`, line {line}, column {column}"
    yield ""
    if reading.source.text.strip():
        yield from _fenced([bare(pieces) for pieces in excerpt(reading.source, finding, _CELLS)])
    if told.because:
        yield f"- because: {escaped(told.because)}"
    if told.help:
        yield f"- way on: {escaped(told.help)}"
    if followers:
        yield f"- {say_count(followers, 'more follows', 'more follow')} from it"
    for at, edit in enumerate(finding.edits, 1):
        yield ""
        yield from _mend(reading, finding, edit, at if len(finding.edits) > 1 else 0, choice)


def _mend(reading: Reading, finding: Finding, edit: Edit, number: int, choice: Choice) -> Iterator[str]:
    """A mend before and after, with what else would change."""
    tried = mended(reading, edit, finding, choice)
    yield f"{f'Mend {number}' if number else 'Mend'} ({_CERTAINTY[edit.certainty]}):"
    yield ""
    yield from _fenced([f"- {line}" for line in tried.before] + [f"+ {line}" for line in tried.after], "diff")
    others = [f"{_short(one)} would go as well" for one in tried.goes]
    others += [f"{_short(one)} would come" for one in tried.comes]
    yield f"Besides: {escaped('; '.join(others))}." if others else "Nothing else would change."


def _short(finding: Finding) -> str:
    return f"{finding.row}: {finding.headline}" if finding.row else finding.headline


def _fenced(lines: Sequence[str], language: str = "text") -> Iterator[str]:
    """Lines as they stand, behind a fence that no line of them can close."""
    safe = [plain(line) for line in lines]
    longest = max((len(run) for line in safe for run in re.findall(r"`+", line)), default=0)
    fence = "`" * max(3, longest + 1)
    yield fence + language
    yield from safe
    yield fence
    yield ""
