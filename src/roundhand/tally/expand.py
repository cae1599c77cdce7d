"""Lines of the page to rows: ranges, copies and size blocks written out, one instance a row with a label per size.

The i-th rows of all sizes within one line of the page are one instance. A copy takes the instructions of its rows, in
order, with their colours and readings, but not their stated counts; a change "in last st of Rnd 8" moves with it.
"""

from __future__ import annotations

from roundhand.findings import Finding, Span
from roundhand.notation.tree import (
    Amount,
    Copy,
    Label,
    Node,
    Part,
    Place,
    Plain,
    RowLine,
    Stated,
    Step,
    Stripes,
    Work,
    Yarn,
)
from roundhand.notation.tree import Item as StitchItem
from roundhand.tally.again import without_own
from roundhand.tally.copies import History, blocks_of, copied_labels, range_finding, rows_of
from roundhand.tally.growing import frame_of
from roundhand.tally.levelling import levelled
from roundhand.tally.numbers import backwards, labels_of, miscounted, plain_labels
from roundhand.tally.section import Body, Instance


def following(lines: list[RowLine | Step], at: int) -> RowLine | None:
    """The next line of a part with a number in front of it."""
    return next((line for line in lines[at + 1 :] if isinstance(line, RowLine) and line.label.first is not None), None)


def line_rows(
    line: RowLine, part: Part, history: History, sizes: tuple[str, ...], findings: list[Finding]
) -> list[Instance]:
    labels = labels_of(line, history)
    findings += backwards(line, labels, sizes) + miscounted(line, labels, sizes)
    copy = next((node for node in line.nodes if isinstance(node, Copy)), None)
    plain = next((node for node in line.nodes if isinstance(node, Plain)), None)
    if plain is not None:
        labels = plain_labels(line, plain, labels, history)
    blocks: list[list[Body]] = [[] for _ in sizes]
    if copy is not None:
        labels, said = without_own(line, copy, labels, history)
        if said is not None:
            findings.append(said)
        blocks = blocks_of(copy, labels, history, line, sizes, findings)
        said = range_finding(line, copy, [len(numbers) for numbers in labels], [len(block) for block in blocks], sizes)
        if said is not None and (line.label.ranged or line.label.next_rows is not None):
            findings.append(said)
        labels = copied_labels(line, copy, labels, blocks, history)
    own: Body = tuple(node for node in line.nodes if not isinstance(node, Copy))
    if plain is not None:
        # Rows worked even begin and end as the row below does, with its turning chain.
        below = next((history.order[size][-1] for size in line.sizes if history.order[size]), None)
        lead, trail = frame_of(below)
        at = own.index(plain)
        own = (*own[:at], *lead, _plain_work(plain), *trail, *own[at + 1 :])
    return instances(line, part, labels, blocks if copy is not None else None, history, own, copy is not None)


def instances(
    line: RowLine,
    part: Part,
    labels: list[list[int]],
    blocks: list[list[Body]] | None,
    history: History,
    own: Body,
    copied: bool,
) -> list[Instance]:
    """The rows of a line with these labels: made of `blocks` again and again, or of its own words."""
    sizes = history.sizes
    length = max((len(numbers) for numbers in labels), default=0)
    stripes = next((node for node in own if isinstance(node, Stripes)), None)
    if line.label.kind != "row":
        own = levelled(own)
    timed = any(isinstance(node, Yarn) and node.at is not None for node in own)
    rows = []
    for index in range(length):
        numbers: list[int | None] = []
        bodies: list[Body | None] = []
        for size in range(sizes):
            if index >= len(labels[size]):
                numbers.append(None)
                bodies.append(None)
                continue
            number = labels[size][index]
            numbers.append(number)
            line_says = _striped(own, stripes, index)
            if blocks is not None:
                block = blocks[size]
                if not block:
                    bodies.append(None)
                    continue
                body = _with_own(block[index % len(block)], line_says, number, size, line, labels[size])
            else:
                body = _at_label(line_says, number, size, labels[size]) if timed else line_says
            bodies.append(body)
            history.add(size, number, body)
        label = next((number for number in numbers if number is not None), None)
        stated, own_count = _stated_of(line, index, length, sizes, label)
        rows.append(
            Instance(
                part.name,
                line.label.kind or "round",
                line,
                index,
                tuple(numbers),
                _shared(bodies),
                stated,
                tuple(own_count or index == len(labels[size]) - 1 for size in range(sizes)),
                copied,
            )
        )
    return rows


