"""Laws of the symbols over the whole dictionary, and over stitches that no dictionary has."""

from __future__ import annotations

import csv
import re
from fractions import Fraction
from itertools import combinations
from pathlib import Path

import msgspec
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from roundhand.stitches import Part, Stitch, closes, dictionary, read_recipe
from roundhand.stitches.symbols import Stroke, Symbol, box_of, shape, symbol, symbol_marks, symbol_of
from roundhand.stitches.symbols.rule import by_rule

STITCHES = dictionary()
SYMBOLS = {id: symbol_of(id) for id in STITCHES}
every_stitch = pytest.mark.parametrize("stitch", STITCHES.values(), ids=STITCHES)

# Published lists of symbols agree on these, or somebody recalls them; the shapes are told in our own words.
with (Path(__file__).parents[1] / "sources" / "chart_symbols.csv").open(encoding="utf-8") as file:
    LISTED = {row["stitch"]: row for row in csv.DictReader(file)}

# The rule of slashes (German crochet code list, code-knacker.de; handmeid.tokyo): 0, 1, 2, 3 from half double up.
SLASHES = {
    "chain": 0,
    "slip_stitch": 0,
    "single": 0,
    "half_double": 0,
    "double": 1,
    "treble": 2,
    "double_treble": 3,
    "triple_treble": 4,
    "quadruple_treble": 5,
    "tunisian_simple": 0,
}


@every_stitch
def test_every_stroke_is_inside_the_box(stitch: Stitch) -> None:
    found = SYMBOLS[stitch.id]
    assert found.strokes
    assert found.box.width == max(1, stitch.uses, stitch.makes)
    assert found.box.high == (stitch.height_chains + 1) / 2
    assert [stroke for stroke in found.strokes if not found.box.holds(stroke)] == []


@every_stitch
def test_slashes_are_those_of_the_plain_stitch_on_every_leg(stitch: Stitch) -> None:
    plain = SLASHES[stitch.family.removeprefix("extended_")]
    if stitch.id == "bullion_7_wraps":
        # One loop is drawn through all seven yarn overs, so none is worked off by itself; they are drawn as wraps.
        assert (SYMBOLS[stitch.id].count("slash"), SYMBOLS[stitch.id].count("ring")) == (0, 7)
        return
    assert SYMBOLS[stitch.id].count("slash") == plain * stitch.legs


@pytest.mark.parametrize("id", [id for id in SLASHES if id not in ("half_double", "tunisian_simple")])
def test_slashes_of_a_plain_stitch_are_its_yarn_overs_before_the_hook_goes_in(id: str) -> None:
    acts = [one.act for one in STITCHES[id].recipe]
    yarn_overs = acts[: acts.index("insert")].count("yarn over") if "insert" in acts else 0
    assert SYMBOLS[id].count("slash") == yarn_overs


@every_stitch
def test_legs_are_insertions(stitch: Stitch) -> None:
    flat = stitch.family == "slip_stitch" and stitch.legs == 1
    assert SYMBOLS[stitch.id].count("leg") == (0 if flat else stitch.legs)


@every_stitch
def test_chains_of_a_group_are_ovals(stitch: Stitch) -> None:
    chains = sum(part.count for part in stitch.parts if part.stitch == "chain")
    if stitch.parts:
        assert SYMBOLS[stitch.id].count("chain") == chains


def far(one: Stroke, other: Stroke) -> Fraction:
    """How far a stroke lies from another of its kind, at most, in stitch widths."""
    if one.part != other.part or len(one.points) != len(other.points):
        return Fraction(1)
    pairs = list(zip(one.points, other.points, strict=True))
    turns = Fraction(abs(one.turn - other.turn), 90)
    return max(max(abs(x - u), abs(y - v)) for (x, y), (u, v) in pairs) + turns


def alike(one: Symbol, other: Symbol) -> bool:
    """Whether no eye would tell two symbols apart: every stroke of one has another within a tenth of a stitch."""
    if sorted(stroke.part for stroke in one.strokes) != sorted(stroke.part for stroke in other.strokes):
        return False
    return all(min(far(stroke, beside) for beside in other.strokes) < Fraction(1, 10) for stroke in one.strokes)


def test_stitches_that_are_not_said_to_look_alike_can_be_told_apart() -> None:
    said = {
        (id, stitch.symbol[0][3:]) for id, stitch in STITCHES.items() if stitch.symbol[:1] and "as " in stitch.symbol[0]
    }
    found = {(one, other) for one, other in combinations(STITCHES, 2) if alike(SYMBOLS[one], SYMBOLS[other])}
    assert {frozenset(pair) for pair in found} == {frozenset(pair) for pair in said}
    assert len(said) == 8


@pytest.mark.parametrize("row", LISTED.values(), ids=LISTED)
def test_listed_symbols_have_the_legs_slashes_and_feet_of_the_lists(row: dict[str, str]) -> None:
    found = SYMBOLS[row["stitch"]]
    assert found.count("leg") == int(row["legs"])
    assert found.count("slash") == int(row["legs"]) * int(row["slashes"])
    feet = {stroke.points[0][0] for stroke in found.strokes if stroke.part == "leg"}
    assert {"": 0, "one": 1, "apart": int(row["legs"])}[row["feet"]] == len(feet)
    assert found.evidence == row["evidence"]


