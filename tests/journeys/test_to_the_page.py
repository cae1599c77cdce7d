"""A designer's second evening: from a counted draft to a folder that she can send out, and back again."""

import json
import subprocess
import sys
from pathlib import Path

DRAFT = """Curlew Cowl

Sizes: Child (Adult)
Finished circumference: 10 (12)
Terms: US

MATERIALS
Yarn A: worsted, 100 g = 200 yd, grey
Yarn B: worsted, 100 g = 200 yd, rust
Hook: 5 mm

COWL
With A, ch 40 (48), join with sl st in first ch to form a ring.
Rnd 1: Ch 1, sc in each ch around, changing to B in last st, join with sl st in first sc. (40 (48) sts)
Rnd 2: With B, ch 1, sc in each st around, changing to A in last st, join. (40 (48) sts)
Cut B, leaving a 6 in tail.
Rnd 3: With A, ch 1, sc in each st around, join. (40 (48) sts)
Fasten off A, leaving a 6 in tail.
"""
GAUGE = "\nGAUGE\n16 sts and 18 rnds = 4 in in single crochet\n"
SWATCH = "Swatch: A, sc, 16 sts x 18 rows, 4 x 4 in, 9 g\n"


def typed(folder: Path, *words: str) -> tuple[int, str, str]:
    """What comes of a command that is typed in a folder."""
    done = subprocess.run(
        [sys.executable, "-m", "roundhand", *words], cwd=folder, capture_output=True, encoding="utf-8", check=False
    )
    return done.returncode, done.stdout, done.stderr


def test_from_a_draft_without_a_gauge_to_a_published_folder(tmp_path: Path) -> None:
    draft = tmp_path / "cowl.txt"
    draft.write_text(DRAFT, encoding="utf-8")

    # Nothing can be measured yet, and she is told what is missing.
    status, out, err = typed(tmp_path, "measure", "cowl.txt")
    assert (status, err) == (0, "")
    assert "Nothing can be measured without a gauge" in out
    status, out, _ = typed(tmp_path, "check", "cowl.txt")
    assert "Finished circumference has no unit" in out

    # With a gauge and a unit the counts come to what she meant: 40 and 48 stitches at four to the inch.
    text = DRAFT.replace("10 (12)", "10 (12) in").replace("Hook: 5 mm\n", f"Hook: 5 mm\n{GAUGE}")
    draft.write_text(text, encoding="utf-8")
    status, out, _ = typed(tmp_path, "measure", "cowl.txt", "--json")
    whole = json.loads(out)["pieces"][-1]
    assert [one["cm"] for one in whole["measures"] if one["what"] == "round"] == [[25.4, 30.48]]
    assert typed(tmp_path, "check", "cowl.txt")[1].endswith("No queries: nothing to fix, to look at or to consider.\n")

    # The yarn is only good to a fifth, until she weighs her swatch.
    status, out, _ = typed(tmp_path, "yarn", "cowl.txt", "--size", "Adult")
    assert "No swatch has been weighed, so this is good to about 20 %" in out
    text = text.replace("Hook: 5 mm\n", f"Hook: 5 mm\n{SWATCH}")
    draft.write_text(text, encoding="utf-8")
    status, out, _ = typed(tmp_path, "yarn", "cowl.txt", "--size", "Adult")
    assert "By one weighed swatch; give or take 6 %." in out

    # The chart, then the whole folder; publishing again changes nothing in it.
    status, out, _ = typed(tmp_path, "chart", "cowl.txt", "--out", "cowl.svg")
    assert (status, (tmp_path / "cowl.svg").read_bytes()[:4]) == (0, b"<svg")
    status, out, err = typed(tmp_path, "publish", "cowl.txt", "--out", "site")
    assert (status, err) == (0, "")
    first = {path.name: path.read_bytes() for path in (tmp_path / "site").iterdir()}
    assert typed(tmp_path, "publish", "cowl.txt", "--out", "site")[0] == 0
    assert {path.name: path.read_bytes() for path in (tmp_path / "site").iterdir()} == first

    # A slip made since then keeps the old folder as it was.
    draft.write_text(text.replace("(40 (48) sts)\nCut B", "(40 (50) sts)\nCut B"), encoding="utf-8")
    status, out, err = typed(tmp_path, "publish", "cowl.txt", "--out", "site")
    assert status == 1
    assert "50 written, 48 worked" in out
    assert {path.name: path.read_bytes() for path in (tmp_path / "site").iterdir()} == first
    assert sorted(path.name for path in tmp_path.iterdir()) == ["cowl.svg", "cowl.txt", "site"]
