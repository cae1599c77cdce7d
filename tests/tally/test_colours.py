"""Where colours change, float, climb and end: worked out by hand in two colours, and laws that hold for any row.

That a change is drawn on the last yarn over of the stitch before is common practice. The patterns are ours.
"""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roundhand.notation import read
from roundhand.tally import Tally, count
from roundhand.tally.changes import Change, changes
from roundhand.tally.ledger import counted
from roundhand.tally.strands import Rest, Strand, ends, strands
from roundhand.tally.stretches import strands_in, stretches

# The same stitches in both terms: a US single crochet is a UK double crochet.
_WORDS = {"US": {"sc": "sc", "hdc": "hdc"}, "UK": {"sc": "dc", "hdc": "htr"}}


def work(body: str, terms: str = "US", notes: str = "") -> Tally:
    """A piece in two sizes and two colours, counted; nothing may be said of it. Stitches stand in braces."""
    words = _WORDS[terms]
    for us, own in words.items():
        body = body.replace("{" + us + "}", own)
    text = f"Cuff\n\nSizes: S (M)\nTerms: {terms}\n\nYarn A: worsted, slate\nYarn B: worsted, samphire\n\n"
    if notes:
        text += f"NOTES\n{notes}\n\n"
    pattern, findings = read(f"{text}CUFF\n{body}")
    tally, more = count(pattern)
    assert [(one.name, one.headline) for one in (*findings, *more)] == []
    return tally


def falls(found: tuple[Change, ...], size: int = 0) -> list[tuple[str, int, str, str, str]]:
    """Changes as row, stitch, colours and manner."""
    return [(one.row.label_in(size), one.stitch, one.before, one.after, one.how) for one in found]


def way(rest: Rest, size: int = 0) -> tuple[str, int, str, int]:
    """A rest from where to where."""
    return rest.left_in.label_in(size), rest.left, rest.taken_in.label_in(size), rest.taken


def of(tally: Tally, colour: str, size: int = 0) -> Strand:
    """The first strand of a colour."""
    return next(one for one in strands(tally, size) if one.colour == colour)


def seen(tally: Tally) -> list[tuple[str, ...]]:
    """The colours of every row in the first size."""
    return [row.results[0].colours for row in tally.rows() if row.results[0] is not None]


# Where a change falls.


@pytest.mark.parametrize("terms", ["US", "UK"])
@pytest.mark.parametrize(
    ("first", "second", "how", "said"),
    [
        ("{sc} in each st around, changing to B in last st.", "{sc} in each st around.", "stitch", True),
        ("{sc} in each st around, change to B on last yo.", "{sc} in each st around.", "stitch", True),
        ("{sc} in each st to last st, {sc} in last st changing to B.", "{sc} in each st around.", "stitch", True),
        ("{sc} in each st around. Join B in last st.", "{sc} in each st around.", "stitch", True),
        ("{sc} in each st around, join, changing to B.", "{sc} in each st around.", "join", True),
        ("{sc} in each st around, join with B.", "{sc} in each st around.", "join", True),
        ("{sc} in each st around.", "With B, {sc} in each st around.", "stitch", False),
        ("{sc} in each st around.", "{sc} in each st around in B.", "stitch", False),
        ("{sc} in each st around. Cut A.", "With B, {sc} in each st around.", "stitch", False),
        ("{sc} in each st around. Drop A.", "Pick up B, {sc} in each st around.", "stitch", False),
        ("{sc} in each st around. Fasten off.", "With B, {sc} in each st around.", "anew", True),
        ("{sc} in each st around. Fasten off A.", "Join B, {sc} in each st around.", "anew", True),
    ],
)
def test_a_change_between_two_rounds(terms: str, first: str, second: str, how: str, said: bool) -> None:
    """It belongs to the last stitch of the round before, in every size, unless the yarn is joined anew."""
    tally = work(f"With A, make a magic ring.\nRnd 1: 12 (16) {{sc}} in ring.\nRnd 2: {first}\nRnd 3: {second}", terms)
    for size, stitches in enumerate((12, 16)):
        found = changes(tally, size)
        where = ("Rnd 3", 0, "A", "B", how) if how == "anew" else ("Rnd 2", stitches, "A", "B", how)
        assert falls(found, size) == [where]
        assert found[0].said == said