def test_everything_else_is_ours_and_says_so() -> None:
    assert {id for id, found in SYMBOLS.items() if found.evidence != "ours"} == set(LISTED)
    for id, found in SYMBOLS.items():
        if found.evidence == "ours":
            assert found.source.startswith("ours"), id
        elif found.evidence == "found":
            assert re.search(r"\w\.\w", found.source), f"{id} is said to be found, and no address is given"
        else:
            assert re.search(r"recalled", found.source), f"{id} is from memory, and its source does not say so"


def test_marks_say_how_well_they_are_known() -> None:
    marks = symbol_marks()
    assert {name for name, mark in marks.items() if mark.evidence == "found"} == {"back_loop", "front_loop"}
    assert {name for name, mark in marks.items() if mark.evidence == "memory"} == {
        "front_post",
        "back_post",
        "backward",
    }
    for name, mark in marks.items():
        assert (mark.source == "ours") == (mark.evidence == "ours"), name
    said = {words for stitch in STITCHES.values() for one in stitch.recipe for words in [one.where] if words}
    for name, mark in marks.items():
        if name != "third_loop":
            assert any(phrase in words for phrase in mark.said for words in said), f"no stitch has the mark {name}"


def test_a_front_mark_is_the_mirror_of_the_back_one() -> None:
    marks = symbol_marks()
    (front,), (back,) = marks["front_post"].strokes, marks["back_post"].strokes
    assert [(-x, y) for x, y in front.points] == list(back.points)


@pytest.mark.parametrize("id", ["single", "half_double", "double", "treble", "double_treble", "triple_treble"])
def test_the_rule_makes_what_the_lists_show(id: str) -> None:
    """So what the rule carries on begins where the lists end."""
    made = Symbol(box_of(STITCHES[id]), by_rule(STITCHES[id], {}), "", "")
    assert alike(made, SYMBOLS[id])
    assert alike(SYMBOLS[id], made)


# Stitches that no dictionary has: whatever a pattern defines gets a symbol by the same laws.

LEG = st.tuples(
    st.integers(0, 6), st.booleans(), st.sampled_from(["", " same", " post from front", " back loop", " n rows below"])
)


@given(st.lists(LEG, min_size=1, max_size=8), st.sampled_from(["", " tall"]), st.integers(2, 14))
def test_any_stitch_that_closes_has_a_symbol(legs: list[tuple[int, bool, str]], tall: str, height: int) -> None:
    said: list[str] = []
    slashes = 0
    for yarn_overs, worked, where in legs:
        said += ["yo"] * yarn_overs + [f"insert{where}", f"draw up{tall}"]
        if worked:
            said += ["pull through 2"] * yarn_overs
            slashes += yarn_overs
    open_loops = 1 + sum(1 + (0 if worked else yarn_overs) for yarn_overs, worked, _ in legs)
    recipe = read_recipe(", ".join([*said, f"pull through {open_loops}"]))
    assert closes(recipe)
    stitch = msgspec.structs.replace(
        STITCHES["double"], id="own", recipe=recipe, height_chains=Fraction(height, 2), uses=len(legs), symbol=()
    )
    found = symbol(stitch, STITCHES)
    assert all(found.box.holds(stroke) for stroke in found.strokes)
    assert (found.count("slash"), found.count("leg")) == (slashes, len(legs))
    assert found.evidence == "ours"


@given(st.lists(st.tuples(st.sampled_from(sorted(STITCHES)), st.integers(1, 4)), min_size=1, max_size=5))
@example([("back_popcorn_5_double", 4), ("back_post_double_2_together", 2)])
@example([("back_popcorn_5_double", 3), ("extended_double", 3), ("v_stitch_single", 4)])
def test_any_group_has_the_legs_and_slashes_of_its_parts(items: list[tuple[str, int]]) -> None:
    parts = tuple(Part(id, count) for id, count in items)
    recipe = tuple(one for id, count in items for _ in range(count) for one in STITCHES[id].recipe)
    stitch = msgspec.structs.replace(STITCHES["shell_5_double"], id="own", parts=parts, recipe=recipe)
    found = symbol(stitch, STITCHES)
    assert all(found.box.holds(stroke) for stroke in found.strokes)
    for part in ("slash", "leg", "chain"):
        wanted = sum(SYMBOLS[id].count(part) * count for id, count in items)
        assert found.count(part) == wanted, part


@pytest.mark.parametrize(("number", "slashes"), [(1, 1), (2, 2), (4, 4)])
def test_a_stitch_worked_another_way_has_the_symbol_of_its_own_recipe(number: int, slashes: int) -> None:
    """A pattern may call something a double and say how it works it; the strokes of the file do not hold then."""
    recipe = read_recipe(f"yo x {number}, insert, draw up, pull through 2 x {number + 1}")
    found = symbol(msgspec.structs.replace(STITCHES["double"], recipe=recipe), STITCHES)
    assert found.count("slash") == slashes
    assert found.evidence == ("found" if number == 1 else "ours")


def test_a_shape_that_slips_is_told_from_one_that_is_pulled() -> None:
    assert shape(read_recipe("insert, draw up, slip through 1")).slipped
    assert not shape(read_recipe("insert, draw up, pull through 2")).slipped
