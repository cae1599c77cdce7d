"""How queries are laid out: row first, the words with their marks, the reason, a way on; what follows is folded."""

import msgspec
import pytest

from roundhand.cli.screen.line import Line, bare
from roundhand.cli.screen.queries import edit_page, folded, query, said_in_all
from roundhand.findings import Finding, Mark, Severity, Span
from roundhand.workshop import Reading, understand
from roundhand.workshop.answers import Summary

PAGE = """Mat

Rnd 1: 18 sc in ring. (18)
Rnd 4: (sc in next 2 sts, inc) 5 times, sc in next 2 sts (24)
"""
SIZED = PAGE.replace("Mat\n", "Mat\nSizes: S (M, L, XL)\n")


def slip(page: str, **changes: object) -> Finding:
    """The slip of the fourth round, as an editor would pencil it."""
    count, group = page.index("24)"), page.index("(sc in")
    finding = Finding(
        "count-differs",
        "error",
        "24 written, 22 worked",
        Span(count, count + 2),
        row="Rnd 4",
        because="Rnd 3 has 18 sts and this round works into 17 of them",
        help="6 times would use all 18 and make 24",
        see=(Mark(Span(group, group + 31), "5 x 4 = 20"),),
        label="24 written",
    )
    return msgspec.structs.replace(finding, **changes)


def with_findings(page: str, *findings: Finding) -> Reading:
    """A page as understood, with these queries and no other."""
    return msgspec.structs.replace(understand(page), findings=findings)


def shown(lines: list[Line]) -> list[str]:
    """Lines as they are printed."""
    return [bare(pieces) for pieces in lines]


def test_a_query_is_laid_out_row_first() -> None:
    reading = with_findings(SIZED)
    finding = slip(SIZED, sizes=reading.sizes)
    assert shown(query(reading, finding, 100)) == [
        "Fix  Rnd 4 (all sizes)  24 written, 22 worked",
        "     Rnd 4: (sc in next 2 sts, inc) 5 times, sc in next 2 sts (24)",
        "            ------------------------------- 5 x 4 = 20         ^^ 24 written",
        "     because: Rnd 3 has 18 sts and this round works into 17 of them",
        "     way on:  6 times would use all 18 and make 24",
    ]


@pytest.mark.parametrize(
    ("severity", "sizes", "row", "head"),
    [
        ("error", (), "Rnd 4", "Fix  Rnd 4  "),
        ("warning", ("S",), "Rnd 4", "Look Rnd 4 (S)  "),
        ("advice", ("S", "L"), "Rnd 4", "Consider  Rnd 4 (S, L)  "),
        ("error", ("S", "M", "XL"), "Rnd 4", "Fix  Rnd 4 (all but L)  "),
        ("error", ("S", "M", "L", "XL"), "", "Fix  line 5 (all sizes)  "),
    ],
)
def test_the_head_says_weight_row_and_sizes(severity: Severity, sizes: tuple[str, ...], row: str, head: str) -> None:
    reading = with_findings(SIZED)
    finding = slip(SIZED, severity=severity, sizes=sizes, row=row)
    assert shown(query(reading, finding, 100))[0] == head + "24 written, 22 worked"


def test_a_pattern_in_one_size_names_no_size() -> None:
    reading = with_findings(PAGE)
    assert shown(query(reading, slip(PAGE, sizes=("One size",)), 100))[0] == "Fix  Rnd 4  24 written, 22 worked"


def test_long_sentences_keep_to_the_page() -> None:
    reading = with_findings(PAGE)
    long = " ".join(["the stitches of the round below are counted from the marker"] * 4)
    lines = shown(query(reading, slip(PAGE, headline=long, because=long, help=long), 60))
    assert all(len(line) <= 60 for line in lines)
    assert " ".join(" ".join(lines).split()).count("the stitches of the round below") == 12
    because = next(at for at, line in enumerate(lines) if "because:" in line)
    assert lines[because + 1].startswith(" " * len("     because: "))
    assert lines[because + 1][len("     because: ")] != " "


def test_what_follows_is_folded_under_its_cause() -> None:
    cause = slip(PAGE)
    column = PAGE.splitlines()[3].index("24)") + 1
    first = slip(PAGE, name="repeat-left-over", span=Span(0, 1), follows=f"count-differs 4:{column}")
    second = slip(PAGE, name="stitches-unworked", span=Span(1, 2), follows="repeat-left-over 1:1")
    other = slip(PAGE, name="caution", severity="advice", span=Span(0, 3))
    reading = with_findings(PAGE, first, other, second, cause)
    assert folded(reading.findings, reading) == [(other, 0), (cause, 2)]
    page = shown(edit_page(reading, None, 100))
    assert page[-1] == "1 Fix, 1 Consider."
    assert "     and 2 more that follow from it" in page


def test_what_follows_from_something_not_shown_stands_for_itself() -> None:
    lost = slip(PAGE, follows="words-unknown 9:9")
    reading = with_findings(PAGE, lost)
    assert folded(reading.findings, reading) == [(lost, 0)]


def test_findings_that_follow_from_each_other_are_still_shown() -> None:
    one = slip(PAGE, span=Span(0, 1), follows="caution 1:2")
    two = slip(PAGE, name="caution", span=Span(1, 2), follows="count-differs 1:1")
    reading = with_findings(PAGE, one, two)
    assert folded(reading.findings, reading) == [(one, 1)]


def test_queries_stand_in_the_order_of_the_page_and_are_counted_last() -> None:
    first = slip(PAGE, name="caution", severity="advice", span=Span(0, 3), headline="first")
    reading = with_findings(PAGE, first, slip(PAGE, headline="second"))
    page = shown(edit_page(reading, None, 100))
    assert page[:2] == ["Mat", "One size, 2 rounds; 1 of 2 counts agree; look at Rnd 4."]
    assert [line.split("  ")[-1] for line in page if line.startswith(("Fix", "Look", "Consider"))] == [
        "first",
        "second",
    ]
    assert page[-1] == "1 Fix, 1 Consider."


def test_a_clean_page_is_told_kindly() -> None:
    assert said_in_all(Summary()).startswith("No queries")
    assert shown(edit_page(with_findings(PAGE), None, 100))[-1] == said_in_all(Summary())
