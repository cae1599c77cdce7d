"""The tour shows what it says it shows, with what the commands themselves would answer."""

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.conftest import ROOT, Call


def taken(folder: Path, passing: Path) -> str:
    """The whole tour, taken from a folder; what it makes is made in another."""
    done = subprocess.run(
        [sys.executable, "-m", "roundhand.cli.tour"],
        cwd=folder,
        env={**os.environ, "TMPDIR": str(passing), "TEMP": str(passing), "TMP": str(passing)},
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    assert (done.returncode, done.stderr) == (0, "")
    return done.stdout


@pytest.fixture(scope="module")
def tour(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The whole tour, taken from the folder of the repository."""
    return taken(ROOT, tmp_path_factory.mktemp("passing"))


def answers(tour: str) -> dict[str, str]:
    """What stands below each command that the tour shows, with its inset taken out."""
    found: dict[str, str] = {}
    typed = ""
    for line in tour.splitlines():
        if line.startswith("    python3 run.py "):
            typed = line.removeprefix("    python3 run.py ")
            found[typed] = ""
        elif typed and line and not line.startswith("    "):
            typed = ""
        elif typed:
            found[typed] += line[4:] + "\n"
    return found


def test_every_answer_is_the_command_s_own(tour: str, roundhand: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    shown = {typed: said.strip() for typed, said in answers(tour).items() if "my-pattern" not in typed}
    shown = {typed: said for typed, said in shown.items() if not typed.startswith(("publish", "desk"))}
    assert len(shown) == 6
    for typed, said in shown.items():
        own = roundhand(*shlex.split(typed)).out.strip()
        if not typed.startswith("check") and "--why" not in typed:
            # The tour leaves out the sentence on what was understood, which has just been said.
            own = own.split("\n\n", 1)[1].strip()
        if typed.startswith(("measure", "yarn")):
            # It leaves out what the numbers rest on as well.
            own = own.partition("\n\n“")[0]
        # Inset pages are narrower, so marked lines may be cut elsewhere.
        mine = [line for line in said.split() if "…" not in line and set(line) - {"^", "-"}]
        theirs = [line for line in own.split() if "…" not in line and set(line) - {"^", "-"}]
        if "check" in typed:
            assert [word for word in mine if word in ("Fix", "Look", "Consider")] == [
                word for word in theirs if word in ("Fix", "Look", "Consider")
            ]
            assert said.splitlines()[-1] == own.splitlines()[-1]
        else:
            assert mine == theirs


def test_the_tour_shows_the_clean_cap_and_its_slips(tour: str) -> None:
    assert "Five sizes, 20 to 27 rounds; all 119 counts agree." in tour
    assert "No queries" in tour
    assert "66 written, 64 worked" in tour
    assert "64 worked, but 66 written." in tour
    assert "check my-pattern.txt" in tour


def test_words_in_the_tour_are_hers(tour: str) -> None:
    words = set(tour.lower().split())
    assert not {"anchor", "tally", "fabric", "node", "graph", "solver", "schema"} & words


def test_the_tour_can_be_taken_from_any_folder(tmp_path: Path) -> None:
    (tmp_path / "here").mkdir()
    (tmp_path / "passing").mkdir()
    assert str(ROOT / "patterns" / "saltmarsh-cap.txt") in taken(tmp_path / "here", tmp_path / "passing")
    assert list((tmp_path / "here").iterdir()) == []


def test_the_tour_ends_with_a_published_folder_that_is_there(tour: str) -> None:
    [page] = re.findall(r"^    (\S+index\.html)$", tour, re.MULTILINE)
    folder = Path(page).parent
    assert f"Published in {folder}" in tour
    names = {path.name for path in folder.iterdir()}
    assert {"index.html", "leaflet-a4.pdf", "leaflet-letter.pdf", "pattern.txt"} < names
    assert any(name.startswith("chart-") for name in names)
    assert all(name in tour for name in names if not name.startswith("."))
