"""What is said of schedules: shaping that overruns its rows, counts never reached, readings of a goal."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from roundhand.findings import Finding
from roundhand.measures import say_count
from roundhand.notation.tree import Plan, RowLine
from roundhand.tally.growing import change
from roundhand.tally.lengths import Stop
from roundhand.tally.scheduling import Ground, Tried, row_label, row_word
from roundhand.tally.timing import MOST, MOST_FALLS, Timing, fitting

_SAID = {
    "total": "stitches in all",
    "between": "stitches between the increases",
    "section": "stitches in each section, its increase among them",
}
_BY = {
    "counts": "the count written there",
    "label": "the label of the next row",
    "later": "the next row, which comes out on it,",
}


def too_many(
    plan: Plan, line: RowLine, endless: Sequence[int], grounds: Sequence[Ground | None], sizes: tuple[str, ...]
) -> list[Finding]:
    """`limit-reached` where a schedule takes more rows than any work has."""
    ground = grounds[endless[0]]
    assert ground is not None
    ends = "length" if plan.lengths and plan.goal is None else "count" if plan.goal is not None else "last shaping"
    return [
        Finding(
            "limit-reached",
            "error",
            f"too many rows up to this {ends}; they are not worked",
            plan.goal_span if plan.goal is not None else plan.span,
            tuple(sizes[size] for size in endless),
            row=row_label(line, ground.start),
            because=f"more than {MOST:,} rows, or {MOST_FALLS} shapings, are taken for a slip of the pen",
            help="check the numbers of this sentence: one of them may have a digit too many",
            facts={"rows": MOST, "shapings": MOST_FALLS},
        )
    ]


def rows_taken(plan: Plan, line: RowLine, grounds: Sequence[Ground | None], sizes: tuple[str, ...]) -> list[Finding]:
    """`reading-chosen` where the words leave it to the maker how many rows there are, and nothing else tells it."""
    there = [size for size, ground in enumerate(grounds) if ground is not None and ground.room is None]
    if not there or plan.rows is None or plan.rows_upto is None:
        return []
    size = there[0]
    ground = grounds[size]
    assert ground is not None and ground.rows is not None
    low, high = plan.rows.at(size), plan.rows_upto.at(size)
    return [
        Finding(
            "reading-chosen",
            "advice",
            f"{low} to {high} {row_word(line)}s; {ground.rows} are worked here",
            plan.rows.span.to(plan.rows_upto.span),
            tuple(sizes[at] for at in there),
            row=row_label(line, ground.start),
            because="the words leave it to the maker where to stop, and no label behind them tells it",
            help="one number, or a label of the row that comes next, leaves no doubt",
            facts={"rows": ground.rows, "may_stop": (low, high)},
            label="leaves the number open",
        )
    ]


def never_reached(
    plan: Plan,
    line: RowLine,
    grounds: Sequence[Ground | None],
    made: Sequence[Timing | None],
    sizes: tuple[str, ...],
) -> list[Finding]:
    """`shaping-overruns` where the steps of a schedule go past the count at which it should end."""
    wrong = [size for size, one in enumerate(made) if one is not None and one.left and grounds[size] is not None]
    if not wrong or plan.goal is None:
        return []
    size = wrong[0]
    ground, one = grounds[size], made[size]
    assert ground is not None and one is not None
    goal = plan.goal.at(size) or 0
    short = goal - one.left
    step = change(plan.beats[-1], size) if plan.beats else 0
    counted = "sts" if plan.unit != "between" else "sts between the increases"
    if not step:
        over = one.over if one.over is not None else short
        near = f"the rows come to {short}, then to {over}" if over != short else f"the rows leave it at {short}"
        way = f"{short} or {over} would be met" if over != short else f"{short} is what they come to"
    elif (goal - ground.offer.total) * step < 0:
        word = "increases" if step > 0 else "decreases"
        near = f"the shaping {word}, and there are {ground.offer.total} {counted} already"
        over = ground.offer.total
        way = f"a count {'above' if step > 0 else 'below'} {ground.offer.total}, or the other way of shaping"
    else:
        over = short + step
        near = f"{ground.offer.total} {counted} change by {abs(step)} each time: {short}, then {over}"
        way = f"{short} or {over} would be met"
    return [
        Finding(
            "shaping-overruns",
            "error",
            f"{goal} {counted} are never reached",
            plan.goal.words_of(tuple(wrong)),
            tuple(sizes[at] for at in wrong),
            row=row_label(line, ground.start),
            because=near,
            help=way,
            facts={"goal": goal, "begins": ground.offer.total, "step": abs(step), "nearest": (short, over)},
        )
    ]


def overruns(
    plan: Plan,
    line: RowLine,
    grounds: Sequence[Ground | None],
    made: Sequence[Timing | None],
    stops: Sequence[Stop | None],
    sizes: tuple[str, ...],
) -> list[Finding]:
    """`shaping-overruns` where the last shaping falls behind the last row."""
    wrong: list[tuple[int, int]] = []
    for size, one in enumerate(made):
        ground, stop = grounds[size], stops[size]
        if ground is None or one is None or one.left:
            # A count that is never reached is said already.
            continue
        rows = ground.rows if ground.rows is not None else stop.rows if stop is not None else None
        limit = rows if rows is not None else ground.room
        if limit is not None and one.last > limit:
            wrong.append((size, limit))
    if not wrong:
        return []
    size, limit = wrong[0]
    ground, one = grounds[size], made[size]
    assert ground is not None and one is not None
    ends = ground.start + limit - 1
    last = ground.start + one.last - 1
    often = sum(len(falls) for falls in one.falls.values())
    fit = sum(len(falls) for row, falls in one.falls.items() if row <= limit)
    step = fitting(plan, size, ground.start, often, limit)
    beat = plan.beats[-1]
    every = (beat.every.at(size) if beat.every is not None else None) or 1
    word = row_word(line)
    nexts = "" if ground.rows is not None else f", since {row_label(line, ends + 1)} is told next"
    if stops[size] is not None and ground.rows is None:
        nexts = ", where the length is reached by the gauge"
    way = (
        f"every {_ordinal(step)} {word} would end in "
        f"{row_label(line, _last_with(plan, size, ground.start, often, step))}"
        if step is not None
        else f"{say_count(one.last - limit, word)} more would hold it, or {say_count(fit, 'time')} instead of {often}"
    )
    return [
        Finding(
            "shaping-overruns",
            "error",
            f"the shaping ends in {row_label(line, last)}, the rows end with {row_label(line, ends)}",
            beat.span,
            tuple(sizes[at] for at, _ in wrong),
            row=row_label(line, ground.start),
            because=f"{say_count(often, 'time')}, the last in {row_label(line, last)}; only {fit} of them fall in the "
            f"{say_count(limit, word)} up to {row_label(line, ends)}{nexts}",
            help=way,
            facts={"times": often, "every": every, "ends": last, "rows_end": ends, "fit": fit, "would_fit": step},
        )
    ]


def _last_with(plan: Plan, size: int, start: int, often: int, step: int) -> int:
    beat = plan.beats[0]
    first = step
    if beat.first is not None:
        number = beat.first.at(size) or 1
        first = max(1, number - start + 1) if beat.labelled else number
    return start + first + (often - 1) * step - 1


def _ordinal(number: int) -> str:
    """A number as an ordinal in figures.

    >>> _ordinal(2), _ordinal(13), _ordinal(21)
    ('2nd', '13th', '21st')
    """
    if number == 1:
        return "single"
    ending = "th" if number % 100 in (11, 12, 13) else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{ending}"


def unit_read(
    plan: Plan,
    line: RowLine,
    unit: str,
    evidence: str,
    tried: Mapping[str, Sequence[Tried]],
    grounds: Sequence[Ground | None],
    sizes: tuple[str, ...],
) -> list[Finding]:
    """What the number behind `until` was taken to count, where the words leave it open and it makes a difference."""
    able = [
        one
        for one, made in tried.items()
        if all(trial.left == 0 and (trial.rows or ground is None) for trial, ground in zip(made, grounds, strict=True))
    ]
    if evidence == "places" or len(able) < 2 or plan.goal is None:
        return []
    size = next(at for at, ground in enumerate(grounds) if ground is not None)
    ground = grounds[size]
    assert ground is not None
    there = tuple(sizes[at] for at, one in enumerate(grounds) if one is not None)
    ends = {one: ground.start + len(tried[one][size].rows) - 1 for one in able}
    told = "; ".join(f"{_SAID[one]}: it ends with {row_label(line, ends[one])}" for one in [unit, *able] if one != unit)
    taken = f"{_SAID[unit]}: it ends with {row_label(line, ends[unit])}"
    clearer = "\u201csts in all\u201d or \u201csts between the increases\u201d leaves no doubt"
    facts: dict[str, str | int] = {"kind": "until", "reading": unit, "evidence": evidence, **ends}
    if evidence == "usage":
        return [
            Finding(
                "reading-unsure",
                "warning",
                "two ways to read this, and nothing tells which",
                plan.goal_span,
                there,
                row=row_label(line, ground.start),
                because=f"read as {taken}; read as {told}; the first was taken",
                help=clearer,
                facts=facts,
                label="two ways to read this",
            )
        ]
    return [
        Finding(
            "reading-chosen",
            "advice",
            f"read so: {_SAID[unit]}",
            plan.goal_span,
            there,
            row=row_label(line, ground.start),
            because=f"{_BY[evidence]} decides: read as {taken}; read as {told}",
            help=clearer,
            facts=facts,
            label="can be read two ways",
        )
    ]
