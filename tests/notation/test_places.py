"""Every wording of every kind of place is read, is that kind of place, and comes to what it must (`places.md`)."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from roundhand.notation import read
from roundhand.notation.place_kinds import kind_of, stitch_named
from roundhand.notation.tree import Node, Place, Times, Work
from roundhand.tally import count
from roundhand.terms import vocabulary
from tests.notation.place_words import TEXT, WORDINGS, Values, Wording, filled, in_uk_terms, trials

TRIALS = [
    (case, words, values, terms)
    for case in WORDINGS
    for words in case.wordings
    for values in trials(case.numbers)
    for terms in ("US", "UK")
]


def _all(nodes: tuple[Node, ...]) -> Iterator[Node]:
    for node in nodes:
        yield node
        if isinstance(node, Times):
            yield from _all(node.body)


def test_the_file_is_read_whole() -> None:
    assert len(WORDINGS) == TEXT.count("\n## ")


@pytest.mark.parametrize(
    ("case", "words", "values", "terms"),
    TRIALS,
    ids=[f"{case.place}: {words} {values} {terms}" for case, words, values, terms in TRIALS],
)
def test_a_wording(case: Wording, words: str, values: Values, terms: str) -> None:
    said = filled(case.page.replace("WORDS", words), values)
    text = f"A Try\nTerms: {terms}\n\n" + (in_uk_terms(said) if terms == "UK" else said)
    pattern, findings = read(text)
    tally, more = count(pattern)
    assert [one.headline for one in (*findings, *more) if one.severity != "advice"] == [], text
    row = list(tally.rows())[-1]
    result = row.results[0]
    assert result is not None
    assert (str(result.count), result.lacking, result.unread) == (
        filled("{" + case.made.strip("{}") + "}", values),
        0,
        0,
    )
    kinds = set()
    for node in _all(row.nodes[0] or ()):
        place = node.into if isinstance(node, Work) else None
        named = stitch_named(place, text, vocabulary(terms)) if isinstance(place, Place) else ""
        kinds.add(kind_of(node, named))
    assert case.place in kinds, f"{text}\nis read as {kinds}"