def _stated_of(line: RowLine, index: int, rows: int, sizes: int, label: int | None) -> tuple[Stated | None, bool]:
    """The count stated for a row of a line, and whether it is the row's own: `Rnds 4-6: … (24, 30, 36)`,
    `[Rows 4-6: 58 sts]`."""
    if not line.stated:
        return None, False
    if any(one.rows is not None for one in line.stated):
        own = (one for one in line.stated if one.rows is not None and label is not None)
        found = next((one for one in own if one.rows is not None and one.rows[0] <= (label or 0) <= one.rows[1]), None)
        plain = next((one for one in reversed(line.stated) if one.rows is None), None)
        return (found, True) if found is not None else (plain, False)
    stated = line.stated[-1]
    if rows > 1 and sizes == 1 and len(stated.counts) == rows and len({unit for _, unit in stated.counts[:-1]}) == 1:
        amount, unit = stated.counts[index]
        if unit in ("", stated.counts[-1][1]) and is_alike(stated):
            return Stated(((amount, unit or stated.counts[-1][1]),), stated.span), True
    return stated, False


def is_alike(stated: Stated) -> bool:
    """Whether all numbers of a stated count tell the same thing: `(24, 30, 36 sts)`, and not `(12 dc, 4 ch-2 sps)`."""
    return len({unit for _, unit in stated.counts if unit}) <= 1


def _shared(bodies: list[Body | None]) -> tuple[Body | None, ...]:
    """Equal bodies made one object, so that what is worked once is known again."""
    seen: dict[Body, Body] = {}
    shared: list[Body | None] = []
    previous: Body | None = None
    for body in bodies:
        if body is None:
            shared.append(None)
        elif body is previous:
            shared.append(body)
        else:
            shared.append(seen.setdefault(body, body))
            previous = shared[-1]
    return tuple(shared)


def _at_label(nodes: Body, number: int, size: int, labels: list[int]) -> Body:
    """The instructions of one row of a range: what is said of another row of it is left out."""
    kept: list[Node] = []
    for node in nodes:
        if isinstance(node, Yarn) and node.at is not None:
            at = node.at.at(size)
            if at == number or (at is not None and at not in labels and number == labels[-1]):
                kept.append(node)
            continue
        kept.append(node)
    return tuple(kept)


def _striped(own: Body, stripes: Stripes | None, index: int) -> Body:
    """The words of a line for one of its rows, the first 0: where colours take turns, with the colour whose turn it
    is."""
    if stripes is None:
        return own
    schedule = [colour for colour, rows in stripes.turns for _ in range(rows)]
    colour = schedule[index % len(schedule)]
    rest = (node for node in own if not (isinstance(node, Stripes) or (isinstance(node, Yarn) and node.act == "with")))
    return (Yarn("with", colour, stripes.span), *rest)


def _with_own(body: Body, own: Body, number: int, size: int, line: RowLine, labels: list[int]) -> Body:
    """A copied row with what its new line adds: a yarn cut after it, or one colour kept throughout."""
    stay = next((node for node in own if isinstance(node, Yarn) and node.act == "stay"), None)
    if stay is not None:
        body = (
            stay,
            *(node for node in body if not (isinstance(node, Yarn) and node.act in ("with", "change", "join"))),
        )
    lead = tuple(node for node in own if isinstance(node, Yarn) and node.act in ("with", "join") and node.at is None)
    tail = tuple(node for node in own if isinstance(node, Yarn) and node not in lead and node is not stay)
    tail = tuple(
        node
        for node in _at_label(tail, number, size, labels)
        if isinstance(node, Yarn) and (node.at is not None or number == labels[-1])
    )
    if not lead and not tail:
        return body
    if lead:
        body = tuple(node for node in body if not (isinstance(node, Yarn) and node.act == "with" and node.at is None))
    return (*lead, *body, *tail)


def _plain_work(plain: Plain) -> Work:
    one = Amount((1,), plain.span)
    return Work((StitchItem(plain.stitch, one, plain.span),), Place("each", plain.span), plain.span)


def unlabelled(
    step: Step | RowLine,
    node: Copy | Plain,
    part: Part,
    kind: str,
    history: History,
    sizes: tuple[str, ...],
    findings: list[Finding],
    after: RowLine | None = None,
) -> list[Instance]:
    """Rows that a line without a label makes: `Rep Rnds 2-3 four more times`, `Work 5 rnds even`."""
    everyone = [[history.label[size] + 1] if size in step.sizes else [] for size in range(len(sizes))]
    counts: list[int | None] = []
    if isinstance(node, Copy):
        line_probe = RowLine(Label(kind, step.span), step.nodes, (), step.span, step.sizes)
        blocks = blocks_of(node, everyone, history, line_probe, sizes, findings)
        counts = [
            rows_of(node, size, len(blocks[size]), history.label[size], _number_of(after, size))
            for size in range(len(sizes))
        ]
    else:
        counts = [node.rows.at(size) for size in range(len(sizes))]
    values = tuple((count or 0) if size in step.sizes else None for size, count in enumerate(counts))
    if not any(values):
        return []
    label = Label(kind, Span(node.span.start, node.span.end), next_rows=Amount(values, node.span))
    stated = step.stated if isinstance(step, RowLine) else ()
    return line_rows(RowLine(label, step.nodes, stated, step.span, step.sizes), part, history, sizes, findings)


def _number_of(line: RowLine | None, size: int) -> int | None:
    if line is None or line.label.first is None or size not in line.sizes:
        return None
    return line.label.first.at(size)
