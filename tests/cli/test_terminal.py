"""What only a terminal gets: colours, ruled tables, a bar for long work; and what must never be sent into a pipe."""

import io
import os
import re
import struct
import subprocess
import sys
from pathlib import Path

import pytest

from roundhand.cli.screen import opening, rich_page
from tests.cli.conftest import ROOT, Call

pty = pytest.importorskip("pty", reason="this system has no terminals to play")
COWL = ROOT / "tests" / "workshop" / "golden" / "cowl.txt"
ESCAPE = re.compile(r"\x1b\[[0-9;]*m")


def on_terminal(*words: str | Path, columns: int = 100, **environment: str) -> tuple[int, str]:
    """The status and everything shown where both outputs are a terminal."""
    import fcntl
    import termios

    ours, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 50, columns, 0, 0))
    settings = {key: value for key, value in os.environ.items() if key not in ("NO_COLOR", "COLUMNS", "FORCE_COLOR")}
    child = subprocess.Popen(
        [sys.executable, "-m", "roundhand", *map(str, words)],
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        env={**settings, "TERM": "xterm-256color", **environment},
    )
    os.close(theirs)
    shown = b""
    while True:
        try:
            piece = os.read(ours, 65536)
        except OSError:
            break
        if not piece:
            break
        shown += piece
    os.close(ours)
    return child.wait(timeout=20), shown.decode().replace("\r\n", "\n")


def test_a_terminal_gets_colours(roundhand: Call) -> None:
    status, shown = on_terminal("check", COWL)
    assert status == 1
    assert "\x1b[1;31mFix" in shown
    assert ESCAPE.sub("", shown) == roundhand("check", COWL).out


def test_a_reader_who_wants_no_colours_gets_none() -> None:
    _, shown = on_terminal("check", COWL, NO_COLOR="1")
    assert not re.search(r"\x1b\[(?:\d+;)*(?:3[0-7]|38|9[0-7])(?:;\d+)*m", shown)
    assert "Fix" in shown
    _, shown = on_terminal("check", COWL, TERM="dumb")
    assert "\x1b" not in shown


def test_a_terminal_gets_a_ruled_table_with_the_same_counts(roundhand: Call) -> None:
    status, shown = on_terminal("counts", COWL)
    assert status == 0
    assert "───" in shown
    table = [line.split() for line in ESCAPE.sub("", shown).splitlines() if line.startswith(("Rnd", "Row"))]
    told = [line.split() for line in roundhand("counts", COWL).out.splitlines() if line.startswith(("Rnd", "Row"))]
    assert table == told
    assert len(table) == 7


def test_a_narrow_terminal_gets_the_sizes_in_turn(ours: Path) -> None:
    _, shown = on_terminal("counts", ours / "saltmarsh-cap.txt", columns=60)
    lines = ESCAPE.sub("", shown).splitlines()
    assert all(len(line) <= 60 for line in lines)
    heads = [line.split() for line in lines if "colors" in line]
    assert len(heads) > 1
    assert (
        " ".join(word for head in heads for word in head if word != "colors") == "Toddler Child Adult S Adult M Adult L"
    )
    assert sum(line.startswith("Rnd 1 ") for line in lines) == len(heads)


def test_long_lines_are_cut_to_the_terminal() -> None:
    for columns in (60, 80):
        _, shown = on_terminal("check", ROOT / "patterns/_faulty/saltmarsh-cap-with-slips.txt", columns=columns)
        assert all(len(line) <= columns for line in ESCAPE.sub("", shown).splitlines())


def test_words_of_a_pattern_are_no_commands_of_the_page(tmp_path: Path) -> None:
    path = tmp_path / "evil.txt"
    path.write_text(
        "[bold red]Cap[/]\nSizes: [red]S (M\x1b[2J)\nRnd 1: 6 sc in a [blink]magic ring. (7)\x1b[2J :smile:\n"
    )
    for words in (["check"], ["counts"], ["counts", "--why", "1"]):
        _, shown = on_terminal(*words, path)
        assert "\x1b[2J" not in shown
        assert "\x1b[5m" not in shown
    _, shown = on_terminal("check", path)
    assert "[blink]magic" in ESCAPE.sub("", shown)
    assert ":smile:" in ESCAPE.sub("", shown)


@pytest.mark.parametrize("words", [["check"], ["counts"], ["counts", "--why", "Rnd 1"], ["check", "--json"]])
def test_a_pipe_gets_text_alone(words: list[str], roundhand: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FORCE_COLOR", "1")
    assert "\x1b" not in roundhand(*words, COWL).out


def test_json_is_the_same_on_a_terminal(roundhand: Call) -> None:
    assert on_terminal("counts", COWL, "--json") == (0, roundhand("counts", COWL, "--json").out)


class Watched(io.StringIO):
    """A standard error that somebody looks at."""

    def isatty(self) -> bool:
        return True


def test_long_work_on_several_files_shows_how_far_it_is(
    monkeypatch: pytest.MonkeyPatch, roundhand: Call, ours: Path
) -> None:
    quiet = roundhand("check", ours)
    monkeypatch.setattr(opening, "_PATIENCE_S", -1.0)
    told = Watched()
    monkeypatch.setattr(sys, "stderr", told)
    monkeypatch.setenv("TERM", "xterm")
    paths, _, _ = opening.named([str(ours)], folders=True)
    assert [path for path, _ in opening.opened(paths)] == paths
    assert "saltmarsh-cap.txt" in told.getvalue()
    assert "━" in told.getvalue()
    monkeypatch.undo()
    assert quiet.err == ""


def test_short_work_and_unwatched_work_show_no_bar(monkeypatch: pytest.MonkeyPatch, ours: Path) -> None:
    monkeypatch.setattr(rich_page, "with_bar", lambda names: pytest.fail("nobody asked for a bar"))
    paths, _, _ = opening.named([str(ours)], folders=True)
    monkeypatch.setattr(sys, "stderr", Watched())
    monkeypatch.setattr(opening, "_PATIENCE_S", 1000.0)
    assert len(list(opening.opened(paths))) == len(paths)
    monkeypatch.setattr(sys, "stderr", io.StringIO())
    monkeypatch.setattr(opening, "_PATIENCE_S", -1.0)
    assert len(list(opening.opened(paths))) == len(paths)
