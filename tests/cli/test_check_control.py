"""What is looked for and what is said: by name and group, with house style, about a query, and what was let stand."""

import json
import re
from pathlib import Path

import pytest

from roundhand.checks import GROUPS, pages
from tests.cli.conftest import Call

PAGE = """Mat

Gauge: 16 sts and 18 rnds = 4 in

MATERIALS
Yarn A: worsted, slate
Yarn B: worsted, samphire

MAT
Rnd 1: With A, 6 sc in a magic ring. (6)
Rnd 2: With B, inc in each st around. (13)
Rnd 3: With A, sc in each st around. (12)
Fasten off.
"""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with one pattern in it, which has two slips; the folder one is in."""
    (tmp_path / "mat.txt").write_text(PAGE)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def _names(roundhand: Call, *words: str) -> list[str]:
    return [one["name"] for one in json.loads(roundhand("check", *words, "--json").out)["findings"]]


def test_names_and_groups(folder: Path, roundhand: Call) -> None:
    assert _names(roundhand, "mat.txt") == ["colour-never-ended", "count-differs"]
    assert _names(roundhand, "mat.txt", "--only", "Counts") == ["count-differs"]
    assert _names(roundhand, "mat.txt", "--only", "color never ended", "--only", "care") == ["colour-never-ended"]
    assert _names(roundhand, "mat.txt", "--without", "count_differs") == ["colour-never-ended"]
    assert _names(roundhand, "mat.txt", "--without", "counts", "--without", "colours") == []
    assert roundhand("check", "mat.txt", "--without", "counts").status == 0


@pytest.mark.parametrize("option", ["--only", "--without", "--about"])
def test_a_word_that_is_no_name_is_told_the_nearest(option: str, folder: Path, roundhand: Call) -> None:
    words = ["mat.txt"] if option != "--about" else []
    said = roundhand("check", *words, option, "count-difers")
    assert (said.status, said.out) == (2, "")
    assert said.err == "There is no query or group “count-difers”; perhaps “count-differs” is meant.\n"
    said = roundhand("check", *words, option, "xyzzy")
    assert said.err == "There is no query or group “xyzzy”; “roundhand check --about all” lists them.\n"


def test_about_one_query_a_group_and_all(roundhand: Call) -> None:
    said = roundhand("check", "--about", "count-differs")
    assert said.status == 0
    for words in (pages()["count-differs"].what, "wrong:", "right:", "counts: counts and repeats"):
        assert words in said.out
    for example in (pages()["count-differs"].bad, pages()["count-differs"].good):
        assert all(f"    {line}" in said.out for line in example.splitlines())
    listed = roundhand("check", "--about", "all").out
    assert listed == roundhand("check", "--about").out
    assert [name for name in pages() if f"\n  {name} " not in listed] == []
    assert [group for group in GROUPS if any(page.group == group for page in pages().values())] == re.findall(
        r"^(\w+): ", listed, re.MULTILINE
    )
    data = json.loads(roundhand("check", "--about", "counts", "--json").out)
    assert data["schema"] == "roundhand.about/1"
    assert {page["group"] for page in data["pages"]} == {"counts"}


def test_what_was_let_stand_is_quiet_until_its_row_changes(folder: Path, roundhand: Call) -> None:
    said = roundhand("check", "mat.txt", "--let-stand")
    assert said.status == 0
    assert said.err == "mat.txt: 2 queries stand until the row changes; “mat.txt.stands.csv” lists them.\n"
    assert "2 queries that were let stand are not shown; --anew shows them." in said.out
    assert _names(roundhand, "mat.txt") == []
    assert _names(roundhand, "mat.txt", "--anew") == ["colour-never-ended", "count-differs"]
    assert json.loads(roundhand("check", "mat.txt", "--json").out)["standing"] == 2
    # Lines above do not matter, and neither does white space.
    (folder / "mat.txt").write_text(PAGE.replace("MAT\n", "MAT\n\n\n").replace("Rnd 2:", "Rnd 2: "))
    assert _names(roundhand, "mat.txt") == []
    # A row that has changed is looked at anew; with another row below it what it comes to is another query.
    (folder / "mat.txt").write_text(PAGE.replace("(13)", "(14)"))
    assert _names(roundhand, "mat.txt") == ["colour-never-ended", "count-differs"]
    (folder / "mat.txt").write_text(PAGE.replace("6 sc", "7 sc").replace("(6)", "(7)").replace("(12)", "(14)"))
    assert _names(roundhand, "mat.txt") == ["count-differs"]
    # What is mended is taken out of the table when it is written again, and at last the table itself.
    (folder / "mat.txt").write_text(PAGE.replace("(13)", "(12)"))
    assert roundhand("check", "mat.txt", "--let-stand").err.startswith("mat.txt: 1 query stands")
    (folder / "mat.txt").write_text(PAGE.replace("(13)", "(12)").replace("Rnd 3", "Cut B.\nRnd 3"))
    assert roundhand("check", "mat.txt", "--let-stand").err == "mat.txt: there is no query to let stand.\n"
    assert not (folder / "mat.txt.stands.csv").exists()


def test_only_some_are_let_stand_and_the_others_stay_as_they_were(folder: Path, roundhand: Call) -> None:
    roundhand("check", "mat.txt", "--let-stand", "--only", "counts")
    assert _names(roundhand, "mat.txt") == ["colour-never-ended"]
    roundhand("check", "mat.txt", "--let-stand", "--only", "colours")
    assert _names(roundhand, "mat.txt") == []


def test_the_same_slip_made_a_second_time_is_said(folder: Path, roundhand: Call) -> None:
    roundhand("check", "mat.txt", "--let-stand", "--only", "counts")
    again = PAGE.replace("Fasten off.\n", "Fasten off.\n\nOTHER MAT\n" + PAGE.split("\nMAT\n")[1])
    (folder / "mat.txt").write_text(again)
    assert _names(roundhand, "mat.txt", "--only", "counts") == ["count-differs"]


def test_a_table_that_is_none_is_told_and_left(folder: Path, roundhand: Call) -> None:
    (folder / "mat.txt.stands.csv").write_text("yarn,price\nslate,9\n")
    said = roundhand("check", "mat.txt")
    assert said.status == 1
    assert "was passed over: it has no columns" in said.err
    said = roundhand("check", "mat.txt", "--let-stand")
    assert said.status == 2
    assert "is no table of roundhand" in said.err
    assert (folder / "mat.txt.stands.csv").read_text() == "yarn,price\nslate,9\n"


def test_the_editors_word_and_what_stands_let_a_pattern_be_published(folder: Path, roundhand: Call) -> None:
    assert roundhand("publish", "mat.txt").status == 1
    (folder / "mat.txt").write_text(PAGE + "\nEditor: leave counts in Rnd 2, the spaces are counted\n")
    said = roundhand("check", "mat.txt")
    assert said.status == 0
    assert said.out.endswith("1 query left as the editor's word on the page says.\n")
    assert roundhand("publish", "mat.txt").status == 0


def test_a_report_has_every_query_by_weight_with_its_mends(folder: Path, roundhand: Call) -> None:
    printed = roundhand("check", "mat.txt", "--report", "-")
    assert (printed.status, printed.err) == (1, "")
    written = roundhand("check", "mat.txt", "--report", "edit.md")
    assert written.out == "1 pattern: 1 Fix, 1 Look.\nThe report stands in edit.md.\n"
    report = (folder / "edit.md").read_text()
    assert report == printed.out
    assert report.index("### Fix (1)") < report.index("#### 1. Rnd 2: 13 written") < report.index("### Look (1)")
    assert "One size, 3 rounds; 2 of 3 counts agree" in report
    for finding in json.loads(roundhand("check", "mat.txt", "--json").out)["findings"]:
        for edit in finding["edits"]:
            line = PAGE.count("\n", 0, edit["start"])
            begins = PAGE.rfind("\n", 0, edit["start"]) + 1
            before = PAGE.splitlines()[line]
            after = before[: edit["start"] - begins] + edit["text"] + before[edit["end"] - begins :]
            assert f"- {before}\n+ {after}\n" in report
    # It is written again over itself, is no pattern of the folder, and goes over nothing else.
    assert roundhand("check", ".", "--report", "edit.md").out.startswith("1 pattern:")
    (folder / "notes.md").write_text("Dear diary")
    said = roundhand("check", "mat.txt", "--report", "notes.md")
    assert (said.status, said.out) == (2, "")
    assert (folder / "notes.md").read_text() == "Dear diary"
    assert roundhand("check", "mat.txt", "--report", "mat.txt").status == 2


def test_words_of_the_page_mean_themselves_in_a_report(folder: Path, roundhand: Call) -> None:
    title = "<b>Mat</b> | *of* [loops](http://x) `y` # 1. z"
    (folder / "mat.txt").write_text(PAGE.replace("Mat\n", f"{title}\n", 1).replace("(13)", "(13) ```` <i>"))
    report = roundhand("check", "mat.txt", "--report", "-").out
    assert "\\<b\\>Mat\\</b\\> \\| \\*of\\* \\[loops\\](http://x) \\`y\\` \\# 1. z" in report
    fences = re.findall(r"^(`{3,})(\w*)$", report, re.MULTILINE)
    assert all(opens == closes for (opens, _), (closes, _) in zip(fences[::2], fences[1::2], strict=True))
    assert any(len(opens) == 5 for opens, _ in fences)


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ("mat.txt --let-stand --size 1", "Queries are let stand for all sizes at once; leave out “--size”."),
        (
            "mat.txt --report - --json",
            "One thing can be printed at a time; name a file for the report, or leave out “--json”.",
        ),
        ("mat.txt --report edit.txt", "A report is written as a .md file, as in: --report edit.md"),
    ],
)
def test_what_cannot_be_asked_together(words: str, sentence: str, folder: Path, roundhand: Call) -> None:
    said = roundhand("check", *words.split())
    assert (said.status, said.out, said.err) == (2, "", sentence + "\n")
