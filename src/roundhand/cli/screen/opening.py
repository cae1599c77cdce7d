"""The patterns that a command line names, opened one after the other."""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator, Sequence
from pathlib import Path

from roundhand.cli.screen.terminal import say_wrong
from roundhand.workshop import Reading, UseError, open_pattern, patterns_in

# Nobody needs a bar for what is done before it can be read.
_PATIENCE_S = 0.5


def named(paths: Sequence[str], folders: bool) -> tuple[list[Path], list[UseError], bool]:
    """The files that a command line names, each once, the slips in it, and whether an answer must tell files apart.

    A folder stands for the patterns in it where `folders` is true, and is opened as a file, which fails, elsewhere.
    """
    found: dict[Path, None] = {}
    slips = []
    many = len(paths) > 1
    for name in paths:
        path = Path(name)
        if folders and path.is_dir():
            many = True
            try:
                found.update(dict.fromkeys(patterns_in(path)))
            except UseError as slip:
                slips.append(slip)
        else:
            found[path] = None
    return list(found), slips, many


def opened(paths: Sequence[Path]) -> Iterator[tuple[Path, Reading | UseError]]:
    """Each file as understood, or what stood in the way of that. Shows how far it is where that takes a while."""
    began = time.monotonic()
    for at, path in enumerate(paths):
        waiting = len(paths) - at > 1 and time.monotonic() - began > _PATIENCE_S
        if waiting and sys.stderr is not None and sys.stderr.isatty():
            from roundhand.cli.screen.rich_page import with_bar

            rest = paths[at:]
            for _, other in zip(with_bar([str(one) for one in rest]), rest, strict=True):
                yield other, _open(other)
            return
        yield path, _open(path)


def opened_alone(path: str) -> Reading:
    """The one pattern that a verb is about, with the sentences on what is kept beside it told; raises `UseError`."""
    reading = open_pattern(Path(path))
    for sentence in reading.said:
        say_wrong(sentence)
    return reading


def _open(path: Path) -> Reading | UseError:
    try:
        return open_pattern(path)
    except UseError as slip:
        return slip
