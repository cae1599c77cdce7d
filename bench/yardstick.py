"""The fixed loop that every time is compared with, and the measuring itself.

Milliseconds say how long somebody waits on one machine on one day. The ratio to a loop that never changes, measured in
turn with the work, says whether roundhand itself has become faster or slower.
"""

import gc
import time
from collections.abc import Callable

import msgspec

_TEXT = "Rnd 4: Ch 2, *hdc in next 2 sts, 2 hdc in next st; rep from * around, join. (32 sts) " * 40
_WORDS = {"hdc": 1, "next": 2, "sts,": 3, "rep": 4, "around,": 5, "join.": 6}


def reference_loop() -> int:
    """Cuts a fixed text into words, looks each up and adds: the kind of work that reading is, in plain Python.

    Never change it: the ratios of all earlier tables rest on it.

    >>> reference_loop()
    18400
    """
    total = 0
    for _ in range(20):
        start = 0
        while (end := _TEXT.find(" ", start)) >= 0:
            total += _WORDS.get(_TEXT[start:end].lower(), 0)
            start = end + 1
    return total


class Timing(msgspec.Struct, frozen=True):
    """The least time that a piece of work took, in seconds, and the least time of the loop run in turn with it."""

    seconds: float
    loop: float

    @property
    def ratio(self) -> float:
        """The work in loops.

        >>> Timing(0.03, 0.01).ratio
        3.0
        """
        return self.seconds / self.loop


Clock = Callable[[], float]


def once(work: Callable[[], object], clock: Clock = time.process_time) -> float:
    """The seconds that a piece of work keeps a core busy: what else the machine does is not counted."""
    gc.collect()
    begin = clock()
    work()
    return clock() - begin


def measure(work: Callable[[int], object], rounds: int, clock: Clock = time.process_time) -> Timing:
    """Times a piece of work and the loop in turn, after one run to warm up; the least of all rounds is kept.

    Work that is done in other processes, or by several cores at once, needs the clock on the wall,
    `time.perf_counter`.

    The work is given the number of its run, so that it can see to it that no two runs are given the same text: an
    answer kept from the run before would make a fine number and a false one.
    """
    work(-1)
    best, loop = once(lambda: work(0), clock), once(reference_loop, clock)
    for number in range(1, rounds):
        loop = min(loop, once(reference_loop, clock))
        best = min(best, once(lambda number=number: work(number), clock))  # type: ignore[misc]
    return Timing(best, loop)
