"""What the tests of the command line share: a call in this process, and one in a process of its own."""

import contextlib
import io
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import pytest

from roundhand.cli import run

ROOT = Path(__file__).resolve().parents[2]


class Said(NamedTuple):
    """What a command came to."""

    status: int
    out: str
    err: str


Call = Callable[..., Said]


def _call(*words: str | Path) -> Said:
    out, err = io.BytesIO(), io.BytesIO()
    with (
        contextlib.redirect_stdout(io.TextIOWrapper(out, encoding="utf-8", newline="\n")) as told,
        contextlib.redirect_stderr(io.TextIOWrapper(err, encoding="utf-8", newline="\n")) as wrong,
    ):
        status = run([str(word) for word in words])
        told.flush()
        wrong.flush()
    return Said(status, out.getvalue().decode(), err.getvalue().decode())


def _spawn(*words: str | Path) -> Said:
    done = subprocess.run(
        [sys.executable, "-m", "roundhand", *map(str, words)], capture_output=True, encoding="utf-8", check=False
    )
    return Said(done.returncode, done.stdout, done.stderr)


@pytest.fixture(scope="session")
def roundhand() -> Call:
    """Answers a command line in this process."""
    return _call


@pytest.fixture(scope="session")
def roundhand_process() -> Call:
    """Answers a command line in a process of its own, as a person would call it."""
    return _spawn


@pytest.fixture(scope="session")
def ours() -> Path:
    """The folder of the patterns that come with roundhand."""
    return ROOT / "patterns"
