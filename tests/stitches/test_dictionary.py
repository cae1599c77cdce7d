"""The packaged stitches against the laws of a stitch, against each other, and against what has been published."""

import csv
import re
from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pytest

from roundhand.stitches import (
    Operation,
    Stitch,
    closes,
    dictionary,
    loops,
    needed_to_close,
    peak,
    read_recipe,
    write_recipe,
)
from tests.sources.anatomy import most_loops

STITCHES = dictionary()
GOLDEN = (Path(__file__).parent / "how_it_is_worked.txt").read_text(encoding="utf-8")
# Each row names its source and how well it is known; see tests/sources/README.md.
with (Path(__file__).parents[1] / "sources" / "stitch_recipes.csv").open(encoding="utf-8", newline="") as file:
    PUBLISHED = list(csv.DictReader(file))

every_stitch = pytest.mark.parametrize("stitch", STITCHES.values(), ids=STITCHES)
every_row = pytest.mark.parametrize("row", PUBLISHED, ids=lambda row: row["id"])

# Where a stitch is worked without going on to another place of the row below.
ELSEWHERE = {
    "same", "base chain", "top of first", "top of first from back", "bar of last stitch", "upper bar of last stitch",
    "middle bar of last stitch", "lower bar of last stitch", "eye of last star", "side of last star", "where it ended",
    "where last ended", "top of base stitch", "face of fabric", "back strand of loop",
}  # fmt: skip


def acts(recipe: Sequence[Operation]) -> list[tuple[str, int]]:
    return [(operation.act, operation.loops) for operation in recipe]


# --- laws that every stitch keeps ---


@every_stitch
def test_one_loop_before_and_one_after(stitch: Stitch) -> None:
    assert closes(stitch.recipe), f"{stitch.id}: {loops(stitch.recipe)} loops on the hook"
    assert loops(stitch.recipe)[-1] == 1
    assert stitch.peak == max(1, *loops(stitch.recipe))


@every_stitch
def test_no_loop_is_drawn_up_where_the_hook_is_not_in_the_work(stitch: Stitch) -> None:
    entered = False
    for operation in stitch.recipe:
        if operation.act == "insert":
            entered = True
        elif operation.act in ("draw up", "pick up dropped loop"):
            assert entered, f"{stitch.id}: the hook is nowhere in the work to {operation.act}"
            entered = False
        else:
            assert not entered, f"{stitch.id}: {operation.act} while the hook is in the work"
    assert not entered


@every_stitch
def test_a_stitch_uses_a_place_for_each_that_it_is_worked_into(stitch: Stitch) -> None:
    places = [at for at in stitch.recipe if at.act == "insert" and at.where not in ELSEWHERE]
    assert stitch.uses == len(places)
    assert stitch.shares == [at.where for at in stitch.recipe].count("where last ended")


@every_stitch
def test_a_stitch_leaves_one_on_top_and_a_group_as_many_as_its_parts(stitch: Stitch) -> None:
    parts = [part for part in stitch.parts if part.stitch != "chain"]
    if stitch.id.startswith(("picot", "surface")):
        assert stitch.makes == 0, "what stands beside the row or on its face is no place for the next one"
    elif parts:
        assert stitch.makes == sum(part.count * STITCHES[part.stitch].makes for part in parts)
    else:
        assert stitch.makes == 1


@pytest.mark.parametrize(
    ("id", "uses", "makes", "chains"),
    [
        ("shell_5_double", 1, 5, 0),
        ("v_stitch_double", 1, 2, 1),
        ("crossed_double", 2, 2, 0),
        ("star_single", 2, 1, 0),
        ("picot_3_chain", 0, 0, 3),
        ("split_shell_4_double", 1, 4, 2),
    ],
)
def test_what_groups_and_stars_use_and_leave(id: str, uses: int, makes: int, chains: int) -> None:
    """Source: common practice; the shell, picot and crossed doubles as in the published list (stitch_recipes.csv)."""
    stitch = STITCHES[id]
    made = sum(part.count for part in stitch.parts if part.stitch == "chain")
    assert (stitch.uses, stitch.makes, made) == (uses, makes, chains)


