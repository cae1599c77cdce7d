"""Rows that repeat themselves.

`Rnd 3: Sc in each st around. Rep this rnd 4 more times.` is a row, and four more worked as it was, each on what stands
below it then; so is `Row 2: … Rep Row 2 until 20 sts rem`, where the counts tell how many. `Rnds 3-12: Rep Rnd 3`
behind a Rnd 3 takes that round in and works nine more.
"""

from __future__ import annotations

import msgspec

from roundhand.findings import Finding
from roundhand.notation.tree import Copy, Evenly, Label, Node, Plain, Plan, RowLine, Step, Times, Work
from roundhand.tally.copies import History

_STITCHES = (Work, Times, Evenly, Plain)


def parted(line: RowLine | Step) -> tuple[RowLine | Step, ...]:
    """A row that says how it is worked and that it is worked again, as the row and the line of those that follow it;
    any other line as it stands.

    The second has numbers for its label where the first has a range, else it is to be numbered on.
    """
    if not isinstance(line, RowLine) or not any(isinstance(node, _STITCHES) for node in line.nodes):
        return (line,)
    at = next((at for at, node in enumerate(line.nodes) if _reference(node) is not None), 0)
    copy = _reference(line.nodes[at])
    label = line.label
    if copy is None or copy.part or copy.side or label.first is None or not _takes_in(copy, line):
        return (line,)
    behind = tuple(node for node in line.nodes[at + 1 :] if not isinstance(node, _STITCHES))
    own = (*line.nodes[:at], *(node for node in line.nodes[at + 1 :] if node not in behind))
    if not any(isinstance(node, _STITCHES) for node in line.nodes[:at]):
        # "As Rnd 3: sc in each st around"
        own, behind = (*line.nodes[:at], *line.nodes[at + 1 :]), ()
    before = tuple(one for one in line.stated if one.span.start < copy.span.start)
    after = tuple(one for one in line.stated if one not in before)
    once = msgspec.structs.replace(label, last=label.first, ranged=False)
    row = msgspec.structs.replace(line, label=once, nodes=own, stated=before or (after if label.ranged else ()))
    again = msgspec.structs.replace(line, nodes=(line.nodes[at], *behind), stated=after, label=_later(label))
    return row, again


def _reference(node: Node) -> Copy | None:
    """The reference that a node is, or that a schedule works again."""
    return node.base if isinstance(node, Plan) else node if isinstance(node, Copy) else None


def _takes_in(copy: Copy, line: RowLine) -> bool:
    """Whether the rows that a copy names end with the row of its own line."""
    if copy.last_rows:
        return True
    first, last = line.label.first, line.label.last
    for size in line.sizes:
        low = first.at(size) if first is not None else None
        high = last.at(size) if last is not None else low
        begins = copy.first.at(size) if copy.first is not None else None
        ends = copy.last.at(size) if copy.last is not None else begins
        if low is None or high is None or begins is None or ends is None:
            continue
        if begins <= low <= ends <= high:
            return True
    return False


def _later(label: Label) -> Label:
    """The label of the rows behind the first of a range; without numbers where the label is no range."""
    if not label.ranged or label.first is None or label.last is None:
        return msgspec.structs.replace(label, first=None, last=None)
    later = tuple(None if number is None else number + 1 for number in label.first.values)
    return msgspec.structs.replace(label, first=msgspec.structs.replace(label.first, values=later))


def without_own(
    line: RowLine, copy: Copy, labels: list[list[int]], history: History
) -> tuple[list[list[int]], Finding | None]:
    """The numbers of a range that begins with the very rows it repeats, `Rnds 3-12: Rep Rnd 3` behind Rnd 3, without
    those that have been worked, and how that was read."""
    if not line.label.ranged or copy.first is None:
        return labels, None
    kept = []
    taken_in: tuple[int, int, int] | None = None
    for size, numbers in enumerate(labels):
        begins = copy.first.at(size)
        ends = copy.last.at(size) if copy.last is not None else begins
        reached = history.label[size]
        worked = history.by_label[size]
        if (
            begins is not None
            and numbers[:1] == [begins]
            and ends == reached
            and all(number in worked for number in range(begins, reached + 1))
        ):
            kept.append([number for number in numbers if number > reached])
            taken_in = taken_in or (begins, reached, numbers[-1])
        else:
            kept.append(numbers)
    if taken_in is None:
        return labels, None
    begins, reached, last = taken_in
    one = "Rnd" if line.label.kind == "round" else "Row"
    these = f"{one} {begins}" if begins == reached else f"{one}s {begins}-{reached}"
    rest = f"{one}s {reached + 1}-{last}" if last > reached + 1 else f"{one} {last}"
    return kept, Finding(
        "reading-chosen",
        "advice",
        f"read so: {rest} {'are' if last > reached + 1 else 'is'} worked as {these}",
        line.label.span,
        because=f"the label takes in {these}, which {'stands' if begins == reached else 'stand'} above already",
        help=f"write {rest} if that is meant",
        facts={"reading": "taken in", "first": begins, "last": last},
    )
