"""The reasons behind a row: they add up for every row of both caps, and they tell how words were read."""

from pathlib import Path

import pytest

from roundhand.workshop import Reading, UseError, open_pattern, understand, why
from roundhand.workshop.telling import accounts, heading, sentences

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(
    scope="module", params=["saltmarsh-cap.txt", "kittiwake-cap.txt", "_faulty/saltmarsh-cap-with-slips.txt"]
)
def cap(request: pytest.FixtureRequest) -> Reading:
    """Each of our caps in turn."""
    return open_pattern(ROOT / "patterns" / request.param)


def told(text: str, row: str, size: int | None = None) -> list[str]:
    """All sentences on a row, those of several sizes one behind the other."""
    return [sentence for _, said in accounts(why(understand(text), row, size)) for sentence in said]


def test_the_reasons_of_every_row_add_up(cap: Reading) -> None:
    seen = 0
    for piece in cap.tally.pieces:
        for row in piece.rows:
            line, _ = cap.source.place(row.line.span.start)
            for size, label in enumerate(row.labels):
                if label is None:
                    continue
                asked = f"{row.label_in(size)} of {row.part}, line {line}"
                [case] = why(cap, asked, size).cases
                assert case.worked == row.worked[size]
                assert case.phrases[-1].made == case.worked
                assert sum(phrase.makes for phrase in case.phrases) == case.worked
                # What is worked into a chain goes past the chains that the first stitch leaves below the hook.
                if case.below.what in ("row", "row ends") and not case.left:
                    assert case.phrases[-1].used == case.below.count
                for phrase in case.phrases:
                    assert phrase.times * phrase.each_makes == phrase.makes
                    assert phrase.words
                seen += 1
    assert seen > 100


def test_a_row_in_all_sizes_is_told_as_the_sizes_are(cap: Reading) -> None:
    row = next(cap.tally.rows())
    found = why(cap, f"{row.label} of {row.part}")
    assert [size for case in found.cases for size in case.sizes] == list(cap.sizes)
    [(sizes, said)] = accounts(found)
    assert sizes == cap.sizes
    assert said[-1].startswith(("Rnd 2 stands on", "Row 2 stands on"))


def test_a_repeat_is_told_by_its_groups() -> None:
    text = (
        "Cap\nRnd 1: 40 hdc in ring. (40)\nRnd 2: Ch 1, *hdc in next 4 sts, 2 hdc in next st; rep from * around. (48)"
    )
    assert told(text, "Rnd 2") == [
        "Rnd 1 has 40 sts to work into.",
        "Ch 1 does not count as a stitch, as is usual.",
        "*hdc in next 4 sts, 2 hdc in next st; rep from * around",
        "    8 times, each into 5 sts and making 6: 40 used, 48 made",
        "48 worked and 48 written: they agree.",
        "Made: 1 ch, 48 hdc.",
    ]


def test_several_phrases_run_up_to_the_count() -> None:
    text = "Mat\nRnd 1: 20 sc in ring. (20)\nRnd 2: Sc in next 8 sts, 2 sc in next st, sc in next 11 sts. (21)\n"
    text += "Rnd 3: Sc around."
    assert told(text, "2")[1:] == [
        "Sc in next 8 sts",
        "    into 8 sts, making 8; so far 8 of 21",
        "2 sc in next st",
        "    into 1 st, making 2; so far 10 of 21",
        "sc in next 11 sts",
        "    into 11 sts, making 11; so far 21 of 21",
        "21 worked and 21 written: they agree.",
        "Rnd 3 stands on these 21.",
    ]


REPEAT = (
    "Mat\nRnd 1: {below} sc in ring. ({below})\nRnd 2: *Sc in next 3 sts, inc; rep from * {times} times. ({stated})"
)


@pytest.mark.parametrize(
    ("below", "times", "stated", "taken", "more", "in_all"),
    [(24, 5, 30, "more", 30, 25), (20, 5, 25, "in all", None, 25), (28, 6, 35, "more", 35, 30)],
)
def test_how_often_a_repeat_is_worked_is_told_with_the_evidence(
    below: int, times: int, stated: int, taken: str, more: int | None, in_all: int
) -> None:
    text = REPEAT.format(below=below, times=times, stated=stated)
    [case] = why(understand(text), "Rnd 2").cases
    [read] = [one for one in case.readings if one.kind == "repeat times"]
    assert (read.reading, read.evidence) == (taken, "counts")
    assert read.makes == {"more": more, "in all": in_all}
    said = "\n".join(told(text, "Rnd 2"))
    assert f"“rep from * {times} times” can be read in 2 ways: that many more times after the first" in said
    name = {"more": "that many more times after the first", "in all": "that many times in all"}[taken]
    assert f"Taken: {name}, since {stated} is written." in said


