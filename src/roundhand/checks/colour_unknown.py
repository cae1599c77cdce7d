"""A colour is used that the materials do not name.

A maker cannot buy it, and cannot know whether it is a slip for another.

Bad:
    MATERIALS
    Yarn A: worsted, slate
    Yarn B: worsted, samphire
    CAP
    Rnd 1: With A, 6 sc in a magic ring. (6)
    Cut A.
    Rnd 2: With C, inc in each st around. (12)
    Fasten off C.

Good:
    MATERIALS
    Yarn A: worsted, slate
    Yarn B: worsted, samphire
    CAP
    Rnd 1: With A, 6 sc in a magic ring. (6)
    Cut A.
    Rnd 2: With B, inc in each st around. (12)
    Fasten off B.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Span
from roundhand.notation.tree import Node, RowLine, Step, Times, Yarn


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every colour that is not declared, at its first mention."""
    declared = [yarn.label for yarn in sheet.pattern.yarns if yarn.label]
    if not declared:
        return
    known = set(declared)
    for part in sheet.pattern.parts:
        for line in part.lines:
            for node in _yarns(line.nodes):
                if not node.colour or node.colour == "*" or node.colour in known:
                    continue
                known.add(node.colour)
                span = _word(sheet.text, node)
                yield Finding(
                    "colour-unknown",
                    "warning",
                    f"{node.colour} is not among the yarns",
                    span,
                    tuple(sheet.pattern.sizes[size] for size in line.sizes),
                    row=_row(line, node),
                    because=f"the materials name {', '.join(declared)}",
                    help=f"add {node.colour} to the materials, or write the colour that is meant",
                    facts={"colour": node.colour, "declared": tuple(declared)},
                    label="not in the materials",
                )


def _yarns(nodes: Iterable[Node]) -> Iterator[Yarn]:
    for node in nodes:
        if isinstance(node, Yarn):
            yield node
        elif isinstance(node, Times):
            yield from _yarns(node.body)


def _word(text: str, node: Yarn) -> Span:
    found = re.compile(rf"(?<!\w){re.escape(node.colour)}(?!\w)").search(text, node.span.start, node.span.end)
    return Span(found.start(), found.end()) if found is not None else node.span


def _row(line: RowLine | Step, node: Yarn) -> str:
    """The row that a change is said of, where it names one: "in last st of Rnd 15"."""
    at = node.at.at(line.sizes[0]) if node.at is not None and line.sizes else None
    if at is None or not isinstance(line, RowLine):
        return ""
    return f"{'Rnd' if line.label.kind == 'round' else 'Row'} {at}"
