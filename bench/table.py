"""The table: one line a measurement, in Markdown, so that it can be pasted as it stands."""

from collections.abc import Iterable, Sequence

import msgspec

from bench.yardstick import Timing

HEADINGS = ("measured", "loops", "time", "comes to", "promised")


class Line(msgspec.Struct, frozen=True):
    """One measurement: what, how long, what that comes to, and what is promised of it, as README.md here tells."""

    what: str
    timing: Timing | None = None
    comes_to: str = ""
    promised: str = ""


def milliseconds(seconds: float) -> str:
    """A time as the table shows it: three figures where there are more than two.

    >>> milliseconds(0.0098765), milliseconds(0.1234), milliseconds(1.5)
    ('9.9 ms', '123 ms', '1500 ms')
    """
    value = seconds * 1000
    return f"{value:.1f} ms" if value < 99.95 else f"{value:.0f} ms"


def ratio(value: float) -> str:
    """A ratio with two decimals below ten and one above.

    >>> ratio(0.456), ratio(41.23)
    ('0.46', '41.2')
    """
    return f"{value:.2f}" if value < 9.995 else f"{value:.1f}"


def megabytes(size: float) -> str:
    """A size in bytes as megabytes of a million bytes.

    >>> megabytes(12_345_678)
    '12.3 MB'
    """
    return f"{size / 1e6:.1f} MB"


def _cells(line: Line) -> tuple[str, ...]:
    timing = line.timing
    times = ("", "") if timing is None else (ratio(timing.ratio), milliseconds(timing.seconds))
    return (line.what, *times, line.comes_to, line.promised)


def written(lines: Iterable[Line]) -> str:
    """The whole table.

    >>> print(written([Line("a cap read", Timing(0.012, 0.010), "5,000 lines/s")]))
    | measured   | loops |    time | comes to      | promised |
    | ---------- | ----: | ------: | ------------- | -------- |
    | a cap read |  1.20 | 12.0 ms | 5,000 lines/s |          |
    """
    rows: Sequence[tuple[str, ...]] = [HEADINGS, *(_cells(line) for line in lines)]
    widths = [max(len(cell) for cell in column) for column in zip(*rows, strict=True)]
    right = (1, 2)

    def put(cells: tuple[str, ...]) -> str:
        padded = [
            cell.rjust(width) if at in right else cell.ljust(width)
            for at, (cell, width) in enumerate(zip(cells, widths, strict=True))
        ]
        return f"| {' | '.join(padded)} |"

    rule = "| " + " | ".join("-" * (w - 1) + ":" if at in right else "-" * w for at, w in enumerate(widths)) + " |"
    return "\n".join([put(rows[0]), rule, *(put(row) for row in rows[1:])])