@pytest.mark.parametrize(
    ("worked", "reading", "makes", "taken"),
    [
        (11, "counts", {"counts": 12, "does not count": 11}, "a stitch of the row"),
        (12, "does not count", {"counts": None, "does not count": 12}, "no stitch of the row"),
    ],
)
def test_a_silent_chain_is_told_with_the_evidence(
    worked: int, reading: str, makes: dict[str, int | None], taken: str
) -> None:
    text = f"Mat\nRnd 1: 12 hdc in ring. (12)\nRnd 2: Ch 2, hdc in next {worked} sts. (12)"
    [case] = why(understand(text), "Rnd 2").cases
    [read] = case.readings
    assert (read.kind, read.words, read.reading, read.evidence) == ("turning chain", "Ch 2", reading, "counts")
    assert read.makes == makes
    assert f"    Taken: {taken}, since 12 is written." in told(text, "Rnd 2")


def test_where_both_readings_come_to_the_same_that_is_told() -> None:
    text = "Mat\nRow 1: Ch 20, sc in 2nd ch from hook and in each ch across, turn. (19)\n"
    text += "Row 2: Ch 2, hdc in each st across."
    said = "\n".join(told(text, "Row 2"))
    assert "“Ch 2” can be read in 2 ways" in said
    assert "since either way the count is the same." in said


def test_what_the_text_says_of_a_chain_is_told_with_its_line() -> None:
    text = "Mat\n\nNOTES\nCh 3 counts as a st throughout.\n\nMAT\n"
    text += "Rnd 1: 12 dc in a magic ring. (12)\nRnd 2: Ch 3, dc in next 11 sts. (12)"
    [case] = why(understand(text), "Rnd 2").cases
    assert case.chain is not None
    assert (case.chain.words, case.chain.counts, case.chain.line) == ("Ch 3", True, 4)
    assert (case.phrases[0].words, case.phrases[0].makes) == ("Ch 3", 1)
    assert "Ch 3 counts as a stitch; line 4 says so." in told(text, "Rnd 2")


def test_a_row_that_does_not_come_out_is_told_with_what_is_over() -> None:
    text = "Mat\nRnd 1: 30 sc in ring. (30)\nRnd 2: *Sc in next 3 sts, inc; rep from * around. (35)\n"
    text += "Rnd 3: Sc around. (35)"
    said = told(text, "Rnd 2")
    assert "The repeat does not come out: 2 left over, too few for another group of 4." in said


def test_a_row_that_asks_too_much_is_told_how_much() -> None:
    text = "Mat\nRnd 1: 18 sc in ring. (18)\nRnd 2: (Sc in next 2 sts, inc) 7 times. (28)"
    assert "It asks for 3 sts more than there are." in told(text, "Rnd 2")


def test_what_the_next_row_stands_on_is_told() -> None:
    text = (
        "Mat\nRnd 1: 18 sc in ring. (18)\nRnd 2: (Sc in next 2 sts, inc) 5 times, sc in next 2 sts. (24)\n"
        "Rnd 3: (Sc in next 3 sts, inc) 6 times. (30)\nRnd 4: (Sc in next 4 sts, inc) 6 times. (36)"
    )
    assert (
        told(text, "Rnd 2")[-1] == "Rnd 3 is taken to stand on the 24 written, so that more of what follows comes out."
    )
    assert told(text, "Rnd 3")[0] == "Rnd 2 has 24 sts, as written, to work into."


@pytest.mark.parametrize(
    "asked", ["Rnd 3", "rnd 3", "Round 3", "R3", "3", " Rnd 3: ", "Rnd. 3", "Rnds 3", "Rnd 3 of Mat"]
)
def test_a_row_is_found_however_its_label_is_typed(asked: str) -> None:
    text = "Mat\n\nMAT\nRnd 1: 6 sc in ring. (6)\nRnd 2: Inc around. (12)\nRnd 3: Sc around. (12)"
    assert heading(why(understand(text), asked)) == "Rnd 3 of Mat, line 6"


