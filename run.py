"""One command for everything: `python3 run.py demo`, `python3 run.py test`, `python3 run.py check my-pattern.txt`.

Needs Python 3.11 or later and nothing else. The first call makes an environment in `.venv` beside this file from the
locked, hashed list of packages; later calls start at once. This file is written so that an older Python can still read
it far enough to be told that it is too old.
"""

import contextlib
import errno
import hashlib
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

if sys.version_info < (3, 11):
    sys.stderr.write("roundhand needs Python 3.11 or later, and this is Python {}.{}.\n".format(*sys.version_info[:2]))
    sys.exit(2)

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
BIN = VENV / ("Scripts" if os.name == "nt" else "bin")
PYTHON = BIN / ("python.exe" if os.name == "nt" else "python")
LOCK = ROOT / "requirements.lock"
STAMP = VENV / "roundhand-stamp"
LOG = VENV / "setup.log"

USAGE = """\
python3 run.py demo                  a guided tour with a pattern of our own
python3 run.py test [--long] [...]   style, types, import rules, then the tests (further words go to pytest)
python3 run.py bench [...]           speed and memory
python3 run.py desk [FOLDER]         the desk: your patterns in the browser, on this computer alone
python3 run.py VERB [...]            any verb of roundhand, such as: check my-pattern.txt

The first call sets up an environment in .venv, which takes half a minute and a network connection."""

# What an installer says when it fails, and what we say instead.
KNOWN_FAILURES = (
    (
        ("no space left", "disk quota exceeded"),
        "The disk is full; make some room and run the command again.",
    ),
    (
        ("do not match the hashes", "hash mismatch"),
        "A downloaded package is not the one in requirements.lock, so it was not installed.",
    ),
    (
        (
            "name resolution",
            "name or service not known",
            "nodename nor servname",
            "getaddrinfo failed",
            "dns error",
            "failed to establish a new connection",
            "network is unreachable",
            "connection refused",
            "connection reset",
            "timed out",
            "error sending request",
            "proxyerror",
        ),
        "The packages could not be downloaded; check the network connection and run the command again.",
    ),
    (
        ("certificate",),
        "The packages could not be downloaded because the server's certificate was not accepted.",
    ),
    (
        ("ensurepip",),
        "This Python cannot make environments; install its venv part (on Debian and Ubuntu: python3-venv).",
    ),
)


class CannotRunError(Exception):
    """Something outside the program stands in the way; the message is the whole sentence for the reader."""


def say(sentence: str) -> None:
    """Prints a line about what is going on, apart from the answers, which go to standard output."""
    print(sentence, file=sys.stderr, flush=True)


def digest(*names: str) -> str:
    """Gives one hash over the contents of files of the repository, with the line ends of no particular system."""
    total = hashlib.sha256()
    for name in names:
        total.update(name.encode() + b"\0" + (ROOT / name).read_bytes().replace(b"\r\n", b"\n") + b"\0")
    return total.hexdigest()


def wanted_stamp() -> "tuple[str, str]":
    """Gives what the environment must have been made from: its packages, and how roundhand itself is installed.

    The folder belongs to the first half, because an environment stops working where it is moved.
    """
    return (
        f"packages {digest('requirements.lock')} in {ROOT}",
        f"roundhand {digest('pyproject.toml', 'hatch_build.py')}",
    )


def found_stamp() -> "tuple[str, str]":
    """Gives the stamp of the environment that is there; two empty lines if there is none that can be used."""
    if not PYTHON.exists():
        return "", ""
    try:
        packages, _, project = STAMP.read_text(encoding="utf-8").partition("\n")
    except FileNotFoundError:
        return "", ""
    return packages, project.strip()


def explain(output: str) -> str:
    """Gives one sentence for what an installer printed before it failed."""
    lowered = output.lower()
    for signs, sentence in KNOWN_FAILURES:
        if any(sign in lowered for sign in signs):
            return sentence
    where = f"; its own words are in {LOG}" if LOG.exists() else ""
    return f"The installer failed{where}."


