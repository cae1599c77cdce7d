"""The shipped caps, stitch by stitch: where the long stitches of the Kittiwake cap are and what they are worked into.

Source of the numbers: the cap's own worked derivation by hand (positions modulo 6), which the project keeps; nothing
here was taken from the program.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from roundhand.fabric import build, depths, landings, long_stitches
from roundhand.notation import read
from roundhand.tally import Tally, count, totals
from tests.fabric.test_laws import assert_lawful

_PATTERNS = Path(__file__).resolve().parents[2] / "patterns"
# Baby, Toddler, Child, Adult S, Adult L: stitches round, and rounds in all.
KITTIWAKE = ((54, 26), (60, 26), (66, 32), (72, 32), (78, 32))


@cache
def _tally(name: str) -> Tally:
    return count(read((_PATTERNS / f"{name}.txt").read_text(encoding="utf-8"))[0])[0]


@pytest.mark.parametrize("size", range(5))
def test_the_long_stitches_of_the_kittiwake_cap(size: int) -> None:
    stitches, rounds = KITTIWAKE[size]
    fabric = build(_tally("kittiwake-cap"), 1, size)
    assert [row.label for row in fabric.worked] == [f"Rnd {number}" for number in range(1, rounds + 1)]
    assert {row.count for row in fabric.worked} == {stitches}
    expected = dict.fromkeys(range(6, rounds + 1, 6), (1, 2)) | dict.fromkeys(range(9, rounds + 1, 6), (4, 5))
    found: dict[int, set[int]] = {}
    long_kind = fabric.kinds.index("long_single")
    for stitch in (int(one) for one in long_stitches(fabric)):
        row, position = fabric.place(stitch)
        number = int(row.label.removeprefix("Rnd "))
        (into,) = fabric.worked_into(stitch)
        under, where = fabric.place(into)
        assert int(fabric.kind[stitch]) == long_kind
        assert under.label == f"Rnd {number - 3}"
        # The rounds are joined and never turned, so a column is one position all the way down.
        assert where == position
        found.setdefault(number, set()).add(position)
    assert found == {
        number: {at for at in range(1, stitches + 1) if (at % 6 or 6) in places} for number, places in expected.items()
    }
    assert int((fabric.kind == long_kind).sum()) == len(long_stitches(fabric))


@pytest.mark.parametrize("size", range(5))
def test_no_long_stitch_of_the_kittiwake_cap_lands_on_another(size: int) -> None:
    assert landings(build(_tally("kittiwake-cap"), 1, size)) == ()


def test_a_long_stitch_on_a_long_stitch_is_told() -> None:
    text = (_PATTERNS / "kittiwake-cap.txt").read_text(encoding="utf-8")
    moved = text.replace(
        "*sc in next 3 sts, long sc in each of next 2 sts, sc in next st;",
        "*sc in next st, long sc in each of next 2 sts, sc in next 3 sts;",
    )
    assert moved != text
    found = landings(build(count(read(moved)[0])[0], 1, 0))
    # Position 2 of every six now has long stitches in both kinds of round; Rnds 9 to 26 land on one three below.
    assert {one.position % 6 for one in found} == {2}
    assert {(one.label, one.on_label) for one in found} == {(f"Rnd {at}", f"Rnd {at - 3}") for at in range(9, 25, 3)}
    assert {one.on_position - one.position for one in found} == {0}
    assert {one.span.of(moved) for one in found} == {"long sc in each of next 2 sts"}


@pytest.mark.parametrize("name", ["kittiwake-cap", "saltmarsh-cap"])
@pytest.mark.parametrize("size", range(5))
def test_fabric_and_tally_agree(name: str, size: int) -> None:
    tally = _tally(name)
    for number, piece in enumerate(tally.pieces):
        fabric = build(tally, number, size)
        assert_lawful(tally, fabric)
        assert all(row.exact for row in fabric.rows)
        for row in fabric.worked:
            worked = piece.rows[row.source].results[size]
            assert worked is not None
            assert row.count == worked.count
            assert row.left == worked.left
            kinds: dict[tuple[str, str], int] = {}
            for stitch in range(row.start, row.stop):
                key = (fabric.kinds[int(fabric.kind[stitch])], fabric.colours[int(fabric.colour[stitch])])
                kinds[key] = kinds.get(key, 0) + 1
            counted = {key: many for key, many in totals(worked.made).items() if key[0] != "chain"}
            assert kinds == counted
            # Every stitch points back at words of the line that asked for it, or at those it was copied from.
            assert {fabric.spans[int(at)].start >= 0 for at in fabric.span[row.start : row.stop]} == {True}


def test_the_spikes_of_the_saltmarsh_cap_go_two_rounds_down() -> None:
    fabric = build(_tally("saltmarsh-cap"), 0, 0)
    depth = depths(fabric)
    for label, positions in (("Rnd 16", {2}), ("Rnd 18", {0})):
        row = fabric.find(label)
        spikes = [at for at in range(row.start, row.stop) if depth[at] == 2]
        assert {fabric.place(at)[1] % 4 for at in spikes} == positions
        assert len(spikes) == 14
        reached = {fabric.colours[int(fabric.colour[into])] for at in spikes for into in fabric.worked_into(at)}
        assert reached == {"A" if label == "Rnd 16" else "B"}


def test_bands_are_turned_and_bodies_are_not() -> None:
    tally = _tally("kittiwake-cap")
    band, body = build(tally, 0, 0), build(tally, 1, 0)
    assert [row.direction for row in band.rows[:4]] == [-1, 1, -1, 1]
    assert {row.direction for row in body.worked} == {1}
    # In a turned row the first stitch stands over the last one below.
    second = band.find("Row 2")
    assert int(band.column[second.start]) == second.start - 1
    assert int(body.column[body.find("Rnd 2").start]) == body.find("Rnd 1").start


def test_a_wish_for_what_is_not_there_is_the_callers_slip() -> None:
    tally = _tally("kittiwake-cap")
    with pytest.raises(IndexError, match="2 pieces"):
        build(tally, 2)
    with pytest.raises(IndexError, match="5 sizes"):
        build(tally, 0, 5)
    with pytest.raises(KeyError, match="Rnd 99"):
        build(tally, 1).find("Rnd 99")


def test_an_empty_pattern_has_no_piece_and_a_row_without_stitches_no_fabric() -> None:
    tally, _ = count(read("Nothing\n\nRnd 1: turn.\n")[0])
    for piece in range(len(tally.pieces)):
        assert len(build(tally, piece)) == 0
