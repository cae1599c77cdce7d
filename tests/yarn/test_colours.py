"""The yarn of several strands, and of colours that float or are carried, worked out by hand. The patterns are ours."""

from __future__ import annotations

import pytest

from roundhand.notation import read
from roundhand.tally import count
from roundhand.yarn import Entry, YarnEstimate, estimate

_HEAD = """Cuff

Sizes: S (M)
Gauge: 16 sts and 20 rnds = 4 in in single crochet

Yarn A: worsted, 100 g = 200 m, slate
Yarn B: worsted, 100 g = 200 m, samphire
"""
_WIDTH = 101.6 / 16


def _of(body: str, notes: str = "") -> YarnEstimate:
    notes = f"\nNOTES\n{notes}\n" if notes else ""
    return estimate(count(read(f"{_HEAD}{notes}\nCUFF\n{body}")[0])[0])


def _line(found: YarnEstimate, colour: str, what: str, size: str = "S") -> list[tuple[int, float]]:
    need = found.of(colour, size)
    assert need is not None
    lines: list[Entry] = [one for one in need.entries if one.what == what]
    return [(one.count, round(one.each_mm, 3)) for one in lines]


def _metres(found: YarnEstimate, colour: str, size: str = "S") -> float:
    need = found.of(colour, size)
    return need.length_m if need is not None else 0.0


@pytest.mark.parametrize("strands", [2, 3])
@pytest.mark.parametrize("size", ["S", "M"])
def test_strands_worked_as_one_take_so_many_times_the_yarn(strands: int, size: str) -> None:
    """Stitches, chains, joins and tails alike."""
    body = "With {}, ch 12 (16), join to form a ring.\nRnd 1: Ch 1, 12 (16) sc in ring, join.\n"
    body += "Rnds 2-5: Ch 1, sc in each st around, join.\nFasten off."
    single, several = _of(body.format("A")), _of(body.format(f"{strands} strands of A held together"))
    assert _metres(several, "A", size) == pytest.approx(strands * _metres(single, "A", size))
    assert _metres(several, "B", size) == 0.0


def test_two_yarns_together_take_each_what_one_takes_alone() -> None:
    """A with B: the stitch is as long for either."""
    body = "With {}, make a magic ring.\nRnd 1: 12 sc in ring.\nRnds 2-5: Sc in each st around.\nFasten off."
    both = _of(body.format("A and B held together"))
    for colour in "AB":
        assert _metres(both, colour) == pytest.approx(_metres(_of(body.format(colour)), colour))


_ROUNDS = "With A, make a magic ring.\nRnd 1: 12 (18) sc in ring.\nRnd 2: *2 sc A, 4 sc B; rep from * around.\n"


def test_floats_lie_across_the_stitches_they_pass() -> None:
    """12 stitches, 2 A and 4 B: A passes 4 once within the round, B passes 2 once."""
    found = _of(f"{_ROUNDS}Fasten off A and B.", "Strand the unused yarn loosely across the back.")
    assert _line(found, "A", "floats") == [(1, round(4 * _WIDTH, 3))]
    assert _line(found, "B", "floats") == [(1, round(2 * _WIDTH, 3))]
    assert _line(found, "A", "floats", "M") == [(2, round(4 * _WIDTH, 3))]
    assert _line(found, "A", "carried") == []


def test_a_yarn_carried_inside_goes_through_every_stitch_it_is_covered_by() -> None:
    """The same, and then a round of B alone over A, which is taken up at its end: 4 and 12 stitches behind A."""
    body = f"{_ROUNDS}Rnd 3: With B, working over A, sc in each st around.\nRnd 4: With A, sc in each st around.\n"
    found = _of(f"{body}Fasten off A. Cut B.", "Carry the unused colour along inside the sts.")
    assert sorted(_line(found, "A", "carried")) == [(1, round(4 * _WIDTH, 3)), (1, round(16 * _WIDTH, 3))]
    assert _line(found, "A", "climbs") == []
    assert _line(found, "B", "carried") == [(1, round(2 * _WIDTH, 3))]


def test_stripes_of_one_row_take_the_yarn_across_the_whole_row() -> None:
    """In turned rows the resting colour hangs at the far edge: it climbs, and goes back across 12 stitches."""
    body = "With A, ch 13.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn.\n"
    body += "Row 2: With B, ch 1, sc in each st across, turn.\nRow 3: With A, ch 1, sc in each st across.\n"
    found = _of(f"{body}Fasten off A and B.")
    assert [number for number, _ in _line(found, "A", "climbs")] == [1]
    assert _line(found, "A", "floats") == [(1, round(12 * _WIDTH, 3))]