def install_step(command: Sequence[str]) -> None:
    """Runs one step of an installer quietly; raises CannotRunError with a sentence if it fails."""
    # A user's own setting to install into the home folder would make pip refuse inside an environment.
    environment = {**os.environ, "PIP_USER": "0", "PIP_DISABLE_PIP_VERSION_CHECK": "1"}
    environment.pop("VIRTUAL_ENV", None)
    done = subprocess.run(
        command,
        cwd=ROOT,
        env=environment,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        errors="replace",
        check=False,
    )
    if done.returncode:
        if VENV.is_dir():
            with contextlib.suppress(OSError):
                LOG.write_text(f"{' '.join(command)}\n{done.stdout}", encoding="utf-8")
        raise CannotRunError(explain(done.stdout))


def base_python() -> str:
    """Gives the interpreter outside any environment, which survives when `.venv` is made anew."""
    return str(getattr(sys, "_base_executable", "") or sys.executable)


def set_up_with(installer: "str | None", packages_stand: bool) -> None:
    """Makes the environment with uv (its path given) or with Python's own venv and pip (None given)."""
    if installer:
        make = [installer, "venv", "--quiet", "--python", base_python(), str(VENV)]
        install = [installer, "pip", "install", "--python", str(PYTHON), "--compile-bytecode"]
    else:
        make = [base_python(), "-m", "venv", str(VENV)]
        install = [str(PYTHON), "-m", "pip", "install", "--compile"]
    if not packages_stand:
        if VENV.exists():
            shutil.rmtree(VENV)
        install_step(make)
        install_step([*install, "--require-hashes", "-r", str(LOCK)])
    install_step([*install, "--no-deps", "--no-build-isolation", "-e", str(ROOT)])


def has_pip() -> bool:
    """Tells whether the environment that is there can install by itself; one made by uv cannot."""
    return any(any(VENV.glob(place)) for place in ("lib/python*/site-packages/pip", "Lib/site-packages/pip"))


def set_up(packages_stand: bool) -> None:
    """Makes the environment, or only installs roundhand anew where the packages have stayed the same."""
    uv = shutil.which("uv")
    if packages_stand and not uv and not has_pip():
        packages_stand = False
    if packages_stand:
        say("pyproject.toml has changed: installing roundhand anew.")
    else:
        say("Setting up the environment in .venv. This takes about half a minute and happens once.")
    STAMP.unlink(missing_ok=True)
    if uv:
        try:
            set_up_with(uv, packages_stand)
        except CannotRunError:
            # Mirrors and certificates are often set up for pip alone, so pip deserves a try of its own.
            say("uv could not do it; trying with pip.")
            set_up_with(None, packages_stand and has_pip())
    else:
        set_up_with(None, packages_stand)
    # Without this, a machine that writes no bytecode would compile our own files again at every start.
    subprocess.run([str(PYTHON), "-m", "compileall", "-q", str(ROOT / "src")], stdout=subprocess.DEVNULL, check=False)
    STAMP.write_text("\n".join(wanted_stamp()) + "\n", encoding="utf-8")
    say("The environment is ready.")


