"""Notes that say one thing of a chain while the counts say the other: `Ch 3 counts as dc` over rows that count it not.

Each saying is tried the other way round over the whole pattern. Where that lets counts come out which do not come out
as said, and hardly any that did is lost by it, the note and the numbers contradict each other; which of them is wrong
only the designer knows.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

import msgspec

from roundhand.findings import Span
from roundhand.notation.tree import Chain, CountNote, Node, Pattern, Times
from roundhand.tally.model import Against, RowTally, Tally

# The key of asides on chains that a foundation skips, "(3 skipped ch count as dc)".
_SKIPPED = -1
# So many sayings of one pattern are tried, the first of the page first.
_MOST_SAYINGS = 4
# So many counts must come out by turning a note for each that is lost by it.
_FOR_EACH_LOST = 3
_Key = tuple[int, bool]


def contradictions(tally: Tally, counted: Callable[[Pattern], Tally]) -> tuple[Against, ...]:
    """The notes on chains that the counts of the rows speak against. `counted` counts a pattern."""
    if not any(_is_wrong(row, size) for row in tally.rows() for size in range(len(row.results))):
        return ()
    found = []
    told: set[tuple[int, int]] = set()
    for key, spans in list(_sayings(tally.pattern).items())[:_MOST_SAYINGS]:
        other = counted(_turned(tally.pattern, key))
        rows, won, lost = _compared(tally, other)
        if won and won >= _FOR_EACH_LOST * lost and not set(rows) <= told:
            told |= set(rows)
            found.append(Against(spans[0], key[0] if key[0] != _SKIPPED else 0, key[1], tuple(rows.values())))
    return tuple(found)


def _sayings(pattern: Pattern) -> dict[_Key, list[Span]]:
    """What the page says of chains, by their number and whether they count, with the words that say it."""
    found: dict[_Key, list[Span]] = {}
    for note in pattern.count_notes:
        found.setdefault((note.chains, note.counts), []).append(note.span)
    for part in pattern.parts:
        for line in part.lines:
            for chain in _said_in(line.nodes):
                found.setdefault(_key(chain), []).append(chain.counts_span or chain.span)
    return found


def _said_in(nodes: tuple[Node, ...]) -> Iterator[Chain]:
    for node in nodes:
        if isinstance(node, Chain) and node.counts is not None:
            yield node
        elif isinstance(node, Times):
            yield from _said_in(node.body)


def _key(chain: Chain) -> _Key:
    number = chain.amount.values[0] or 0
    return number or _SKIPPED, bool(chain.counts)


def _turned(pattern: Pattern, key: _Key) -> Pattern:
    """The pattern as if it said the other of these chains."""
    notes = tuple(
        CountNote(note.chains, not note.counts, note.span) if (note.chains, note.counts) == key else note
        for note in pattern.count_notes
    )
    parts = tuple(
        msgspec.structs.replace(
            part,
            lines=tuple(
                msgspec.structs.replace(line, nodes=tuple(_other(node, key) for node in line.nodes))
                for line in part.lines
            ),
        )
        for part in pattern.parts
    )
    return msgspec.structs.replace(pattern, count_notes=notes, parts=parts)


def _other(node: Node, key: _Key) -> Node:
    if isinstance(node, Times):
        return msgspec.structs.replace(node, body=tuple(_other(inner, key) for inner in node.body))
    if not isinstance(node, Chain) or node.counts is None:
        return node
    # A note on all turning chains is turned with everything that says the same of one of them.
    same = _key(node) == key or (key[0] == 0 and node.counts == key[1])
    return msgspec.structs.replace(node, counts=not node.counts, space=None) if same else node


def _compared(tally: Tally, other: Tally) -> tuple[dict[tuple[int, int], RowTally], int, int]:
    """The rows whose counts come out in the other tally alone, and how many counts are won and lost by it."""
    mine, theirs = list(tally.rows()), list(other.rows())
    if [(row.line.span, row.labels) for row in mine] != [(row.line.span, row.labels) for row in theirs]:
        return {}, 0, 0
    rows: dict[tuple[int, int], RowTally] = {}
    won = lost = 0
    for row, turned in zip(mine, theirs, strict=True):
        for size in range(len(row.results)):
            before, after = _comes_out(row, size), _comes_out(turned, size)
            if after and before is False:
                won += 1
                if not row.copied:
                    rows.setdefault((row.line.span.start, row.line.span.end), turned)
            elif before and after is False:
                lost += 1
    return rows, won, lost


def _comes_out(row: RowTally, size: int) -> bool | None:
    """Whether a row comes out as stated; None where nothing is stated of it."""
    result, want = row.results[size], row.stated[size]
    if result is None or want is None:
        return None
    return want == result.count and not result.lacking and not result.left_over


def _is_wrong(row: RowTally, size: int) -> bool:
    return _comes_out(row, size) is False
