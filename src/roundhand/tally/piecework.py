"""A piece while it is being counted, and where one begins."""

from __future__ import annotations

import msgspec

from roundhand.notation.tree import Chain, Evenly, Node, Rejoin, Ring, Skip, Times, Work, Yarn
from roundhand.tally.held import rejoins
from roundhand.tally.model import PieceTally, RowTally, StepTally, YarnEvent
from roundhand.tally.section import Section
from roundhand.tally.stretches import strands_in


class PieceMaker:
    """A piece while it is being counted."""

    def __init__(self, name: str, sizes: int, make: tuple[int, ...]) -> None:
        self.name = name
        self.make = make
        self.parts: list[str] = []
        self.rows: list[RowTally] = []
        self.steps: list[StepTally] = []
        self.events: list[list[YarnEvent]] = [[] for _ in range(sizes)]

    def row_of(self, label: int | None, size: int, otherwise: int) -> int:
        """The position of the last row with a label."""
        for at in range(len(self.rows) - 1, -1, -1):
            if self.rows[at].labels[size] == label:
                return at
        return otherwise

    def happen(self, nodes: tuple[Node, ...], in_use: str, size: int, row: int) -> None:
        """Notes what a row or step does to the yarns: changed, cut, carried or fastened off; `row` is its position."""
        events = self.events[size]
        for node in nodes:
            if not isinstance(node, Yarn):
                continue
            if node.act == "change" and node.colour:
                events.append(YarnEvent("change", node.colour, row, node.span))
            elif node.act in ("cut", "fasten"):
                at = row
                if node.at is not None and node.at.at(size) is not None:
                    at = self.row_of(node.at.at(size), size, row)
                if node.colour == "*":
                    used = dict.fromkeys(label for event in events for label in strands_in(event.colour) if label)
                    events += [YarnEvent("cut", label, at, node.span) for label in used]
                else:
                    act = "cut" if node.colour else "fasten"
                    for label in strands_in(node.colour or in_use):
                        events.append(YarnEvent(act, label, at, node.span, node.strands))
            elif node.act in ("carry", "drop", "keep"):
                events.append(YarnEvent(node.act, node.colour, row, node.span))

    def made(self) -> PieceTally:
        """The piece as counted, stated counts kept only where they hold."""
        return PieceTally(
            self.name,
            tuple(self.parts),
            tuple(_range_counts(self.rows)),
            tuple(self.steps),
            tuple(tuple(events) for events in self.events),
            (),
            self.make,
        )


def _range_counts(rows: list[RowTally]) -> list[RowTally]:
    """A count after a range holds for its last row, and for every row if none changes the count; a list that has a
    count for each row of the range holds row by row."""
    kept: list[RowTally] = []
    groups: dict[int, list[RowTally]] = {}
    for row in rows:
        groups.setdefault(id(row.line), []).append(row)
    same: dict[int, list[tuple[bool, int]]] = {}
    for key, group in groups.items():
        if len(group) == 1 or group[0].stated_by is None or group[0].stated_by not in group[0].line.stated:
            continue
        same[key] = []
        for size in range(len(group[0].labels)):
            own = [other for other in group if other.labels[size] is not None]
            counts = {result.count if result is not None else None for result in (one.results[size] for one in own)}
            same[key].append((len(counts) == 1, max((other.number for other in own), default=0)))
    for row in rows:
        holds = same.get(id(row.line))
        if holds is None:
            kept.append(row)
            continue
        stated = tuple(
            value if holds[size][0] or row.number == holds[size][1] else None for size, value in enumerate(row.stated)
        )
        kept.append(msgspec.structs.replace(row, stated=stated))
    return kept


def edge_of(section: Section) -> str:
    """What a part starts from: `start` for a chain, ring or foundation, an edge by its name, `joined` for a yarn joined
    anew, `rejoined` for one that takes up stitches left before; empty where it goes on with what is there."""
    for index, step in section.steps:
        if index > 0:
            break
        if step.act == "seam":
            continue
        if rejoins(step.nodes) is not None:
            return "rejoined"
        for node in step.nodes:
            found = _starts(node)
            if found:
                return found
    if section.rows:
        body = next((nodes for nodes in section.rows[0].bodies if nodes is not None), ())
        if rejoins(body) is not None:
            return "rejoined"
        chains = any(isinstance(node, Chain) for node in body)
        for node in body:
            if isinstance(node, Chain):
                continue
            found = _starts(node)
            if found:
                return found
            if isinstance(node, Work) and node.into.kind == "from_hook" and chains:
                return "start"
    return ""


def _starts(node: Node) -> str:
    if isinstance(node, Chain):
        # A single chain only climbs to the height of the next row.
        return "start" if node.amount.values != (1,) else ""
    if isinstance(node, Ring):
        return "start"
    if isinstance(node, Skip) and node.what == "other_side":
        return "chain"
    if isinstance(node, Evenly) and node.along != "row":
        return node.along
    if isinstance(node, Work):
        if node.into.kind == "ring" or is_foundation(node):
            return "start"
        if node.into.kind == "row_ends" or node.into.what == "row_end":
            return "row_ends"
    if isinstance(node, Times):
        for inner in node.body:
            if isinstance(inner, Work) and (inner.into.kind == "row_ends" or inner.into.what == "row_end"):
                return "row_ends"
    if (isinstance(node, Yarn) and node.act == "join") or (isinstance(node, Rejoin) and node.what == "loops"):
        return "joined"
    return ""


def is_foundation(node: Work) -> bool:
    """Whether the stitches make their own chain as they go."""
    return any(item.stitch.startswith("foundation_") for item in node.group)