TWO_PARTS = """Hat
Sizes: S (M)
CROWN
Rnd 1: 6 sc in a magic ring. (6)
Rnd 2: Inc in each st around. (12)
M only: Rnd 3: Sc in each st around. (12)
SIDES
Rnd 3 (4): Sc in each st around. (12)
Rnd 4 (5): Sc in each st around. (12)
Rnd 4 (5): Sc in each st around. (12)
EAR FLAP
Row 1: Ch 5, sc in 2nd ch from hook and in each ch across, turn. (4)
Row 2: Ch 1, sc in each st across. (4)
"""


@pytest.mark.parametrize(
    ("asked", "size", "found"),
    [
        ("Rnd 3 of Crown", None, "Rnd 3 of Crown, line 6"),
        ("Rnd 3 of cr", None, "Rnd 3 of Crown, line 6"),
        ("Rnd 3", 0, "Rnd 3 of Sides, line 8"),
        ("Rnd 3", 1, "Rnd 3 of Crown, line 6"),
        ("Rnd 4, line 9", None, "Rnd 4 (5) of Sides, line 9"),
        ("Rnd 4 of Sides line 10", 0, "Rnd 4 of Sides, line 10"),
        ("Row 2", None, "Row 2 of Ear Flap, line 13"),
        ("Row 1 of Ear Flap", None, "Row 1 of Ear Flap, line 12"),
    ],
)
def test_a_label_that_stands_for_two_rows_is_told_apart(asked: str, size: int | None, found: str) -> None:
    assert heading(why(understand(TWO_PARTS), asked, size)).lower() == found.lower()


@pytest.mark.parametrize(
    ("asked", "size", "parts"),
    [
        (
            "Rnd 3",
            None,
            ["can mean 2 rows", "Rnd 3 of Crown for M (line 6)", "Rnd 3 of Sides for S (line 8)", "size or line"],
        ),
        ("Rnd 4", 0, ["can mean 2 rows", "(line 9)", "(line 10)", "say which by its line (“Rnd 4, line 9”)"]),
        ("2", None, ["Rnd 2 of Crown (line 5)", "say which by its section"]),
    ],
)
def test_where_two_rows_can_be_meant_they_are_listed(asked: str, size: int | None, parts: list[str]) -> None:
    with pytest.raises(UseError) as slip:
        why(understand(TWO_PARTS), asked, size)
    for part in parts:
        assert part.lower() in str(slip.value).lower()


@pytest.mark.parametrize(
    ("asked", "size", "word"),
    [
        ("Rnd 99", None, "there are Row 1 to Row 2 and Rnd 1 to Rnd 5"),
        ("Rnd 5", 0, "“Rnd 5” in S"),
        ("Row 4", None, "no “Row 4”"),
        ("Rnd 2 of Brim", None, "no “Rnd 2 of Brim”"),
        ("Rnd 2, line 77", None, "no “Rnd 2, line 77”"),
        ("crown", None, "names no row"),
        ("", None, "names no row"),
        ("Rnd " + "9" * 5000, None, "There is no"),
        ("Rnd \x1b[2J 2", None, "names no row"),
    ],
)
def test_a_row_that_is_not_there_is_told(asked: str, size: int | None, word: str) -> None:
    with pytest.raises(UseError, match=word.replace("(", r"\(")) as slip:
        why(understand(TWO_PARTS), asked, size)
    assert "\x1b" not in str(slip.value)


def test_a_pattern_without_rows_has_no_reasons() -> None:
    with pytest.raises(UseError, match="it has no rows"):
        why(understand("Dear diary"), "Rnd 1")


def test_words_on_the_screen_are_hers(cap: Reading) -> None:
    for row in cap.tally.rows():
        size = next(at for at, label in enumerate(row.labels) if label is not None)
        line, _ = cap.source.place(row.line.span.start)
        found = why(cap, f"{row.label} of {row.part}, line {line}", size)
        said = " ".join(sentence for case in found.cases for sentence in sentences(found, case)).lower()
        assert not {"anchor", "tally", "fabric", "node", "graph", "solver", "schema", "none"} & set(said.split())
