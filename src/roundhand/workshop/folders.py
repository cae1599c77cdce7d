"""Which files of a folder are patterns, and where our own patterns stand."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import roundhand
from roundhand.findings import Source
from roundhand.notation.page import cut_page, find_sizes
from roundhand.notation.sizes import read_size_names
from roundhand.workshop.text import read_text
from roundhand.workshop.use import UseError, spoken

_ENDINGS = (".txt", ".md")
# How a report of ours begins: it quotes rows, and is no pattern.
REPORT_MARK = "<!-- roundhand.report/1 -->"


def is_pattern(text: str) -> bool:
    """Whether a text has a row label, or a line for its sizes or its gauge.

    >>> is_pattern("Rnd 1: 6 sc in a magic ring."), is_pattern("Gauge: 14 sts = 4 in"), is_pattern("Dear diary")
    (True, True, False)
    """
    if text.startswith(REPORT_MARK):
        return False
    source = Source(text)
    sizes = find_sizes(source)
    if sizes is not None:
        return True
    return any(
        line.kind == "row" or (line.kind == "key" and line.name.lower().strip(" *_#") == "gauge")
        for line in cut_page(source, read_size_names("One size"))
    )


def patterns_in(folder: Path) -> tuple[Path, ...]:
    """The pattern files of a folder and of the folders in it, in alphabetical order.

    A pattern is a `.txt` or `.md` file with a row label or a line for sizes or gauge. README files and names that
    begin with `.` or `_` are passed over, and so is what is no text or too large to be a pattern; a file that may not
    be read is among them, so that whoever opens it is told. Raises `UseError` where the folder cannot be read or
    holds no pattern.
    """
    if not folder.is_dir():
        raise UseError(f"There is no folder “{spoken(folder)}”; check the name.")
    found = tuple(path for path in _texts(folder, set()) if _holds_pattern(path))
    if not found:
        raise no_pattern_in(folder)
    return found


def no_pattern_in(folder: Path) -> UseError:
    """What is said of a folder without a pattern."""
    return UseError(
        f"There is no pattern in the folder “{spoken(folder)}”; "
        "a pattern is a .txt or .md file with a line such as “Rnd 1: …” or “Sizes: …”."
    )


def texts_in(folder: Path) -> tuple[tuple[Path, ...], tuple[UseError, ...]]:
    """The files of a folder, and of the folders in it, that may be patterns by their names, in alphabetical order; and
    what is to be said of folders that cannot be read. Nothing is opened."""
    slips: list[UseError] = []
    return tuple(_texts(folder, set(), slips)), tuple(slips)


def shipped_patterns() -> Path:
    """The folder with the patterns that come with roundhand: of the repository, or packaged."""
    package = Path(roundhand.__file__).parent
    packaged = package / "_patterns"
    return packaged if packaged.is_dir() else package.parents[1] / "patterns"


def _texts(folder: Path, seen: set[tuple[int, int]], slips: list[UseError] | None = None) -> Iterator[Path]:
    """The text files in a folder. A folder is entered once, however many links lead to it. One that cannot be read is
    raised, or added to `slips` where these are gathered."""
    try:
        about = folder.stat()
        entries = sorted(os.scandir(folder), key=lambda entry: entry.name)
    except OSError as problem:
        why = problem.strerror or "unknown reason"
        slip = UseError(f"The folder “{spoken(folder)}” could not be read ({why}); check its permissions.")
        if slips is None:
            raise slip from None
        slips.append(slip)
        return
    if (about.st_dev, about.st_ino) in seen:
        return
    seen.add((about.st_dev, about.st_ino))
    for entry in entries:
        name = entry.name
        if name.startswith((".", "_")) or Path(name).stem.lower() == "readme":
            continue
        path = folder / name
        if path.is_dir():
            yield from _texts(path, seen, slips)
        elif path.suffix.lower() in _ENDINGS and path.is_file():
            yield path


def _holds_pattern(path: Path) -> bool:
    if not os.access(path, os.R_OK):
        return True
    try:
        return is_pattern(read_text(path).text)
    except UseError:
        return False
