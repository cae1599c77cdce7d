"""How fast whole folders are edited: patterns of five sizes, a minute and core, by one process and by all cores."""

import tempfile
import time
from collections.abc import Iterator
from functools import partial
from pathlib import Path

from bench.table import Line
from bench.texts import cap, fresh, hundred_rounds
from bench.yardstick import Timing, reference_loop
from roundhand.cli.screen.edited import Asked, edited
from roundhand.workshop.crew import cores, look_at_all

# What the issue promises: hats of five sizes, a minute and core.
_PROMISED = "300"


def folders(rounds: int) -> Iterator[Line]:
    """A folder of caps of five sizes, and one of patterns of five sizes and a hundred rounds."""
    for name, text, number in (
        ("Saltmarsh caps", cap("Saltmarsh cap"), 6 * rounds),
        ("five sizes, 100 rounds", hundred_rounds(), 2 * rounds),
    ):
        with tempfile.TemporaryDirectory() as folder:
            paths = []
            for at in range(number):
                path = Path(folder) / f"{at:04}.txt"
                path.write_text(fresh(text, at), encoding="utf-8")
                paths.append(path)
            for hands in sorted({1, cores()}):
                yield _line(f"folder of {number} {name}, {hands} at once", paths, hands)


def _line(what: str, paths: list[Path], hands: int) -> Line:
    work = partial(edited, Asked(many=True, found=frozenset(paths)))
    loop_began = time.perf_counter()
    reference_loop()
    began = time.perf_counter()
    done = sum(1 for _ in look_at_all(work, paths, hands))
    seconds = time.perf_counter() - began
    rate = done / seconds * 60 / hands
    return Line(what, Timing(seconds, began - loop_began), f"{rate:,.0f} a minute and core", _PROMISED)