@pytest.mark.parametrize("terms", ["US", "UK"])
@pytest.mark.parametrize(
    "row",
    [
        "*3 {sc} A, 1 {sc} B; rep from * around.",
        "*{sc} 3 A, {sc} 1 B; rep from * around.",
        "(3 {sc} in A, 1 {sc} in B) around.",
        "[A: 3 {sc}, B: 1 {sc}] around.",
        "*with A, {sc} in next 3 sts, with B, {sc} in next st; rep from * around.",
        "*{sc} in next 3 sts changing to B in last st, {sc} in next st changing to A; rep from * around.",
    ],
)
def test_changes_within_a_round(terms: str, row: str) -> None:
    """Three and one: the third stitch of each group is finished in B, the fourth in A; no change behind the last."""
    tally = work(
        f"With A, make a magic ring.\nRnd 1: 12 (16) {{sc}} in ring.\nRnd 2: {row}\nFasten off A and B.", terms
    )
    for size, groups in enumerate((3, 4)):
        found = [one for one in changes(tally, size) if one.used]
        assert [one.stitch for one in found if one.after == "B"] == [4 * group + 3 for group in range(groups)]
        assert [one.stitch for one in found if one.after == "A"] == [4 * group + 4 for group in range(groups - 1)]


def test_a_change_that_serves_nothing_is_known_with_its_words() -> None:
    """The last change of a block that is copied once too often."""
    body = (
        "With A, make a magic ring.\nRnd 1: 9 {sc} in ring.\nRnd 2: {sc} in each st around, changing to B in last st."
    )
    (found,) = changes(work(body), 0)
    assert (found.used, found.after, found.stitch, found.told) == (False, "B", 9, "last")
    assert found.span.end - found.span.start == len("changing to B in last st")


def test_the_words_that_put_a_change_in_another_stitch_are_kept() -> None:
    """`in first st` is not where the yarn over of the stitch before lies."""
    body = "With A, make a magic ring.\nRnd 1: 9 {sc} in ring, change to B in first st.\nRnd 2: {sc} in each st around."
    assert [one.told for one in changes(work(body), 0)] == ["first"]


@pytest.mark.parametrize("terms", ["US", "UK"])
@pytest.mark.parametrize(
    ("row", "colours"),
    [
        ("{sc} in each st around, change to B in first st.", "1A 11B"),
        ("{sc} in each st around. Changing to B in first st.", "1A 11B"),
        ("{sc} in each st around. Change to B in 3rd st.", "3A 9B"),
        ("{sc} in each st around, switching to B in the third st.", "3A 9B"),
        ("Change to B in first st, {sc} in each st around.", "1A 11B"),
        ("Change to B in next st, {sc} in each st around.", "1A 11B"),
        ("{sc} in next 2 sts, change to B in next st, {sc} in next 10 sts.", "3A 9B"),
        ("{sc} in next 4 sts, {hdc} in next 8 sts changing to B in 2nd st.", "6A 6B"),
        ("{sc} in next 4 sts, {hdc} in next 8 sts. Change to B in 2nd st.", "2A 10B"),
        ("({sc} in next 2 sts) 6 times, changing to B in 5th st.", "5A 7B"),
        ("*{sc} in next 4 sts, changing to B in 1st st, {sc} in next 2 sts changing to A; rep from * around.", "1A 5B "
         "1A 5B"),
        ("{sc} in next 6 sts changing to B in 2nd st, {hdc} in next 6 sts changing to A in 3rd st.", "2A 7B 3A"),
        ("{sc} in each st around, changing to B in last st.", "12A"),
        ("{sc} in each st around, change to B in first st of next rnd.", "12A"),
        ("{sc} in each st around, join with sl st in first st, changing to B.", "12A"),
    ],
)  # fmt: skip
def test_a_change_falls_in_the_stitch_that_is_named(row: str, colours: str, terms: str) -> None:
    """Its last yarn over is drawn in the new colour; the stitches behind it are in that colour."""
    tally = work(
        f"With A, make a magic ring.\nRnd 1: 12 {{sc}} in ring. (12)\nRnd 2: {row}\nRnd 3: {{sc}} in each st around.",
        terms,
    )
    found = next(one.results[1] for one in tally.rows() if one.label == "Rnd 2")
    assert found is not None
    assert " ".join(f"{one.stitches}{one.colour}" for one in stretches(found)) == colours
    if colours in ("1A 11B", "3A 9B") and "next 10" not in row:
        (change,) = changes(tally, 1)
        assert (change.row.label, change.stitch, change.said) == ("Rnd 2", int(colours[0]), True)


