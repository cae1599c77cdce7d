"""Whole folders: altered copies of the shipped patterns beside everything that is none, in the order of the paths."""

import json
import os
import random
import re
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.conftest import Call

_NUMBER = re.compile(r"\d+")


def _altered(text: str, chance: random.Random) -> str:
    """The pattern with one number changed, a line doubled or a line cut."""
    lines = text.splitlines(keepends=True)
    at = chance.randrange(1, len(lines))
    kind = chance.choice(("number", "number", "double", "cut"))
    if kind == "double":
        return "".join([*lines[:at], lines[at], *lines[at:]])
    if kind == "cut":
        return "".join([*lines[:at], *lines[at + 1 :]])
    found = chance.choice(list(_NUMBER.finditer(text, len(lines[0]))))
    return text[: found.start()] + str(int(found[0]) + chance.choice((-1, 1, 2, 10))) + text[found.end() :]


def _filled(folder: Path, ours: Path, number: int) -> list[str]:
    """A folder with so many altered copies in it and in folders in it; their names in the order of the answers."""
    chance = random.Random(6)
    texts = [path.read_text(encoding="utf-8") for path in sorted(ours.glob("*.txt"))]
    names = []
    for at in range(number):
        name = os.path.join(
            folder, *([f"box {at % 3}"] if at % 4 == 0 else []), f"copy {at:05}.{chance.choice(('txt', 'md'))}"
        )
        Path(name).parent.mkdir(exist_ok=True)
        Path(name).write_text(_altered(texts[at % len(texts)], chance), encoding="utf-8")
        names.append(name)
    return sorted(names, key=lambda name: Path(name).parts)


def _with_rubbish(folder: Path) -> None:
    (folder / "binary.txt").write_bytes(b"\x89PNG\r\n\0\0\0\rIHDR" * 50)
    (folder / "empty.txt").write_text("")
    (folder / "diary.md").write_text("Dear diary,\nto-day I bought yarn.\n")
    (folder / "folder.txt").mkdir()
    (folder / "broken.txt").write_bytes(bytes(range(1, 256)) * 40)
    with (folder / "huge.txt").open("wb") as file:
        file.truncate(50_000_000)
    if hasattr(os, "symlink"):
        (folder / "loop").symlink_to(folder, target_is_directory=True)
        (folder / "gone.txt").symlink_to(folder / "nowhere.txt")


def test_altered_copies_are_all_answered_beside_everything_that_is_none(
    tmp_path: Path, ours: Path, roundhand: Call, long_run: bool
) -> None:
    names = _filled(tmp_path, ours, 2010 if long_run else 8)
    _with_rubbish(tmp_path)
    said = roundhand("check", tmp_path, "--json", "--jobs", "2")
    answers = [json.loads(line) for line in said.out.splitlines()]
    assert [answer["path"] for answer in answers] == names
    assert said.status == (1 if any(answer["summary"]["errors"] for answer in answers) else 0)
    assert (
        said.err
        == f"Passed over, since there is no text in it: “{tmp_path / 'binary.txt'}”, “{tmp_path / 'huge.txt'}”.\n"
    )
    # However many work on it, the same is said.
    alone = roundhand("check", tmp_path / "box 0", "--json", "--jobs", "1")
    assert alone.out.splitlines() == [line for line in said.out.splitlines() if "box 0" in line]


def test_one_report_on_all_of_them(tmp_path: Path, ours: Path, roundhand: Call) -> None:
    names = _filled(tmp_path, ours, 4)
    said = roundhand("check", tmp_path, "--report", tmp_path / "edit.md")
    report = (tmp_path / "edit.md").read_text(encoding="utf-8")
    assert said.out.startswith("4 patterns: ")
    table = re.findall(r"^\| (.*?) \| *\d* \|", report, re.MULTILINE)
    assert [re.sub(r"\\(.)", r"\1", path) for path in table] == names
    assert report.count("\n## ") == 4


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="nothing is closed to this user")
def test_a_folder_that_may_not_be_read_stops_no_other(tmp_path: Path, ours: Path, roundhand: Call) -> None:
    names = _filled(tmp_path, ours, 2)
    (tmp_path / "closed").mkdir()
    (tmp_path / "closed").chmod(0)
    said = roundhand("check", tmp_path, "--json")
    (tmp_path / "closed").chmod(0o700)
    assert (said.status, len(said.out.splitlines())) == (2, len(names))
    assert "could not be read" in said.err


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes to wait at")
@pytest.mark.parametrize("jobs", ["1", "2"])
def test_ctrl_c_leaves_whole_lines_and_a_whole_report(tmp_path: Path, ours: Path, jobs: str) -> None:
    names = _filled(tmp_path, ours, 2)
    slow = tmp_path / "slow.txt"
    os.mkfifo(slow)
    report = tmp_path / "edit.md"
    child = subprocess.Popen(
        [
            sys.executable,
            "-m",
            "roundhand",
            "check",
            *names,
            slow,
            "none.txt",
            "--json",
            "--report",
            report,
            "--jobs",
            jobs,
        ],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        encoding="utf-8",
    )
    # Opening the other end waits until a process has begun to read, so that the signal meets it at work.
    with slow.open("w"):
        child.send_signal(signal.SIGINT)
        if jobs == "1":
            out, err = child.communicate(timeout=120)
    if jobs != "1":
        out, err = child.communicate(timeout=120)
    assert child.returncode == 130
    answers = [json.loads(line)["path"] for line in out.splitlines()]
    assert answers == names[: len(answers)]
    assert jobs != "1" or answers == names
    assert err.splitlines()[-1] == f"Stopped after {len(answers)} of 4 files."
    written = report.read_text(encoding="utf-8")
    assert f"Stopped after {len(answers)} of 4 patterns; the others were not looked at." in written
    assert written.count("\n## ") == len(answers)
    assert written.endswith("\n")
