"""A text understood: whatever it is, there is a pattern, findings in the order of the page, and a sentence on it."""

from pathlib import Path

import pytest

from roundhand.workshop import UseError, open_pattern, size_of, understand, understood

TWO_SIZES = """Cowl
Sizes: Child (Adult)
COWL
With A, ch 40 (48), join with sl st in first ch.
Rnd 1: Ch 1, sc in each ch around, join. (40 (48) sts)
Rnd 2: Ch 1, sc in each st around, join. (40 (50) sts)
"""


@pytest.mark.parametrize("text", ["", "\n\n  \n", "\r\r", "Dear diary,\nto-day I bought yarn.\n"])
def test_a_text_without_rows_has_nothing_to_work(text: str) -> None:
    reading = understand(text)
    [finding] = reading.findings
    assert (finding.name, finding.severity) == ("nothing-to-work", "error")
    assert reading.source.place(finding.span.start) == (1, 1)
    assert "Rnd 1:" in finding.help
    assert list(reading.tally.rows()) == []


def test_a_head_without_rows_is_told_that_and_no_more() -> None:
    reading = understand("Cap\n\nSizes: S (M)\nTerms: US\n\nMATERIALS\nYarn A: worsted\n")
    assert [finding.name for finding in reading.findings] == ["nothing-to-work"]


def test_a_pattern_with_rows_has_something_to_work() -> None:
    assert "nothing-to-work" not in [finding.name for finding in understand(TWO_SIZES).findings]


def test_findings_stand_in_the_order_of_the_page() -> None:
    reading = understand(TWO_SIZES.replace("sc in each ch", "scc in each ch"))
    starts = [finding.span.start for finding in reading.findings]
    assert starts == sorted(starts)
    assert len(starts) > 1


@pytest.mark.parametrize(
    ("asked", "size"), [("Child", 0), ("child", 0), ("A", 1), ("adult", 1), ("1", 0), ("2", 1), (" Adult ", 1)]
)
def test_a_size_is_found_by_name_beginning_or_number(asked: str, size: int) -> None:
    assert size_of(understand(TWO_SIZES), asked) == size


@pytest.mark.parametrize("asked", ["Baby", "0", "3", "", "\x1b[2J"])
def test_an_unknown_size_is_told_with_those_there_are(asked: str) -> None:
    with pytest.raises(UseError, match=r"the sizes are Child, Adult") as told:
        size_of(understand(TWO_SIZES), asked)
    assert "\x1b" not in str(told.value)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (TWO_SIZES, "Two sizes, 2 rounds; 3 of 4 counts agree; look at Rnd 2, Adult."),
        (TWO_SIZES.replace("50", "48"), "Two sizes, 2 rounds; all 4 counts agree."),
        (
            "Mat\nRow 1: Ch 11, sc in 2nd ch from hook and in each ch across. (10)",
            "One size, 1 row; the one count agrees.",
        ),
        (
            "Mat\nRow 1: Ch 11, sc in 2nd ch from hook and in each ch across. (9)",
            "One size, 1 row; 0 of 1 count agree; look at Row 1.",
        ),
        ("Mat\nRnd 1: 6 sc in a magic ring.", "One size, 1 round; no counts are written to compare with."),
        ("Dear diary", "One size, no rows."),
    ],
)
def test_what_was_understood_is_said_in_one_sentence(text: str, said: str) -> None:
    assert understood(understand(text)).sentence() == said


def test_one_size_is_told_by_its_name() -> None:
    reading = understand(TWO_SIZES)
    assert understood(reading, 0).sentence() == "Child, 2 rounds; all 2 counts agree."
    assert understood(reading, 1).sentence() == "Adult, 2 rounds; 1 of 2 counts agree; look at Rnd 2."


def test_sizes_with_other_numbers_of_rounds_are_told_from_least_to_most() -> None:
    text = "Cap\nSizes: S (L)\nRnd 1: 6 sc in a magic ring. (6)\nRnds 2-4 (2-9): Sc in each st around. (6)"
    assert understood(understand(text)).sentence() == "Two sizes, 4 to 9 rounds; all 13 counts agree."


def test_a_file_is_opened_with_its_findings(tmp_path: Path) -> None:
    path = tmp_path / "cowl.txt"
    path.write_bytes(TWO_SIZES.replace("Cowl", "Möwe").encode("windows-1252"))
    reading = open_pattern(path)
    assert reading.pattern.title == "Möwe"
    assert {"text-not-decoded", "count-differs"} <= {finding.name for finding in reading.findings}
