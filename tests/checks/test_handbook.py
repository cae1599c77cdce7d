"""Every check's docstring is its handbook page: this check alone finds the bad example; the good one is clean."""

from __future__ import annotations

import re
import textwrap
from importlib import import_module

import pytest

from roundhand.checks import Sheet, edit, names
from roundhand.findings import Finding, Source
from roundhand.notation import read
from roundhand.tally import count


def remarks(text: str) -> list[Finding]:
    """What the technical edit says of a text, without what follows from something else."""
    pattern, said = read(text)
    tally, more = count(pattern)
    return [finding for finding in edit(Sheet(Source(text), tally, (*said, *more))) if not finding.follows]


def example(name: str, kind: str) -> str:
    """The `Bad:` or `Good:` example of a check, as a pattern with a title."""
    page = import_module(f"roundhand.checks.{name.replace('-', '_')}").__doc__ or ""
    found = re.search(rf"^{kind}:\n((?:    .*\n|\n)+)", page, re.MULTILINE)
    assert found is not None, f"the check {name} has no example of the kind {kind}"
    return "Samphire Cap\n\n" + textwrap.dedent(found[1])


@pytest.mark.parametrize("name", names())
def test_the_bad_example_is_found_by_this_check_and_no_other(name: str) -> None:
    found = [finding.name for finding in remarks(example(name, "Bad"))]
    assert found == [name]


@pytest.mark.parametrize("name", names())
def test_the_good_example_is_clean(name: str) -> None:
    assert remarks(example(name, "Good")) == []


@pytest.mark.parametrize("name", names())
def test_the_page_says_what_and_why_before_its_examples(name: str) -> None:
    page = import_module(f"roundhand.checks.{name.replace('-', '_')}").__doc__ or ""
    opening = page.split("Bad:")[0].strip().split("\n\n")
    assert len(opening) >= 2, f"{name}: one paragraph says what is wrong, the next why it matters"
    assert opening[0].endswith("."), f"{name}: the first paragraph is a sentence"


@pytest.mark.parametrize("name", names())
def test_a_remark_counts_and_knows_a_way_on(name: str) -> None:
    (finding,) = remarks(example(name, "Bad"))
    assert finding.headline and not finding.headline.endswith(".")
    assert finding.because and finding.help and finding.facts
    assert finding.sizes
