"""A designer's first evening with roundhand, from a folder of drafts to a pattern that nothing is said against."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

DRAFT = """Curlew Cowl

Sizes: Child (Adult)
Terms: US
Gauge: 16 sts and 18 rnds = 4 in in single crochet

MATERIALS
Yarn A: worsted, grey
Hook: 5 mm

COWL
With A, ch 40 (48), join with sl st in first ch to form a ring.
Rnd 1: Ch 1, sc in each ch around, join with sl st in first sc. (40 (48) sts)
Rnd 2: Ch 1, *sc in next 3 sts, 2 sc in next st; rep from * around, join. (50 (61) sts)
Rnd 3: Ch 1, sc in each st around, join. (50 (60) sts)
Fasten off.
"""


def typed(folder: Path, *words: str) -> tuple[int, str, str]:
    """What comes of a command that is typed in a folder."""
    done = subprocess.run(
        [sys.executable, "-m", "roundhand", *words], cwd=folder, capture_output=True, encoding="utf-8", check=False
    )
    return done.returncode, done.stdout, done.stderr


def test_from_a_draft_with_a_slip_to_a_clean_pattern(tmp_path: Path) -> None:
    (tmp_path / "README.md").write_text("My patterns. Rnd 1: not a row.\n", encoding="utf-8")
    (tmp_path / "ideas.txt").write_text("a cap with gulls on it\n", encoding="utf-8")
    draft = tmp_path / "cowl.txt"
    # Her editor saves with a mark and with the line ends of another system.
    draft.write_bytes(b"\xef\xbb\xbf" + DRAFT.replace("\n", "\r\n").encode())

    # She asks for the folder: one draft, one slip, in one size.
    status, out, err = typed(tmp_path, "check", ".")
    assert (status, err) == (1, "")
    assert "Fix  Rnd 2 (Adult)  61 written, 60 worked" in out
    assert out.endswith("1 Fix.\n")

    # She asks why, and the answer lets her count along.
    status, out, _ = typed(tmp_path, "counts", "cowl.txt", "--why", "Rnd 2", "--size", "adult")
    assert status == 0
    assert "12 times, each into 4 sts and making 5: 48 used, 60 made" in out
    assert "60 worked, but 61 written." in out

    # A program mends the text by the places that the answer names.
    status, out, _ = typed(tmp_path, "check", "cowl.txt", "--json")
    assert status == 1
    answer: dict[str, Any] = json.loads(out)
    text = draft.read_bytes().decode("utf-8-sig")
    [query] = [one for one in answer["findings"] if one["severity"] == "error"]
    [edit] = query["edits"]
    assert text[edit["start"] : edit["end"]] == "61"
    assert text.split("\r\n")[query["line"] - 1][query["column"] - 1 : query["end_column"] - 1] == "61"
    mended = text[: edit["start"]] + edit["text"] + text[edit["end"] :]
    draft.write_bytes(mended.encode())

    # Nothing is left to fix, and every count of every size is there.
    status, out, err = typed(tmp_path, "check", "cowl.txt")
    assert (status, err) == (0, "")
    assert "all 6 counts agree" in out
    status, out, _ = typed(tmp_path, "counts", "cowl.txt", "--json")
    assert status == 0
    [piece] = json.loads(out)["pieces"]
    assert [row["worked"] for row in piece["rows"]] == [[40, 48], [50, 60], [50, 60]]


def test_a_helper_that_only_counts_never_touches_the_file(tmp_path: Path) -> None:
    draft = tmp_path / "cowl.txt"
    draft.write_bytes(DRAFT.encode())
    before = draft.stat()
    for words in (["check"], ["counts"], ["counts", "--json"], ["check", "--json"]):
        typed(tmp_path, *words, "cowl.txt")
    after = draft.stat()
    assert draft.read_bytes() == DRAFT.encode()
    assert (before.st_mtime_ns, before.st_ino) == (after.st_mtime_ns, after.st_ino)
    assert [path.name for path in tmp_path.iterdir()] == ["cowl.txt"]
