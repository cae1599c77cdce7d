"""What the bench measures is real work, and its table can be read. No time is held against anybody here."""

import doctest
import importlib
from pathlib import Path

import pytest

from bench.__main__ import PARTS, main
from bench.keystrokes import EDITS, TEXTS, typed
from bench.starts import StartError, start
from bench.texts import (
    ROOT,
    blanket,
    cap,
    different_rounds,
    fresh,
    hundred_rounds,
    many_caps,
    openwork_blanket,
    written_lines,
)
from roundhand import workshop

MODULES = sorted(path.stem for path in (ROOT / "bench").glob("*.py") if path.stem != "__main__")


@pytest.mark.parametrize("module", MODULES)
def test_the_examples_in_the_docstrings_run(module: str) -> None:
    name = "bench" if module == "__init__" else f"bench.{module}"
    assert not doctest.testmod(importlib.import_module(name)).failed


@pytest.mark.parametrize(
    ("text", "rows", "last"),
    [
        # Two caps of 28 rows each; of the last of them only the three adult sizes have one, of N stitches.
        (many_caps(2), 56, (None, None, 68, 72, 80)),
        # Twelve rounds that each gain what the ring began with, then even.
        (hundred_rounds(), 100, (96, 108, 120, 132, 144)),
        (different_rounds(), 100, (96, 108, 120, 132, 144)),
        (blanket(60, 30), 30, (60,)),
        # A stitch at either end and one for every two places between: 2 + 58 / 2.
        (openwork_blanket(60, 30), 30, (31,)),
    ],
    ids=["many caps", "a hundred rounds", "rounds unlike", "blanket", "openwork blanket"],
)
def test_what_is_measured_is_read_whole_and_comes_out(text: str, rows: int, last: tuple[int | None, ...]) -> None:
    reading = workshop.understand(text)
    slips = [finding.headline for finding in reading.findings if finding.severity != "advice"]
    assert not slips
    worked = [row.worked for row in reading.tally.rows()]
    assert len(worked) == rows
    assert worked[-1] == last
    understood = workshop.understood(reading)
    assert understood.stated == understood.agree > 0


@pytest.mark.parametrize("edit", EDITS)
@pytest.mark.parametrize("text", TEXTS)
def test_every_keystroke_gives_another_text_that_is_read(text: str, edit: str) -> None:
    page = workshop.OpenPage()
    texts = [typed(TEXTS[text](), edit, number) for number in range(4)]
    assert len(set(texts)) == 4
    for one in texts:
        assert len(list(page.counted(one).tally.rows())) == 100


def test_no_two_rounds_are_given_the_same_text() -> None:
    texts = {fresh(cap("Saltmarsh cap"), number) for number in range(-1, 9)}
    assert len(texts) == 10
    assert len({written_lines(text) for text in texts}) == 1


def test_the_table_has_a_line_for_each_command(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["starts", "--rounds", "2"]) == 0
    table = capsys.readouterr().out
    for name in ("the reference loop", "bare interpreter", "--version", "check of the Saltmarsh cap"):
        line = next(line for line in table.splitlines() if name in line)
        loops = line.split("|")[2]
        assert float(loops) > 0


def test_a_command_that_fails_is_told_and_not_timed(tmp_path: Path) -> None:
    with pytest.raises(StartError, match="ended with status 2"):
        start(["-m", "roundhand", "check", str(tmp_path / "not-there.txt")])


@pytest.mark.parametrize("words", [["sewing"], ["--rounds", "1"]])
def test_a_slip_of_the_caller_is_told(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as end:
        main(words)
    assert end.value.code == 2
    assert "Traceback" not in capsys.readouterr().err


def test_the_readme_names_every_part() -> None:
    words = (ROOT / "bench" / "README.md").read_text(encoding="utf-8")
    assert not [part for part in PARTS if part not in words]
