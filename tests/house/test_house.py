"""The rules of the house that no single room can keep for the others.

Which room may use which is held by the import contract in pyproject.toml; here stand the rules about the world outside:
disk, clock, chance, terminal, slow imports, and what may be written into a committed file.
"""

import ast
import importlib
import inspect
import json
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

import roundhand

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "src" / "roundhand"
# A room is a folder with an __init__, or a single file as long as it is small.
ROOM_FILES = {path.parent.name: path for path in PACKAGE.glob("*/__init__.py")}
ROOM_FILES |= {path.stem: path for path in PACKAGE.glob("*.py") if not path.stem.startswith("__")}
ROOMS = sorted(ROOM_FILES)

# The doors and the workshop meet the world; every room below them only turns values into values.
OUTER_ROOMS = {"cli", "desk", "workshop"}
INNER_FILES = sorted(
    path
    for path in PACKAGE.rglob("*.py")
    if path.relative_to(PACKAGE).parts[0].removesuffix(".py") in set(ROOMS) - OUTER_ROOMS
)

WORLDLY_MODULES = {
    "asyncio",
    "ctypes",
    "datetime",
    "fileinput",
    "ftplib",
    "getpass",
    "glob",
    "http",
    "locale",
    "logging",
    "mmap",
    "multiprocessing",
    "os",
    "platform",
    "posix",
    "random",
    "secrets",
    "select",
    "shelve",
    "shutil",
    "signal",
    "smtplib",
    "socket",
    "socketserver",
    "sqlite3",
    "ssl",
    "subprocess",
    "tempfile",
    "threading",
    "time",
    "urllib",
    "uuid",
    "webbrowser",
}
WORLDLY_CALLS = {"open", "print", "input", "breakpoint", "exec", "eval", "__import__"}
WORLDLY_NAMES = {
    "pathlib": {"Path", "PosixPath", "WindowsPath"},
    "io": {"open", "open_code", "FileIO"},
    "sys": {"stdin", "stdout", "stderr", "argv", "exit"},
    "numpy": {"random"},
}
WRITING_METHODS = {"write_text", "write_bytes", "mkdir", "unlink", "rmdir", "touch", "symlink_to", "hardlink_to"}


def offences(source: str) -> Iterator[tuple[int, str]]:
    """Yields line and fault of everything in a source that reaches out into the world."""
    tree = ast.parse(source)
    called_here: dict[str, str] = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            for name in node.names:
                called_here[name.asname or name.name] = name.name
                if name.name.split(".")[0] in WORLDLY_MODULES or name.name == "numpy.random":
                    yield node.lineno, f"imports {name.name}"
        elif isinstance(node, ast.ImportFrom) and node.level == 0:
            module = node.module or ""
            if module.split(".")[0] in WORLDLY_MODULES or module == "numpy.random":
                yield node.lineno, f"imports from {module}"
            for name in node.names:
                if name.name in WORLDLY_NAMES.get(module, ()):
                    yield node.lineno, f"imports {module}.{name.name}"
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in WORLDLY_CALLS:
            yield node.lineno, f"calls {node.func.id}()"
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in WRITING_METHODS:
            yield node.lineno, f"calls .{node.func.attr}()"
        elif isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            module = called_here.get(node.value.id, "")
            if node.attr in WORLDLY_NAMES.get(module, ()):
                yield node.lineno, f"uses {module}.{node.attr}"


