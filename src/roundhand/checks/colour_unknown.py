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
from roundhand.notation.tree import Node, RowLine, Step, Stripes, Times, Yarn
from roundhand.tally.stretches import strands_in

GROUP = "colours"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every colour that is not declared, at its first mention."""
    declared = [yarn.label for yarn in sheet.pattern.yarns if yarn.label]
    if not declared:
        return
    known = set(declared)
    for part in sheet.pattern.parts:
        for line in part.lines:
            for node, colour in yarns_in(line.nodes):
                if not colour or colour == "*" or colour in known:
                    continue
                known.add(colour)
                span = _word(sheet.text, node, colour)
                yield Finding(
                    "colour-unknown",
                    "warning",
                    f"{colour} is not among the yarns",
                    span,
                    tuple(sheet.pattern.sizes[size] for size in line.sizes),
                    row=_row(line, node),
                    because=f"the materials name {', '.join(declared)}",
                    help=f"add {colour} to the materials, or write the colour that is meant",
                    facts={"colour": colour, "declared": tuple(declared)},
                    label="not in the materials",
                )


def yarns_in(nodes: Iterable[Node]) -> Iterator[tuple[Yarn, str]]:
    """The words on yarns with each label in them: one, or those of the strands held together."""
    for node in nodes:
        if isinstance(node, Yarn):
            yield from ((node, label) for label in strands_in(node.colour))
        elif isinstance(node, Stripes):
            yield from ((Yarn("with", label, node.span), label) for label, _ in node.turns)
        elif isinstance(node, Times):
            yield from yarns_in(node.body)


def _word(text: str, node: Yarn, colour: str) -> Span:
    found = re.compile(rf"(?<!\w){re.escape(colour)}(?!\w)").search(text, node.span.start, node.span.end)
    return Span(found.start(), found.end()) if found is not None else node.span


def _row(line: RowLine | Step, node: Yarn) -> str:
    """The row that a change is said of, where it names one: "in last st of Rnd 15"."""
    at = node.at.at(line.sizes[0]) if node.at is not None and line.sizes else None
    if at is None or not isinstance(line, RowLine):
        return ""
    return f"{'Rnd' if line.label.kind == 'round' else 'Row'} {at}"
