"""Pages from old books: which vocabulary they are read in and why, and that they become pages of today unharmed."""

from __future__ import annotations

import random

import pytest

from roundhand.notation import read
from roundhand.notation.likeness import alike
from roundhand.notation.shifting import shift
from roundhand.notation.tidying import tidy
from roundhand.terms import languages, older, vocabulary
from roundhand.workshop.reading import understand
from roundhand.workshop.understood import understood
from tests.notation.survey_cases import pages, survey, variants
from tests.notation.test_printing import PAGES

SURVEY = [
    page
    for case in survey()
    if case.name.startswith("13_old")
    for variant in variants(case)
    for _, page in pages(case, variant)[0]
]
OLD = [page for page in SURVEY if read(page)[0].language in older()]
# The stitches of a page by their names in four vocabularies: slip stitch, chain and five others.
NAMES = {
    "US": ("sl st", "ch", "sc", "hdc", "dc", "tr", "dtr"),
    "older US": ("single", "chain", "double", "half treble", "treble", "double treble", "triple treble"),
    "older UK": ("single", "chain", "plain", "half treble", "long", "long treble", "triple treble"),
    "1940s US": ("sl st", "ch", "s c", "s d c", "d c", "tr c", "d tr c"),
}


def _page(name: str, seed: int, said: bool) -> str:
    """A page of some rounds whose stitches are drawn by chance, in the words of a vocabulary."""
    chance = random.Random(seed)
    slip, chain, *worked = NAMES[name]
    number = chance.randint(5, 30)
    lines = ["A Cover", f"Terms: {name}" if said else "", "", f"1st round: {number} {worked[0]} in a magic ring."]
    for row in range(2, chance.randint(3, 6)):
        rounds = [
            f"1 {chance.choice(worked)} in each stitch around, join with a {slip}.",
            f"2 {chance.choice(worked)} in each stitch around.",
            f"*1 {chance.choice(worked)} in next stitch, 3 {chain}, miss 1; repeat from * to end.",
            f"*1 {chance.choice(worked)} in next stitch, 2 {chance.choice(worked)} in next stitch; repeat from *.",
        ]
        lines.append(f"{row}th round: {chance.choice(rounds)}")
    return "\n".join(lines) + "\n"


@pytest.mark.parametrize("name", [name for name in NAMES if name in older()])
@pytest.mark.parametrize("seed", range(12))
def test_a_page_comes_to_the_same_in_the_words_of_its_time_and_of_today(name: str, seed: int) -> None:
    """Whatever the stitches: the tree of the old page is that of the same page in words of today."""
    old, today = read(_page(name, seed, True))[0], read(_page("US", seed, True))[0]
    assert old.language == name and alike(old.parts, today.parts), _page(name, seed, True)


@pytest.mark.parametrize("to", ["US", "UK"])
def test_old_pages_become_pages_of_today(to: str) -> None:
    """`tidy --terms`: the same tree in words of today, said at the head, which goes to the other side and back."""
    other = "UK" if to == "US" else "US"
    assert len(OLD) > 40
    for page in [*OLD, *(_page(name, seed, True) for name in NAMES if name in older() for seed in range(12))]:
        tree = read(page)[0]
        over = shift(page, "US" if to == "US" else "UK")
        crossed = read(over)[0]
        assert (crossed.language, crossed.language_said) == (to, True), over
        assert alike(tree.parts, crossed.parts), f"{page}\n{over}"
        assert alike(tree.parts, read(tidy(over).text)[0].parts), tidy(over).text
        back = shift(shift(over, "US" if other == "US" else "UK"), "US" if to == "US" else "UK")
        assert alike(tree.parts, read(back)[0].parts), back


def test_an_old_page_is_not_printed_in_old_words() -> None:
    for page in OLD:
        assert tidy(page).text == page