@every_stitch
def test_the_place_is_the_one_in_the_recipe(stitch: Stitch) -> None:
    said = {operation.where for operation in stitch.recipe if operation.act == "insert"}
    expected = {
        "both loops": {
            "", "next backward", "following", "skipped", "between legs", "with cord on top",
            "with idle yarn on top", "with yarn round finger",
        },
        "front loop": {"front loop of next", "front loop of following"},
        "back loop": {"back loop"},
        "front post": {"post from front"},
        "back post": {"post from back"},
        "below": {
            "n rows below", "free front loop", "skipped stitch in front of chains",
        },
        "base chain": {"base chain"},
        "bar": {"front bar", "back bar", "strands of bar", "between bars", "front bar yarn in front"},
        "face of fabric": {"face of fabric"},
        "top of the last stitch": {"top of base stitch"},
        "loop on the hook": {"back strand of the loop"},
    }  # fmt: skip
    own = expected[stitch.place]
    assert said <= own | ELSEWHERE
    assert said & own or stitch.place == "loop on the hook"


@every_stitch
def test_ids_are_whole_words(stitch: Stitch) -> None:
    listed = {
        part
        for row in PUBLISHED
        for abbr in (row["us_abbreviation"], row["uk_abbreviation"])
        for part in re.findall(r"[a-z]+", abbr.lower())
    }
    short = listed - {"spike", "in"} | {"fp", "bp", "blo", "flo", "inc", "dec", "rev", "tog", "sts", "yo", "trc", "rep"}
    assert {"sc", "hdc", "dc", "tr", "dtr", "tog", "sl", "ch", "htr", "fsc", "rsc"} <= short
    # The V of a V-stitch is its shape and no short form.
    words = [word for word in stitch.id.split("_") if word != "v"]
    used = [word for word in words if word in short or not re.fullmatch(r"[a-z]{4,}|\d+", word)]
    assert not used, f"{stitch.id} holds {used}, which is no whole word"


# --- stitches against each other ---


def said(recipe: str) -> list[tuple[str, int]]:
    return acts(read_recipe(recipe))


# Forms whose movements do not follow from their plain stitch by a rule, each spelled out once more, here by hand.
ODD_FORMS = {
    "single_invisible_decrease": "insert, insert, draw up, pull through 2",
    "half_double_invisible_decrease": "yo, insert, insert, draw up, pull through 3",
    "slip_stitch_2_together": "insert, draw up, insert, draw up, slip through 2",
    "yarn_over_slip_stitch": "yo, insert, draw up, slip through 2",
    "herringbone_half_double": "yo, insert, draw up, slip through 1, pull through 2",
    "herringbone_double": "yo, insert, draw up, slip through 1, pull through 1, pull through 2",
    "loop_single": "insert, draw up, pull through 2",
    "bean_single": "insert, draw up, yo, insert, draw up, yo, insert, draw up, pull through 6",
    "star_single": "(insert, draw up) x 5, pull through 6, pull through 1",
    "wedge_single": "insert, draw up, insert, draw up, pull through 3, pull through 1",
    "love_knot": "pull through 1, insert, draw up, pull through 2",
    "bullion_7_wraps": "yo x 7, insert, draw up, pull through 9",
    "tunisian_extended": "insert, draw up, pull through 1, pull through 2",
}


@every_stitch
def test_a_form_is_worked_as_its_plain_stitch_but_for_what_its_name_says(stitch: Stitch) -> None:
    """Every form is derived from the recipe of its family here, and must come out as its file has it."""
    plain = list(STITCHES[stitch.family].recipe)
    unfinished = plain[:-1]
    number = next((int(word) for word in stitch.id.split("_") if word.isdigit()), 1)
    if stitch.id == stitch.family:
        assert STITCHES[stitch.family].family == stitch.family
        return
    if stitch.id in ODD_FORMS:
        assert acts(stitch.recipe) == said(ODD_FORMS[stitch.id])
        return
    at = next((at for at, operation in enumerate(plain) if operation.act == "insert"), None)
    same = [Operation("insert", where="same") if operation.act == "insert" else operation for operation in plain]
    chain = Operation("pull through", 1)
    if stitch.id.startswith("picot"):
        expected = [*[chain] * number, *STITCHES["slip_stitch"].recipe]
    else:
        assert at is not None
        if stitch.id.endswith("_together"):
            gathered = unfinished * number
            expected = [*gathered, Operation("pull through", loops(gathered)[-1])]
            assert stitch.uses == stitch.legs == number
        elif stitch.id.startswith(("cluster", "bobble", "puff")):
            gathered = [*unfinished, *same[:-1] * (number - 1)]
            expected = [*gathered, Operation("pull through", loops(gathered)[-1])]
            assert stitch.legs == number
        elif "popcorn" in stitch.id:
            tie = [Operation("drop loop"), Operation("insert", where="top of first"), Operation("pick up dropped loop")]
            expected = [*plain, *same * (number - 1), *tie]
        elif stitch.id.startswith("foundation"):
            expected = [*plain[: at + 2], chain, *plain[at + 2 :]]
        elif stitch.id.startswith("shell"):
            expected = [*plain, *same * (number - 1)]
            assert stitch.makes == number
        elif stitch.id.startswith("split_shell"):
            half = number // 2
            expected = [*plain, *same * (half - 1), chain, chain, *same * half]
        elif stitch.id.startswith("v_stitch"):
            expected = [*plain, chain, *same]
        elif stitch.id.startswith("crossed"):
            expected = plain * 2
        elif stitch.id.startswith("linked"):
            # A loop drawn up through a bar in place of every yarn over.
            bar = [Operation("insert", where="bar of last stitch"), Operation("draw up")]
            expected = [*bar * at, *plain[at:]]
        else:
            expected = plain
    assert acts(stitch.recipe) == acts(expected)
    assert [op.where for op in stitch.recipe].count("same") == [op.where for op in expected].count("same")


