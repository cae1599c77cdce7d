"""What is said of schedules that end at a length: how many rows it takes, and numbers of rows that disagree with it."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from roundhand.findings import Finding, Mark
from roundhand.measures import Length, say_count, say_number
from roundhand.notation.tree import Plan, RowLine
from roundhand.tally.lengths import Stop
from roundhand.tally.scheduling import Ground, row_label, row_word

_TOLERANCE = Fraction(3, 100)


def on_lengths(
    plan: Plan, line: RowLine, grounds: Sequence[Ground | None], stops: Sequence[Stop | None], sizes: tuple[str, ...]
) -> list[Finding]:
    """What a length and a number of rows say of each other, or that no gauge tells the rows of a length."""
    found: list[Finding] = []
    unknown = [size for size, stop in enumerate(stops) if stop is not None and stop.rows is None]
    if unknown and all(grounds[size] is not None and _rows_said(grounds[size]) is None for size in unknown):
        ground = grounds[unknown[0]]
        assert ground is not None
        found.append(
            Finding(
                "gauge-missing",
                "warning",
                "how many rows reach this length is not known",
                plan.span,
                tuple(sizes[size] for size in unknown),
                row=row_label(line, ground.start),
                because="no gauge gives the height of a row, so these rows are not worked here",
                help="give the rows of the gauge, or say beside the length how many rows it is",
                facts={"unknown": "rows"},
            )
        )
    differ = []
    for size, (ground, stop) in enumerate(zip(grounds, stops, strict=True)):
        rows = _rows_said(ground) if ground is not None else None
        if stop is None or stop.exact is None or rows is None or not stop.exact:
            continue
        if stop.holds(rows) or (plan.rows_upto is not None and rows == stop.rows):
            continue
        if abs(rows - stop.exact) > max(stop.exact * _TOLERANCE, Fraction(1, 2)) and not _near(stop, rows):
            differ.append(size)
    if differ:
        size = differ[0]
        ground, stop = grounds[size], stops[size]
        assert ground is not None and stop is not None and stop.exact is not None
        rows = _rows_said(ground) or 0
        found.append(
            Finding(
                "measure-differs",
                "warning",
                f"{say_count(rows, row_word(line))} here, {say_number(Fraction(round(stop.exact)))} by the length",
                plan.span,
                tuple(sizes[at] for at in differ),
                row=row_label(line, ground.start),
                because=f"by the gauge {_stops(stop, line)}",
                help="both say where to stop: let them agree, or say which of them rules",
                facts={"rows": rows, "by_length": round(stop.exact)},
                see=(Mark(line.label.span, say_count(rows, row_word(line))),),
            )
        )
    return found + _moved(plan, line, grounds, stops, sizes)


def _moved(
    plan: Plan, line: RowLine, grounds: Sequence[Ground | None], stops: Sequence[Stop | None], sizes: tuple[str, ...]
) -> list[Finding]:
    """`reading-chosen` where the gauge gives no whole number of rows, or the work may not stop on the nearest one."""
    open_ones = [
        size
        for size, stop in enumerate(stops)
        if stop is not None
        and stop.rows is not None
        and (stop.exact != stop.rows or stop.parted or stop.upto is not None)
        and _rows_said(grounds[size]) is None
    ]
    if not open_ones:
        return []
    size = open_ones[0]
    ground, stop = grounds[size], stops[size]
    assert ground is not None and stop is not None and stop.rows is not None
    lasts = [one.start + end.rows - 1 for at in open_ones if (one := grounds[at]) and (end := stops[at]) and end.rows]
    last = row_label(line, lasts[0]) + (f" ({', '.join(map(str, lasts[1:]))})" if len(set(lasts)) > 1 else "")
    side = f", on a {plan.side} row" if plan.side else ""
    if stop.parted:
        return [_side_missed(plan, line, ground, stop, tuple(sizes[at] for at in open_ones))]
    if stop.upto is not None:
        return [_within(plan, line, ground, stop, tuple(sizes[at] for at in open_ones))]
    return [
        Finding(
            "reading-chosen",
            "advice",
            f"{_each(stops, open_ones, row_word(line))} by the gauge, up to {last}",
            plan.span,
            tuple(sizes[at] for at in open_ones),
            row=row_label(line, ground.start),
            because=f"the work may stop there{side}: {_stops(stop, line)}",
            help="a number of rows beside the length leaves no doubt",
            facts={"rows": stop.rows, "may_stop": tuple(rows for rows, _ in stop.allowed)},
            label="ends by its length",
        )
    ]


def _each(stops: Sequence[Stop | None], there: Sequence[int], word: str) -> str:
    """The rows of every size that a length leaves open, `28 (30, 32) rows`."""
    rows = [stop.rows or 0 for size in there if (stop := stops[size]) is not None]
    if len(set(rows)) == 1:
        return say_count(rows[0], word)
    return f"{rows[0]} ({', '.join(map(str, rows[1:]))}) {word}s"


def _within(plan: Plan, line: RowLine, ground: Ground, stop: Stop, sizes: tuple[str, ...]) -> Finding:
    """`reading-chosen` where a length may be one of several, and the gauge says how many rows that leaves."""
    low, high = stop.allowed[0][0], stop.allowed[-1][0]
    some = f"{low} to {high} {row_word(line)}s" if low != high else say_count(low, row_word(line))
    return Finding(
        "reading-chosen",
        "advice",
        f"{some} by the gauge; {stop.rows} are worked here",
        plan.span,
        sizes,
        row=row_label(line, ground.start),
        because=f"the words leave it to the maker where to stop: {_stops(stop, line)}",
        help="a number of rows beside the length leaves no doubt",
        facts={"rows": stop.rows, "may_stop": tuple(rows for rows, _ in stop.allowed)},
        label="leaves the number open",
    )


def _side_missed(plan: Plan, line: RowLine, ground: Ground, stop: Stop, sizes: tuple[str, ...]) -> Finding:
    """`rules-clash` where the colours of the rows end on no row of the side that the words ask for."""
    other = "WS" if plan.side == "RS" else "RS"
    return Finding(
        "rules-clash",
        "warning",
        f"no stripe ends with a {plan.side} row",
        plan.span,
        sizes,
        row=row_label(line, ground.start),
        because=f"the stripes end with {other} rows alone: {_stops(stop, line)}",
        help=f"end with a {other} row, or say in which row of a stripe the work stops",
        facts={"side": plan.side, "may_stop": tuple(rows for rows, _ in stop.allowed)},
        label="asks for a side on which no stripe ends",
    )


def _near(stop: Stop, rows: int) -> bool:
    """Whether no allowed number of rows lies nearer the length than those worked."""
    return stop.exact is not None and all(abs(one - stop.exact) >= abs(rows - stop.exact) for one, _ in stop.allowed)


def _rows_said(ground: Ground | None) -> int | None:
    return ground.rows if ground is not None else None


def _stops(stop: Stop, line: RowLine) -> str:
    """The numbers of rows near a length at which the work may stop, with the length that it then has."""
    told = [
        f"{say_count(rows, row_word(line))} more make {say_number(_rounded(mm, stop.length.unit))} {stop.length.unit}"
        for rows, mm in stop.allowed
    ]
    return ", ".join(told[:4])


def _rounded(mm: Fraction, unit: str) -> Fraction:
    return Fraction(round(Length(mm).to(unit) * 10), 10)
