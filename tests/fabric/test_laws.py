"""Laws of the fabric, on rows drawn at random and on a second, plain way of working them stitch by stitch."""

from __future__ import annotations

import msgspec
from hypothesis import assume, given
from hypothesis import strategies as st

from roundhand.fabric import Fabric, RowMark, build
from roundhand.notation import read
from roundhand.tally import Tally, Worked, count


class Phrase(msgspec.Struct, frozen=True):
    """A phrase of a row: what it says, the places it passes and, for every stitch, the places it goes into, counted
    from where the phrase begins. `depth` is how many rows lower its stitches go."""

    words: str
    passes: int
    into: tuple[tuple[int, ...], ...]
    depth: int = 1


def _plain(number: int) -> Phrase:
    words = "sc in next st" if number == 1 else f"sc in next {number} sts"
    return Phrase(words, number, tuple((at,) for at in range(number)))


def _increase(number: int) -> Phrase:
    return Phrase(f"{number} sc in next st", 1, ((0,),) * number)


def _together(number: int) -> Phrase:
    return Phrase(f"sc{number}tog", number, (tuple(range(number)),))


def _skipping(number: int) -> Phrase:
    return Phrase(f"sk {number} st{'s' if number > 1 else ''}, sc in next st", number + 1, ((number,),))


def _long(depth: int) -> Phrase:
    return Phrase(f"long sc in st {depth} rnds below", 1, ((0,),), depth)


PHRASES = st.one_of(
    st.integers(1, 6).map(_plain),
    st.integers(2, 4).map(_increase),
    st.integers(2, 5).map(_together),
    st.integers(1, 3).map(_skipping),
    st.integers(2, 3).map(_long),
)
GROUPS = st.lists(PHRASES, min_size=1, max_size=4)


def test_a_skip_right_behind_a_long_stitch_is_the_place_it_stands_over() -> None:
    text = ["A Try", "", "Terms: US", "", "PIECE", "Rnd 1: 6 sc in a magic ring."]
    text += [f"Rnd {number}: Sc in each st around." for number in (2, 3)]
    text += ["Rnd 4: (Sc in next st, long sc in st 2 rnds below, skip next st) 3 times."]
    tally, _ = count(read("\n".join(text))[0])
    fabric = build(tally)
    row = fabric.worked[3]
    assert (row.passed, row.left, row.exact) == (6, 0, True)
    assert [fabric.worked_into(row.start + at) for at in (0, 1, 2)] == [
        (fabric.worked[2].start,),
        (fabric.worked[1].start + 1,),
        (fabric.worked[2].start + 2,),
    ]


