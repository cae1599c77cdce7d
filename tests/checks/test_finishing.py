"""Seams and openings in several wordings, with numbers drawn by chance: told where they cannot meet, and never else."""

from __future__ import annotations

import random

import pytest

from roundhand.findings import Finding
from roundhand.workshop import understand

CHANCES = [random.Random(seed) for seed in range(4)]

STITCH_SEAMS = (
    "Join shoulder seams, matching stitches.",
    "Hold front and back together and sl st through both layers in each st across.",
    "With wrong sides facing, holding both pieces together, work 1 sc in each st through both thicknesses.",
    "Sew last row of front to last row of back, stitch for stitch.",
    "Whip stitch front and back together through each st of the last row.",
)
ROW_SEAMS = (
    "Sew side seams, matching rows.",
    "Sew row ends of front to row ends of back.",
    "Join front and back with mattress stitch, row by row.",
    "Sew side seams.",
)
TOLD_SEAMS = (
    "Sc {} sts together through both layers.",
    "Sl st front and back together along the last row for {} sts.",
    "Sew shoulder seams over {} sts, stitch for stitch.",
)
OPENINGS = (
    "Weave yarn through last {} sts, pull tight.",
    "Cut yarn, thread the tail through the front loops of all {} sts and draw up tightly.",
    "With tail, gather the remaining {} sts.",
    "Rnd 3: Run the yarn through the {} sts and pull tight to close.",
)
FREE = (
    "Sew side seams, easing to fit.",
    "Sew side seams, leaving the top 4 in open for armholes.",
    "Gather the front evenly and sew to the back, stitch for stitch.",
    "Sew the buttons to the front.",
    "Weave in ends.",
)


def _piece(name: str, width: tuple[int, int], rows: int) -> str:
    chains, stitches = (f"{one} ({other})" for one, other in ((width[0] + 1, width[1] + 1), width))
    return (
        f"{name}\nCh {chains}.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. ({stitches})\n"
        f"Rows 2-{rows}: Ch 1, sc in each st across, turn. ({stitches})\nFasten off.\n\n"
    )


def _bag(front: tuple[int, int], back: tuple[int, int], rows: tuple[int, int], finish: str) -> str:
    head = "Bag\n\nSizes: S (M)\n\n"
    return f"{head}{_piece('FRONT', front, rows[0])}{_piece('BACK', back, rows[1])}FINISHING\n{finish}\n"


def _said(text: str) -> list[Finding]:
    return [one for one in understand(text).findings if one.severity != "advice"]


@pytest.mark.parametrize("chance", CHANCES, ids=range(4))
@pytest.mark.parametrize("words", STITCH_SEAMS)
def test_stitches_that_meet(words: str, chance: random.Random) -> None:
    """Both numbers are told, in the size where they differ alone; nothing where they are the same."""
    small, large, more = chance.randint(9, 40), chance.randint(41, 80), chance.randint(1, 9)
    (found,) = _said(_bag((small, large), (small, large + more), (8, 8), words))
    assert (found.name, found.sizes) == ("seam-differs", ("M",))
    assert {str(large), str(large + more)} <= set(found.headline.replace(",", "").split())
    assert _said(_bag((small, large), (small, large), (8, 8), words)) == []


@pytest.mark.parametrize("chance", CHANCES, ids=range(4))
@pytest.mark.parametrize("words", ROW_SEAMS)
def test_rows_that_meet(words: str, chance: random.Random) -> None:
    """Row ends are counted by their rows."""
    width, rows, more = chance.randint(9, 40), chance.randint(4, 30), chance.randint(2, 9)
    (found,) = _said(_bag((width, width + 2), (width, width + 2), (rows + more, rows), words))
    assert (found.name, found.sizes) == ("seam-differs", ("S", "M"))
    assert {str(rows), str(rows + more)} <= set(found.headline.replace(",", "").split())
    assert _said(_bag((width, width + 2), (width, width + 2), (rows, rows), words)) == []


@pytest.mark.parametrize("chance", CHANCES, ids=range(4))
@pytest.mark.parametrize("words", TOLD_SEAMS)
def test_numbers_that_are_told(words: str, chance: random.Random) -> None:
    """No more stitches can be joined than an edge has; fewer can."""
    small, large = chance.randint(9, 40), chance.randint(41, 80)
    told = f"{small + chance.randint(1, 9)} ({large})"
    (found,) = _said(_bag((small, large), (small, large), (8, 8), words.format(told)))
    assert (found.name, found.sizes) == ("seam-differs", ("S",))
    assert _said(_bag((small, large), (small, large), (8, 8), words.format(f"{small} ({large - 5})"))) == []


@pytest.mark.parametrize("chance", CHANCES, ids=range(4))
@pytest.mark.parametrize("words", OPENINGS)
def test_openings_drawn_up(words: str, chance: random.Random) -> None:
    """What is drawn up is held against the stitches there, and leaves no other remark."""
    small, large, off = chance.randint(4, 9), chance.randint(10, 16), chance.choice((-2, -1, 1, 5))
    page = "Cap\n\nSizes: S (M)\n\nRnd 1: {0} sc in a magic ring. ({0})\nRnd 2: Sc in each st around. ({0})\n{1}\n"
    right = f"{small} ({large})"
    (found,) = _said(page.format(right, words.format(f"{small} ({large + off})")))
    assert (found.name, found.sizes) == ("opening-differs", ("M",))
    assert _said(page.format(right, words.format(right))) == []


@pytest.mark.parametrize("words", FREE)
def test_what_is_eased_or_left_open_is_free(words: str) -> None:
    """Edges that are held in, left open, or joined to nothing are never told."""
    assert _said(_bag((20, 24), (22, 25), (12, 8), words)) == []


def test_a_pocket_laid_on_a_front_meets_no_edge() -> None:
    """What is laid on a piece has an edge of its own length."""
    page = _bag((20, 24), (20, 24), (8, 8), "").replace("BACK", "POCKET").replace("(24)", "(24)")
    assert _said(page + "Sew pocket to front through both layers in each st.\n") == []