@pytest.mark.parametrize("plain", ["single", "half_double", "double", "treble"])
def test_an_extended_stitch_has_one_chain_more(plain: str) -> None:
    recipe, extended = STITCHES[plain].recipe, STITCHES[f"extended_{plain}"]
    at = acts(recipe).index(("draw up", 1)) + 1
    assert extended.recipe == (*recipe[:at], Operation("pull through", 1), *recipe[at:])
    assert extended.height_chains == STITCHES[plain].height_chains + Fraction(1, 2)
    assert extended.peak == STITCHES[plain].peak


def test_each_taller_plain_stitch_has_a_yarn_over_and_a_pull_through_more() -> None:
    ladder = ["single", "double", "treble", "double_treble", "triple_treble", "quadruple_treble"]
    for shorter, taller in pairwise(STITCHES[id] for id in ladder):
        more = [Operation("yarn over"), *shorter.recipe, Operation("pull through", 2)]
        assert list(taller.recipe) == more
        assert taller.peak == shorter.peak + 1


def test_heights_grow_together() -> None:
    # Tunisian fabric is of singles' height, and has a ladder of its own.
    own = [s for s in STITCHES.values() if s.family == s.id and s.uses and s.place != "bar"]
    plain = sorted(own, key=lambda s: s.height_chains)
    assert len({stitch.height_chains for stitch in plain}) == len(plain) > 10
    for lower, higher in pairwise(plain):
        assert lower.height <= higher.height, f"{higher.id} is higher in chains and lower than {lower.id} in singles"


@every_stitch
def test_a_form_is_as_high_as_its_plain_stitch_or_lower_round_a_post(stitch: Stitch) -> None:
    plain = STITCHES[stitch.family]
    if stitch.id == "tunisian_extended":
        # A chain more, as for other extended stitches.
        assert stitch.height_chains - plain.height_chains == stitch.height - plain.height == Fraction(1, 2)
    elif stitch.place in ("front post", "back post") and stitch.family not in ("single", "slip_stitch"):
        assert plain.height_chains - stitch.height_chains == Fraction(1, 2)
        assert plain.height - stitch.height == Fraction(1, 4)
    else:
        assert (stitch.height_chains, stitch.height) == (plain.height_chains, plain.height)


@pytest.mark.parametrize("plain", ["single", "half_double", "double", "treble", "double_treble"])
def test_front_and_back_differ_only_in_the_side(plain: str) -> None:
    front, back = STITCHES[f"front_post_{plain}"], STITCHES[f"back_post_{plain}"]
    assert write_recipe(front.recipe).replace("front", "back") == write_recipe(back.recipe)
    assert (front.height_chains, front.height, front.turning_chain) == (
        back.height_chains,
        back.height,
        back.turning_chain,
    )


# --- stitches against what has been published; each row of the file names its source ---


def spelled(operations: str) -> list[tuple[str, int]]:
    """The movements of a row of the published list, read without the reader under test."""
    words = {
        "yo": "yarn over",
        "ins": "insert",
        "pul": "draw up",
        "let go": "drop loop",
        "take up": "pick up dropped loop",
    }
    while bracket := re.search(r"\(([^()]*)\) x(\d+)", operations):
        operations = operations.replace(bracket[0], "; ".join([bracket[1]] * int(bracket[2])), 1)
    movements: list[tuple[str, int]] = []
    for step in operations.split("; "):
        name, _, times = step.partition(" x")
        through = re.fullmatch(r"(pt|on)(\d+)", name)
        act = {"pt": "pull through", "on": "slip through"}[through[1]] if through else words[name]
        movements += [(act, int(through[2]) if through else 1)] * int(times or 1)
    return movements


