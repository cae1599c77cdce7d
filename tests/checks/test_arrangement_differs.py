"""Arrangements of motifs against the number of motifs made, in several wordings, with other numbers, in every size."""

from __future__ import annotations

import pytest

from tests.checks.test_handbook import remarks

_PAGE = """Saltmarsh Throw

Sizes: {sizes}

SQUARE ({made})
Ch 4, join with sl st to form a ring.
Rnd 1: Ch 1, 8 sc in ring, join. (8 sts)
Fasten off.

FINISHING
{joined}
"""
_WORDINGS = (
    "Join the squares in {rows} rows of {each}.",
    "Arrange the squares in {rows} rows of {each} squares each and sew them together.",
    "Lay the squares out {rows} squares across and {each} squares down, then whip stitch the seams.",
    "Sew squares together in {rows} strips of {each} motifs.",
    "Join into a {rows} x {each} grid.",
)
_NUMBERS = ((4, 6), (3, 5), (7, 8), (2, 9))


def _said(made: str, joined: str, sizes: str = "One size") -> list[tuple[str, tuple[str, ...]]]:
    found = remarks(_PAGE.format(made=made, joined=joined, sizes=sizes))
    return [(one.name, one.sizes) for one in found if one.name == "arrangement-differs"]


@pytest.mark.parametrize("wording", _WORDINGS)
@pytest.mark.parametrize(("rows", "each"), _NUMBERS)
def test_rows_of_so_many(wording: str, rows: int, each: int) -> None:
    joined = wording.format(rows=rows, each=each)
    assert not _said(f"make {rows * each}", joined)
    assert _said(f"make {rows * each + 1}", joined)
    assert _said(f"make {rows * each - each}", joined)


def test_every_size_has_its_own_numbers() -> None:
    joined = "Join the squares in 4 (5, 6) rows of 6."
    assert not _said("make 24 (30, 36)", joined, "S (M, L)")
    assert _said("make 24 (30, 35)", joined, "S (M, L)") == [("arrangement-differs", ("L",))]
    assert _said("make 24", joined, "S (M, L)") == [("arrangement-differs", ("M", "L"))]


def test_rows_of_stitches_are_no_rows_of_motifs() -> None:
    assert not _said("make 24", "Join yarn at a corner and work 4 rows of 6 sc along the edge.")
    assert not _said("make 24", "Work 2 rows of sc around the throw.")
