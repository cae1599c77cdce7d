"""The starter on the desktop: it starts the desk on its folder, whatever the folder is called."""

import configparser
import os
import re
import shlex
import subprocess
import sys
from pathlib import Path, PurePosixPath, PureWindowsPath

import pytest

from roundhand.cli import run
from roundhand.desk.shortcut import shortcut, starter
from roundhand.workshop import UseError

NAMES = ["caps", "my caps", "caps ½ für Änne", "a'b", 'a"b', "$HOME", "`id`", "a\\b", "100% wool", "a;b&c|d", "-rf"]


def exec_words(line: str) -> list[str]:
    """The words of a desktop entry's command, read by its specification: the escapes of every value first, then the
    quotation marks, then the doubled percent signs."""
    value = re.sub(r"\\(.)", lambda found: {"s": " ", "t": "\t", "n": "\n", "r": "\r"}.get(found[1], found[1]), line)
    words = re.findall(r'"((?:[^"\\]|\\.)*)"', value)
    return [re.sub(r"\\(.)", r"\1", word).replace("%%", "%") for word in words]


@pytest.mark.parametrize("name", NAMES)
def test_every_folder_is_named_to_the_letter(name: str) -> None:
    words = ["-P", "-m", "roundhand", "desk"]
    posix = PurePosixPath("/home/ann") / name
    entry, ending = starter(posix, "/opt/my py/python3", "linux")
    parser = configparser.RawConfigParser(comment_prefixes=("#",), strict=True)
    parser.read_string(entry)
    assert ending == ".desktop" and dict(parser["Desktop Entry"])["terminal"] == "true"
    assert exec_words(parser["Desktop Entry"]["Exec"]) == ["/opt/my py/python3", *words, str(posix)]
    script, ending = starter(posix, "/opt/my py/python3", "darwin")
    assert ending == ".command" and shlex.split(script.splitlines()[-1])[1:] == [
        "/opt/my py/python3",
        *words,
        str(posix),
    ]
    if '"' not in name:
        batch, ending = starter(PureWindowsPath("C:/Users/Änne") / name, "C:/py/python.exe", "win32")
        line = next(line for line in batch.split("\r\n") if "roundhand desk" in line and not line.startswith("rem"))
        assert ending == ".bat" and line.replace("%%", "%").endswith(
            f'roundhand desk "C:\\Users\\Änne\\{name}"'.replace("/", "\\")
        )


def test_it_is_put_on_the_desktop_by_whatever_name_that_has(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("XDG_CONFIG_HOME", raising=False)
    folder = tmp_path / "my caps"
    folder.mkdir()
    assert shortcut(folder, "linux", tmp_path).parent == tmp_path / ".local" / "share" / "applications"
    (tmp_path / "Desktop").mkdir()
    assert shortcut(folder, "linux", tmp_path) == tmp_path / "Desktop" / "Crochet desk my caps.desktop"
    (tmp_path / ".config").mkdir()
    (tmp_path / ".config" / "user-dirs.dirs").write_text('XDG_DESKTOP_DIR="$HOME/Schreibtisch"\n', encoding="utf-8")
    (tmp_path / "Schreibtisch").mkdir()
    made = shortcut(folder, "linux", tmp_path)
    assert made.parent.name == "Schreibtisch" and os.access(made, os.X_OK)
    assert shortcut(folder, "linux", tmp_path) == made
    assert shortcut(folder, "darwin", tmp_path).name == "Crochet desk my caps.command"
    assert shortcut(folder, "win32", tmp_path).name == "Crochet desk my caps.bat"


def test_a_file_of_somebody_elses_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "Desktop").mkdir()
    there = tmp_path / "Desktop" / f"Crochet desk {tmp_path.name}.command"
    there.write_text("mine", encoding="utf-8")
    with pytest.raises(UseError, match="not made by roundhand"):
        shortcut(tmp_path, "darwin", tmp_path)
    assert there.read_text(encoding="utf-8") == "mine"
    with pytest.raises(UseError, match="not there"):
        shortcut(tmp_path / "none", "darwin", tmp_path)


@pytest.mark.skipif(sys.platform == "win32", reason="the starter of this system is no shell script")
def test_the_starters_start(tmp_path: Path) -> None:
    folder = tmp_path / "it's $my `caps`"
    folder.mkdir()
    (tmp_path / "Desktop").mkdir()
    listing = tmp_path / "python"
    listing.write_text('#!/bin/sh\nfor word; do echo "$word"; done\n', encoding="utf-8")
    listing.chmod(0o755)
    script, _ = starter(folder, str(listing), "darwin")
    (tmp_path / "one.command").write_text(script, encoding="utf-8")
    done = subprocess.run(["sh", tmp_path / "one.command"], capture_output=True, encoding="utf-8", check=True)
    assert done.stdout.splitlines() == ["-P", "-m", "roundhand", "desk", str(folder)]
    entry, _ = starter(folder, str(listing), "linux")
    words = exec_words(next(line for line in entry.splitlines() if line.startswith("Exec=")).removeprefix("Exec="))
    done = subprocess.run(words, capture_output=True, encoding="utf-8", check=True)
    assert done.stdout.splitlines() == ["-P", "-m", "roundhand", "desk", str(folder)]


def test_the_command_says_where_it_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("USERPROFILE", str(tmp_path))
    monkeypatch.delenv("XDG_CONFIG_HOME", raising=False)
    (tmp_path / "Desktop").mkdir()
    assert run(["desk", "--shortcut", str(tmp_path)]) == 0
    made = next((tmp_path / "Desktop").iterdir())
    said = capsys.readouterr().out
    assert made.name in said and said.count("\n") == 1
    assert run(["desk", "--shortcut", str(tmp_path / "none")]) == 2