@contextlib.contextmanager
def alone() -> "Iterator[None]":
    """Lets one run at a time work on the environment; a second one waits for the first."""
    with open(ROOT / ".venv.lock", "w", encoding="utf-8") as gate:
        if sys.platform == "win32":
            import msvcrt

            msvcrt.locking(gate.fileno(), msvcrt.LK_LOCK, 1)
        else:
            import fcntl

            try:
                fcntl.flock(gate, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError:
                say("Another run is setting up the environment; waiting for it.")
                fcntl.flock(gate, fcntl.LOCK_EX)
        yield


def ensure_environment() -> None:
    """Makes sure that `.venv` is what pyproject.toml and requirements.lock ask for."""
    if found_stamp() == wanted_stamp():
        return
    with alone():
        # The run that we may have waited for has perhaps done it all.
        found, wanted = found_stamp(), wanted_stamp()
        if found != wanted:
            set_up(packages_stand=found[0] == wanted[0])


def ensure_page() -> None:
    """Makes sure that the desk's page stands as it is written in `web/`; the first time takes a while."""
    sys.path.insert(0, str(ROOT / "web"))
    try:
        import build_page
    finally:
        sys.path.remove(str(ROOT / "web"))
    if build_page.stands():
        return
    with alone():
        say("Building the desk's page. This takes about half a minute and happens once.")
        command = [str(PYTHON), str(ROOT / "web" / "build_page.py")]
        if build_page.npm() is None:
            # The machine has no Node that will do; the wheel brings one.
            uv = shutil.which("uv")
            install = [uv, "pip", "install", "--python", str(PYTHON)] if uv else [str(PYTHON), "-m", "pip", "install"]
            install_step([*install, "--require-hashes", "-r", str(ROOT / "web" / "node.lock")])
        done = subprocess.run(
            command, cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, check=False
        )
        if done.returncode:
            raise CannotRunError(done.stderr.strip() or "The desk's page could not be built.")
        say("The page is ready.")


def run(command: Sequence[str], folder: "Path | None" = None, changes: "Mapping[str, str] | None" = None) -> int:
    """Runs a command to its end and gives its exit status; after Ctrl-C it is given time to tidy up."""
    child = subprocess.Popen(command, cwd=folder, env={**os.environ, **(changes or {})})
    try:
        status = child.wait()
    except KeyboardInterrupt:
        try:
            child.wait(timeout=5)
        except (subprocess.TimeoutExpired, KeyboardInterrupt):
            child.kill()
            child.wait()
        raise
    return status if status >= 0 else 128 - status


def become(arguments: Sequence[str]) -> int:
    """Runs Python in the environment in place of this process, in the reader's own folder."""
    # -P keeps files that happen to lie in that folder from being imported.
    command = [str(PYTHON), "-P", *arguments]
    if os.name != "nt":
        sys.stdout.flush()
        sys.stderr.flush()
        os.execv(command[0], command)
    return run(command)


def test(arguments: Sequence[str]) -> int:
    """Runs every examination, the tests last; gives 0 only if all of them passed."""
    python = str(PYTHON)
    steps = (
        ("Style (ruff check)", [python, "-m", "ruff", "check", "."]),
        ("Layout (ruff format --check)", [python, "-m", "ruff", "format", "--check", "."]),
        ("Types (mypy --strict)", [python, "-m", "mypy", "--strict"]),
        ("Import rules (lint-imports)", [str(BIN / "lint-imports"), "--no-logo"]),
        ("Tests (pytest)", [python, "-m", "pytest", "-n", "2", *arguments]),
    )
    failed: list[str] = []
    for heading, command in steps:
        # The tests come last and close the output, so what failed before them is told before them.
        if failed and command is steps[-1][1]:
            print(f"Not passed so far: {', '.join(failed)}.", flush=True)
        print(f"== {heading}", flush=True)
        if run(command, ROOT):
            failed.append(heading)
    return 1 if failed else 0


def main(arguments: Sequence[str]) -> int:
    """Does what the command line asks and gives the exit status."""
    if not arguments or arguments[0] in ("--help", "-h", "help"):
        print(USAGE)
        return 0
    ensure_environment()
    verb, rest = arguments[0], arguments[1:]
    if verb == "desk":
        ensure_page()
    if verb == "test":
        # Everything but the desk can be tested without its page.
        try:
            ensure_page()
        except CannotRunError as problem:
            say(f"{problem} What the desk shows is left out of the tests.")
    if verb == "test":
        return test(rest)
    if verb == "bench":
        return run([str(PYTHON), "-m", "bench", *rest], ROOT)
    if verb == "demo":
        return become(["-m", "roundhand.cli.tour", *rest])
    return become(["-m", "roundhand", *arguments])


def guarded(arguments: Sequence[str]) -> int:
    """Runs main and turns whatever goes wrong outside it into one sentence and an exit status."""
    try:
        return main(arguments)
    except KeyboardInterrupt:
        say("\nStopped.")
        return 130
    except CannotRunError as problem:
        say(str(problem))
    except OSError as problem:
        if problem.errno in (errno.ENOSPC, errno.EDQUOT):
            say("The disk is full; make some room and run the command again.")
        else:
            what = f" ({problem.filename})" if problem.filename else ""
            say(f"That did not work: {problem.strerror or problem}{what}.")
    return 2


if __name__ == "__main__":
    sys.exit(guarded(sys.argv[1:]))
