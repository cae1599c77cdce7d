"""A text understood: read, counted in every size, and edited, all in one value."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import msgspec

from roundhand import checks, notation, tally
from roundhand.checks import Choice
from roundhand.findings import Finding, Source, Span, in_order
from roundhand.notation.tree import Pattern, RowLine
from roundhand.tally import Tally
from roundhand.workshop.beside import Beside, beside, kept
from roundhand.workshop.standing import quieted, read_table
from roundhand.workshop.text import Text, read_text
from roundhand.workshop.use import UseError, spoken
from roundhand.yarn import MeasuredLength
from roundhand.yarn.swatches import SwatchWeight

_EVERYTHING = Choice()


class Reading(msgspec.Struct, frozen=True):
    """A pattern as it was understood: the text with its places, the tree, the counts, and the queries on it in the
    order of the page.

    `lengths` and `swatches` are what the designer has measured beside the pattern; `said` is a sentence for each line
    of that which makes no sense. `left` are queries that the editor's word on the page leaves, and `standing` those
    that were let stand before.
    """

    source: Source
    pattern: Pattern
    tally: Tally
    findings: tuple[Finding, ...]
    lengths: tuple[MeasuredLength, ...] = ()
    swatches: tuple[SwatchWeight, ...] = ()
    said: tuple[str, ...] = ()
    left: tuple[Finding, ...] = ()
    standing: tuple[Finding, ...] = ()

    @property
    def sizes(self) -> tuple[str, ...]:
        """The names of the sizes, in the order of the page."""
        return self.pattern.sizes


def understand(
    text: str,
    said: Iterable[Finding] = (),
    measured: Beside | None = None,
    choice: Choice = _EVERYTHING,
) -> Reading:
    """Any text as a pattern; `said` is what was found while it was decoded, `measured` what is kept beside it, `choice`
    which queries are wanted: without one all but house style.

    Never raises for anything the text holds. A text without rows gets the finding `nothing-to-work`.

    >>> reading = understand("Cap\\n\\nRnd 1: 6 sc in a magic ring. (6)\\nRnd 2: inc in each st around. (12)")
    >>> [row.worked for row in reading.tally.rows()]
    [(6,), (12,)]
    >>> understand("Dear diary").findings[0].name
    'nothing-to-work'
    """
    pattern, read = notation.read(text)
    counted, found = tally.count(pattern)
    return edited(text, pattern, counted, [*said, *read, *found], measured, choice)


def edited(
    text: str,
    pattern: Pattern,
    counted: Tally,
    findings: list[Finding],
    measured: Beside | None = None,
    choice: Choice = _EVERYTHING,
) -> Reading:
    """A text that has been read and counted, with the whole edit; `findings` are those of decoding, reading and
    counting, and the rest as for `understand`."""
    source = Source(text)
    own = kept(measured or Beside(), pattern)
    left: tuple[Finding, ...] = ()
    # Where no line is a row there is nothing to edit, and remarks on a missing gauge would only hide that.
    if any(isinstance(line, RowLine) for part in pattern.parts for line in part.lines) or any(counted.rows()):
        edit = checks.edited(checks.Sheet(source, counted, tuple(findings), own.lengths, own.swatches), choice)
        findings, left = list(edit.findings), edit.left
    if not any(counted.rows()):
        findings = in_order([_nothing(source), *findings])
    stands, wrong = read_table(measured.stands) if measured is not None else ((), "")
    told = own.said if not wrong else (*own.said, f"The table of queries that were let stand was passed over: {wrong}.")
    findings, standing = quieted(findings, stands, source, pattern)
    return Reading(source, pattern, counted, tuple(findings), own.lengths, own.swatches, told, left, tuple(standing))


def open_pattern(path: Path, choice: Choice = _EVERYTHING, anew: bool = False) -> Reading:
    """A pattern file understood, with what is kept beside it; `anew` says again what was let stand. Raises `UseError`
    as `read_text` does."""
    return understand_file(path, read_text(path), choice, anew)


def understand_file(path: Path, found: Text, choice: Choice = _EVERYTHING, anew: bool = False) -> Reading:
    """A pattern file that has been read to text, understood as `open_pattern` does."""
    kept_beside = beside(path)
    if anew:
        kept_beside = msgspec.structs.replace(kept_beside, stands="")
    return understand(found.text, found.findings, kept_beside, choice)


def size_of(reading: Reading, asked: str) -> int:
    """The position of the size that a person asks for by name, by its unique beginning, or by number from 1.

    Raises `UseError` with the sizes that there are.

    >>> reading = understand("Cap\\nSizes: Baby (Child, Adult)\\nRnd 1: 6 (7, 8) sc in a magic ring.")
    >>> size_of(reading, "ad"), size_of(reading, "1")
    (2, 0)
    >>> size_of(reading, "XL")
    Traceback (most recent call last):
    roundhand.workshop.use.UseError: There is no size “XL” here; the sizes are Baby, Child, Adult.
    """
    found = notation.find_size(asked, reading.sizes)
    if found is None:
        raise UseError(_no_one_size(asked, reading.sizes))
    return found


def _no_one_size(asked: str, sizes: tuple[str, ...]) -> str:
    """Why a word means no size, or more than one."""
    begun = [size for size in sizes if asked.strip() and size.casefold().startswith(asked.strip().casefold())]
    if len(begun) > 1:
        return f"“{spoken(asked)}” can mean {', '.join(map(spoken, begun[:-1]))} or {spoken(begun[-1])}; say which."
    if len(sizes) == 1:
        return f"There is no size “{spoken(asked)}” here; the pattern has one size, so leave out --size."
    return f"There is no size “{spoken(asked)}” here; the sizes are {', '.join(map(spoken, sizes))}."


def _nothing(source: Source) -> Finding:
    empty = not source.text.strip()
    return Finding(
        "nothing-to-work",
        "error",
        "the page is empty" if empty else "no row or round was found",
        Span(0, 0) if empty else source.line_span(1),
        because="" if empty else "no line begins with a label such as “Rnd 1:”, “Row 1:” or “Next 3 rnds:”",
        help="write each row on a line of its own, like “Rnd 1: 6 sc in a magic ring. (6)”",
    )