@pytest.mark.parametrize("nth", [1, 2, 5, 7])
def test_a_change_in_a_stitch_of_long_repeats_takes_no_long_work(nth: int) -> None:
    """A repeat is parted where the change falls and stays a repeat before and behind."""
    place = {1: "first", 2: "2nd"}.get(nth, f"{nth}th")
    row = f"({{sc}} in next 2 sts, {{hdc}} in next st) 200 times, changing to B in {place} st."
    tally = work(f"With A, make a magic ring.\nRnd 1: 600 {{sc}} in ring.\nRnd 2: {row}")
    found = list(tally.rows())[1].results[0]
    assert found is not None
    assert [(one.colour, one.stitches) for one in stretches(found)] == [("A", nth), ("B", 600 - nth)]
    assert len(found.made) < 10


# Floats, climbs and ends.


def test_floats_and_ends_of_two_rounds_by_hand() -> None:
    """12 stitches, 3 A and 1 B: A rests behind 1 stitch, B behind 3, also over the join of the round."""
    tally = work(
        "With A, make a magic ring.\nRnd 1: 12 {sc} in ring.\n"
        "Rnds 2-3: *3 {sc} A, 1 {sc} B; rep from * around.\nFasten off A and B."
    )
    first, second = of(tally, "A"), of(tally, "B")
    assert [(way(rest), rest.across) for rest in first.rests] == [
        (("Rnd 2", 3, "Rnd 2", 5), 1),
        (("Rnd 2", 7, "Rnd 2", 9), 1),
        (("Rnd 2", 11, "Rnd 3", 1), 1),
        (("Rnd 3", 3, "Rnd 3", 5), 1),
        (("Rnd 3", 7, "Rnd 3", 9), 1),
    ]
    assert [(way(rest), rest.across) for rest in second.rests] == [
        (("Rnd 2", 4, "Rnd 2", 8), 3),
        (("Rnd 2", 8, "Rnd 2", 12), 3),
        (("Rnd 2", 12, "Rnd 3", 4), 3),
        (("Rnd 3", 4, "Rnd 3", 8), 3),
        (("Rnd 3", 8, "Rnd 3", 12), 3),
    ]
    assert first.floats == first.rests and not first.climbs
    assert ends(tally, 0) == {"A": 2, "B": 2}


@pytest.mark.parametrize(
    ("said", "how"),
    [
        ("Carry the unused colour along inside the sts.", "over"),
        ("Work over the unused yarn.", "over"),
        ("Tapestry crochet is used throughout.", "over"),
        ("Strand the unused yarn loosely across the back.", "behind"),
        ("Carry the other colour loosely behind the work.", "behind"),
        ("Let the fabric be.", ""),
    ],
)
def test_a_note_tells_how_a_resting_colour_goes(said: str, how: str) -> None:
    """Carried inside it is no float; stranded, or not said, it is one."""
    body = "With A, make a magic ring.\nRnd 1: 12 {sc} in ring.\nRnd 2: *2 {sc} A, 4 {sc} B; rep from * around."
    tally = work(body, notes=said)
    assert {rest.how for strand in strands(tally, 0) for rest in strand.rests} == {how}
    assert [len(strand.floats) for strand in strands(tally, 0)] == ([0, 0] if how == "over" else [1, 1])


