"""How long a command takes from the shell and back, with everything compiled beforehand."""

import compileall
import os
import subprocess
import sys
import time
from collections.abc import Iterator, Mapping, Sequence

from bench.table import Line, megabytes
from bench.texts import ROOT, cap_path
from bench.yardstick import Timing, measure, once, reference_loop

COMMANDS: Mapping[str, tuple[list[str], str]] = {
    "bare interpreter": (["-c", "pass"], ""),
    "--version": (["-m", "roundhand", "--version"], "150 ms"),
    "check of the Saltmarsh cap": (["-m", "roundhand", "check", str(cap_path("Saltmarsh cap"))], "250 ms"),
}


class StartError(Exception):
    """A command that did not answer; the message says which, and what it said instead."""


def environment() -> dict[str, str]:
    """The environment of the commands: as it is here, but bytecode is kept, as on a user's machine."""
    return {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}


def start(arguments: Sequence[str]) -> None:
    """Runs a command to its end, its answer unread; raises StartError if it fails."""
    # -P keeps the files that lie in the current folder from being imported, as run.py does.
    done = subprocess.run(
        [sys.executable, "-P", *arguments], env=environment(), capture_output=True, encoding="utf-8", check=False
    )
    if done.returncode:
        raise StartError(f"{' '.join(arguments)} ended with status {done.returncode}: {done.stderr.strip()}")


def cold_starts(rounds: int) -> Iterator[Line]:
    """Each command in a fresh process, again and again; the least time counts."""
    compileall.compile_dir(str(ROOT / "src"), quiet=2)
    for name, (arguments, promised) in COMMANDS.items():

        def run(_: int, arguments: Sequence[str] = arguments) -> None:
            start(arguments)

        yield Line(f"cold start: {name}", measure(run, rounds, time.perf_counter), "", promised)


# A process made from a large one is booked with the memory of its maker, so a bare interpreter stands between.
_BETWEEN = """\
import os, sys
quiet = [(os.POSIX_SPAWN_OPEN, number, os.devnull, os.O_WRONLY, 0) for number in (1, 2)]
child = os.posix_spawn(sys.executable, [sys.executable, *sys.argv[1:]], os.environ, file_actions=quiet)
_, status, usage = os.wait4(child, 0)
print(os.waitstatus_to_exitcode(status), usage.ru_maxrss)
"""


def most_memory(arguments: Sequence[str]) -> int | None:
    """The most memory that a command held, in bytes; None where the system does not tell (Windows).

    Raises StartError if the command fails.
    """
    if sys.platform == "win32":
        return None
    done = subprocess.run(
        [sys.executable, "-c", _BETWEEN, "-P", *arguments],
        env=environment(),
        capture_output=True,
        encoding="utf-8",
        check=True,
    )
    status, most = done.stdout.split()
    if status != "0":
        raise StartError(f"{' '.join(arguments)} ended with status {status}")
    # Linux counts in units of 1024 bytes, macOS in bytes.
    return int(most) * (1 if sys.platform == "darwin" else 1024)


def process_memory() -> Iterator[Line]:
    """The most memory that each command held, as the system saw it."""
    for name, (arguments, _) in COMMANDS.items():
        found = most_memory(arguments)
        if found is not None:
            yield Line(f"memory of the process: {name}", None, megabytes(found))


def loop_line(rounds: int) -> Line:
    """The yardstick itself."""
    best = min(once(reference_loop) for _ in range(max(rounds, 5)))
    return Line("the reference loop", Timing(best, best))
