"""The shipped caps held against published rules of hat makers and the published table of yarn weights.

Sources and evidence stand row by row in tests/sources/hat_rules.csv and tests/sources/yarn_weights.csv.
"""

from __future__ import annotations

import csv
from fractions import Fraction
from pathlib import Path

import pytest

from roundhand.measures import Length
from roundhand.notation import read
from roundhand.notation.tree import Pattern
from roundhand.shape import Measures, measure
from roundhand.tally import count

_ROOT = Path(__file__).parent.parent.parent
_SOURCES = _ROOT / "tests" / "sources"
_CAPS = ("kittiwake-cap.txt", "saltmarsh-cap.txt")


def _rows(name: str) -> list[dict[str, str]]:
    with (_SOURCES / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _cap(name: str) -> tuple[Pattern, Measures]:
    text = (_ROOT / "patterns" / name).read_text(encoding="utf-8")
    pattern, _ = read(text)
    tally, _ = count(pattern)
    return pattern, measure(tally, text)


@pytest.mark.parametrize("name", _CAPS)
def test_a_cap_is_as_high_as_hat_makers_say(name: str) -> None:
    """Within 15 %: the rule is to the bottom of the ear, and a band is worn turned up or over the ears."""
    factor = float(_rows("hat_rules.csv")[0]["factor"])
    pattern, found = _cap(name)
    head = next(fact for fact in pattern.facts if "head" in fact.key.lower())
    length = found.whole.of("length")
    assert length is not None
    for wanted, derived in zip(head.lengths, length.mm, strict=True):
        assert wanted is not None and derived is not None
        assert float(derived) == pytest.approx(factor * float(wanted.mm), rel=0.15)


def test_a_flat_crown_is_as_wide_as_hat_makers_say() -> None:
    """The crown of the Saltmarsh cap laid out is as wide as its rounds are deep, within 20 % of circumference / pi:
    eight half doubles a round are a little fewer than a flat disc wants (8.8 at its gauge)."""
    factor = float(_rows("hat_rules.csv")[1]["factor"])
    _, found = _cap("saltmarsh-cap.txt")
    around = found.whole.of("round")
    assert around is not None
    crown = {0: 7, 1: 8, 2: 9, 3: 9, 4: 10}
    high = Length.of(Fraction(4, 10), "in").mm
    for size, rounds in crown.items():
        circumference = around.mm[size]
        assert circumference is not None
        assert float(2 * rounds * high) == pytest.approx(factor * float(circumference), rel=0.20)


@pytest.mark.parametrize("name", _CAPS)
def test_gauge_and_hook_are_those_of_the_weight_or_the_next_finer(name: str) -> None:
    """Both caps say worsted on a 5 mm hook, which is firmer than the table's Medium row (11 to 14 single crochet on
    5.5 to 6.5 mm) and inside its Light row, which names light worsted: hats are worked firmly, common practice."""
    pattern, _ = _cap(name)
    rows = _rows("yarn_weights.csv")
    named = [row for row in rows if any(yarn.weight in row["types"] for yarn in pattern.yarns)]
    assert {row["name"] for row in named} == {"Light", "Medium"}
    stitches = pattern.gauges[0].stitches
    assert stitches is not None and pattern.hook_mm is not None
    assert any(
        float(row["gauge_min"]) <= stitches <= float(row["gauge_max"])
        and float(row["hook_min_mm"]) <= pattern.hook_mm <= float(row["hook_max_mm"])
        for row in named
    )
    yarn = pattern.yarns[0]
    assert yarn.length is not None and yarn.mass_g is not None
    metres = float(yarn.length.to("m") * 100 / yarn.mass_g)
    assert any(float(row["m_per_100g_min"]) <= metres <= float(row["m_per_100g_max"]) for row in named)


def test_units_are_exact() -> None:
    """The inch is 25.4 mm and the yard 0.9144 m exactly (international agreement of 1959)."""
    assert Length.of(Fraction(4), "in").mm == Fraction(1016, 10)
    assert Length.of(Fraction(200), "yd").to("m") == Fraction(18288, 100)
    assert Length.of(Fraction(10), "cm").to("in") == Fraction(500, 127)