def _row(data: st.DataObject, places: int) -> tuple[str, list[tuple[tuple[int, ...], int]], int]:
    """The words of a row over so many places, the places and depth of every stitch, and how many places are passed."""
    words: list[str] = []
    stitches: list[tuple[tuple[int, ...], int]] = []
    at = 0

    def take(phrase: Phrase) -> None:
        nonlocal at
        stitches.extend((tuple(at + place for place in into), phrase.depth) for into in phrase.into)
        at += phrase.passes

    for phrase in data.draw(st.lists(PHRASES, max_size=2)):
        if at + phrase.passes <= places:
            words.append(phrase.words)
            take(phrase)
    group = data.draw(GROUPS)
    size = sum(phrase.passes for phrase in group)
    times = min((places - at) // size, data.draw(st.integers(2, 9)))
    if times >= 2:
        words.append(f"*{', '.join(phrase.words for phrase in group)}; rep from * {times - 1} more times")
        for _ in range(times):
            for phrase in group:
                take(phrase)
    rest = places - at
    if rest and (not words or data.draw(st.booleans())):
        words.append(f"sc in next {rest} sts" if rest > 1 else "sc in next st")
        take(_plain(rest))
    return ", ".join(words), stitches, at


def _anchors(fabric: Fabric) -> list[tuple[int, ...]]:
    return [fabric.worked_into(stitch) for stitch in range(len(fabric))]


@given(st.data())
def test_every_stitch_goes_where_the_words_say(data: st.DataObject) -> None:
    count_now = data.draw(st.integers(6, 60))
    flat = data.draw(st.booleans())
    label, turn = ("Row", ", turn") if flat else ("Rnd", "")
    text = ["A Try", "", "Terms: US", "", "PIECE"]
    if flat:
        text += [f"Ch {count_now + 1}.", f"Row 1: Sc in 2nd ch from hook and in each ch across{turn}."]
    else:
        text += [f"Rnd 1: {count_now} sc in a magic ring."]
    text += [f"{label} {number}: Sc in each st around{turn}." for number in (2, 3)]
    counts = [count_now] * 3
    passes: list[tuple[int, int]] = []
    rows: list[list[tuple[tuple[int, ...], int]]] = []
    for number in range(4, 4 + data.draw(st.integers(1, 5))):
        words, stitches, passed = _row(data, counts[-1])
        # A skip right behind a long stitch names the place it stands over; a case of its own holds that.
        assume(not ("below" in words and "sk " in words))
        passes.append((passed, counts[-1] - passed))
        text.append(f"{label} {number}: {words}{turn}.")
        counts.append(len(stitches))
        rows.append(stitches)
    tally, _ = count(read("\n".join(text))[0])
    fabric = build(tally)
    assert [row.count for row in fabric.worked] == counts, "\n".join(text)
    assert all(row.exact for row in fabric.worked)
    assert [(row.passed, row.left) for row in fabric.worked[3:]] == passes, "\n".join(text)
    # The plain way: every stitch looked up by its number in the row below, and columns followed one at a time.
    for row, stitches in zip(fabric.worked[3:], rows, strict=True):
        below = fabric.rows[fabric.rows.index(row) - 1]
        for at, (into, depth) in enumerate(stitches):
            wanted = [below.stop - 1 - place if row.reversed else below.start + place for place in into]
            column = wanted[(len(wanted) - 1) // 2]
            for _ in range(depth - 1):
                wanted = [int(fabric.column[one]) if fabric.column[one] >= 0 else one for one in wanted]
            assert list(fabric.worked_into(row.start + at)) == wanted, "\n".join(text)
            assert int(fabric.column[row.start + at]) == column
    assert_lawful(tally, fabric)


def tally_row(tally: Tally, fabric: Fabric, row: RowMark) -> Worked:
    """The row of the tally that a row of the fabric was built from."""
    piece = next(one for one in tally.pieces if one.name == fabric.name and one.rows[row.source].part == row.part)
    worked = piece.rows[row.source].results[fabric.size]
    assert worked is not None
    return worked


def assert_lawful(tally: Tally, fabric: Fabric) -> None:
    """What holds of every fabric."""
    length = len(fabric)
    assert [row.start for row in fabric.rows[1:]] == [row.stop for row in fabric.rows[:-1]]
    assert fabric.anchor_start[-1] == len(fabric.anchors)
    assert ((fabric.anchors >= 0) & (fabric.anchors < length)).all(), "an anchor that does not exist"
    for stitch, anchors in enumerate(_anchors(fabric)):
        own = int(fabric.row[stitch])
        side = fabric.loops[int(fabric.loop[stitch])] == "made"
        assert all(int(fabric.row[one]) < own or (side and one < stitch) for one in anchors), (
            "into its own row or later"
        )
        column = int(fabric.column[stitch])
        assert column == -1 or int(fabric.row[column]) == own - fabric.rows[own].over
    for row in fabric.worked:
        if not row.count:
            continue
        below = fabric.rows[int(fabric.row[row.start]) - row.over] if int(fabric.row[row.start]) else None
        covered: set[int] = set()
        for stitch in range(row.start, row.stop):
            anchors = fabric.worked_into(stitch)
            near = [one for one in anchors if int(fabric.row[one]) == int(fabric.row[stitch]) - row.over]
            covered |= set(near) if near else {int(fabric.column[stitch])}
        covered.discard(-1)
        assert 0 <= row.passed <= row.offered
        if row.exact and row.offered and below is not None and below.count - (below.kind == "ring") == row.offered:
            # What the stitches pass is what they cover, each place once; places are worked, skipped or left over.
            assert int(fabric.passes[row.start : row.stop].sum()) == len(covered)
            order = range(below.stop - 1, below.start - 1, -1) if row.reversed else range(below.start, below.stop)
            reached = max((order.index(one) + 1 for one in covered), default=0)
            assert len(covered) <= reached <= row.passed
            assert row.left == row.offered - row.passed
            worked = tally_row(tally, fabric, row)
            assert row.left == worked.left
    assert 15 <= fabric.nbytes / max(length, 1) <= 40 or length < 20
