"""Slips of a number or a sign that leave every count as it was: each is told on its own row, with any numbers."""

from __future__ import annotations

import pytest

from roundhand.findings import Finding
from tests.checks.test_handbook import remarks


def _told(text: str) -> list[tuple[str, str, str]]:
    """Errors and warnings: name, row, the words they stand on."""
    found: list[Finding] = [one for one in remarks(text) if one.severity != "advice"]
    return [(one.name, one.row, one.span.of(text)) for one in found]


def _tube(first: int, last: int, brim: int, count: int) -> str:
    rounds = f"Rnd 1: {count} sc in a magic ring. ({count})\n"
    return (
        f"A Cap\n\nCROWN\n{rounds}Rnds {first}-{last}: Sc in each st around. ({count})\n\n"
        f"BRIM\nRnd {brim}: Sc in each st around. ({count})\n"
    )


@pytest.mark.parametrize(("last", "brim", "count"), [(12, 13, 30), (7, 8, 11), (30, 31, 64)])
@pytest.mark.parametrize("more", [1, 2, 9])
def test_a_range_that_runs_on_into_the_rounds_below_the_next_heading(
    last: int, brim: int, count: int, more: int
) -> None:
    """A heading within one piece begins no new numbers."""
    assert _told(_tube(2, last, brim, count)) == []
    assert _told(_tube(2, last + more, brim, count)) == [("row-repeated", f"Rnd {brim}", f"Rnd {brim}")]


def test_a_heading_that_begins_again_with_one_is_right() -> None:
    assert _told(_tube(2, 9, 1, 20)) == []


def _sized(ranges: str) -> str:
    return (
        "A Cap\n\nSizes: A (B, C)\n\nCROWN\nRnd 1: 6 (7, 8) sc in a magic ring. (6 (7, 8))\nRnds 2-3: Sc in each st "
        f"around. (6 (7, 8))\n\nSIDES\nRnds {ranges}: Sc in each st around. (6 (7, 8))\n"
    )


@pytest.mark.parametrize(
    ("wrong", "name"),
    [
        ("4-9 (1-10, 4-11)", "row-repeated"),
        ("4-9 (4-10, 41-11)", "row-range-differs"),
        ("4-9 (14-10, 4-11)", "row-range-differs"),
    ],
)
def test_a_range_mistyped_in_one_size_of_a_list(wrong: str, name: str) -> None:
    """The other sizes go on, so this one begins nothing anew; and a range that runs backwards does not hide the
    list."""
    assert _told(_sized("4-9 (4-10, 4-11)")) == []
    assert [one[0] for one in _told(_sized(wrong))] == [name]


def _repeated(rows: str, count: int) -> str:
    return (
        f"A Scarf\n\nCh {count + 1}.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. ({count})\nRow 2: Ch "
        f"2, hdc in each st across, turn.\nRow 3: Ch 1, sc in each st across, turn.\nRep Rows {rows} 5 more times.\n"
    )


@pytest.mark.parametrize("count", [14, 33])
def test_rows_to_be_repeated_that_are_one_row_or_begin_in_the_chain(count: int) -> None:
    assert _told(_repeated("2 and 3", count)) == []
    for wrong in ("3 and 3", "1 and 3", "1-3"):
        assert [one[0] for one in _told(_repeated(wrong, count))] == ["reference-incomplete"], wrong


def _mesh(nth: str, count: int, repeat: str) -> str:
    return (
        f"A Stole\n\nCh {2 * count + 2}.\nRow 1: Dc in {nth} ch from hook (skipped ch count as ch 1, dc and ch 1), *ch "
        f"1, skip next ch, dc in next ch{repeat}, turn. ({count} dc, {count - 1} ch-1 sps)\n"
    )


@pytest.mark.parametrize("count", [17, 9, 30])
def test_a_first_row_is_at_fault_where_no_longer_chain_would_help(count: int) -> None:
    """A repeat that is dropped leaves the chain over; a number from the hook may be greater than the whole chain."""
    assert _told(_mesh("6th", count, "; rep from * across")) == []
    assert [one[1] for one in _told(_mesh("6th", count, ""))] == ["Row 1"]
    assert [one[1] for one in _told(_mesh("99th", count, "; rep from * across"))] == ["Row 1"]


def _opening(before: str, count: int, stitch: str) -> str:
    turn = {"dc": 3, "sc": 1, "tr": 4}[stitch]
    return (
        f"A Square\n\nCh {count + turn}.\nRow 1: {stitch.capitalize()} in {turn + 1}th ch from hook (skipped ch do not "
        f"count as a st) and in each ch across, turn. ({count})\nRow 2: {before}, turn. ({count})\n"
    ).replace("2th", "2nd")


