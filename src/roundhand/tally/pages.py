"""The parts of a pattern written out row by row, with their schedules as soon as the counts below them are known."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import msgspec

from roundhand.findings import Finding, Span
from roundhand.notation.tree import (
    Amount,
    Copy,
    Label,
    Part,
    Plain,
    Plan,
    RowLine,
    Step,
    Stripes,
    Times,
    Work,
    Yarn,
)
from roundhand.tally.again import parted
from roundhand.tally.copies import MOST_ROWS, History
from roundhand.tally.expand import following, instances, line_rows, unlabelled
from roundhand.tally.numbers import labels_of
from roundhand.tally.ordering import in_working_order
from roundhand.tally.schedules import write_out
from roundhand.tally.scheduling import Ground
from roundhand.tally.section import Body, Instance, Section
from roundhand.tally.sides import with_turn
from roundhand.tally.twins import Twins

GroundOf = Callable[[int, str, Plan], Ground]
# Further on than this no label bears on a schedule.
_NEAR = 20


class Leaf:
    """A part written out: its rows, and its steps with the number of rows that stand before each. Where a schedule
    stands whose rows only the counts can tell, `go_on` writes it out and what follows up to the next one."""

    def __init__(self, part: Part, pages: Pages) -> None:
        self.part = part
        self.rows: list[Instance] = []
        self.steps: list[tuple[int, Step]] = []
        self.pages = pages
        self.lines = [one for line in in_working_order(part.lines) for half in parted(line) for one in _phases(half)]
        self.at = 0
        self.kind = "round"
        # Odd rows are right side rows unless a label says otherwise.
        self.odd = True
        self._to_schedule()

    @property
    def waits(self) -> bool:
        """Whether rows are still to be written out."""
        return self.at < len(self.lines) and not self.pages.full

    def section(self) -> Section:
        """What is written out so far."""
        return Section(self.part, tuple(self.rows), tuple(self.steps))

    def _to_schedule(self) -> None:
        """Writes lines out up to the next schedule."""
        while self.waits and schedule_of(self.lines[self.at]) is None:
            self._line(self.lines[self.at])

    def _line(self, line: RowLine | Step, schedule: Callable[[RowLine], list[Instance]] | None = None) -> None:
        pages = self.pages
        self.at += 1
        if not pages.full:
            pages.over = line.label.span if isinstance(line, RowLine) else line.span
        room = MOST_ROWS + 1 - pages.total
        if schedule is not None:
            if isinstance(line, Step) or _goes_on(line):
                rows = schedule(_as_row(line, self.kind, pages.history))
            else:
                rows = schedule(line)
            if isinstance(line, Step) and len(line.nodes) > 1:
                self.steps.append((len(self.rows) + len(rows), line))
        elif (twin := _twin_of(line)) is not None:
            rows = self._as_twin(twin, line)
        elif isinstance(line, RowLine):
            self._side(line)
            self.kind = line.label.kind or self.kind
            if pages.turned_rounds and self.kind == "round":
                line = with_turn(line)
            rows = (
                self._unlabelled(line)
                if _goes_on(line)
                else line_rows(line, self.part, pages.history, pages.sizes, pages.findings)
            )
        else:
            rows = self._unlabelled(line)
            if len(line.nodes) > 1 or not any(isinstance(node, Copy | Plain) for node in line.nodes):
                self.steps.append((len(self.rows) + len(rows), line))
        del rows[room:]
        pages.total += len(rows)
        if pages.full:
            del rows[-1:]
        self.rows += rows

    def _unlabelled(self, line: RowLine | Step) -> list[Instance]:
        """The rows of a line without a label, if it makes any."""
        node = next((node for node in line.nodes if isinstance(node, Copy | Plain)), None)
        if node is None:
            return []
        pages, after = self.pages, following(self.lines, self.at - 1)
        return unlabelled(line, node, self.part, self.kind, pages.history, pages.sizes, pages.findings, after)

    def _as_twin(self, twin: Copy, line: RowLine | Step) -> list[Instance]:
        """Rows worked as those of another piece or side, with the steps that stand among them."""
        pages = self.pages
        if isinstance(line, RowLine):
            self.kind = line.label.kind or self.kind
            labels = labels_of(line, pages.history)
            rows, along = pages.twins.under_label(twin, line, self.part, labels, pages.sizes, pages.findings)
        else:
            rows, along = pages.twins.of(twin, line, self.part, self.rows, self.steps, pages.sizes, pages.findings)
            if len(line.nodes) > 1:
                self.steps.append((len(self.rows), line))
        self.steps += [(len(self.rows) + at, step) for at, step in along]
        _remember(rows, pages.history)
        return rows

    def _side(self, line: RowLine) -> None:
        number = next((value for value in line.label.first.values if value), None) if line.label.first else None
        if line.label.side and number is not None:
            self.odd = (number % 2 == 1) == (line.label.side == "RS")

    def go_on(self, ground_of: GroundOf) -> bool:
        """Writes out the schedule that stands next, on the ground it begins on, and goes on to the one after; False
        where all rows are written."""
        if not self.waits:
            return False
        self._line(self.lines[self.at], lambda line: self._scheduled(line, ground_of))
        self._to_schedule()
        return True

    def _scheduled(self, line: RowLine, ground_of: GroundOf) -> list[Instance]:
        plan = schedule_of(line)
        assert plan is not None
        if line.label.kind:
            self.kind = line.label.kind
        pages = self.pages
        labels = labels_of(line, pages.history)
        ahead = self.lines[self.at : self.at + _NEAR]
        near = ahead[0] if ahead else None
        following = next((one for one in ahead if isinstance(one, RowLine)), None)
        grounds: list[Ground | None] = []
        for size, numbers in enumerate(labels):
            if not numbers:
                grounds.append(None)
                continue
            firm = line.label.ranged or (line.label.next_rows is not None and len(numbers) > 1)
            said = plan.rows.at(size) if plan.rows is not None else len(numbers) if firm else None
            next_label = following.label.first.at(size) if following and following.label.first is not None else None
            adjoins = not any(isinstance(one, Step) and schedule_of(one) is not None for one in ahead)
            room = next_label - numbers[0] if next_label is not None and next_label > numbers[0] and adjoins else None
            body = following.nodes if following is not None and near is following else None
            if body is not None and any(isinstance(node, Copy | Plain | Plan) for node in body):
                body = None
            grounds.append(
                msgspec.structs.replace(
                    ground_of(size, self.part.name, plan),
                    start=numbers[0],
                    rows=said,
                    room=room,
                    stated=_said(line, size),
                    odd=self.odd,
                    following=body,
                )
            )
        written = write_out(plan, line, grounds, pages.history, pages.sizes)
        pages.findings += written.findings
        found = [
            list(range(numbers[0], numbers[0] + len(block))) if numbers else []
            for numbers, block in zip(labels, written.blocks, strict=True)
        ]
        blocks = [list(block) for block in written.blocks]
        return instances(line, self.part, found, blocks, pages.history, _yarns(line), written.like)


class Pages:
    """All parts of a pattern, written out one behind the other, with the findings on ranges and references."""

    def __init__(self, parts: tuple[Part, ...], sizes: tuple[str, ...], turned_rounds: bool = False) -> None:
        self.parts = parts
        self.sizes = sizes
        self.turned_rounds = turned_rounds
        self.history = History(len(sizes))
        self.twins = Twins(len(sizes))
        self.findings: list[Finding] = []
        self.total = 0
        self.over: Span | None = None

    @property
    def full(self) -> bool:
        """Whether there are more rows than are worked."""
        return self.total > MOST_ROWS

    def sections(self) -> Iterator[Leaf]:
        """The parts in their order; each is to be written out before the next is asked for."""
        for part in self.parts:
            self.history.begin_part()
            leaf = Leaf(part, self)
            yield leaf
            self.twins.add(leaf.section())
        if self.full:
            self.findings.append(
                Finding(
                    "limit-reached",
                    "error",
                    f"more than {MOST_ROWS:,} rows; the rest is not worked",
                    self.over or self.parts[-1].span,
                    help="check the ranges of the rows: one of them may have a digit too many",
                )
            )


def _twin_of(line: RowLine | Step) -> Copy | None:
    """A reference to another piece or side, if the line holds one."""
    return next((node for node in line.nodes if isinstance(node, Copy) and (node.part or node.side)), None)


def _remember(rows: list[Instance], history: History) -> None:
    """Rows worked as those of another piece are rows that a later reference may mean."""
    for row in rows:
        for size, (label, body) in enumerate(zip(row.labels, row.bodies, strict=True)):
            if label is not None and body is not None:
                history.add(size, label, body)


def _phases(line: RowLine | Step) -> tuple[RowLine | Step, ...]:
    """A line that tells several schedules, one behind the other, as a line for each; the count is that of the last."""
    plans = [at for at, node in enumerate(line.nodes) if isinstance(node, Plan)]
    if len(plans) < 2:
        return (line,)
    first = msgspec.structs.replace(line, nodes=line.nodes[: plans[1]], stated=())
    found: list[RowLine | Step] = [first]
    for at, begin in enumerate(plans[1:], 1):
        last = at == len(plans) - 1
        nodes = line.nodes[begin : None if last else plans[at + 1]]
        plan = line.nodes[begin]
        found.append(Step(nodes, plan.span, line.sizes, "", line.stated if last else ()))
    return tuple(found)


def _goes_on(line: RowLine) -> bool:
    """Whether a line is numbered on from the row before: what a row says of how often it is worked again."""
    return line.label.first is None and line.label.next_rows is None


def schedule_of(line: RowLine | Step) -> Plan | None:
    """The schedule that a line holds, if any."""
    return next((node for node in line.nodes if isinstance(node, Plan)), None)


def has_schedules(parts: tuple[Part, ...]) -> bool:
    """Whether a pattern holds rows that only its counts can tell."""
    return any(schedule_of(line) is not None for part in parts for line in part.lines)


def _as_row(step: Step | RowLine, kind: str, history: History) -> RowLine:
    """A schedule without a label begins with the row that comes next."""
    values = tuple(number + 1 if size in step.sizes else None for size, number in enumerate(history.label))
    first = Amount(values, step.span)
    nodes = tuple(node for node in step.nodes if isinstance(node, Plan | Yarn | Stripes))
    return RowLine(Label(kind, step.span, first, first), nodes, step.stated, step.span, step.sizes)


def _yarns(line: RowLine) -> Body:
    """What a line says of yarns for its schedule; the words of its rows, where it gives them, hold it already."""
    plan = schedule_of(line)
    turns = (plan.stripes,) if plan is not None and plan.stripes is not None else ()
    if any(isinstance(node, Work | Times) for node in line.nodes):
        return (*turns, *(node for node in line.nodes if isinstance(node, Stripes)))
    return (*turns, *(node for node in line.nodes if isinstance(node, Yarn | Stripes)))


def _said(line: RowLine, size: int) -> int | None:
    """The one count stated for the last row of a line."""
    if not line.stated or len(line.stated[-1].counts) != 1:
        return None
    return line.stated[-1].counts[0][0].at(size)
