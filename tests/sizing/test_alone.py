"""Counts of one quantity, against a solver that tries every answer."""

import itertools
import random
from fractions import Fraction

import pytest

from roundhand.sizing.alone import Cost, Scale, price, solve_alone
from roundhand.sizing.wants import Want

REACH = 3


def tried(want: Want) -> tuple[Cost, tuple[int, ...]] | None:
    """The best of all answers that lie within so many multiples of the nearest, by trying every one."""
    scale = Scale.of([want])
    ways = []
    for size in want.sizes:
        low, high = want.range(size)
        near = want.nearest(size)
        ways.append(
            [
                one
                for one in range(near - REACH, near + REACH + 1)
                if (low is None or one >= low) and (high is None or one <= high)
            ]
        )
    rises = [want.rises(one, other) for one, other in itertools.pairwise(want.sizes)]
    best = None
    for way in itertools.product(*ways):
        if any(after < before for rise, (before, after) in zip(rises, itertools.pairwise(way), strict=True) if rise):
            continue
        if want.same and len(set(way)) > 1:
            continue
        found = (price(want, scale, way), way)
        if best is None or found < best:
            best = found
    return best


def grading(chance: random.Random) -> Want:
    """A grading as it might be: four sizes or fewer, steps of some millimetres, rules of every kind."""
    sizes = chance.randint(1, 4)
    each = Fraction(chance.randint(20, 120), chance.choice((10, 7, 3)))
    multiple = chance.choice((1, 1, 2, 3, 4, 6, 8, 12, 24))
    millimetres = Fraction(chance.randint(120, 600))
    targets: list[Fraction | None] = []
    for _ in range(sizes):
        targets.append(None if sizes > 2 and chance.random() < 0.1 else millimetres / each)
        millimetres += Fraction(chance.choice((0, 10, 25, 51, 76)), chance.choice((1, 2)))
        if chance.random() < 0.1:
            millimetres -= 30
    within = Fraction(chance.randint(1, 60)) if chance.random() < 0.4 else None
    bound = chance.randint(5, 90)
    return Want(
        "body",
        tuple(targets),
        each,
        multiple,
        chance.randint(0, multiple - 1),
        within,
        least=(bound,) * sizes if chance.random() < 0.2 else (),
        most=(bound + chance.randint(0, 40),) * sizes if chance.random() < 0.2 else (),
        same=chance.random() < 0.1,
    )


def test_trying_every_answer_agrees(long_run: bool) -> None:
    clashes = 0
    for seed in range(500 if long_run else 50):
        want = grading(random.Random(seed))
        best, found = tried(want), solve_alone(want)
        if best is None:
            # The other solver looks further away from the targets.
            clashes += found is None
            continue
        assert found is not None, want
        assert tuple(found[size] for size in want.sizes) == tuple(map(want.count, best[1])), (seed, want)
    assert clashes > 0


@pytest.mark.parametrize("multiple", [6, 8, 10, 12])
def test_the_nearest_multiples_where_steps_are_even(multiple: int) -> None:
    targets = tuple(Fraction(multiple * (9 + at)) + Fraction(1, 3) for at in range(6))
    assert solve_alone(Want("body", targets, Fraction(7), multiple)) == tuple(multiple * (9 + at) for at in range(6))


def test_two_answers_as_good_are_decided_the_same_way() -> None:
    # Each target lies half way between two multiples.
    want = Want("body", (Fraction(60), Fraction(68)), Fraction(7), 8)
    assert solve_alone(want) == (56, 64)


def test_a_count_the_same_in_all_sizes_lies_between_them() -> None:
    want = Want("cuff", (Fraction(40), Fraction(44), Fraction(48)), Fraction(6), 2, same=True)
    assert solve_alone(want) == (44, 44, 44)


def test_a_size_without_the_piece_has_no_count() -> None:
    assert solve_alone(Want("cuff", (None, Fraction(44), None), Fraction(6), 4)) == (None, 44, None)
    assert solve_alone(Want("cuff", (None, None))) == (None, None)


def test_no_answer_where_the_tolerance_lies_between_multiples() -> None:
    # Half a repeat of eight stitches, 7 mm each, is 28 mm.
    assert solve_alone(Want("body", (Fraction(60),), Fraction(7), 8, within=Fraction(27))) is None
    assert solve_alone(Want("body", (Fraction(60),), Fraction(7), 8, within=Fraction(28))) == (56,)


def test_counts_are_never_below_one_multiple() -> None:
    assert solve_alone(Want("body", (Fraction(1, 5),), Fraction(7), 8)) == (8,)
    assert solve_alone(Want("body", (Fraction(-90),), Fraction(7), 8)) == (8,)
