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
from roundhand.workshop.writing import MARKER

_ENDINGS = (".txt", ".md")
# How far a look at a folder of unknown size goes: so many folders down, so many text files, so many names of any kind.
MOST_DEEP = 4
MOST_TEXTS = 2_000
MOST_ENTRIES = 50_000
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
    begin with `.` or `_` are passed over, and so are folders that were published, and what is no text or too large to
    be a pattern; a file that may not
    be read is among them, so that whoever opens it is told. Raises `UseError` where the folder cannot be read or
    holds no pattern.
    """
    if not folder.is_dir():
        raise UseError(f"There is no folder “{spoken(folder)}”; check the name.")
    found = tuple(path for path in _texts(folder, set()) if _holds_pattern(path))
    if not found:
        raise no_pattern_in(folder)
    return found


def patterns_near(folder: Path) -> tuple[tuple[Path, ...], bool]:
    """The pattern files of a folder and of the folders in it, and whether all of it was looked through.

    As `patterns_in`, for a folder that somebody has opened without knowing how much is in it, such as a home folder:
    it goes `MOST_DEEP` folders down, looks at `MOST_TEXTS` text files and at `MOST_ENTRIES` names, and passes over what
    cannot be read. Raises `UseError` where the folder itself cannot be read.
    """
    slips: list[UseError] = []
    reach = _Reach()
    found = tuple(path for path in _texts(folder, set(), slips, reach) if _holds_pattern(path))
    if slips and not os.access(folder, os.R_OK | os.X_OK):
        raise slips[0]
    return found, reach.whole


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


class _Reach:
    """How far a look at a folder may go, and whether it has come to its end."""

    def __init__(self) -> None:
        self.texts, self.entries = MOST_TEXTS, MOST_ENTRIES
        self.whole = True

    def enters(self, depth: int, entries: int) -> bool:
        """Whether a folder of so many names, so far down, may be looked at."""
        self.entries -= entries
        return self._so(depth <= MOST_DEEP and self.entries >= 0)

    def takes(self) -> bool:
        """Whether one more text may be looked at."""
        self.texts -= 1
        return self._so(self.texts >= 0)

    def _so(self, within: bool) -> bool:
        self.whole = self.whole and within
        return within


def _texts(
    folder: Path,
    seen: set[tuple[int, int]],
    slips: list[UseError] | None = None,
    reach: _Reach | None = None,
    depth: int = 0,
) -> Iterator[Path]:
    """The text files in a folder. A folder is entered once, however many links lead to it. One that cannot be read is
    raised, or added to `slips` where these are gathered. With a reach, what lies beyond it is left out."""
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
    if reach is not None and not reach.enters(depth, len(entries)):
        return
    for entry in entries:
        name = entry.name
        if name.startswith((".", "_")) or Path(name).stem.lower() == "readme":
            continue
        path = folder / name
        if path.is_dir():
            # What was published there was made from a pattern, and is none.
            if (path / MARKER).is_file():
                continue
            yield from _texts(path, seen, slips, reach, depth + 1)
        elif path.suffix.lower() in _ENDINGS and path.is_file():
            if reach is not None and not reach.takes():
                return
            yield path


def _holds_pattern(path: Path) -> bool:
    if not os.access(path, os.R_OK):
        return True
    try:
        return is_pattern(read_text(path).text)
    except UseError:
        return False
