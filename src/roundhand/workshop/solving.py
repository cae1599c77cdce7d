"""The sizing section of a pattern worked out: the answer of `sizes`, and the page with the values written in."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Literal

import msgspec
from msgspec import UNSET, UnsetType

from roundhand import sizing
from roundhand.sizing import Solution
from roundhand.workshop.reading import Reading
from roundhand.workshop.use import UseError

_DIGITS = 4


class SizeCount(msgspec.Struct, frozen=True):
    """One count in one size. `target` is the count aimed at, before it is made whole; `off_mm` how far the count lies
    from it, and `cm` what it measures, nothing where it has no gauge. `fewer` and `more` are the next counts that the
    multiple allows. `because` says what keeps it from the nearest multiple, and is empty where nothing does."""

    size: str
    count: int
    target: float
    off_mm: float
    cm: float | None
    fewer: int | None
    more: int
    because: str


class NamedCounts(msgspec.Struct, frozen=True):
    """A named count in all sizes; `solved` is false where it is only reckoned from others."""

    name: str
    solved: bool
    multiple: int
    counts: tuple[int | None, ...]
    sizes: tuple[SizeCount, ...]


class ClashSaid(msgspec.Struct, frozen=True):
    """Rules that cannot be kept together, none of which can be left out of the set, and what would be enough."""

    name: str
    rules: tuple[str, ...]
    needed: str


class SizesAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """The answer of `sizes`. `path` is there only where several files were asked for; `said` are the remarks that kept
    counts from being worked out."""

    schema: Literal["roundhand.sizes/1"] = "roundhand.sizes/1"
    path: str | UnsetType = UNSET
    sizes: tuple[str, ...]
    quantities: tuple[NamedCounts, ...]
    clashes: tuple[ClashSaid, ...]
    said: tuple[str, ...]


def solved(reading: Reading) -> Solution:
    """All counts of the sizing section worked out. Raises `UseError` where the pattern has no such section."""
    if not reading.pattern.sizing.quantities:
        raise UseError(
            "There is no sizing section here; a line under the heading SIZING is like “body: head less 1 in at 14 sts "
            "= 4 in; multiple of 8”."
        )
    return sizing.solve(reading.pattern)


def sizes_answer(reading: Reading, size: int | None = None, path: str | None = None) -> SizesAnswer:
    """The counts of all sizes as data, or of one.

    >>> from roundhand.workshop.reading import understand
    >>> page = "Cap\\nTo fit head: 22 in\\n\\nSIZING\\nbody: head less 1 in at 4 sts = 1 in; multiple of 8"
    >>> sizes_answer(understand(page)).quantities[0].counts
    (80,)
    """
    found = solved(reading)
    quantities = []
    for one in found.answers:
        each = tuple(
            SizeCount(
                reading.sizes[own.size],
                own.count,
                _short(own.target),
                _short(own.off) if one.each is not None else 0.0,
                _short(own.length / 10) if own.length is not None else None,
                own.fewer,
                own.more,
                own.because,
            )
            for own in one.choices
            if size in (None, own.size)
        )
        counts = one.counts if size is None else (one.counts[size],)
        quantities.append(NamedCounts(one.name, one.solved, one.multiple, counts, each))
    return SizesAnswer(
        path=UNSET if path is None else path,
        sizes=reading.sizes if size is None else (reading.sizes[size],),
        quantities=tuple(quantities),
        clashes=tuple(ClashSaid(one.name, one.rules, one.needed) for one in found.clashes),
        said=unsolved(found),
    )


def unsolved(found: Solution) -> tuple[str, ...]:
    """A sentence for everything that kept a count from being worked out, other than a clash."""
    said = [f"{one.said[:1].upper()}{one.said[1:]}{f': {one.help}' if one.help else ''}." for one in found.remarks]
    said += [f"“{name}” waits for a count that could not be worked out." for name in found.waiting]
    return tuple(said)


def written(reading: Reading, found: Solution) -> str:
    """The text with the solved values below their lines, in place of those that stand there. Counts that are only
    reckoned are not written: they follow.

    >>> from roundhand.workshop.reading import understand
    >>> page = "Cap\\nTo fit head: 22 in\\n\\nSIZING\\nbody: head at 4 sts = 1 in; even\\nbody = 2"
    >>> reading = understand(page)
    >>> written(reading, solved(reading)).splitlines()[-2:]
    ['body: head at 4 sts = 1 in; even', 'body = 88']
    """
    text = reading.source.text
    edits: list[tuple[int, int, str]] = []
    for one in reading.pattern.sizing.quantities:
        answer = found.of(one.name)
        if answer is None or not answer.solved:
            continue
        line = f"{one.span.of(text)} = {listed(answer.counts)}"
        if one.values_span is not None:
            edits.append((one.values_span.start, one.values_span.end, line))
            continue
        end = re.compile(r"\r\n|\r|\n").search(text, one.whole.end)
        mark = end[0] if end is not None else "\n"
        edits.append((one.whole.end, one.whole.end, f"{mark}{line}"))
    for start, end_, words in sorted(edits, reverse=True):
        text = text[:start] + words + text[end_:]
    return text


def listed(counts: tuple[int | None, ...]) -> str:
    """Counts as a size list, one number where it is the same in all sizes.

    >>> listed((56, 64, None)), listed((12, 12)), listed((None, None))
    ('56 (64, -)', '12', '-')
    """
    cells = [str(one) if one is not None else "-" for one in counts]
    return cells[0] if len(set(cells)) == 1 else f"{cells[0]} ({', '.join(cells[1:])})"


def _short(value: Fraction) -> float:
    return round(float(value), _DIGITS)
