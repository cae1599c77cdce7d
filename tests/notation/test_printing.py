"""The tree printed in house style reads back to the same tree; tidying and the exchange of terms lose nothing.

Every wording of `forms/*.md` and every pattern that is shipped goes through all of it.
"""

from __future__ import annotations

import re

import pytest

from roundhand.notation import read
from roundhand.notation.likeness import alike
from roundhand.notation.printing import Printer, UnprintableError
from roundhand.notation.read import read_closely
from roundhand.notation.shifting import shift
from roundhand.notation.tidying import tidy
from roundhand.notation.tokens import cut
from roundhand.notation.tree import Pattern
from roundhand.workshop import shipped_patterns
from tests.notation.test_forms import WORDS, cases

LABELLED = re.compile(r"(?:R[ow]*nd|Row|Round|Next)")


def pages() -> list[str]:
    """A page for every wording, and the shipped patterns."""
    found = [path.read_text(encoding="utf-8") for path in sorted(shipped_patterns().glob("*.txt"))]
    for case in cases():
        found += case.patterns
        found += [
            f"A Form\n\n{wording}\n"
            if LABELLED.match(wording)
            else f"A Form\n\nRnd 1: 24 sc in a magic ring.\nRnd 2: {wording}\n"
            for wording in case.wordings
        ]
    return found


PAGES = pages()
# Numbers in words become digits, a printed range needs no "inclusive", and the stars of "between *s" are one star.
NUMBERS = {*WORDS, "once", "twice", "thrice", "second", "third", "fourth", "fifth", "incl", "inclusive", "s"}
GROUPS = [PAGES[at::12] for at in range(12)]


def _substance(pattern: Pattern) -> tuple[object, ...]:
    definitions = tuple((one.stitch.id if one.stitch else "", one.below) for one in pattern.definitions.values())
    return pattern.parts, definitions, pattern.count_notes


@pytest.mark.parametrize("group", GROUPS, ids=range(12))
def test_tidied_pages_read_the_same_and_stay_tidy(group: list[str]) -> None:
    for page in group:
        found = tidy(page)
        assert alike(_substance(read(page)[0]), _substance(read(found.text)[0])), found.text
        again = tidy(found.text)
        assert again.text == found.text, page


@pytest.mark.parametrize("group", GROUPS, ids=range(12))
def test_no_word_without_a_meaning_is_lost(group: list[str]) -> None:
    """Names, notes and numbers of hers are all still there: what is not a word of the trade survives."""
    for page in group:
        found = tidy(page)
        lexicon = read_closely(page)[2]
        before, after = ({token.value for token in cut(text, 0, len(text))} for text in (page, found.text))
        lost = {word for word in before - after if not lexicon.words.knows(word) and word.isalpha()} - NUMBERS
        # "scblo" is printed as two words.
        lost = {word for word in lost if not word.endswith(("blo", "flo"))}
        assert not lost, f"{lost} of {page} is not in {found.text}"


def test_most_rows_are_understood_well_enough_to_be_printed() -> None:
    printed = left = 0
    for page in PAGES:
        pattern, _, lexicon = read_closely(page)
        printer = Printer(page, lexicon, len(pattern.sizes))
        for line in (line for part in pattern.parts for line in part.lines):
            try:
                printer.row(line)
                printed += 1
            except UnprintableError:
                left += 1
    assert printed > 15 * left, f"{printed} rows are printed, {left} left as they stand"


@pytest.mark.parametrize("group", GROUPS, ids=range(12))
def test_terms_are_exchanged_there_and_back(group: list[str]) -> None:
    for page in group:
        pattern, _ = read(page)
        over = shift(page, "UK" if pattern.language == "US" else "US")
        crossed, _ = read(over)
        assert crossed.language != pattern.language, over
        back, _ = read(shift(over, "UK" if pattern.language == "UK" else "US"))
        assert alike(_substance(pattern), _substance(back)), over
        if not pattern.definitions:
            # A name that the page gives a stitch holds the old word or the new; all else is the same in between too.
            assert alike(_substance(pattern), _substance(crossed)), over


def test_what_is_not_understood_is_left_as_it_stands() -> None:
    page = "Cap\n\n  My dear maker,\ttake your time!\n\nRnd 1: 6 sc in a magic ring, humming softly all along.\n"
    assert tidy(page).text == page


def test_stars_survive() -> None:
    page = "Cap\n\nRnd 1: 6 sc in MR.\nR2: *sc 2,inc*x2 = 8\nRnd 3: *sc,inc; repeat from * 3 more times (12)\n"
    assert tidy(page).text.splitlines()[3:] == [
        "Rnd 2: *sc in next 2 sts, inc* twice. (8)",
        "Rnd 3: *sc, inc; rep from * 3 more times. (12)",
    ]


@pytest.mark.parametrize(
    "said", ["Terms: American", "Crochet terms: U.S.", "Language: US terms", "Written in US terms.", "**Terms:** US"]
)
def test_what_a_page_says_of_its_terms_is_put_right_and_not_said_twice(said: str) -> None:
    page = f"Cap\n{said}\nHook: 5 mm (US H-8)\n\nRnd 1: 6 sc in a magic ring.\n"
    over = shift(page, "UK")
    assert read(over)[0].language == "UK"
    assert over.count("UK") == 1 and len(over.splitlines()) == len(page.splitlines()), over
    assert "US H-8" in over


def test_a_row_in_capitals_is_set_like_the_others() -> None:
    """What the trade and the pattern write in capitals stays."""
    text = (
        "COVE MITTS\n\nYARN A: slate\nYARN B: oat\n\nRND 1: WITH A, MAKE A MAGIC RING , 8 SC IN RING , JOIN . ( 8 )\n"
        "RND 2: CH 1 , 2 SC IN EACH ST AROUND , CHANGING TO B IN LAST ST , JOIN . (16)\n"
    )
    assert tidy(text).text.splitlines()[-2:] == [
        "Rnd 1: With A, make a magic ring, 8 sc in ring, join. (8)",
        "Rnd 2: Ch 1, 2 sc in each st around, changing to B in last st, join. (16)",
    ]