@pytest.mark.parametrize("path", INNER_FILES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_inner_rooms_leave_the_world_alone(path: Path) -> None:
    found = [f"line {line} {fault}" for line, fault in offences(path.read_text(encoding="utf-8"))]
    assert not found, f"{path.relative_to(ROOT)} reaches outside: {'; '.join(found)}"


@pytest.mark.parametrize(
    "source",
    [
        "import os",
        "import os.path as p",
        "from os import environ",
        "import urllib.request",
        "from datetime import date",
        "def f():\n    import random",
        "from pathlib import Path",
        "import pathlib\npathlib.Path('x').exists()",
        "import pathlib as p\np.Path('x')",
        "import io\nio.open('x')",
        "import sys\nsys.stdout.write('x')",
        "import numpy as np\nnp.random.default_rng()",
        "print('x')",
        "with open('x') as f:\n    pass",
        "input()",
        "target.write_text('x')",
    ],
)
def test_the_scan_sees_what_reaches_outside(source: str) -> None:
    assert list(offences(source))


@pytest.mark.parametrize(
    "source",
    [
        "from importlib import resources\nresources.files('roundhand').joinpath('x').read_text()",
        "import importlib.resources",
        "from pathlib import PurePosixPath",
        "import io\nio.StringIO()",
        "import sys\nsys.intern('x')",
        "'''>>> print(1)\n1\n'''",
        "from .time import rows",
        "pen.print('x')",
    ],
)
def test_the_scan_lets_values_be(source: str) -> None:
    assert not list(offences(source))


SLOW = {"numpy", "scipy", "typst", "starlette", "uvicorn", "watchfiles", "sqlite3", "rich"}
SMALL_PATTERN = """\
Doorstop Coaster

Terms: US

COASTER
Make a magic ring.
Rnd 1: 6 sc in ring. (6 sts)
Rnd 2: 2 sc in each st around. (12 sts)
"""
LIST_MODULES = """\
import json, sys
from roundhand.cli import main
sys.argv = ["roundhand", *json.loads(sys.argv[1])]
status = 0
try:
    main()
except SystemExit as end:
    status = end.code or 0
sys.stdout.flush()
print("\\n" + json.dumps([status, sorted({name.split(".")[0] for name in sys.modules})]))
"""


@pytest.mark.parametrize(
    "words",
    [
        ["--version"],
        ["--help"],
        ["desk", "--help"],
        ["check", "PATTERN"],
        ["counts", "PATTERN"],
        ["counts", "--json", "PATTERN"],
        ["measure", "PATTERN"],
        ["yarn", "PATTERN"],
    ],
    ids=" ".join,
)
def test_quick_commands_import_nothing_slow(words: list[str], tmp_path: Path) -> None:
    pattern = tmp_path / "coaster.txt"
    pattern.write_text(SMALL_PATTERN, encoding="utf-8")
    arguments = [str(pattern) if word == "PATTERN" else word for word in words]
    done = subprocess.run(
        [sys.executable, "-c", LIST_MODULES, json.dumps(arguments)],
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    assert done.returncode == 0, done.stderr
    answer, _, last = done.stdout.rstrip("\n").rpartition("\n")
    status, modules = json.loads(last)
    assert status == 0, f"{answer}\n{done.stderr}"
    assert answer.strip(), "the command answered nothing, so nothing was tried"
    assert not SLOW & set(modules)


def committed_files() -> list[Path]:
    """Gives the files that are in the repository or would be by the next commit."""
    done = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    if done.returncode:
        # A copy without its history: everything that the tools have not put there.
        made = {".git", ".venv", "__pycache__", ".hypothesis", ".mypy_cache", ".ruff_cache", ".pytest_cache"}
        made |= {".import_linter_cache"}
        return [path for path in ROOT.rglob("*") if path.is_file() and not made & set(path.relative_to(ROOT).parts)]
    return [ROOT / name for name in done.stdout.split("\0") if name and (ROOT / name).is_file()]


# Each is written in pieces, so that this file does not hold what it looks for.
MACHINE = [
    r"(?<![\w.~/])/(?:" + "|".join(["wor" + "k", "roo" + "t", "far" + "m"]) + r")(?![\w-])",
    r"/opt/" + r"(?:wheels|pypi)",
    r"\." + r"library/",
    r"\bissues" + r" show\b",
]
HOSTS = [
    "pypi" + r"\.org",
    "python" + "hosted",
    "registry" + r"\.npmjs",
    "npmjs" + r"\.(?:com|org)",
    r"\bdeb" + r"\.debian",
    "archive" + r"\.ubuntu",
    "crates" + r"\.io",
]
UNWANTED = re.compile("|".join(MACHINE + HOSTS), re.IGNORECASE)


def test_no_committed_file_names_a_machine_or_a_registry() -> None:
    files = committed_files()
    assert ROOT / "pyproject.toml" in files
    found = []
    for path in files:
        text = path.read_bytes().decode("utf-8", errors="replace")
        for number, line in enumerate(text.splitlines(), 1):
            if hit := UNWANTED.search(line):
                found.append(f"{path.relative_to(ROOT)}:{number}: {hit[0]}")
    assert not found, "\n".join(found)


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ("see /" + "work/shared/x", True),
        ("'/" + "root'", True),
        ("https://" + "pypi" + ".org/simple", True),
        ("../" + "work/x and net" + "work/x, foot/" + "work", False),
        ("/" + "work-in-progress", False),
        ("sc in each st around/" + "worked", False),
    ],
)
def test_the_search_knows_a_machine_from_a_word(line: str, wanted: bool) -> None:
    assert bool(UNWANTED.search(line)) is wanted