@pytest.mark.parametrize(
    ("words", "how"),
    [
        ("working over A", "over"),
        ("crochet over A", "over"),
        ("carrying A along", "over"),
        ("carry A inside the sts", "over"),
        ("stranding A across the back", "behind"),
        ("carry A loosely behind", "behind"),
        ("carry A up inside", "up"),
        ("carrying A loosely up the WS", "up"),
    ],
)
@pytest.mark.parametrize("terms", ["US", "UK"])
def test_the_words_of_a_round_tell_how_a_resting_colour_goes(words: str, how: str, terms: str) -> None:
    """In front of the stitches of the round or behind them."""
    for line in (f"With B, {words}, {{sc}} in each st around.", f"With B, {{sc}} in each st around, {words}."):
        body = f"With A, make a magic ring.\nRnd 1: 12 (14) {{sc}} in ring.\nRnd 2: {line}\n"
        tally = work(f"{body}Rnd 3: With A, {{sc}} in each st around.", terms)
        assert seen(tally) == [("A",), ("B",), ("A",)]
        (rest,) = of(tally, "A", 1).rests
        assert (rest.how, rest.stitches, len(rest.rows), rest.across) == (how, 14, 1, 0)


@pytest.mark.parametrize(
    ("kind", "turn", "across"), [("Row", ", turn", 12), ("Rnd", ", join", 0), ("Row", ", do not turn", 12)]
)
def test_a_colour_left_at_the_far_edge_is_known(kind: str, turn: str, across: int) -> None:
    """Stripes of one row: in turned rows the resting yarn hangs at the other edge, in joined rounds at the join."""
    start = "With A, ch 12, join to form a ring." if kind == "Rnd" else "With A, ch 13."
    first = "12 {sc} in ring" if kind == "Rnd" else "{sc} in 2nd ch from hook and in each ch across"
    tally = work(
        f"{start}\n{kind} 1: {first}{turn}.\n"
        f"{kind} 2: With B, {{sc}} in each st across{turn}.\n{kind} 3: With A, {{sc}} in each st across{turn}."
    )
    (rest,) = of(tally, "A").rests
    assert ([row.label for row in rest.rows], rest.across) == ([f"{kind} 2"], across)


def test_stripes_of_two_rows_are_taken_up_at_the_same_edge() -> None:
    """Two rows there and back again: the resting colour hangs where it is wanted."""
    tally = work(
        "With A, ch 13.\nRow 1: {sc} in 2nd ch from hook and in each ch across, turn.\n"
        "Row 2: Ch 1, {sc} in each st across, turn.\nRows 3-4: With B, ch 1, {sc} in each st across, turn.\n"
        "Rows 5-6: With A, ch 1, {sc} in each st across, turn."
    )
    (rest,) = of(tally, "A").rests
    assert ([row.label for row in rest.rows], rest.across) == (["Row 3", "Row 4"], 0)
    assert [rest.is_climb for rest in of(tally, "A").rests] == [True]


def test_areas_with_balls_of_their_own_have_ends_of_their_own() -> None:
    """A block of B between two of A, in rows: three balls, six ends; each goes on above itself, without a float."""
    body = (
        "With A, ch 13.\nRow 1: {sc} in 2nd ch from hook and in each ch across, turn.\n"
        "Rows 2-5: Ch 1, 4 {sc} A, 4 {sc} B, 4 {sc} A, turn.\nFasten off A and B."
    )
    apart = work(body, notes="Use a separate bobbin for each area of colour.")
    assert ends(apart, 0) == {"A": 4, "B": 2}
    assert [len(strand.floats) for strand in strands(apart, 0)] == [0, 0, 0]
    same = work(body, notes="Intarsia is worked from bobbins.")
    assert ends(same, 0) == {"A": 4, "B": 2}
    together = work(body)
    assert ends(together, 0) == {"A": 2, "B": 2}
    assert sum(len(strand.floats) for strand in strands(together, 0)) == 4


@pytest.mark.parametrize("ending", ["Cut B.", "Fasten off B.", "Break off B."])
def test_a_colour_cut_and_joined_again_has_more_ends(ending: str) -> None:
    """Two ends for every stretch from joining to cutting."""
    body = "With A, make a magic ring.\nRnd 1: 12 {sc} in ring.\n"
    for at in (2, 4, 6):
        body += (
            f"Rnd {at}: With B, {{sc}} in each st around. {ending}\nRnd {at + 1}: With A, {{sc}} in each st around.\n"
        )
    assert ends(work(f"{body}Fasten off."), 0) == {"A": 2, "B": 6}


# Several strands.


