"""Rows worked once more in other yarns: `work as for Square 1, using B`, `… with C instead of A`."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import msgspec

from roundhand.findings import Span
from roundhand.notation.tree import Node, Step, Stripes, Times, Yarn
from roundhand.tally.section import Body, Instance

Steps = list[tuple[int, Step]]
Dyed = tuple[tuple[str, str], ...]


def in_other_yarns(rows: list[Instance], steps: Steps, dyed: Dyed, span: Span) -> tuple[list[Instance], Steps] | None:
    """Rows and steps with each yarn of `dyed` in the place of another; one without a name stands for the only yarn of
    the rows, whether they name it or not. None where they have other yarns than the words speak of.

    `span` are the words that say so."""
    bodies = [body for row in rows for body in row.bodies if body is not None] + [step.nodes for _, step in steps]
    labels = {label for body in bodies for label in _labels(body)}
    changes: dict[str, str] = {}
    for old, new in dyed:
        if labels and (old not in labels if old else len(labels) > 1):
            return None
        changes[old or next(iter(labels), "")] = new
    if not labels:
        if len(changes) > 1:
            return None
        return _led(rows, steps, Yarn("with", next(iter(changes.values())), span))
    known: dict[int, Body] = {}

    def other(body: Body) -> Body:
        if id(body) not in known:
            known[id(body)] = tuple(_other(node, changes) for node in body)
        return known[id(body)]

    return (
        [
            msgspec.structs.replace(
                row,
                bodies=tuple(other(body) if body is not None else None for body in row.bodies),
                straight=tuple(other(body) if body is not None else None for body in row.straight),
            )
            for row in rows
        ],
        [(at, msgspec.structs.replace(step, nodes=other(step.nodes))) for at, step in steps],
    )


def _led(rows: list[Instance], steps: Steps, yarn: Yarn) -> tuple[list[Instance], Steps]:
    """Rows that name no yarn, with one taken up at their beginning."""
    if steps and steps[0][0] == 0:
        at, first = steps[0]
        return rows, [(at, msgspec.structs.replace(first, nodes=(yarn, *first.nodes))), *steps[1:]]
    if not rows:
        return rows, steps
    bodies = tuple((yarn, *body) if body is not None else None for body in rows[0].bodies)
    return [msgspec.structs.replace(rows[0], bodies=bodies), *rows[1:]], steps


def _labels(nodes: Iterable[Node]) -> Iterator[str]:
    """The labels of the yarns that some words name."""
    for node in nodes:
        if isinstance(node, Yarn):
            yield from (label for label in node.colour.split("+") if label and label != "*")
        elif isinstance(node, Stripes):
            yield from (label for label, _ in node.turns)
        elif isinstance(node, Times):
            yield from _labels(node.body)


def _other(node: Node, changes: dict[str, str]) -> Node:
    if isinstance(node, Yarn) and node.colour:
        colour = "+".join(changes.get(label, label) for label in node.colour.split("+"))
        return msgspec.structs.replace(node, colour=colour)
    if isinstance(node, Stripes):
        return msgspec.structs.replace(node, turns=tuple((changes.get(one, one), rows) for one, rows in node.turns))
    if isinstance(node, Times):
        return msgspec.structs.replace(node, body=tuple(_other(inner, changes) for inner in node.body))
    return node
