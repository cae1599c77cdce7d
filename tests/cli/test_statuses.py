"""Every way a command can end: its exit status, and one plain sentence where it could not run."""

import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.conftest import Call

CLEAN = """Mat

Gauge: 16 sts and 18 rnds = 4 in

MAT
Rnd 1: 6 sc in a magic ring. (6)
Rnd 2: Inc in each st around. (12)
"""
WRONG = CLEAN.replace("(12)", "(13)")


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a clean pattern, a wrong one, and everything that is none; the folder one is in."""
    (tmp_path / "clean.txt").write_text(CLEAN)
    (tmp_path / "wrong.txt").write_text(WRONG)
    (tmp_path / "diary.txt").write_text("Dear diary,\nto-day I bought yarn.\n")
    (tmp_path / "empty.txt").write_text("")
    (tmp_path / "picture.png").write_bytes(b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR")
    (tmp_path / "old.txt").write_bytes(CLEAN.replace("Mat\n", "Möwe\n").encode("windows-1252"))
    (tmp_path / "wide.txt").write_bytes(CLEAN.encode("utf-16"))
    (tmp_path / "mac.txt").write_bytes(CLEAN.replace("\n", "\r").encode())
    with (tmp_path / "large.txt").open("wb") as file:
        file.truncate(50_000_000)
    (tmp_path / "patterns").mkdir()
    (tmp_path / "patterns" / "one.txt").write_text(CLEAN)
    (tmp_path / "patterns" / "two.md").write_text(WRONG)
    (tmp_path / "bare").mkdir()
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize(
    ("words", "status"),
    [
        ("--version", 0),
        ("--help", 0),
        ("-h", 0),
        ("", 0),
        ("check --help", 0),
        ("counts --help", 0),
        ("check clean.txt", 0),
        ("check wrong.txt", 1),
        ("check wrong.txt --json", 1),
        ("check clean.txt wrong.txt", 1),
        ("check diary.txt", 1),
        ("check empty.txt", 1),
        ("check empty.txt --json", 1),
        ("check old.txt", 0),
        ("check wide.txt", 0),
        ("check mac.txt", 0),
        ("check patterns", 1),
        ("check patterns/one.txt", 0),
        ("counts clean.txt", 0),
        ("counts wrong.txt", 0),
        ("counts diary.txt", 0),
        ("counts empty.txt --json", 0),
        ("counts mac.txt wide.txt", 0),
        ("counts clean.txt --why 2", 0),
        ("counts clean.txt --why 2 --json", 0),
        ("measure --help", 0),
        ("measure clean.txt", 0),
        ("measure wrong.txt --json", 0),
        ("measure empty.txt", 0),
        ("measure diary.txt --json", 0),
        ("measure clean.txt wrong.txt --size 1", 0),
        ("yarn --help", 0),
        ("yarn clean.txt", 0),
        ("yarn clean.txt --breakdown", 0),
        ("yarn empty.txt --json", 0),
        ("yarn diary.txt", 0),
        ("yarn wide.txt mac.txt --json", 0),
        ("chart --help", 0),
        ("chart clean.txt", 0),
        ("chart wrong.txt --json", 0),
        ("chart clean.txt --out mat.svg", 0),
        ("chart clean.txt --out mat.PNG --json", 0),
        ("publish --help", 0),
        ("publish clean.txt", 0),
        ("publish clean.txt --out there --json", 0),
        ("publish wrong.txt --anyway", 0),
    ],
)
def test_an_answer_ends_with_0_or_1_and_nothing_on_standard_error(
    words: str, status: int, folder: Path, roundhand: Call
) -> None:
    said = roundhand(*words.split())
    assert (said.status, said.err) == (status, "")
    assert said.out.strip()


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ("check", "Name a pattern, as in: roundhand check my-pattern.txt"),
        ("counts", "Name a pattern, as in: roundhand counts my-pattern.txt"),
        ("check gone.txt", "There is no file “gone.txt”; check its name and the folder you are in."),
        ("counts claen.txt", "There is no file “claen.txt”; perhaps “clean.txt” is meant."),
        ("counts patterns", "“patterns” is a folder; name a pattern file in it."),
        (
            "check bare",
            "There is no pattern in the folder “bare”; "
            "a pattern is a .txt or .md file with a line such as “Rnd 1: …” or “Sizes: …”.",
        ),
        (
            "check picture.png",
            "“picture.png” is not text (it holds NUL bytes); save the pattern as plain text (.txt) first.",
        ),
        (
            "check large.txt",
            "“large.txt” is 50.0 MB, and a pattern may be 20 MB at most; take the pattern alone into a file.",
        ),
        ("check clean.txt --sise 2", "“roundhand check” has no option “--sise”; perhaps “--size” is meant."),
        (
            "check clean.txt --colour",
            "“roundhand check” has no option “--colour”; “roundhand check --help” lists them.",
        ),
        ("check --size", "The option “--size” needs a word behind it; “roundhand VERB --help” shows which."),
        ("check clean.txt --size XXL", "There is no size “XXL” here; the pattern has one size, so leave out --size."),
        ("counts clean.txt --why 9", "There is no “9” in this pattern; there are Rnd 1 to Rnd 2."),
        (
            "counts clean.txt wrong.txt --why 2",
            "The reasons behind a row can be asked of one pattern at a time; name one pattern.",
        ),
        ("measure", "Name a pattern, as in: roundhand measure my-pattern.txt"),
        ("measure clean.txt --size XXL", "There is no size “XXL” here; the pattern has one size, so leave out --size."),
        (
            "yarn clean.txt --breakdown --json",
            "A breakdown is for reading and no part of the data; leave out “--breakdown” or “--json”.",
        ),
        ("yarn patterns", "“patterns” is a folder; name a pattern file in it."),
        ("chart gone.txt", "There is no file “gone.txt”; check its name and the folder you are in."),
        (
            "chart clean.txt wrong.txt",
            "Got unexpected extra argument (wrong.txt); “roundhand chart --help” shows how it is used.",
        ),
        ("chart clean.txt --out mat.gif", "A chart is written as a .svg or a .png file, as in: --out chart.svg"),
        ("chart clean.txt --out clean.txt", "A chart is written as a .svg or a .png file, as in: --out chart.svg"),
        (
            "chart clean.txt --out no/where.svg",
            "There is no folder for “no/where.svg” to stand in; make it first, or name another place.",
        ),
        ("chart diary.txt", "There is no row to draw; “roundhand check” says what was understood of the pattern."),
        (
            "publish picture.png",
            "“picture.png” is not text (it holds NUL bytes); save the pattern as plain text (.txt) first.",
        ),
        (
            "publish clean.txt --out diary.txt",
            "“diary.txt” is a file and no folder, so nothing was written; name another place with --out.",
        ),
        (
            "publish clean.txt --out patterns",
            "“patterns” is a folder that roundhand has not made, so nothing was written; "
            "name another place with --out.",
        ),
        (
            "publish clean.txt --out .",
            "“.” is a folder that roundhand has not made, so nothing was written; name another place with --out.",
        ),
        (
            "publish clean.txt --out no/where",
            "There is no folder for “no/where” to stand in; make it first, or name another place.",
        ),
        ("chekc clean.txt", "There is no verb “chekc”; perhaps “check” is meant."),
        ("yodel clean.txt", "There is no verb “yodel”; “roundhand --help” lists the verbs."),
        ("tour", "There is no verb “tour”; “roundhand --help” lists the verbs."),
        ("screen", "There is no verb “screen”; “roundhand --help” lists the verbs."),
        ("clean.txt", "“clean.txt” is no verb; to have it edited: roundhand check clean.txt"),
        ("--frobnicate", "“roundhand” has no option “--frobnicate”; “roundhand --help” lists them."),
        ("check clean.txt --json=yes", "Option '--json' does not take a value; “roundhand VERB --help” shows which."),
    ],
)
def test_what_cannot_run_ends_with_2_and_one_sentence(words: str, sentence: str, folder: Path, roundhand: Call) -> None:
    said = roundhand(*words.split())
    assert said.status == 2
    assert said.out == ""
    if "--json=yes" not in words:
        assert said.err == sentence + "\n"
    assert said.err.count("\n") == 1


def test_one_file_that_cannot_be_read_does_not_keep_the_others(folder: Path, roundhand: Call) -> None:
    said = roundhand("check", "gone.txt", "wrong.txt", "picture.png", "--json")
    assert said.status == 2
    [line] = said.out.splitlines()
    assert json.loads(line)["path"] == "wrong.txt"
    assert [sentence.split("”")[0] for sentence in said.err.splitlines()] == [
        "There is no file “gone.txt",
        "“picture.png",
    ]


def test_a_size_that_one_of_several_has_not_is_told_with_its_file(folder: Path, roundhand: Call) -> None:
    (folder / "sizes.txt").write_text(CLEAN.replace("Mat\n", "Mat\nSizes: S (M)\n", 1))
    said = roundhand("check", "sizes.txt", "clean.txt", "--size", "M")
    assert said.status == 2
    assert "== sizes.txt" in said.out
    assert said.err == "clean.txt: There is no size “M” here; the pattern has one size, so leave out --size.\n"


def test_several_files_are_answered_in_json_lines_with_their_paths(folder: Path, roundhand: Call) -> None:
    said = roundhand("check", "patterns", "--json")
    answers = [json.loads(line) for line in said.out.splitlines()]
    assert [answer["path"] for answer in answers] == [os.path.join("patterns", name) for name in ("one.txt", "two.md")]
    assert [answer["summary"]["errors"] for answer in answers] == [0, 1]
    said = roundhand("counts", "clean.txt", "wrong.txt", "--json")
    assert [json.loads(line)["path"] for line in said.out.splitlines()] == ["clean.txt", "wrong.txt"]


def test_one_file_is_answered_in_one_line_of_json(folder: Path, roundhand: Call) -> None:
    for verb in ("check", "counts", "measure", "yarn", "chart"):
        said = roundhand(verb, "clean.txt", "--json")
        assert said.out.count("\n") == 1
        answer = json.loads(said.out)
        assert answer["schema"] == f"roundhand.{verb}/1"
        assert "path" not in answer
    answer = json.loads(roundhand("counts", "clean.txt", "--why", "Rnd 2", "--json").out)
    assert (answer["schema"], answer["labels"], answer["cases"][0]["worked"]) == ("roundhand.why/1", ["Rnd 2"], 12)


def test_over_an_error_publish_ends_with_1_and_leaves_nothing(folder: Path, roundhand: Call) -> None:
    before = sorted(path.name for path in folder.iterdir())
    said = roundhand("publish", "wrong.txt", "--out", "there")
    assert said.status == 1
    assert "13 written, 12 worked" in said.out
    assert said.err == "Nothing was published, since one query is still to fix; --anyway publishes all the same.\n"
    assert (roundhand("publish", "wrong.txt", "--json").status, roundhand("publish", "diary.txt").status) == (1, 1)
    assert sorted(path.name for path in folder.iterdir()) == before


def test_a_file_in_the_way_is_left_as_it_was(folder: Path, roundhand: Call) -> None:
    before = (folder / "diary.txt").read_bytes()
    assert roundhand("publish", "clean.txt", "--out", "diary.txt").status == 2
    assert (folder / "diary.txt").read_bytes() == before


def test_a_line_beside_the_pattern_that_makes_no_sense_is_told_and_changes_no_status(
    folder: Path, roundhand: Call
) -> None:
    (folder / "stitch_lengths.csv").write_text("kind,place,length,unit\nsc,,1.6,in\nsc,,much,in\n")
    sentence = (
        "“stitch_lengths.csv”: in line 3: a kind, a length above nothing and a unit are needed, "
        "so that line was passed over.\n"
    )
    for words in (["yarn"], ["yarn", "--json"], ["measure"], ["publish"], ["check"]):
        said = roundhand(*words, "clean.txt")
        assert (said.status, said.err) == (0, sentence)
    assert "By your own lengths" in roundhand("yarn", "clean.txt").out


def test_a_file_named_twice_is_answered_once(folder: Path, roundhand: Call) -> None:
    said = roundhand("check", "patterns", "patterns/one.txt", "--json")
    assert said.out.count("\n") == 2


def test_a_file_in_another_encoding_is_told_and_read(folder: Path, roundhand: Call) -> None:
    said = roundhand("check", "old.txt")
    assert "Look line 1  the text is not in UTF-8; it was read as Windows-1252" in said.out
    assert "Möwe\n" in said.out


def test_a_slip_of_our_own_is_one_sentence(folder: Path, roundhand: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    def break_down(*_: object) -> None:
        raise RuntimeError("boom")

    monkeypatch.setattr("roundhand.workshop.reading.understand", break_down)
    said = roundhand("check", "clean.txt")
    assert (said.status, said.out) == (2, "")
    assert said.err.count("\n") == 1
    assert "RuntimeError" in said.err
    assert "ROUNDHAND_DEBUG=1" in said.err
    monkeypatch.setenv("ROUNDHAND_DEBUG", "1")
    said = roundhand("check", "clean.txt")
    assert said.status == 2
    assert "boom" in said.err
    assert "Traceback" in said.err


def test_a_full_disk_is_one_sentence(folder: Path) -> None:
    if not Path("/dev/full").exists():
        pytest.skip("this system has no disk that is always full")
    with open("/dev/full", "w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "roundhand", "check", "clean.txt"],
            stdout=full,
            stderr=subprocess.PIPE,
            encoding="utf-8",
            check=False,
        )
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1
    assert done.stderr.startswith("The answer could not be given")


@pytest.mark.parametrize(("words", "status"), [(["counts", "clean.txt"], 0), (["check", "wrong.txt"], 1)])
def test_a_reader_who_leaves_early_hears_no_complaint(words: list[str], status: int, folder: Path) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    try:
        done = subprocess.run(
            [sys.executable, "-m", "roundhand", *words],
            stdout=writing,
            stderr=subprocess.PIPE,
            encoding="utf-8",
            check=False,
        )
    finally:
        os.close(writing)
    assert (done.returncode, done.stderr) == (status, "")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes to wait at")
def test_ctrl_c_ends_with_130(folder: Path) -> None:
    os.mkfifo("slow.txt")
    child = subprocess.Popen(
        [sys.executable, "-m", "roundhand", "check", "slow.txt"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        encoding="utf-8",
    )
    # Opening the other end waits until the child has begun to read, so the signal meets it at work.
    with open("slow.txt", "w"):
        child.send_signal(signal.SIGINT)
        out, err = child.communicate(timeout=20)
    assert (child.returncode, out, err.strip()) == (130, "", "Stopped.")


def test_a_pipe_can_be_read_as_a_pattern(folder: Path) -> None:
    if not Path("/dev/stdin").exists():
        pytest.skip("this system gives standard input no name")
    done = subprocess.run(
        [sys.executable, "-m", "roundhand", "counts", "/dev/stdin"],
        input=CLEAN,
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    assert done.returncode == 0
    assert "Rnd 2" in done.stdout


def test_the_module_and_the_command_are_the_same(folder: Path, roundhand: Call, roundhand_process: Call) -> None:
    assert roundhand_process("check", "wrong.txt") == roundhand("check", "wrong.txt")
    assert roundhand_process("check", "gone.txt") == roundhand("check", "gone.txt")


def test_a_terminal_that_knows_few_signs_still_gets_an_answer(folder: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "roundhand", "check", "old.txt", "gone.txt"],
        capture_output=True,
        env={**os.environ, "PYTHONIOENCODING": "cp850", "PYTHONUTF8": "0"},
        check=False,
    )
    assert done.returncode == 2
    assert "Möwe".encode("cp850") in done.stdout
    # This code page has no such quotation mark, so it is told by its number.
    assert b"There is no file \\u201cgone.txt\\u201d" in done.stderr
    assert b"Traceback" not in done.stderr


def test_a_name_that_is_no_text_is_told(folder: Path) -> None:
    name = b"caf\xe9.txt"
    try:
        (Path(os.fsdecode(bytes(folder) + b"/" + name))).write_text(WRONG)
    except OSError:
        pytest.skip("this system has no such names")
    for words in ([b"check", name], [b"check", b".", b"--json"], [b"check", name + b"x"]):
        done = subprocess.run([sys.executable, "-m", "roundhand", *words], capture_output=True, check=False)
        assert done.returncode in (1, 2)
        assert b"Traceback" not in done.stderr
        assert b"inside roundhand" not in done.stderr
