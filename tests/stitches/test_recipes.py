"""Reading and writing recipes, and the arithmetic of loops, tried on recipes nobody has thought of."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roundhand.stitches import (
    Operation,
    RecipeError,
    closes,
    dictionary,
    lacking,
    loops,
    needed_to_close,
    peak,
    read_recipe,
    write_recipe,
)

ACTS = ["yarn over", "insert", "draw up", "pull through", "slip through", "drop loop", "pick up dropped loop"]
PLACED = ["insert", "draw up", "pull through", "slip through"]
# Words from real places, beside words made of the letters and numbers that come nearest to misleading the reader.
WORDS = ["same", "next", "post", "from", "front", "n", "2", "rows", "below", "third", "loop", "row-end", "up", "yarn"]


def operations() -> st.SearchStrategy[Operation]:
    words = st.sampled_from(WORDS) | st.text("abdegoy0123-'", min_size=1, max_size=5)
    places = st.lists(words, max_size=3).map(" ".join)

    def build(act: str, number: int, where: str) -> Operation:
        loops_named = number if "through" in act else 1
        place = where if act in PLACED else ""
        try:
            return Operation(act, loops_named, place)
        except ValueError:
            return Operation(act, loops_named)

    return st.builds(build, st.sampled_from(ACTS), st.integers(1, 12), places)


def recipes() -> st.SearchStrategy[list[Operation]]:
    """Recipes with passages that come back, so that folding has something to fold."""
    passages = st.lists(operations(), min_size=1, max_size=4)
    repeated = st.tuples(passages, st.integers(1, 4)).map(lambda pair: pair[0] * pair[1])
    twice = st.tuples(st.lists(repeated, min_size=1, max_size=3), st.integers(1, 3))
    return twice.map(lambda pair: [operation for passage in pair[0] for operation in passage] * pair[1])


@given(recipes())
def test_a_written_recipe_reads_back_the_same(recipe: list[Operation]) -> None:
    assert read_recipe(write_recipe(recipe)) == tuple(recipe)


@given(recipes())
def test_writing_what_was_read_changes_nothing(recipe: list[Operation]) -> None:
    written = write_recipe(recipe)
    assert write_recipe(read_recipe(written)) == written


@given(st.lists(operations(), min_size=1, max_size=5), st.integers(1, 9))
def test_a_bracket_with_a_number_is_the_passage_so_many_times(recipe: list[Operation], times: int) -> None:
    written = ", ".join(write_recipe([operation]) for operation in recipe)
    once = read_recipe(written)
    for repeat in (
        f"({written}) x {times}",
        f"({written}) x{times}",
        f"( {written} )x {times}",
        f"({written}) × {times}",
    ):
        assert read_recipe(repeat) == once * times


@given(st.text("yo insertdrawupllthroughxX0123456789(),;\n", max_size=60) | st.text(max_size=30))
def test_any_text_is_read_or_told(text: str) -> None:
    slip: RecipeError | None = None
    recipe: tuple[Operation, ...] = ()
    try:
        recipe = read_recipe(text)
    except RecipeError as error:
        slip = error
    if slip is None:
        assert read_recipe(write_recipe(recipe)) == recipe
    else:
        assert text[slip.start :].startswith(slip.word)
        place = f'"{slip.word}" at character {slip.start + 1} ' if slip.word else "the end of the recipe "
        assert str(slip).startswith(place)


@pytest.mark.parametrize(
    "text", ["(" * 5000, "(yo) x " + "9" * 5000, "(yo x 9) x 99, " * 3000 + "yo", "yo, " * 100_000]
)
def test_a_recipe_out_of_all_bounds_is_told_and_not_waited_for(text: str) -> None:
    with pytest.raises(RecipeError):
        read_recipe(text)


@given(recipes(), recipes())
def test_what_passages_add_to_the_hook_adds_up(first: list[Operation], second: list[Operation]) -> None:
    left = loops(first)[-1]
    assert loops([*first, *second]) == (*loops(first), *(count + left - 1 for count in loops(second)))
    assert peak([*first, *second]) == max(peak(first), peak(second) + left - 1)


@given(recipes())
def test_a_stitch_behind_another_closes_if_both_do(recipe: list[Operation]) -> None:
    double = dictionary()["double"].recipe
    assert closes([*double, *recipe]) == closes(recipe) == closes([*recipe, *double])
    if closes(recipe):
        assert lacking(recipe) is None
        assert loops(recipe)[-1] == 1


@given(st.sampled_from(sorted(dictionary())), st.integers(1, 20))
def test_a_wrong_last_number_is_mended_to_the_right_one(id: str, number: int) -> None:
    recipe = list(dictionary()[id].recipe)
    last = recipe[-1]
    if last.act != "pull through" or dictionary()[id].parts:
        # The last number of a group closes its last stitch, and says nothing of those before.
        return
    recipe[-1] = Operation("pull through", number, last.where)
    assert closes(recipe) == (number == last.loops)
    if number == 1 and any(operation.act == "pull through" and operation.loops > 1 for operation in recipe):
        # A last pull-through of 1 is taken for a chain that locks, so the one before it has to take off the rest too.
        before = max(at for at, op in enumerate(recipe) if op.act == "pull through" and op.loops > 1)
        needed = needed_to_close(recipe)
        assert needed == recipe[before].loops + last.loops - 1
    else:
        assert needed_to_close(recipe) == last.loops


@given(st.integers(1, 30), st.integers(-3, 3))
def test_puffs_of_any_size_need_two_loops_for_each_and_one_more(pulls: int, amiss: int) -> None:
    number = 2 * pulls + 1 + amiss
    if number < 2:
        return
    locked = read_recipe(f"(yo, insert same, draw up) x {pulls}, pull through {number}, pull through 1")
    assert closes(locked) == (amiss == 0)
    assert needed_to_close(locked) == 2 * pulls + 1


def test_nine_unfinished_trebles_need_ten_loops_pulled_through() -> None:
    """Each leaves a loop beside the one that work begins with; a chain may lock them. The arithmetic is ours."""
    unfinished = "(yo x 2, insert, draw up, pull through 2 x 2) x 9"
    assert closes(read_recipe(f"{unfinished}, pull through 10"))
    assert closes(read_recipe(f"{unfinished}, yo, slip through 10")), "a yarn over slipped through is a pull-through"
    assert needed_to_close(read_recipe(f"{unfinished}, pull through 9, pull through 1")) == 10


@pytest.mark.parametrize(
    ("recipe", "number"),
    [
        ("insert, draw up", None),
        ("insert, draw up, slip through 1", None),
        ("insert, draw up, pull through 1", 2),
        ("pull through 1", 1),
        ("pull through 5", 1),
        ("yo, insert, draw up, pull through 5, pull through 2", None),
        ("yo, insert, draw up, pull through 3, yo", None),
        ("yo, insert, draw up, pull through 2, insert, draw up, pull through 2", 3),
    ],
)
def test_the_number_that_would_close_a_recipe(recipe: str, number: int | None) -> None:
    assert needed_to_close(read_recipe(recipe)) == number


@pytest.mark.parametrize(
    ("recipe", "index"),
    [
        ("pull through 2", 0),
        ("insert, draw up, slip through 1", None),
        ("insert, draw up, slip through 2", 2),
        ("drop loop, insert first, pick up dropped loop", None),
        ("drop loop, drop loop", 1),
        ("drop loop, pull through 1", None),
        ("pick up dropped loop", 0),
        ("drop loop, pick up dropped loop, pull through 2", 2),
    ],
)
def test_the_first_movement_that_lacks_a_loop(recipe: str, index: int | None) -> None:
    assert lacking(read_recipe(recipe)) == index


@pytest.mark.parametrize(
    ("act", "number", "where", "remark"),
    [
        ("wave", 1, "", 'there is no movement of the hook called "wave"'),
        ("yarn over", 2, "", '"yarn over" cannot be done with 2 loops'),
        ("pull through", 0, "", '"pull through" cannot be done with 0 loops'),
        ("insert", 1, "next, same", '"next, same" does not say a place in plain words'),
        ("insert", 1, " next", '" next" does not say a place in plain words'),
        ("insert", 1, "same x 2", '"x" must stand last and be followed by a number'),
        ("insert", 1, "same and draw up", '"draw" follows "insert" without a comma'),
        ("yarn over", 1, "next", '"next" cannot follow "yo", which needs no place'),
    ],
)
def test_a_movement_that_cannot_be_written_is_refused(act: str, number: int, where: str, remark: str) -> None:
    with pytest.raises(ValueError, match=f"^{remark}$"):
        Operation(act, number, where)
