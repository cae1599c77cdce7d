"""From a cap to what is published: measures, yarn, chart and folder, first in a fresh process and then warm."""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator

from bench.table import Line, milliseconds
from bench.texts import CAPS, cap, fresh
from bench.yardstick import measure
from roundhand.workshop import understand

# The steps by name, each a statement on a pattern that is understood already, as a fresh process runs them in turn.
_STEPS = {
    "measures": "from roundhand.workshop.measuring import measures; measures(reading)",
    "yarn": "from roundhand.workshop.reckoning import reckon; reckon(reading)",
    "chart": "from roundhand.workshop.charting import chart; from roundhand.press.svg import svg; "
    "svg(chart(reading).chart.drawing, 'bench')",
    "whole folder": "from roundhand.workshop.publishing import outputs; outputs(reading)",
}
_FIRST = """
import sys, time
from roundhand.workshop import understand
text = sys.stdin.read()
reading = understand(text)
for step in {steps!r}:
    begin = time.perf_counter()
    exec(step)
    print(time.perf_counter() - begin)
"""


def _first(text: str) -> dict[str, float]:
    """Seconds that each step takes the first time in a process, imports and all."""
    code = _FIRST.format(steps=list(_STEPS.values()))
    with tempfile.TemporaryDirectory() as folder:
        done = subprocess.run(
            [sys.executable, "-P", "-c", code], input=text, capture_output=True, text=True, check=True, cwd=folder
        )
    return dict(zip(_STEPS, map(float, done.stdout.split()), strict=True))


def _warm(step: str, text: str) -> Callable[[int], None]:
    """A step on a text that is new in every round, read and checked with it."""

    def work(number: int) -> None:
        exec(step, {"reading": understand(fresh(text, number))})

    return work


def publishing(rounds: int) -> Iterator[Line]:
    """Every step warm, reading and checking included, and in the last column what it took in a fresh process."""
    for name in CAPS:
        text = cap(name)
        first = _first(text)
        whole = sum(first.values())
        for what, step in _STEPS.items():
            timing = measure(_warm(step, text), max(2, rounds // 3), time.perf_counter)
            share = f"first {milliseconds(first[what])}, {first[what] / whole:.0%} of all steps"
            yield Line(f"{name}: checked and {what}", timing, share)
