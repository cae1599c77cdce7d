"""Which files of a folder are taken for patterns."""

import os
from pathlib import Path

import pytest

from roundhand.workshop import UseError, is_pattern, open_pattern, patterns_in, shipped_patterns

ROW = "Rnd 1: 6 sc in a magic ring. (6)\n"


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (ROW, True),
        ("Cowl\n\nRow 1: Ch 1, sc across.\n", True),
        ("Cowl\n\nSizes: S (M, L)\n", True),
        ("Cowl\n\nGauge: 14 sts and 10 rnds = 4 in\n", True),
        ("Cowl\n\n**Rnd 1:** 6 sc in a magic ring.\n", True),
        ("To do\n\n- buy yarn\n- ask Anke about the gauge\n", False),
        ("A round table. Each row is full.\n", False),
        ("", False),
    ],
)
def test_a_pattern_has_a_row_or_says_its_sizes_or_gauge(text: str, wanted: bool) -> None:
    assert is_pattern(text) is wanted


def test_a_folder_gives_its_patterns_in_order(tmp_path: Path) -> None:
    for name in (
        "b.txt",
        "a.md",
        "deep/er/c.txt",
        "README.md",
        "readme.txt",
        ".hidden.txt",
        "_draft.txt",
        "_old/d.txt",
    ):
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(ROW)
    (tmp_path / "e.csv").write_text(ROW)
    (tmp_path / "list.txt").write_text("milk, bread")
    (tmp_path / "picture.txt").write_bytes(b"\x89PNG\0\0\0")
    assert [str(path.relative_to(tmp_path)) for path in patterns_in(tmp_path)] == [
        "a.md",
        "b.txt",
        os.path.join("deep", "er", "c.txt"),
    ]


def test_links_that_lead_round_in_a_circle_come_to_an_end(tmp_path: Path) -> None:
    inner = tmp_path / "inner"
    inner.mkdir()
    (inner / "cap.txt").write_text(ROW)
    (inner / "back").symlink_to(tmp_path)
    (inner / "itself").symlink_to(inner)
    (inner / "nowhere.txt").symlink_to(tmp_path / "gone.txt")
    assert patterns_in(tmp_path) == (inner / "cap.txt",)


def test_a_folder_without_patterns_is_told(tmp_path: Path) -> None:
    with pytest.raises(UseError, match="no pattern in the folder"):
        patterns_in(tmp_path)
    with pytest.raises(UseError, match="There is no folder"):
        patterns_in(tmp_path / "nowhere")


def test_our_own_patterns_are_found_and_read() -> None:
    ours = patterns_in(shipped_patterns())
    assert {"kittiwake-cap.txt", "saltmarsh-cap.txt"} <= {path.name for path in ours}
    assert all(list(open_pattern(path).tally.rows()) for path in ours)
