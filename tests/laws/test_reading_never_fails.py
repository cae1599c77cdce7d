"""Reading and counting never raise and never run away, whatever the text holds.

Texts are shipped patterns and the lines of the tables of forms, mutated: letters and lines left out, doubled,
exchanged, spliced, numbers made absurd; and text of any letters at all. A failing text is printed with its trial
number, which draws the same text again.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from pathlib import Path

import msgspec
from hypothesis import given
from hypothesis import strategies as st

from roundhand.findings import Finding, Source, Span
from roundhand.notation import read
from roundhand.notation.page import cut_page
from roundhand.notation.tokens import Lexicon, understand
from roundhand.tally import Tally, count
from roundhand.terms import vocabulary

HERE = Path(__file__).parent
PATTERNS = sorted((HERE.parent.parent / "patterns").glob("*.txt"))
FORMS = sorted((HERE.parent / "notation" / "forms").glob("*.md"))
TRIALS, MANY_TRIALS = 300, 20_000
MARKS = "()[]{}*,;:.-–—=/'\"×&+#_\n\t \u00a0\u2028½٣" + "²x"
WORDS = ("rep from *", "around", "in", "each", "Rnd 5:", "Row", "999999999", "0", "- (-, 3)", "inc", "dec", "sc2tog",
         "to last 3 sts", "Sizes: S (M, L)", "ch 3", "join", "turn", "evenly", "x 5", "times", "more", "blo", "fpdc",
         "With B", "All sizes:", "Rep Rnds 1-9999", "until", "(", ")", "*", "**", "spike sc 3 rnds below",
         "2nd ch from hook")  # fmt: skip


def sources() -> list[str]:
    """The texts that are mutated: whole patterns, and small pages made of the wordings of the forms."""
    texts = [file.read_text(encoding="utf-8") for file in PATTERNS]
    for file in FORMS:
        lines = [line[2:] for line in file.read_text(encoding="utf-8").splitlines() if line.startswith("- ")]
        for at in range(0, len(lines), 6):
            rows = "\n".join(f"Rnd {number}: {line}" for number, line in enumerate(lines[at : at + 6], start=2))
            texts.append(f"A Form\n\nRnd 1: 24 sc in a magic ring.\n{rows}\n")
    return texts


def mutated(text: str, chance: random.Random) -> str:
    """The text with a few things done to it that hasty fingers and bad scans do."""
    for _ in range(chance.randint(1, 6)):
        at = chance.randrange(len(text) + 1)
        to = min(len(text), at + chance.choice((1, 1, 2, 5, 20, 100)))
        way = chance.randrange(9)
        if way == 0:
            text = text[:at] + text[to:]
        elif way == 1:
            text = text[:to] + text[at:to] + text[to:]
        elif way == 2:
            text = text[:at] + text[at:to][::-1] + text[to:]
        elif way == 3:
            text = text[:at] + chance.choice(MARKS) + text[at:]
        elif way == 4:
            text = text[:at] + " " + chance.choice(WORDS) + " " + text[at:]
        elif way == 5:
            lines = text.split("\n")
            one, two = chance.randrange(len(lines)), chance.randrange(len(lines))
            lines[one], lines[two] = lines[two], lines[one]
            text = "\n".join(lines)
        elif way == 6:
            other = chance.randrange(len(text) + 1)
            text = text[:at] + text[other : other + 200] + text[to:]
        elif way == 7:
            text = text[:at] + str(chance.choice((0, 1, 7, 10**6, 10**12, 10**30, 10**60))) + text[to:]
        else:
            text = text[:at] + text[at:to].swapcase() + text[to:]
    return text


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


def test_mutated_patterns_are_read_and_counted(long_run: bool) -> None:
    """Whatever happens to a pattern on its way here, there is an answer."""
    texts = sources()
    for trial in range(MANY_TRIALS if long_run else TRIALS):
        chance = random.Random(trial)
        text = mutated(chance.choice(texts), chance)
        try:
            holds(text)
        except Exception as error:
            raise AssertionError(f"trial {trial} failed on:\n{text}") from error


@given(st.text(max_size=400))
def test_any_text_is_read_and_counted(text: str) -> None:
    """Letters of any script, control characters and lone marks are all only text."""
    holds(text)


@given(st.text(alphabet=st.sampled_from("rnd ow123:*()[],.sinchdetp-\n"), max_size=200))
def test_text_that_looks_like_rows_is_read_and_counted(text: str) -> None:
    """Text of the letters that rows are made of comes close to rows more often."""
    holds(text)


def test_tokens_join_to_the_text_again() -> None:
    """The tokens of a line, with the white space between them, are the line."""
    words = vocabulary("US")
    lexicon = Lexicon(words, vocabulary("UK"), {}, {"A": "A", "B": "B"}, {"slate": "A"})
    for text in sources():
        for start, end in [(line.start, line.end) for line in cut_page(Source(text), ("S", "M"))]:
            at = start
            for token in understand(text, start, end, lexicon):
                assert text[at : token.start].strip() == "", text[at : token.start]
                assert text[token.start : token.end] == token.text
                at = token.end
            assert text[at:end].strip() == ""


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
