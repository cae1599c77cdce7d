"""Every check's docstring is its handbook page: this check alone finds the bad example; the good one is clean."""

from __future__ import annotations

import pkgutil
from importlib import import_module

import pytest

from roundhand import checks
from roundhand.checks import GROUPS, Choice, Sheet, edit, names, pages, words
from roundhand.findings import Finding, Source
from roundhand.notation import read
from roundhand.tally import count


def remarks(text: str, *also: str) -> list[Finding]:
    """What the technical edit says of a text, without what follows from something else; house style only as `also`
    asks for it."""
    pattern, said = read(text)
    tally, more = count(pattern)
    found = edit(Sheet(Source(text), tally, (*said, *more)), Choice(also=also))
    return [finding for finding in found if not finding.follows]


def example(name: str, kind: str) -> str:
    """The `Bad:` or `Good:` example of a check, as a pattern with a title."""
    page = pages()[name]
    found = page.bad if kind == "Bad" else page.good
    assert found, f"the check {name} has no example of the kind {kind}"
    return "Samphire Cap\n\n" + found


# Remarks on what no example on a page can show: a page without rows, and a file in another encoding.
OF_WHOLE_FILES = ("nothing-to-work", "text-not-decoded")
SHOWN = [name for name in names() if name not in OF_WHOLE_FILES]


def _asked(name: str) -> tuple[str, ...]:
    return (name,) if pages()[name].when_asked else ()


@pytest.mark.parametrize("name", SHOWN)
def test_the_bad_example_is_found_by_this_check_and_no_other(name: str) -> None:
    found = [finding.name for finding in remarks(example(name, "Bad"), *_asked(name))]
    assert found == [name]


@pytest.mark.parametrize("name", SHOWN)
def test_the_good_example_is_clean(name: str) -> None:
    assert remarks(example(name, "Good"), *_asked(name)) == []


@pytest.mark.parametrize("name", names())
def test_the_page_says_what_and_why_before_its_examples(name: str) -> None:
    page = pages()[name]
    assert page.why, f"{name}: one paragraph says what is wrong, the next why it matters"
    assert page.what.endswith("."), f"{name}: the first paragraph is a sentence"


@pytest.mark.parametrize("name", SHOWN)
def test_a_remark_counts_and_knows_a_way_on(name: str) -> None:
    (finding,) = remarks(example(name, "Bad"), *_asked(name))
    assert finding.headline and not finding.headline.endswith(".")
    assert finding.because and finding.help and finding.facts
    assert finding.sizes


@pytest.mark.parametrize("name", names())
def test_every_page_has_a_group_of_the_list(name: str) -> None:
    assert pages()[name].group in GROUPS
    assert isinstance(pages()[name].when_asked, bool)


@pytest.mark.parametrize("name", OF_WHOLE_FILES)
def test_what_is_said_of_whole_files_has_no_example(name: str) -> None:
    assert (pages()[name].bad, pages()[name].good) == ("", "")


def test_every_module_that_checks_has_a_page() -> None:
    """A check without a group would be passed over in silence."""
    for info in pkgutil.iter_modules(checks.__path__):
        module = import_module(f"{checks.__name__}.{info.name}")
        if hasattr(module, "check") or hasattr(module, "WHEN_ASKED"):
            assert hasattr(module, "GROUP"), f"checks/{info.name}.py has no constant GROUP"


def test_no_word_means_two_things() -> None:
    assert len(set(words())) == len(words())