@every_row
def test_recipe_and_most_loops_are_the_published_ones(row: dict[str, str]) -> None:
    stitch = STITCHES[row["id"]]
    assert acts(stitch.recipe) == spelled(row["operations"])
    if row["peak"] == "N":
        assert stitch.peak == 2, "the loop before it and its own"
        return
    most = most_loops(stitch.recipe)
    assert most == int(row["peak"])
    assert stitch.peak == most or row["id"] == "single_invisible_decrease"


@every_row
def test_yarn_overs_and_slashes_are_the_published_ones(row: dict[str, str]) -> None:
    stitch = STITCHES[row["id"]]
    movements = [operation.act for operation in stitch.recipe]
    insertions = [at for at, act in enumerate(movements) if act == "insert"]
    yarn_overs = movements[: insertions[0] if insertions else None].count("yarn over")
    assert yarn_overs == int(row["yarn_overs_first"])
    if row["slashes"]:
        # A slash stands for a yarn over that is worked off by itself: a pull-through that leaves the stitch unfinished.
        foot = slice(0, insertions[1] if len(insertions) > 1 else None)
        steps = zip(stitch.recipe[foot], loops(stitch.recipe)[foot], strict=True)
        slashes = sum(op.act == "pull through" and op.loops > 1 and count > 1 for op, count in steps)
        assert slashes == int(row["slashes"])
        assert slashes == yarn_overs or stitch.family == "half_double", (
            "a half double closes its yarn over with the rest"
        )


@every_row
def test_use_yield_heights_and_turning_chains_are_the_published_ones(row: dict[str, str]) -> None:
    stitch = STITCHES[row["id"]]
    assert (stitch.uses, stitch.makes) == (int(row["uses"]), int(row["makes"]))
    for height, column in ((stitch.height_chains, "height_chains"), (stitch.height, "height")):
        bounds = [Fraction(bound) for bound in row[column].split("-")]
        assert bounds[0] <= height <= bounds[-1]
    assert stitch.turning_chain == (int(row["turning_chain"]) if row["turning_chain"] else None)
    counts = {"yes": True, "no": False, "pattern must say": None, "": None}
    assert stitch.turning_chain_counts is counts[row["turning_chain_counts"]]


@every_row
def test_the_evidence_is_no_better_than_the_published_row_says(row: dict[str, str]) -> None:
    assert STITCHES[row["id"]].evidence == row["evidence"]


def test_turning_chains_are_as_many_as_the_stitch_is_high() -> None:
    """From no chain for a slip stitch to five for a double treble.

    Sources: Turning chain rules by stitch (Japanese), toruyuri.com/2020/01/14/tatiagari; Turning chains and heights
    (Japanese), ronique.jp/?p=11963; German course on rows and rounds, kreativehaekelideen.de.
    """
    rule = {"slip_stitch": 0, "single": 1, "half_double": 2, "double": 3, "treble": 4, "double_treble": 5}
    assert {id: STITCHES[id].turning_chain for id in rule} == rule
    assert {id: STITCHES[id].height_chains for id in rule} == rule


def test_row_ends_take_a_single_for_each_single_of_height() -> None:
    """One stitch a row of singles, two of doubles, three of trebles; three for two rows of half doubles.

    Source: Row-end counts and stitch heights, carol-mycrochetpage.blogspot.com/2009/09/picot-edging.html; the half
    doubles are common practice.
    """
    assert [STITCHES[id].height for id in ("single", "double", "treble")] == [1, 2, 3]
    assert 2 * STITCHES["half_double"].height == 3


def test_a_bobble_of_five_has_six_loops_before_it_is_closed() -> None:
    """Seven lie there while the fifth double is worked.

    Source: Bobble, popcorn, puff, squishyandco.com/bobble-puff-popcorn-crochet.
    """
    recipe = STITCHES["bobble_5_double"].recipe
    assert loops(recipe)[-2] == needed_to_close(recipe) == 6
    assert peak(recipe) == 7


# --- the table for readers ---


def test_the_table_of_stitches_says_what_the_dictionary_says() -> None:
    lines = [[cell.strip() for cell in line.split("|")] for line in GOLDEN.splitlines() if "|" in line]
    assert lines.pop(0)[0] == "stitch"
    assert len(lines) > 12
    for id, *cells in lines:
        stitch = STITCHES[id]
        assert cells == [
            write_recipe(stitch.recipe),
            " ".join(map(str, loops(stitch.recipe))),
            *map(str, (stitch.uses, stitch.makes, stitch.height_chains, stitch.height)),
        ], f"{id} is not worked as the table says"