def test_pages_of_today_are_never_taken_for_old_ones() -> None:
    """No wording of the reader's tables, no shipped pattern and no line of the survey's other groups."""
    for page in PAGES:
        assert read(page)[0].language in languages(), page
    for case in survey():
        if not case.name.startswith("13_old"):
            for _, page in pages(case, 0)[0]:
                assert read(page)[0].language in languages(), page


@pytest.mark.parametrize(
    ("head", "language"),
    [
        ("Terms: older US", "older US"),
        ("Terms: US (1918)", "older US"),
        ("Terms: 1885", "older US"),
        ("Terms: British, c. 1900", "older UK"),
        ("Terms: Victorian", "older US"),
        ("Terms: 1940s US", "1940s US"),
        ("Terms: US, 1936", "1940s US"),
        ("Terms: UK 1945", "older UK"),
        ("Written in old UK terms.", "older UK"),
        ("In US terms of the 1940s.", "1940s US"),
        ("Terms: US", "US"),
        ("Terms: UK, 2019", "UK"),
        ("Rewritten from an old book in US terms.", "US"),
    ],
)
def test_a_heading_chooses(head: str, language: str) -> None:
    page = f"A Cover\n{head}\n\nRnd 1: 14 double in a ring.\nRnd 2: 1 treble in each stitch.\n"
    pattern, findings = read(page)
    assert (pattern.language, pattern.language_said) == (language, True)
    assert not [one for one in findings if one.name.startswith("reading")]


@pytest.mark.parametrize(
    ("rows", "language"),
    [
        ("1st row: 1 double in each chain.\n2d row: 1 double in each double.", "older US"),
        ("1st row: 1 double in each chain.\n2nd row: 1 double in each double.", "US"),
        ("1st row: 1 long in each chain.\n2nd row: 3 long, 3 chain, 3 long.", "older US"),
        ("Row 1: 1 sc in each ch.\nRow 2: 1 long sc in next st, leave 6 in long tails.", "US"),
        ("Row 1: work until piece is 12 cm long.\nRow 2: sc in each st, as long as wanted.", "US"),
        ("Row 1: 1 htr in each ch.\n2d row: dc in each st.", "UK"),
        ("Row 1: with D, s c in each ch.\nRow 2: 1 s c in next st.", "1940s US"),
        ("Row 1: sc in each ch, sc in next st.\nRow 2: 1 s c in next st.", "US"),
        ("Row 1: colours D C, D C, S C.\nRow 2: dc in each st.", "US"),
        ("Row 1: 1 d.c. in each ch.\nRow 2: 3 ch. for first tr., 1 tr. in each d.c.", "older UK"),
        ("Row 1: 1 d.c. in each ch.\nRow 2: 3 ch. for first d.c., 1 d.c. in each d.c.", "1940s US"),
    ],
)
def test_words_choose_where_they_prove(rows: str, language: str) -> None:
    assert read(f"A Cover\n\nChain 20.\n{rows}\n")[0].language == language


def test_the_summary_says_which_words_were_read_and_why() -> None:
    told = understood(understand("A Cover\n\n1st round: 12 double in a ring.\n2d round: 2 treble in each double.\n"))
    assert told.sentence().endswith("; read in older US terms, as “double” and “2d” show.")
    said = understood(understand("A Cover\nTerms: older UK\n\nRnd 1: 12 plain in a ring.\n"))
    assert said.sentence().endswith("; read in older UK terms.")
    today = understood(understand("A Cover\n\nRnd 1: 12 sc in a ring.\n"))
    assert "terms" not in today.sentence()


@pytest.mark.parametrize("name", older())
def test_an_older_vocabulary_has_a_time_and_a_side(name: str) -> None:
    known = vocabulary(name)
    assert known.period is not None and known.side in languages()
    first, last = known.period.years
    assert 1850 <= first < last <= 1960
    for word, other in known.period.contested.items():
        found = known.find(word.split(), 0)
        assert found is not None and found.value != other