@pytest.mark.parametrize("stitch", ["dc", "tr"])
@pytest.mark.parametrize("more", [1, 7])
def test_a_chain_that_is_told_to_be_a_stitch_is_no_longer_than_it(stitch: str, more: int) -> None:
    high = {"dc": 3, "tr": 4}[stitch]
    words = "Ch {} (counts as {}), skip first st, {} in each st across"
    assert _told(_opening(words.format(high, stitch, stitch), 20, stitch)) == []
    (found,) = _told(_opening(words.format(high + more, stitch, stitch), 20, stitch))
    assert found == ("chain-height", "Row 2", str(high + more))


def _squares(corner: int, below: int) -> str:
    return (
        "A Square\n\nRnd 1: (3 dc, ch 2) 4 times in a magic ring, join. (12 dc)\nRnd 2: *(3 dc, ch "
        f"{corner}, 3 dc) in next ch-2 sp, ch 1; rep from * around, join. (24 dc)\nRnd 3: *(3 dc, ch 2, 3 dc) in next "
        f"ch-{below} sp, ch 1, 3 dc in next ch-1 sp, ch 1; rep from * around, join. (36 dc)\n"
    )


def test_a_space_called_by_another_length_than_the_round_below_made() -> None:
    """What the round before that had is no longer there, once all its spaces are worked into."""
    assert _told(_squares(2, 2)) == []
    assert [one[:2] for one in _told(_squares(4, 2))] == [("place-missing", "Rnd 3")]
    assert _told(_squares(4, 4)) == []


@pytest.mark.parametrize(("count", "where"), [(40, 3), (12, 3)])
def test_a_first_single_crochet_one_chain_too_far(count: int, where: int) -> None:
    """The count comes out only if two chains stand for a single crochet, and nothing says that they do."""
    page = f"A Mat\n\nCh {count + 1}.\nRow 1: Sc in {{}} ch from hook and in each ch across, turn. ({count})\n"
    assert _told(page.format("2nd")) == []
    assert _told(page.format(f"{where}rd")) == [("chain-height", "Row 1", f"{where}rd")]
    said = page.format("3rd").replace("from hook", "from hook (skipped ch count as sc)")
    assert _told(said) == []


@pytest.mark.parametrize("lone", ["2 sc in next st), sc in next 2 sts", "(2 sc in next st, sc in next 2 sts"])
def test_half_a_bracket(lone: str) -> None:
    head = "A Ball\n\nRnd 1: 6 sc in a magic ring. (6)\nRnd 2: "
    assert [one[0] for one in _told(head + lone + ", 2 sc in each of next 3 sts. (10)\n")] == ["bracket-alone"]
    whole = "a) 2 sc in next st, b) sc in next 2 sts, 2 sc in each of next 3 sts. (10)\n"
    assert "bracket-alone" not in [one[0] for one in _told(head + whole)]


@pytest.mark.parametrize("groups", [14, 9, 5])
def test_a_count_of_things_by_their_own_name(groups: int) -> None:
    page = (
        f"A Star\n\nCh {groups * 5}, join with sl st in first ch to form a ring.\nRnd 1: Ch 1, *sc in next ch, ch 6, "
        f"skip next 4 ch; rep from * {groups - 1} more times, join with sl st in first sc. ({{}} {{}})\n"
    )
    for name in ("scallops", "petals"):
        assert _told(page.format(groups, name)) == []
        for wrong in (groups - 2, groups - 1, groups + 10 + groups % 2):
            assert [one[0] for one in _told(page.format(wrong, name))] == ["named-groups-differ"], wrong
    dropped = page.format(groups, "scallops").replace(f"; rep from * {groups - 1} more times", "")
    assert [one[0] for one in _told(dropped)] == ["star-alone"]


def _bag(front: int, back: int, more: str = "") -> str:
    row = "Row 1: Sc in 2nd ch from hook and in each ch across, turn. (20)"
    piece = f"{{}}\nCh 21.\n{row}\nRows 2-{{}}: Ch 1, sc in each st across, turn. (20)\n\n"
    return (
        "A Bag\n\n"
        + piece.format("FRONT", front)
        + piece.format("BACK", back)
        + "FINISHING\nSew them up"
        + more
        + ".\n"
    )


@pytest.mark.parametrize(("rows", "slip"), [(11, 12), (24, 42), (30, 28)])
def test_two_pieces_of_a_pair_that_differ_in_a_number(rows: int, slip: int) -> None:
    assert "twin-differs" not in [one[0] for one in _told(_bag(rows, rows))]
    assert ("twin-differs", str(slip)) in [(one[0], one[2]) for one in _told(_bag(rows, slip))]
    assert "twin-differs" not in [one[0] for one in _told(_bag(rows, slip, ", easing the longer one"))]
