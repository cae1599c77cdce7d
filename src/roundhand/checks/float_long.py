"""A resting colour is carried loose behind more stitches than a finger catches in.

Floats over more than five stitches, or an inch, snag inside a mitten, a sock or a sleeve, and they pull the fabric in.

Bad:
    NOTES
    Carry the resting colour loosely across the back of the work.
    MATERIALS
    Yarn A: worsted, slate
    Yarn B: worsted, samphire
    GAUGE
    16 sts and 20 rnds = 4 in in single crochet
    COWL
    With A, ch 24, join with sl st in first ch, being careful not to twist.
    Rnd 1: Ch 1, sc in each ch around, join. (24)
    Rnd 2: Ch 1, *with A, sc in next 10 sts, with B, sc in next 2 sts; rep from * around, join. (24)
    Fasten off A and B.

Good:
    NOTES
    Carry the resting colour loosely across the back of the work.
    MATERIALS
    Yarn A: worsted, slate
    Yarn B: worsted, samphire
    GAUGE
    16 sts and 20 rnds = 4 in in single crochet
    COWL
    With A, ch 24, join with sl st in first ch, being careful not to twist.
    Rnd 1: Ch 1, sc in each ch around, join. (24)
    Rnd 2: Ch 1, *with A, sc in next 2 sts, with B, sc in next 2 sts; rep from * around, join. (24)
    Fasten off A and B.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Span
from roundhand.measures import Length, say_count
from roundhand.notation.tree import Yarn
from roundhand.sizing import gauge_book
from roundhand.tally import RowTally, Run, flat

GROUP = "colours"

# Common practice: what is caught in easily.
_MOST_STITCHES, _MOST = 5, Length.of(Fraction(1), "in").mm
_CAUGHT = re.compile(
    r"\b(?:catch|trap|twist(?:ing)?\s+(?:the\s+)?(?:yarns?|strands?|colou?rs?)|weave\s+(?:the\s+)?floats?|tack)",
    re.IGNORECASE,
)
# A row of more runs is a picture from a chart; it is looked at only so far.
_MOST_RUNS = 2000


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every row whose resting colour floats behind more than five stitches and an inch."""
    if _CAUGHT.search(sheet.text):
        return
    said = any(note.how == "behind" for note in sheet.pattern.carrying)
    book = gauge_book(sheet.pattern)
    told: set[int] = set()
    for row in sheet.tally.rows():
        if row.copied or id(row.line) in told or not (said or _carried(row)):
            continue
        for size, result in enumerate(row.results):
            if result is None or len(result.colours) < 2:
                continue
            longest = _longest(flat(result.made))
            if longest is None:
                continue
            count, run, resting = longest
            width = book.width(row.part, result.offer.main)
            long = width * count if width is not None else None
            if count <= _MOST_STITCHES or (long is not None and long <= _MOST):
                continue
            told.add(id(row.line))
            yield _finding(sheet, row, size, count, run, resting)
            break


def _carried(row: RowTally) -> bool:
    return any(isinstance(node, Yarn) and node.act == "carry" and node.how == "behind" for node in row.line.nodes)


def _longest(runs: Iterator[Run]) -> tuple[int, Run, str] | None:
    """The most stitches between two uses of one colour in a row, with the run that lies over the float and the colour
    that floats."""
    best: tuple[int, Run, str] | None = None
    position = 0
    last: dict[str, int] = {}
    longest_run: Run | None = None
    for number, run in enumerate(runs):
        if number > _MOST_RUNS:
            break
        if not run.counts:
            continue
        since = position - last.get(run.colour, position)
        if since and longest_run is not None and (best is None or since > best[0]):
            best = since, longest_run, run.colour
        if longest_run is None or run.colour != longest_run.colour or run.count > longest_run.count:
            longest_run = run
        position += run.count
        last[run.colour] = position
    return best


def _finding(sheet: Sheet, row: RowTally, size: int, count: int, run: Run, resting: str) -> Finding:
    inside = row.line.span.start <= run.span.start <= row.line.span.end
    return Finding(
        "float-long",
        "advice",
        f"{resting} floats behind {say_count(count, 'st')}",
        run.span if inside else Span(row.line.label.span.start, row.line.label.span.end),
        tuple(name for name, label in zip(sheet.pattern.sizes, row.labels, strict=True) if label is not None),
        row=row.label_in(size),
        because=f"a float over more than {_MOST_STITCHES} sts, or an inch, catches on fingers and pulls the work in "
        "(common practice)",
        help="say where the float is caught, or work over the resting colour",
        facts={"stitches": count, "colour": resting},
        label=f"over {count} sts of {resting}",
    )
