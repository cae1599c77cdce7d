"""Reading and counting never raise and never run away, whatever the text holds.

Texts are shipped patterns, forms, survey, cases and replays, mutated (`mutating.py`): letters and lines left out,
doubled, exchanged, spliced, numbers made absurd; and text of any letters at all. A failing text is printed with its
trial number, which draws the same text again.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from roundhand import checks
from roundhand.findings import Finding, Source, Span
from roundhand.notation import read
from roundhand.notation.page import cut_page
from roundhand.notation.tokens import Lexicon, understand
from roundhand.tally import Tally, count
from roundhand.terms import vocabulary
from tests.laws.mutating import drawn, sources, wordings

LEXICON = Lexicon(vocabulary("US"), vocabulary("UK"), {}, {"A": "A", "B": "B"}, {"slate": "A"})

TRIALS, MANY_TRIALS = 300, 20_000
# So many tests share the trials, so that several processes can take them up.
SHARES = 10
# An ordinary run cuts up every so manieth wording.
CUT_UP = 16
LIST_MARKS = ("", "", "/", ",", " (", "-", ":", " *", "(3", "/3", ", 3")


def spans(value: object) -> Iterator[Span]:
    """Every span inside a value, however deep."""
    todo = [value]
    seen: set[int] = set()
    while todo:
        one = todo.pop()
        if isinstance(one, Span):
            yield one
        elif isinstance(one, msgspec.Struct):
            if id(one) not in seen:
                seen.add(id(one))
                todo += [getattr(one, name) for name in one.__struct_fields__]
        elif isinstance(one, tuple | list):
            todo += one
        elif isinstance(one, dict):
            todo += one.values()


def holds(text: str) -> tuple[Tally, list[Finding]]:
    """Reads and counts a text; every place that is named lies in it."""
    pattern, findings = read(text)
    tally, more = count(pattern)
    for span in spans((pattern, tally, findings, more)):
        assert 0 <= span.start <= span.end <= len(text), span
    return tally, findings + more


def joins_again(text: str) -> None:
    """The tokens of every line, with the white space between them, are the line."""
    for start, end in [(line.start, line.end) for line in cut_page(Source(text), ("S", "M"))]:
        at = start
        for token in understand(text, start, end, LEXICON):
            assert text[at : token.start].strip() == "", text[at : token.start]
            assert text[token.start : token.end] == token.text
            at = token.end
        assert text[at:end].strip() == ""


@pytest.mark.parametrize("share", range(SHARES))
def test_mutated_patterns_are_read_and_counted(share: int, long_run: bool) -> None:
    """Whatever happens to a pattern on its way here, there is an answer, and its tokens join to the text again."""
    texts = sources()
    for trial in range(share, MANY_TRIALS if long_run else TRIALS, SHARES):
        text = drawn(texts, trial)
        try:
            holds(text)
            joins_again(text)
        except Exception as error:
            raise AssertionError(f"trial {trial} failed on:\n{text}") from error


@pytest.mark.parametrize("share", range(SHARES))
def test_a_page_may_end_anywhere(share: int, long_run: bool) -> None:
    """A row is cut off behind each of its words, and behind each mark of a list, in one size and in three."""
    for number, line in enumerate(wordings()):
        if number % SHARES != share or not (long_run or number // SHARES % CUT_UP == 0):
            continue
        ends = [found.end() for found in re.finditer(r"\w+|[^\w\s]", line)]
        for at, end in enumerate(ends):
            head = "Sizes: S (M, L)\n" if at % 2 else ""
            mark = LIST_MARKS[(number + at) % len(LIST_MARKS)]
            text = f"Cap\n\n{head}\nRnd 1: 24 sc in a magic ring.\nRnd 2: {line[:end]}{mark}"
            try:
                count(read(text)[0])
            except Exception as error:
                raise AssertionError(f"failed on:\n{text}") from error


@given(st.text(max_size=400))
def test_any_text_is_read_and_counted(text: str) -> None:
    """Letters of any script, control characters and lone marks are all only text."""
    holds(text)
    joins_again(text)


@given(st.text(alphabet=st.sampled_from("rnd ow123:*()[],.sinchdetp-\n"), max_size=200))
def test_text_that_looks_like_rows_is_read_and_counted(text: str) -> None:
    """Text of the letters that rows are made of comes close to rows more often."""
    holds(text)
    joins_again(text)


def test_tokens_join_to_the_text_again() -> None:
    """Of every text as it was, too."""
    for texts in sources().values():
        for text in texts:
            joins_again(text)


def test_absurd_numbers_are_told_and_not_worked() -> None:
    """A digit too many is a finding; neither memory nor time grows with it."""
    for line in (
        "Rnd 2: (sc, inc) x 999999999",
        "Rnd 2: sc in next 999999999999 sts",
        "Rnd 2: [(sc, ch 1) x 99999999, inc] x 99999999",
        "Rnd 2: inc 99999999 evenly around",
        "Rnd 2: 99999999 sc in each st around",
    ):
        tally, findings = holds(f"Cap\n\nRnd 1: 6 sc in a magic ring.\n{line}\nRnd 3: sc in each st around\n")
        assert "limit-reached" in {one.name for one in findings}, line
        assert [row.worked for row in tally.rows()][1] == (None,), line
    tally, findings = holds("Cap\n\nRnd 1: 6 sc in a magic ring.\nRnds 2-99999999: sc in each st around\n")
    assert "limit-reached" in {one.name for one in findings}
    assert sum(1 for _ in tally.rows()) <= 10_000


def test_numbers_of_a_thousand_digits_are_only_text() -> None:
    """Wherever a number may stand, the head of the pattern as well."""
    number = "9" * 5_000
    holds(
        f"Cap\n\nSizes: S (M, L)\nTo fit head: {number} (3, {number}) in\nHook: {number} mm\n\nYarn A: worsted, "
        f"{number} g = {number} m; {number} balls\n\nGauge: {number} sts and {number} rows = {number} in\n\n"
        f"SPECIAL STITCHES\nLong sc: insert hook in st {number} rnds below, pull through {number} loops\n\n"
        f"CAP (make {number})\nRnd {number}: sc\nRnds 2-{number}: 6 sc in ring\nNext {number} rnds: sc around\n"
        f"Rep Rnds 1-{number} {number} more times.\nFasten off, leaving a {number} in tail.\n"
    )


def test_deep_brackets_and_long_rows_come_to_an_end() -> None:
    """Nesting beyond the limit, rows of twenty thousand letters and unclosed brackets are read as far as they go."""
    for line in (
        "(" * 500 + "sc" + ") x 3" * 500,
        "(" * 30 + "sc" + ") x 3" * 30,
        "(" * 30 + "sc" + ") rep around" * 30,
        "(" * 20_000,
        "*" * 20_000,
        "sc, " * 30_000,
        "*sc 2, inc; rep from * around, " * 2_000,
        "rep from * " * 5_000,
        f"sc in next {'9' * 5_000} sts, sc in {'9' * 5_000}th st",
    ):
        holds(f"Cap\n\nRnd 1: 6 sc in a magic ring.\nRnd 2: {line}\n")


def test_a_hat_without_a_stitch_is_edited() -> None:
    """The rounds of a hat whose chain was lost have no width, and nothing is divided by it."""
    page = "An Old Cap\n\nGauge: 7 sts and 8 rnds = 1 in in single 32, join to form a ring.\n"
    page += "Rnd 1: Ch 1, sc in each ch around, join.\nRnds 2-30: Ch 1, st in each st around, join."
    pattern, found = read(page)
    tally, more = count(pattern)
    assert checks.edit(checks.Sheet(Source(page), tally, (*found, *more))) is not None
