"""The smallest edit: the one number that disagrees with all the rest is the one that is offered.

The pages are those of cases 10, 51, 58 and 99 as they were worked by hand, each also with other numbers, another stitch
and other words; the answers are worked out here.
"""

from __future__ import annotations

import random

import pytest

from roundhand.findings import Finding
from roundhand.workshop import understand

COPIES = 12


def _errors(page: str) -> list[Finding]:
    return [one for one in understand(page).findings if one.severity == "error" and not one.follows]


def _offered(page: str) -> list[tuple[str, str]]:
    """The words of every number that an edit would exchange, with what it would put there; the first offer first."""
    return [(edit.span.of(page), edit.text) for one in _errors(page) for edit in one.edits]


def _slope(plain: int, times: int, slip: int, star: str) -> str:
    """A ripple whose first slope is longer or shorter than its count says, by the slip."""
    group = 2 * plain + 3
    chains = times * group + plain + 2 + plain + 1
    return (
        f"A Form\n\nBLANKET\nCh {chains}.\nRow 1: Dc in 4th ch from hook (skipped ch counts as dc) and in each of next "
        f"{plain - 2 + slip} ch ({plain} dc), {star}(dc, ch 2, dc) in next ch, dc in next {plain} ch, skip next 2 ch, "
        f"dc in next ch, dc in next {plain - 1} ch; rep from {star} to last {plain + 1} ch, (dc, ch 2, dc) in next ch, "
        f"dc in next {plain} ch.\n"
    )


@pytest.mark.parametrize("copy", range(COPIES))
def test_a_slope_that_takes_a_chain_too_many(copy: int) -> None:
    """Case 10: seven is written for six; the count of eight, the repeat of nineteen and the chain all agree on six."""
    chance = random.Random(copy)
    plain, times = (8, 14) if copy == 0 else (chance.randint(5, 12), chance.randint(6, 20))
    page = _slope(plain, times, 1, "*")
    assert (str(plain - 1), str(plain - 2)) in _offered(page), page
    assert _errors(_slope(plain, times, 0, "*")) == []


def _sample(chains: int, count: int, stitch: str) -> str:
    nth = {"sc": "2nd", "hdc": "3rd", "dc": "4th"}[stitch]
    said = "" if stitch == "sc" else " (skipped ch do not count as a st)"
    return (
        f"A Form\n\nSAMPLE\nCh {chains}.\nRow 1: {stitch.capitalize()} in {nth} ch from hook{said} and in each ch "
        f"across, turn. ({count} {stitch})\nRow 2: Ch 1, *skip next 2 sts, sc in next 2 sts, sc in 2 skipped sts; rep "
        f"from * across, turn. ({count} sc)\n"
    )


@pytest.mark.parametrize("copy", range(COPIES))
def test_a_sample_chain_that_is_too_short(copy: int) -> None:
    """Case 51: thirty-four stitches stand on a chain of twenty; the next row goes on with thirty-four."""
    chance = random.Random(copy)
    stitch = ("hdc", "sc", "dc")[copy % 3]
    high = {"sc": 1, "hdc": 2, "dc": 3}[stitch]
    count = 4 * chance.randint(5, 12)
    chains = count + high
    slip = chance.choice((-14, -5, -2, -1, 1, 3))
    page = _sample(chains + slip, count, stitch)
    assert _offered(page)[0] == (str(chains + slip), str(chains)), page
    assert _errors(_sample(chains, count, stitch)) == []


def _magazine(counts: list[int], nth: str, terms: str) -> str:
    stitch = "tr" if terms == "UK" else "dc"
    said = f"{counts[0]} ({', '.join(map(str, counts[1:]))})"
    chains = f"{counts[0] + 3} ({', '.join(str(count + 3) for count in counts[1:])})"
    return (
        f"A Form\n\nSizes: A ({', '.join('BCDE'[: len(counts) - 1])})\nTerms: {terms}\n\nCh {chains}.\nRow 1: "
        f"{stitch.capitalize()} in {nth} ch from hook (skipped ch do not count as a st) and in each ch to end, turn. "
        f"[{said} {stitch}]\nRow 2: Ch 1, {'dc' if terms == 'UK' else 'sc'} in each st to end, turn. [{said}]\n"
    )


@pytest.mark.parametrize("copy", range(COPIES))
def test_a_first_stitch_in_the_wrong_chain(copy: int) -> None:
    """Case 58: one word mends it in every size, where the chain would have to change in each. (By one chain too far the
    note on the skipped chains may be what is wrong; that is told as note-differs.)"""
    chance = random.Random(copy)
    first = 69 if copy == 0 else chance.randint(20, 90)
    counts = [first + 5 * at for at in range(5 if copy == 0 else chance.randint(2, 5))]
    terms, slip = ("UK", "US")[copy % 2], ("3rd", "6th", "14th")[copy % 3]
    page = _magazine(counts, slip, terms)
    assert _offered(page)[0] == (slip, "4th"), page
    assert _errors(_magazine(counts, "4th", terms)) == []


def _borders(counts: list[int], group: int) -> str:
    said = f"{counts[0]} ({', '.join(map(str, counts[1:]))})"
    chains = f"{counts[0] + 1} ({', '.join(str(count + 1) for count in counts[1:])})"
    return (
        f"A Form\n\nSizes: A (B, C)\n\nCh {chains}.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. "
        f"({said})\nRow 2: Ch 1, *dc in next {group - 1} sts, sc in next st; rep from * across, turn.\n"
    )


@pytest.mark.parametrize("copy", range(COPIES))
def test_chains_of_which_not_all_fit_the_repeat(copy: int) -> None:
    """Case 99: 56, 59 and 74 leave 0, 3 and 2 over a repeat of four; the two sizes that cannot work are named, each
    with what is over, and no edit is sure."""
    chance = random.Random(copy)
    group, counts = 4, [56, 59, 74]
    if copy:
        group = chance.randint(4, 9)
        over = chance.sample(range(1, group), 2)
        whole = [group * chance.randint(5, 12) for _ in range(3)]
        counts = [whole[0], whole[1] + over[0], whole[2] + over[1]]
    (one,) = _errors(_borders(counts, group))
    assert (one.name, one.sizes) == ("repeat-left-over", ("B", "C"))
    assert one.facts["over"] == tuple(count % group for count in counts[1:])
    assert all(edit.certainty == "ask" for edit in one.edits)