@pytest.mark.parametrize("terms", ["US", "UK"])
@pytest.mark.parametrize(
    ("words", "colour"),
    [
        ("With 2 strands of A held together", "A+A"),
        ("With two strands of A", "A+A"),
        ("With A held double", "A+A"),
        ("Using a double strand of A", "A+A"),
        ("Holding 2 strands of A together", "A+A"),
        ("With 3 strands A", "A+A+A"),
        ("With A and B held together", "A+B"),
        ("Holding A and B together", "A+B"),
        ("With A held together with B", "A+B"),
        ("With one strand each of A and B", "A+B"),
        ("With 1 strand of A and 1 strand of B held together", "A+B"),
        ("With 2 strands of A and 1 strand of B", "A+A+B"),
        ("With both strands held together", "A+B"),
        ("With one strand of B", "B"),
        ("Change to 2 strands of B", "B+B"),
    ],
)
def test_strands_worked_as_one(words: str, colour: str, terms: str) -> None:
    """The words in front of a round, in both terms."""
    tally = work(
        f"With A, make a magic ring.\nRnd 1: 12 (14) {{sc}} in ring.\nRnd 2: {words}, {{sc}} in each st around.", terms
    )
    assert seen(tally) == [("A",), (colour,)]


def test_every_strand_has_ends_of_its_own() -> None:
    """Two of A, then A with B: the second strand of A rests from Rnd 2 on and is taken up in Rnd 4."""
    tally = work(
        "With 2 strands of A, make a magic ring.\nRnd 1: 12 {sc} in ring.\n"
        "Rnd 2: With A and B held together, {sc} in each st around. Cut B.\n"
        "Rnd 3: With one strand of A, {sc} in each st around.\n"
        "Rnd 4: With A held double, {sc} in each st around.\nFasten off."
    )
    assert ends(tally, 0) == {"A": 4, "B": 2}
    assert [[way(rest) for rest in strand.rests] for strand in strands(tally, 0)] == [
        [],
        [("Rnd 1", 12, "Rnd 4", 1)],
        [],
    ]
    assert all(strand.ended for strand in strands(tally, 0))


@pytest.mark.parametrize("words", ["Do not cut A, carry up inside.", "Do not fasten off A. Carry it up the side."])
@pytest.mark.parametrize("terms", ["US", "UK"])
def test_a_yarn_that_is_not_cut_goes_up_inside(words: str, terms: str) -> None:
    """It rests for a round and is taken up again: a climb, and no further end."""
    tally = work(
        f"With A, make a magic ring.\nRnd 1: 12 (14) {{sc}} in ring. {words}\n"
        "Rnd 2: Join B, {sc} in each st around. Fasten off B.\nRnd 3: With A, {sc} in each st around.\nFasten off.",
        terms,
    )
    (rest,) = of(tally, "A").rests
    assert (rest.how, rest.is_climb, rest.is_float) == ("up", True, False)
    assert ends(tally, 1) == {"A": 2, "B": 2}


def test_the_words_that_end_a_strand_are_kept() -> None:
    """`Cut B.` for B; nothing for A, which the text never ends."""
    body = "With A, make a magic ring.\nRnd 1: 12 {sc} in ring.\nRnd 2: With B, {sc} in each st around. Cut B.\n"
    tally = work(f"{body}Rnd 3: With A, {{sc}} in each st around.")
    assert of(tally, "A").cut is None
    cut = of(tally, "B").cut
    assert cut is not None and cut.end - cut.start == len("Cut B")


def test_a_piece_begun_apart_has_a_yarn_of_its_own() -> None:
    """A second piece that starts with a chain cannot go on with the yarn of the first, cut or not."""
    row = "With A, ch 13.\nRow 1: {sc} in 2nd ch from hook and in each ch across, turn.\n"
    assert ends(work(f"{row}\nSTRAP\n{row}Fasten off."), 0) == {"A": 4}


def test_one_strand_of_two_is_cut() -> None:
    """`Cut 1 strand of A` leaves the other on the hook."""
    tally = work(
        "With 2 strands of A, make a magic ring.\nRnd 1: 12 {sc} in ring. Cut 1 strand of A.\n"
        "Rnd 2: With one strand of A, {sc} in each st around."
    )
    assert [(strand.last.label, strand.ended) for strand in strands(tally, 0)] == [("Rnd 2", False), ("Rnd 1", True)]


