"""How much memory Python's own objects take at the worst moment."""

import gc
import tracemalloc
from collections.abc import Callable, Iterator

from bench.speed import counted
from bench.table import Line, megabytes
from bench.texts import blanket, cap, hundred_rounds, many_caps, written_lines
from roundhand.workshop import understand


def peak(work: Callable[[], object]) -> int:
    """The most bytes that a piece of work held beyond what was held before it."""
    gc.collect()
    tracemalloc.start()
    try:
        before, _ = tracemalloc.get_traced_memory()
        work()
        _, most = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    return most - before


def objects() -> Iterator[Line]:
    """Peaks of the whole check and of counting alone."""
    # Words and stitches are read once in a process and belong to no pattern.
    understand(cap("Saltmarsh cap"))
    long = many_caps(40)
    works: dict[str, Callable[[], object]] = {
        "Saltmarsh cap: whole check": lambda: understand(cap("Saltmarsh cap")),
        "five sizes, 100 rounds: whole check": lambda: understand(hundred_rounds()),
        f"{written_lines(long):,} lines: read and counted": lambda: counted(long),
        "blanket 1000 x 1000: read and counted": lambda: counted(blanket()),
    }
    for name, work in works.items():
        yield Line(f"memory: {name}", None, megabytes(peak(work)))
