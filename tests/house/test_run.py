"""run.py says in one sentence what stands in its way, and asks for nothing that it does not need."""

import errno
import subprocess
import sys
from pathlib import Path

import pytest

import run

ROOT = Path(__file__).resolve().parents[2]


def test_help_sets_nothing_up(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr(run, "ensure_environment", lambda: pytest.fail("help needs no environment"))
    assert run.guarded([]) == run.guarded(["--help"]) == 0
    assert "run.py demo" in capsys.readouterr().out


def test_it_imports_only_what_python_brings() -> None:
    listing = "import sys, run; print(sorted({n.split('.')[0] for n in sys.modules} - sys.stdlib_module_names))"
    done = subprocess.run(
        [sys.executable, "-S", "-c", listing], cwd=ROOT, capture_output=True, encoding="utf-8", check=True
    )
    assert done.stdout.strip() in ("['__main__', 'run']", "['run']")


@pytest.mark.parametrize(
    ("output", "word"),
    [
        ("error: [Errno 28] No space left on device", "disk"),
        ("NewConnectionError: [Errno -3] Temporary failure in name resolution\nNo matching distribution", "network"),
        ("error sending request for url\n  dns error", "network"),
        ("ERROR: THESE PACKAGES DO NOT MATCH THE HASHES FROM THE REQUIREMENTS FILE", "requirements.lock"),
        ("The virtual environment was not created because ensurepip is not available", "python3-venv"),
        ("Segmentation fault", "installer failed"),
    ],
)
def test_a_failed_installer_is_told_in_one_sentence(output: str, word: str) -> None:
    sentence = run.explain(output)
    assert word in sentence
    assert "\n" not in sentence
    assert sentence.endswith(".")


@pytest.mark.parametrize(
    ("problem", "status", "word"),
    [
        (KeyboardInterrupt(), 130, "Stopped"),
        (OSError(errno.ENOSPC, "No space left on device"), 2, "disk is full"),
        (PermissionError(errno.EACCES, "Permission denied", "somewhere"), 2, "Permission denied (somewhere)"),
        (run.CannotRunError("The packages could not be downloaded."), 2, "could not be downloaded"),
    ],
    ids=lambda value: type(value).__name__ if isinstance(value, BaseException) else str(value),
)
def test_no_trouble_shows_a_traceback(
    problem: BaseException,
    status: int,
    word: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    def trouble() -> None:
        raise problem

    monkeypatch.setattr(run, "ensure_environment", trouble)
    assert run.guarded(["check", "x.txt"]) == status
    shown = capsys.readouterr().err
    assert word in shown
    assert "Traceback" not in shown
    assert len(shown.strip().splitlines()) == 1


def test_an_environment_is_made_anew_only_for_a_reason(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("pyproject.toml", "requirements.lock", "hatch_build.py"):
        (tmp_path / name).write_text("one\n", encoding="utf-8")
    monkeypatch.setattr(run, "ROOT", tmp_path)
    first = run.wanted_stamp()
    (tmp_path / "requirements.lock").write_bytes(b"one\r\n")
    assert run.wanted_stamp() == first, "line ends of another system are no change"
    (tmp_path / "pyproject.toml").write_text("two\n", encoding="utf-8")
    packages, project = run.wanted_stamp()
    assert packages == first[0]
    assert project != first[1]
    (tmp_path / "requirements.lock").write_text("two\n", encoding="utf-8")
    assert run.wanted_stamp()[0] != first[0]
    monkeypatch.setattr(run, "ROOT", tmp_path / "elsewhere")
    (tmp_path / "elsewhere").mkdir()
    for name in ("pyproject.toml", "requirements.lock", "hatch_build.py"):
        (tmp_path / "elsewhere" / name).write_text("two\n", encoding="utf-8")
    assert run.wanted_stamp()[0] != packages


def test_a_command_that_was_killed_gives_the_usual_status() -> None:
    assert run.run([sys.executable, "-c", "raise SystemExit(3)"]) == 3
    if sys.platform != "win32":
        assert run.run([sys.executable, "-c", "import os; os.kill(os.getpid(), 9)"]) == 137