# Colours that take turns.


@pytest.mark.parametrize(
    ("words", "turns"),
    [
        ("alternating A and B every 2 rnds", "AABBAABB"),
        ("alternate A and B every rnd", "ABABABAB"),
        ("alternating 2 rnds B and 1 rnd A", "BBABBABB"),
        ("alternating 3 rnds in B, 2 rnds in A", "BBBAABBB"),
    ],
)
@pytest.mark.parametrize("terms", ["US", "UK"])
def test_colours_that_take_turns(words: str, turns: str, terms: str) -> None:
    """Within the sentence, in one of its own, and over rounds worked as earlier ones."""
    start = "With A, make a magic ring.\nRnd 1: 12 (14) {sc} in ring.\n"
    for line in (
        f"Rnds 2-9: {{sc}} in each st around, {words}.",
        f"Rnds 2-9: {{sc}} in each st around. {words.capitalize().replace(' a and b', ' A and B')}."
        if "every" in words
        else f"Rnds 2-9: {{sc}} in each st around; {words}.",
    ):
        assert "".join(colours[0] for colours in seen(work(start + line, terms))) == f"A{turns}"
    copied = f"Rnd 2: {{sc}} in each st around.\nRnds 3-10: Rep Rnd 2, {words}."
    assert "".join(colours[0] for colours in seen(work(start + copied, terms))) == f"AA{turns}"


# Laws.


@st.composite
def rows(draw: st.DrawFn) -> tuple[int, list[str]]:
    """A tube of some rounds, each in groups of two colours, with the number of its stitches."""
    lines = []
    for _ in range(draw(st.integers(1, 4))):
        groups = draw(st.lists(st.tuples(st.sampled_from("AB"), st.integers(1, 9)), min_size=1, max_size=5))
        total = sum(number for _, number in groups)
        words = ", ".join(f"{number} {{sc}} {colour}" for colour, number in groups)
        lines.append(
            f"*{words}; rep from * around" if 60 % total == 0 else f"With {groups[0][0]}, {{sc}} in each st around"
        )
    return 60, lines


@given(rows())
def test_stitches_by_colour_add_up_and_floats_are_what_lies_between(made: tuple[int, list[str]]) -> None:
    """Stretches cover a row without gap; within a row a float is as long as the stitches between; two ends a strand."""
    stitches, lines = made
    body = f"With A, make a magic ring.\nRnd 1: {stitches} {{sc}} in ring.\n"
    body += "\n".join(f"Rnd {at}: {line}." for at, line in enumerate(lines, 2))
    tally = work(f"{body}\nFasten off A and B.")
    for row in tally.rows():
        result = row.results[0]
        assert result is not None
        found = stretches(result)
        assert found[0].first == 1 and found[-1].last == result.count
        assert all(one.last + 1 == other.first for one, other in pairwise(found))
        by_colour: dict[str, int] = {}
        for (_, colour), number in counted(result).items():
            by_colour[colour] = by_colour.get(colour, 0) + number
        for colour, number in by_colour.items():
            assert number == sum(one.stitches for one in found if one.colour == colour)
        assert sum(by_colour.values()) == result.count
    threads = strands(tally, 0)
    assert sum(ends(tally, 0).values()) == 2 * len(threads)
    for strand in threads:
        for rest in strand.rests:
            if rest.left_in is rest.taken_in:
                assert rest.across == rest.stitches == rest.taken - rest.left - 1 > 0
            assert rest.across <= max(rest.stitches, stitches // 2)
    assert [one.after for one in changes(tally, 0)] == [
        colour for before, colour in _neighbours(tally) if before != colour
    ]


def _neighbours(tally: Tally) -> list[tuple[str, str]]:
    order = [one.colour for row in tally.rows() if row.results[0] is not None for one in stretches(row.results[0])]
    return list(pairwise(order))


@given(st.lists(st.sampled_from("AB"), min_size=1, max_size=6))
def test_the_strands_of_a_colour_are_the_labels_in_it(labels: list[str]) -> None:
    """Whatever the order of the words."""
    found = strands_in("+".join(labels))
    assert {label: labels.count(label) for label in labels} == dict(found)
