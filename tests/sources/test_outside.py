"""Everything in this folder that roundhand is held against, and the table of it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from roundhand.findings import Span
from roundhand.notation.tree import Stated
from roundhand.workshop import understand
from tests.sources import replays, table
from tests.sources.compare import Check


@pytest.mark.parametrize("check", table.all_checks(), ids=lambda check: f"{check.group}: {check.name}")
def test_values_are_those_of_the_source(check: Check) -> None:
    """Each value that a published source states, or that follows from what it states, is what roundhand comes to."""
    assert check.source
    assert check.wrong() == [], check.source


@pytest.mark.parametrize("file", sorted(replays.FOLDER.glob("*.txt")), ids=lambda file: str(file.stem))
def test_a_count_off_by_one_is_told(file: Path) -> None:
    """The replays bite: a stated count that is one too many is an error, in the first row as in the last."""
    text = file.read_text(encoding="utf-8")
    before = _said(text)
    spans = [
        _total(row.stated_by) for row in understand(text).tally.rows() if row.stated_by is not None and any(row.stated)
    ]
    for span in {spans[0], spans[-1]} if spans else ():
        # The first number where there is one for each size.
        number = re.match(r"\d+", text[span.start :])
        assert number is not None
        wrong = f"{text[: span.start]}{int(number[0]) + 1}{text[span.start + number.end() :]}"
        assert _said(wrong) != before, f"{file.stem}: {text[span.start : span.end + 9]!r} and one more is not told"


def _total(stated: Stated) -> Span:
    """The number of stitches in a stated count: of all where that is said, else of the first kind."""
    kinds = [(unit, amount.span) for amount, unit in stated.counts if unit not in ("other", "chain", "space")]
    return next((span for unit, span in kinds if unit == "stitch"), kinds[0][1])


def _said(text: str) -> set[str]:
    """The errors of a text, and the readings that were chosen: a start that may count can make a count right."""
    findings = understand(text).findings
    return {f"{one.name} {one.headline}" for one in findings if one.severity == "error" or "reading" in one.name}


def test_the_table_of_the_readme_is_not_stale() -> None:
    """`python -m tests.sources.table --write` puts it right."""
    readme = table.README.read_text(encoding="utf-8")
    assert table.with_table(readme) == readme
