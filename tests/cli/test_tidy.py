"""`tidy` on files: what is written, what is left, and that what goes into a pipe is the text itself."""

import json
from pathlib import Path

from tests.cli.conftest import Call

HASTY = "Mug Rug\r\n\r\n  Take your  time.\t\r\n\r\nROUND 1.  6 single crochet in MR [6]\r\nR2: inc x6 = 12\r\n"
TIDY = "Mug Rug\r\n\r\n  Take your  time.\t\r\n\r\nRnd 1: 6 sc in MR. (6)\r\nRnd 2: Inc x 6. (12)\r\n"


def _file(folder: Path, text: str = HASTY, name: str = "rug.txt") -> Path:
    path = folder / name
    path.write_bytes(text.encode())
    return path


def test_what_goes_into_a_pipe_is_the_text_with_its_own_line_ends(tmp_path: Path, roundhand: Call) -> None:
    path = _file(tmp_path)
    assert roundhand("tidy", path).out == TIDY
    assert path.read_bytes() == HASTY.encode(), "nothing is written unless that is asked for"


def test_written_once_it_is_tidy(tmp_path: Path, roundhand: Call) -> None:
    path = _file(tmp_path)
    path.chmod(0o640)
    assert "tidied" in roundhand("tidy", "--write", path).out
    assert path.read_bytes() == TIDY.encode()
    assert path.stat().st_mode & 0o777 == 0o640
    before = path.stat().st_mtime_ns
    assert "nothing written" in roundhand("tidy", "--write", path).out
    assert path.stat().st_mtime_ns == before


def test_check_ends_with_1_where_something_would_change(tmp_path: Path, roundhand: Call) -> None:
    _file(tmp_path)
    assert roundhand("tidy", "--check", tmp_path).status == 1
    roundhand("tidy", "--write", tmp_path)
    assert roundhand("tidy", "--check", tmp_path).status == 0


def test_a_missing_file_is_one_sentence_and_the_others_are_done(tmp_path: Path, roundhand: Call) -> None:
    path = _file(tmp_path)
    answer = roundhand("tidy", "--write", path, tmp_path / "none.txt")
    assert answer.status == 2 and len(answer.err.splitlines()) == 1
    assert path.read_bytes() == TIDY.encode()


def test_lines_of_the_data_are_those_of_every_other_answer(tmp_path: Path, roundhand: Call) -> None:
    """A form feed or a line separator ends no line."""
    path = _file(tmp_path, "Rug\x0c\n\nSoft\u2028words.\n\nR1: 6 sc in MR (6)\n")
    answer = json.loads(roundhand("tidy", "--json", path).out)
    assert answer["schema"] == "roundhand.tidy/1" and answer["changed"] is True
    assert [change["line"] for change in answer["changes"]] == [5]
