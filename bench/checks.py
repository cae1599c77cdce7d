"""How long the technical edit takes on a pattern of five sizes and a hundred rounds that is read and counted already:
what looks at row after row, and what looks at the pattern as a whole."""

import time
from collections.abc import Iterator, Sequence

from bench.table import Line, milliseconds
from bench.texts import cap, fresh, hundred_rounds
from bench.yardstick import measure
from roundhand.checks import Sheet, edit, pages
from roundhand.checks.handbook import looking
from roundhand.findings import Source
from roundhand.notation import read
from roundhand.tally import count

# Groups whose checks go from row to row; the others look at the pattern as a whole.
_BY_ROW = ("counts", "rows", "sizes", "turning", "places", "words", "reading")


def checks(rounds: int) -> Iterator[Line]:
    """The checks by row, those of the whole pattern, and all of them with what is folded afterwards."""
    for name, text in (("Kittiwake cap", cap("Kittiwake cap")), ("five sizes, 100 rounds", hundred_rounds())):
        sheets = [_sheet(fresh(text, number)) for number in range(rounds + 1)]
        by_row = [one for one in looking() if pages()[one].group in _BY_ROW]
        whole = [one for one in looking() if one not in by_row]
        promised = "five" in name
        yield _line(f"{name}: {len(by_row)} row checks", sheets, by_row, rounds, "40 ms" if promised else "")
        yield _line(f"{name}: {len(whole)} whole-pattern checks", sheets, whole, rounds, "120 ms" if promised else "")
        timing = measure(lambda number, text=text: edit(_sheet(fresh(text, number))), max(2, rounds // 2))  # type: ignore[misc]
        yield Line(f"{name}: read, counted, all checks, folded", timing)


def _line(what: str, sheets: Sequence[Sheet], names: Sequence[str], rounds: int, promised: str) -> Line:
    """Some checks on sheets that none of them has seen; the slowest of them are named."""
    timing = measure(lambda number: _run(sheets[number + 1], names), rounds)
    slowest = sorted(((_seconds(sheets[0], name), name) for name in names), reverse=True)[:2]
    told = ", ".join(f"{name} {milliseconds(seconds)}" for seconds, name in slowest)
    return Line(what, timing, f"slowest: {told}", promised)


def _run(sheet: Sheet, names: Sequence[str]) -> None:
    for name in names:
        list(looking()[name](sheet))


def _seconds(sheet: Sheet, name: str) -> float:
    """The time of one check by itself, when what checks share is known."""
    list(looking()[name](sheet))
    began = time.perf_counter()
    list(looking()[name](sheet))
    return time.perf_counter() - began


def _sheet(text: str) -> Sheet:
    pattern, said = read(text)
    tally, more = count(pattern)
    return Sheet(Source(text), tally, (*said, *more))
