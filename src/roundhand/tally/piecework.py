"""A piece while it is being counted, and where one begins."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from roundhand.notation.tree import Along, Chain, Evenly, Node, Rejoin, Ring, Times, Work, Yarn
from roundhand.tally.held import rejoins
from roundhand.tally.model import PieceTally, RowTally, StepTally, YarnEvent
from roundhand.tally.section import Section
from roundhand.tally.standing import Standing
from roundhand.tally.stretches import strands_in
from roundhand.tally.working import goes_around


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
        chains = cornered = False
        for node in body:
            slips = isinstance(node, Work) and all(item.stitch == "slip_stitch" for item in node.group)
            if slips and isinstance(node, Work) and node.into.what == "corner":
                # A yarn joined in a corner: a row goes along the edge that is named next, a round all round.
                cornered = section.rows[0].kind == "round"
                continue
            if isinstance(node, Chain):
                chains = True
                continue
            found = _starts(node)
            if found in ("row_ends", "edge") and goes_around(body):
                # Along one edge first, and round the corner to the next.
                return "around"
            if found:
                return found
            if isinstance(node, Work) and node.into.kind == "from_hook" and chains:
                return "start"
            if isinstance(node, Work | Times | Evenly) and not slips:
                # Where the first stitches go decides; later ones may go on along another edge.
                break
        if cornered:
            return "around"
    return ""


def begins_piece(section: Section, places: Sequence[Standing]) -> bool:
    """Whether a part begins a piece of its own; what goes all round begins one only round a flat piece."""
    edge = edge_of(section)
    if edge in ("around", "top"):
        return any(place.edges.flat and place.edges.foundation and not place.edging for place in places)
    return edge != ""


def _starts(node: Node) -> str:
    if isinstance(node, Chain):
        # A single chain only climbs to the height of the next row.
        return "start" if node.amount.values != (1,) else ""
    if isinstance(node, Ring):
        return "start"
    if isinstance(node, Along) and node.edge in ("chain", "foundation", "row_ends", "edge"):
        return "chain" if node.edge == "foundation" else node.edge
    if isinstance(node, Evenly) and node.along != "row":
        return "around" if node.along in ("sides", "side") else node.along
    if isinstance(node, Work):
        if node.into.kind == "ring" or is_foundation(node):
            return "start"
        if node.into.kind == "row_ends" or node.into.what == "row_end":
            return "row_ends"
        if node.into.what in ("other_side", "foundation"):
            return "chain"
        if node.into.what == "corner" or node.into.until:
            return "around"
    if isinstance(node, Times) and goes_around((node,)):
        return "around"
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
