"""Errors that cancel in the total: found where something leaves its column or its symmetry, with any numbers."""

from __future__ import annotations

import pytest

from roundhand.findings import Finding
from tests.checks.test_handbook import remarks

_HEAD = "A Mitten\n\nCh {chain}.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. ({total})\n"


def _said(text: str) -> list[Finding]:
    return [one for one in remarks(text) if one.severity != "advice"]


def _with_post(gaps: list[tuple[int, int]], post: str = "fpdc") -> str:
    total = sum(gaps[0]) + 1
    text = _HEAD.format(chain=total + 1, total=total)
    for at, (before, behind) in enumerate(gaps, 2):
        words = f"sc in next {before} sts, {post} around next st, sc in next {behind} sts"
        text += f"Row {at}: Ch 1, {words}, turn. ({total})\n"
    return text


@pytest.mark.parametrize(("small", "large"), [(13, 26), (5, 9), (8, 31)])
def test_two_numbers_exchanged_in_every_row_of_one_side(small: int, large: int) -> None:
    """Case 144: the even rows of a thumb had 13 and 26 exchanged, and every total was right."""
    right = [(small, large), (large, small)] * 3
    assert not _said(_with_post(right))
    (finding,) = _said(_with_post([(small, large)] * 6))
    assert finding.name == "column-breaks"
    assert str(large - small) in finding.because


@pytest.mark.parametrize("at", [1, 2, 3, 4])
@pytest.mark.parametrize(("small", "large"), [(13, 26), (5, 9)])
def test_two_numbers_exchanged_in_one_row(small: int, large: int, at: int) -> None:
    gaps = [(small, large), (large, small)] * 3
    gaps[at] = gaps[at][::-1]
    (finding,) = _said(_with_post(gaps, "bpdc"))
    assert (finding.name, finding.row) == ("column-breaks", f"Row {at + 2}")


def _gusset(rows: int, before: int, behind: int, slip: int | None = None, turned: bool = True) -> str:
    total = before + behind + 3
    text = _HEAD.format(chain=total + 1, total=total)
    end = ", turn" if turned else ""
    for at in range(rows):
        inner = 1 + 2 * at
        one, other = (before, behind) if at % 2 == 0 or not turned else (behind, before)
        if slip == at:
            one, other = other, one
        total += 2
        text += (
            f"Row {at + 2}: Ch 1, sc in next {one} sts, 2 sc in next st, sc in next {inner} sts, 2 sc in next st, "
            f"sc in next {other} sts{end}. ({total})\n"
        )
    return text


@pytest.mark.parametrize(("before", "behind"), [(13, 26), (6, 11), (20, 7)])
def test_a_gusset_that_steps_aside_in_one_row(before: int, behind: int) -> None:
    assert not _said(_gusset(6, before, behind))
    for slip in (1, 2, 4):
        (finding,) = _said(_gusset(6, before, behind, slip))
        assert (finding.name, finding.row) == ("column-breaks", f"Row {slip + 2}")


def _ripple(rows: int, groups: int, plain: int, lacking: int | None, kind: str = "Rnd") -> str:
    """Ripples with an increase and a decrease in every group; the lacking row leaves out one of each."""
    total = groups * (2 * plain + 3)
    text = f"A Cowl\n\nCh {total}, join with sl st to form a ring, being careful not to twist.\n"
    text += f"Rnd 1: Ch 1, sc in each ch around, join. ({total})\n"
    end = ", join"
    if kind == "Row":
        text, end = _HEAD.format(chain=total + 1, total=total), ", turn"
    group = f"2 sc in next st, sc in next {plain} sts, sc2tog, sc in next {plain} sts"
    for at in range(rows):
        words = ", ".join([group] * groups)
        if at == lacking:
            words = ", ".join([f"sc in next {2 * plain + 3} sts", *[group] * (groups - 1)])
        text += f"{kind} {at + 2}: Ch 1, {words}{end}. ({total})\n"
    return text


@pytest.mark.parametrize("kind", ["Rnd", "Row"])
@pytest.mark.parametrize(("groups", "plain"), [(3, 4), (4, 3), (2, 6)])
def test_an_increase_and_a_decrease_forgotten_together(groups: int, plain: int, kind: str) -> None:
    """Case 129: a missing increase plus a missing decrease leave the count right."""
    assert not _said(_ripple(6, groups, plain, None, kind))
    for lacking in (2, 3):
        (finding,) = _said(_ripple(6, groups, plain, lacking, kind))
        assert (finding.name, finding.row) == ("column-breaks", f"{kind} {lacking + 2}")
        assert "increase" in finding.headline and "decrease" in finding.headline


def _both_ends(rows: int, edge: int, slip: int | None, word: str = "2 sc in next st") -> str:
    total = 24
    text = _HEAD.format(chain=total + 1, total=total)
    for at in range(rows):
        middle = total - 2 * edge - 2
        one, other = (middle, edge) if at != slip else (edge, middle)
        text += (
            f"Row {at + 2}: Ch 1, sc in next {edge} sts, {word}, sc in next {one} sts, {word}, sc in next {other} sts, "
            f"turn. ({total + 2})\n"
        )
        total += 2
    return text


@pytest.mark.parametrize("edge", [1, 2, 3])
def test_a_row_shaped_at_one_side_where_all_others_are_shaped_at_both(edge: int) -> None:
    assert not _said(_both_ends(5, edge, None))
    found = _said(_both_ends(5, edge, 2))
    assert [(one.name, one.row) for one in found] == [("lopsided", "Row 4")]


def test_a_circle_whose_increases_are_moved_round_is_right() -> None:
    """Staggered increases keep a circle from showing corners; the count and the fabric are right (case 76)."""
    text = "A Mat\n\nRnd 1: 6 sc in a magic ring. (6)\nRnd 2: Inc in each st around. (12)\n"
    for at in range(3, 11):
        plain = at - 2
        row = f"*Sc in next {plain} sts, inc; rep from * around"
        if at in (6, 8):
            half = plain // 2
            row = f"Sc in next {half} sts, inc, (sc in next {plain} sts, inc) 5 times, sc in next {plain - half} sts"
        text += f"Rnd {at}: {row}. ({at * 6})\n"
    assert not _said(text)


def test_a_shawl_shaped_at_the_beginning_of_every_row_is_right() -> None:
    text = "A Shawl\n\nCh 5.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. (4)\n"
    for at in range(2, 10):
        text += f"Row {at}: Ch 1, 2 sc in first st, sc in each st to end, turn. ({at + 3})\n"
    assert not _said(text)