@pytest.mark.parametrize("room", ROOMS)
def test_every_room_says_what_it_is_for(room: str) -> None:
    text = ast.get_docstring(ast.parse(ROOM_FILES[room].read_text(encoding="utf-8")))
    assert text, f"{ROOM_FILES[room].relative_to(ROOT)} has no docstring"
    first = text.splitlines()[0]
    assert len(first.split()) >= 4, f"what is the room {room} for? It only says: {first!r}"
    assert first.endswith((".", ":")), f"the first line of the room {room} is no sentence: {first!r}"


@pytest.mark.parametrize("room", ROOMS)
def test_everything_a_room_offers_is_explained(room: str) -> None:
    module = importlib.import_module(f"roundhand.{room}")
    offered = getattr(module, "__all__", None)
    assert offered, f"the room {room} does not say in __all__ what it offers"
    bare = []
    for name in offered:
        thing = getattr(module, name)
        if not (inspect.isfunction(thing) or inspect.isclass(thing)):
            continue
        # A dataclass without a docstring gets its signature as one, which explains nothing.
        text = thing.__doc__ or ""
        if not text.strip() or text.startswith(f"{name}("):
            bare.append(name)
    assert not bare, f"roundhand.{room} offers these without a docstring: {', '.join(bare)}"


def test_no_module_is_a_drawer_for_odds_and_ends() -> None:
    drawers = {"utils", "util", "helpers", "helper", "misc", "common"}
    assert not [path.relative_to(ROOT) for path in PACKAGE.rglob("*") if path.stem in drawers]


def requirements() -> list[str]:
    """Gives the lock file's requirements, each with its continuation lines joined."""
    text = (ROOT / "requirements.lock").read_text(encoding="utf-8").replace("\\\n", " ")
    return [line for line in text.splitlines() if line.strip() and not line.lstrip().startswith("#")]


def test_every_locked_package_has_an_exact_version_and_hashes() -> None:
    assert len(requirements()) > 10
    for line in requirements():
        assert re.match(r"[a-z0-9-]+==[^\s;]+ ", line), f"no exact version: {line[:80]}"
        assert re.search(r"--hash=sha256:[0-9a-f]{64}", line), f"no hash: {line[:80]}"


def test_the_lock_names_no_address() -> None:
    text = (ROOT / "requirements.lock").read_text(encoding="utf-8")
    assert "://" not in text
    options = {word for word in re.findall(r"(?<!\S)-{1,2}[a-z-]+", text) if word != "--hash"}
    assert not options, f"options that belong to one machine: {options}"


def test_everything_that_pyproject_asks_for_is_locked() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    asked = project["project"]["dependencies"] + project["dependency-groups"]["dev"]
    asked += project["build-system"]["requires"]
    locked = {line.split("==")[0] for line in requirements()}
    missing = {re.split(r"[<>=~!; \[]", name, maxsplit=1)[0] for name in asked} - locked
    assert not missing, f"make requirements.lock anew (pyproject.toml says how): it lacks {missing}"


def test_types_are_offered_to_users() -> None:
    assert (PACKAGE / "py.typed").is_file()


def test_the_version_stands_the_same_in_both_places() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    assert roundhand.__version__ == project["project"]["version"]
