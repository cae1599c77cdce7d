"""Whole small patterns, one for each way of working: every row of every size comes to what is written under it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from roundhand.tally import PieceTally, RowTally
from roundhand.workshop import understand

WAYS = sorted((Path(__file__).parent / "ways").glob("*.md"))


def _page(file: Path) -> tuple[str, list[str], str]:
    """The pattern of a file, the lines of its counts, and what should be said of it."""
    text = file.read_text(encoding="utf-8")
    _, pattern, behind = text.split("```\n")
    lines = [line for line in behind.splitlines() if line.strip()]
    findings = next((line.removeprefix("Findings: ") for line in lines if line.startswith("Findings: ")), "")
    return pattern, [line for line in lines if not line.startswith("Findings: ")], findings


def _label(row: RowTally) -> str:
    numbers = ["-" if label is None else str(label) for label in row.labels]
    return f"{'Rnd' if row.kind == 'round' else 'Row'} {numbers[0]} ({', '.join(numbers[1:])})"


def _rows(piece: PieceTally) -> list[str]:
    made = f", made {' | '.join(map(str, piece.make))}" if piece.make != (1,) else ""
    found = [f"{piece.name}{made}"]
    for row in piece.rows:
        counts = ["-" if count is None else str(count) for count in row.worked]
        found.append(f"{_label(row)}: {' | '.join(counts)}")
    return found


def _simple(line: str) -> str:
    """A label with the same number in every size that has it, or one alone, as one number."""
    found = re.match(r"(Row|Rnd) (\S+) \(([^)]*)\): (.*)", line)
    if found is None:
        return line
    numbers = {number for number in (found[2], *found[3].split(", ")) if number != "-"}
    return f"{found[1]} {numbers.pop()}: {found[4]}" if len(numbers) == 1 else line


@pytest.mark.parametrize("file", WAYS, ids=[file.stem for file in WAYS])
def test_every_row_of_every_size(file: Path) -> None:
    """The counts of all pieces, in working order, and the remarks of the edit."""
    pattern, expected, findings = _page(file)
    reading = understand(pattern)
    found = [line for piece in reading.tally.pieces for line in _rows(piece)]
    assert [_simple(line) for line in found] == [_simple(line) for line in expected]
    said = [f"{one.name} ({', '.join(one.sizes)})" for one in reading.findings if one.severity != "advice"]
    assert "; ".join(said) == findings


@pytest.mark.parametrize("file", WAYS, ids=[file.stem for file in WAYS])
def test_a_wrong_count_is_found(file: Path) -> None:
    """A stated count made wrong by one is told, wherever it stands, and on its own line."""
    pattern, _, _ = _page(file)
    lines = pattern.splitlines()
    tried = 0
    for at, line in enumerate(lines):
        count = re.search(r"\((\d+)( \(|\)|$)", line[line.rfind(". (") :]) if ". (" in line else None
        if count is None or not re.match(r"(Row|Rnd|Next)", line):
            continue
        start = line.rfind(". (") + count.start(1)
        wrong = [*lines]
        wrong[at] = line[:start] + str(int(count[1]) + 1) + line[start + len(count[1]) :]
        found = understand("\n".join(wrong))
        names = {(one.name, found.source.place(one.span.start)[0]) for one in found.findings if not one.follows}
        assert any(line == at + 1 and name != "mirror-differs" for name, line in names), f"{wrong[at]}: {names}"
        tried += 1
    assert tried > 3
