"""How fast a text is read, counted and edited in a process that is already running."""

from collections.abc import Callable, Iterator

from bench.table import Line, ratio
from bench.texts import (
    CAPS,
    blanket,
    cap,
    different_rounds,
    fresh,
    hundred_rounds,
    many_caps,
    openwork_blanket,
    written_lines,
)
from bench.yardstick import Timing, measure
from roundhand.notation import read
from roundhand.tally import Tally, count
from roundhand.workshop import understand


def counted(text: str) -> Tally:
    """A text read and counted, without the edit."""
    return count(read(text)[0])[0]


def _timed(work: Callable[[str], object], text: str, rounds: int) -> Timing:
    return measure(lambda number: work(fresh(text, number)), rounds)


def _per_second(text: str, timing: Timing) -> str:
    return f"{written_lines(text) / timing.seconds:,.0f} lines/s"


def reading(rounds: int) -> Iterator[Line]:
    """Lines a second, of the shipped caps and of a long text, and whether twice the text takes twice the time."""
    for name in CAPS:
        text = cap(name)
        timing = _timed(read, text, rounds)
        yield Line(f"{name}: read", timing, _per_second(text, timing), "5,000 lines/s")
    for name, text in (("rows repeat", hundred_rounds()), ("no two rows alike", different_rounds())):
        timing = _timed(read, text, rounds)
        yield Line(f"five sizes, 100 rounds, {name}: read", timing, _per_second(text, timing), "5,000 lines/s")
    long = many_caps(40)
    timing = _timed(read, long, max(2, rounds // 3))
    yield Line(f"long text of {written_lines(long):,} lines: read", timing, _per_second(long, timing), "5,000 lines/s")
    previous: Timing | None = None
    for times in (10, 20, 40):
        text = many_caps(times)
        timing = _timed(counted, text, rounds)
        # In loops and not in seconds: the machine may have become busier in between.
        grown = f"x {ratio(timing.ratio / previous.ratio)} for twice the text" if previous else ""
        yield Line(f"{written_lines(text):,} lines: read and counted", timing, grown, "x 2" if previous else "")
        previous = timing


def checking(rounds: int) -> Iterator[Line]:
    """Both caps, and a pattern of five sizes and a hundred rounds, read and counted, and with the whole edit."""
    texts = {name: cap(name) for name in CAPS} | {
        "five sizes, 100 rounds, rows repeat": hundred_rounds(),
        "five sizes, 100 rounds, no two rows alike": different_rounds(),
    }
    for name, text in texts.items():
        promised = name not in CAPS
        yield Line(f"{name}: read and counted", _timed(counted, text, rounds), "", "40 ms" if promised else "")
        yield Line(f"{name}: whole check", _timed(understand, text, rounds), "", "200 ms" if promised else "")


def blankets(rounds: int) -> Iterator[Line]:
    """A thousand rows of a thousand stitches, plain and in openwork."""
    for name, text in (("blanket", blanket()), ("openwork blanket", openwork_blanket())):
        timing = _timed(counted, text, max(2, rounds // 3))
        yield Line(f"{name} 1000 x 1000: read and counted", timing, f"{1 / timing.seconds:,.1f} M places/s")
