"""A mend of a query tried out: the lines before and after it, and what else would change."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

import msgspec

from roundhand.checks import Choice
from roundhand.findings import Edit, Finding
from roundhand.workshop.reading import Reading, understand
from roundhand.workshop.standing import standing

_EVERYTHING = Choice()


class Mended(msgspec.Struct, frozen=True):
    """The lines that a mend touches as they are and as they would be; the queries that would go with it, and those that
    would come."""

    before: tuple[str, ...]
    after: tuple[str, ...]
    goes: tuple[Finding, ...] = ()
    comes: tuple[Finding, ...] = ()


def mended(reading: Reading, edit: Edit, of: Finding, choice: Choice = _EVERYTHING) -> Mended:
    """One mend of a query, worked through the whole pattern; of what would come only the wanted is told.

    >>> reading = understand("Cap\\n\\nRnd 1: 6 sc in a magic ring. (6)\\nRnd 2: inc in each st around. (13)")
    >>> (query,) = reading.findings
    >>> from roundhand.findings import Edit, Span
    >>> found = mended(reading, Edit(query.span, "12", "ask"), query)
    >>> found.after, found.comes
    (('Rnd 2: inc in each st around. (12)',), ())
    """
    source = reading.source
    whole = source.line_span(source.place(edit.span.start)[0]).to(source.line_span(source.place(edit.span.end)[0]))
    text = source.text
    after = text[whole.start : edit.span.start] + edit.text + text[edit.span.end : whole.end]
    changed = understand(text[: edit.span.start] + edit.text + text[edit.span.end :], choice=choice)
    now, then = _counted(reading), _counted(changed)
    goes = tuple(one for key, one in _causes(reading) if now[key] > then[key] and one is not of)
    comes = tuple(one for key, one in _causes(changed) if then[key] > now[key])
    return Mended(_lines(whole.of(text)), _lines(after), goes, comes)


def _causes(reading: Reading) -> Iterator[tuple[tuple[str, ...], Finding]]:
    """The queries that follow from no other, each with its name, its row and what is said of it."""
    for one in reading.findings:
        if not one.follows:
            kept = standing(one, reading.source, reading.pattern)
            yield (kept.name, kept.row, kept.sizes, kept.rests_on), one


def _counted(reading: Reading) -> Counter[tuple[str, ...]]:
    return Counter(key for key, _ in _causes(reading))


def _lines(text: str) -> tuple[str, ...]:
    return tuple(text.replace("\r\n", "\n").replace("\r", "\n").split("\n"))
