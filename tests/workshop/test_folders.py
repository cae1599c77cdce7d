"""Which files of a folder are taken for patterns."""

import os
from pathlib import Path

import pytest

from roundhand.workshop import UseError, folders, is_pattern, open_pattern, patterns_in, shipped_patterns
from roundhand.workshop.folders import patterns_near
from roundhand.workshop.shelf import Shelf
from roundhand.workshop.writing import write_folder

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


def test_what_was_published_is_no_pattern_of_its_folder(tmp_path: Path) -> None:
    (tmp_path / "cap.txt").write_text(ROW, encoding="utf-8")
    write_folder(tmp_path / "cap-published", {"pattern.txt": ROW.encode()})
    assert patterns_in(tmp_path) == (tmp_path / "cap.txt",)
    # Whoever names the folder itself means it.
    assert patterns_in(tmp_path / "cap-published") == (tmp_path / "cap-published" / "pattern.txt",)


@pytest.mark.parametrize("bound", ["MOST_DEEP", "MOST_TEXTS", "MOST_ENTRIES"])
def test_a_very_large_folder_is_not_looked_through_to_its_end_and_says_so(
    bound: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    place = tmp_path
    for at in range(4):
        (place / "cap.txt").write_text(ROW, encoding="utf-8")
        place = place / f"deeper-{at}"
        place.mkdir()
    shelf = Shelf(tmp_path)
    assert len(shelf.patterns()) == 4 and shelf.left_out == ""
    assert shelf.watched() == ((tmp_path,), True)
    monkeypatch.setattr(folders, bound, {"MOST_DEEP": 1, "MOST_TEXTS": 2, "MOST_ENTRIES": 5}[bound])
    assert [one.name for one in shelf.patterns()] == ["cap.txt", "deeper-0/cap.txt"]
    assert shelf.left_out.startswith("This folder is very large")
    assert shelf.watched() == ((tmp_path, tmp_path / "deeper-0"), False)


def test_one_folder_that_cannot_be_read_hides_no_other(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "cap.txt").write_text(ROW, encoding="utf-8")
    (tmp_path / "shut").mkdir()
    scan = os.scandir

    def shut(folder: Path) -> object:
        if folder.name == "shut":
            raise PermissionError(13, "Permission denied")
        return scan(folder)

    monkeypatch.setattr(os, "scandir", shut)
    assert patterns_near(tmp_path) == ((tmp_path / "cap.txt",), True)
