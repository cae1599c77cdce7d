"""How a remark on rows is written: which rows and sizes it concerns, in words that stand alone."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

from roundhand.checks.troubles import Trouble
from roundhand.findings import Finding, Source, Span
from roundhand.tally import RowTally


def groups(
    troubles: Iterable[Trouble], name: str, place: Callable[[Trouble], Span]
) -> Iterator[tuple[Span, list[Trouble]]]:
    """Troubles of one name gathered by the words they speak of: one remark for all sizes and all copies."""
    gathered: dict[tuple[Span, bool], list[Trouble]] = {}
    for trouble in troubles:
        if trouble.name == name:
            gathered.setdefault((place(trouble), trouble.follows is not None), []).append(trouble)
    for (span, follows), members in gathered.items():
        own = [member for member in members if not member.follows]
        if follows and (span, False) in gathered:
            # The first of these words is told already; its copies go with it.
            continue
        yield span, own or members


def sizes_of(troubles: Sequence[Trouble], names: tuple[str, ...]) -> tuple[str, ...]:
    """The names of the sizes that some troubles concern, in the pattern's order."""
    return tuple(names[size] for size in sorted({trouble.size for trouble in troubles}))


def positions_of(troubles: Sequence[Trouble]) -> tuple[int, ...]:
    """The positions of the sizes that some troubles concern."""
    return tuple(sorted({trouble.size for trouble in troubles}))


def per_size(troubles: Sequence[Trouble], value: Callable[[Trouble], int | None]) -> tuple[int | None, ...]:
    """A value of every size concerned, from its first row."""
    first: dict[int, Trouble] = {}
    for trouble in troubles:
        first.setdefault(trouble.size, trouble)
    return tuple(value(first[size]) for size in sorted(first))


def say_list(values: Sequence[int | None]) -> str:
    """Values as a size list; one number where they are all the same.

    >>> say_list((22, 22)), say_list((22, 24, 26))
    ('22', '22 (24, 26)')
    """
    shown = ["?" if value is None else str(value) for value in values]
    if len(set(shown)) == 1:
        return shown[0]
    return f"{shown[0]} ({', '.join(shown[1:])})"


def row_label(row: RowTally, size: int) -> str:
    """The row's label in a size."""
    return row.label_in(size) or row.label


def below_label(trouble: Trouble) -> str:
    """The label of the row below a troubled one, or what it is worked from."""
    offer = trouble.row.below[trouble.size]
    if offer is not None and offer.kind == "chain":
        return "the chain"
    if offer is not None and offer.kind == "ends":
        return "the edge"
    for row in reversed(trouble.piece.rows[: trouble.at]):
        if row.results[trouble.size] is not None:
            return row_label(row, trouble.size)
    return "the row below"


def unit(trouble: Trouble, count: int) -> str:
    """A number of stitches, chains or row ends, as the page would say it."""
    offer = trouble.row.below[trouble.size]
    word = "st"
    if offer is not None and offer.kind == "chain":
        word = "ch"
        return f"{count} ch"
    if offer is not None and offer.kind == "ends":
        word = "row end"
    return f"{count} {word if count == 1 else word + 's'}"


def follows_text(
    trouble: Trouble, source: Source, place: Callable[[Trouble], Span], sheet_troubles: Iterable[Trouble]
) -> str:
    """The name and place of the remark that a trouble follows from, as findings carry it."""
    if trouble.follows is None:
        return ""
    name, row = trouble.follows
    for other in sheet_troubles:
        if other.name == name and other.row is row and other.size == trouble.size:
            line, column = source.place(place(other).start)
            return f"{name} {line}:{column}"
    line, column = source.place(row.line.span.start)
    return f"{name} {line}:{column}"


def key(finding: Finding, source: Source) -> str:
    """A finding's name and place, by which another says that it follows."""
    line, column = source.place(finding.span.start)
    return f"{finding.name} {line}:{column}"
