"""Rows worked as earlier ones were: which rows a reference means, how many it makes, and whether that comes out."""

from __future__ import annotations

from roundhand.findings import Finding, Mark, Span
from roundhand.measures import say_count
from roundhand.notation.tree import Copy, RowLine
from roundhand.tally.section import Body

MOST_ROWS = 10_000


class History:
    """What has been worked so far, by label, so that a reference finds its rows."""

    def __init__(self, sizes: int) -> None:
        self.sizes = sizes
        self.by_label: list[dict[int, Body]] = [{} for _ in range(sizes)]
        self.above: list[dict[int, Body]] = [{} for _ in range(sizes)]
        self.order: list[list[Body]] = [[] for _ in range(sizes)]
        self.label: list[int] = [0] * sizes

    def begin_part(self) -> None:
        """A heading: numbers may restart, and references look here first, then above."""
        for size in range(self.sizes):
            self.above[size].update(self.by_label[size])
            self.by_label[size] = {}

    def add(self, size: int, label: int, body: Body) -> None:
        """A row has been worked."""
        self.by_label[size][label] = body
        self.order[size].append(body)
        self.label[size] = label

    def find(self, size: int, label: int) -> Body | None:
        """The instructions of a row by its label, in this part or above."""
        found = self.by_label[size].get(label)
        return found if found is not None else self.above[size].get(label)


def blocks_of(
    copy: Copy,
    labels: list[list[int]],
    history: History,
    line: RowLine | None,
    sizes: tuple[str, ...],
    findings: list[Finding],
) -> list[list[Body]]:
    """The rows that a copy names, in every size; what is missing is said once."""
    blocks: list[list[Body]] = []
    absent: dict[int, list[int]] = {}
    backwards: dict[tuple[int, int], list[int]] = {}
    for size in range(history.sizes):
        if line is not None and size not in line.sizes:
            blocks.append([])
            continue
        if copy.last_rows:
            order = history.order[size]
            blocks.append(order[-copy.last_rows :] if order else [])
            continue
        first = copy.first.at(size) if copy.first is not None else None
        last = copy.last.at(size) if copy.last is not None else first
        block: list[Body] = []
        if first is not None and last is not None:
            if last < first and (labels[size] or line is None):
                backwards.setdefault((first, last), []).append(size)
            for number in range(first, min(last, first + MOST_ROWS) + 1):
                body = history.find(size, number)
                if body is None:
                    if labels[size] or line is None:
                        absent.setdefault(number, []).append(size)
                else:
                    block.append(body)
        blocks.append(block)
    for (first, last), concerned_sizes in backwards.items():
        findings.append(_backwards(copy, first, last, tuple(sizes[size] for size in concerned_sizes)))
    if absent:
        number = min(absent)
        concerned = tuple(sizes[size] for size in absent[number])
        itself = any(number in labels[size] for size in absent[number])
        findings.append(
            Finding(
                "reference-incomplete",
                "error",
                f"row {number} repeats itself" if itself else f"there is no row {number} to repeat",
                copy.span,
                concerned,
                because=(
                    f"row {number} is one of the rows that this label names, and nothing above says how it is worked"
                    if itself
                    else "no row with that number stands above, in this section or before it"
                ),
                help="name rows that have been worked, or write the row out",
                facts={"rows": tuple(sorted(absent))},
            )
        )
    return blocks


def _backwards(copy: Copy, first: int, last: int, concerned: tuple[str, ...]) -> Finding:
    """`reference-incomplete` where the rows to be repeated end before they begin."""
    return Finding(
        "reference-incomplete",
        "error",
        f"rows {first} to {last} end before they begin",
        copy.span,
        concerned,
        because=f"row {last} stands above row {first}, so nothing lies between them to be repeated",
        help="look at both numbers; the first row comes first",
        facts={"rows": (first, last)},
    )


def copied_labels(
    line: RowLine, copy: Copy, labels: list[list[int]], blocks: list[list[Body]], history: History
) -> list[list[int]]:
    """Labels of a copy whose own label is a single number but which makes several rows."""
    if line.label.ranged or line.label.next_rows is not None:
        return labels
    found = []
    for size, numbers in enumerate(labels):
        rows = rows_of(copy, size, len(blocks[size]), numbers[0] - 1 if numbers else 0)
        if numbers and rows is not None and rows > 1 and copy.mode != "once":
            found.append(list(range(numbers[0], numbers[0] + rows)))
        else:
            found.append(numbers)
    return found


def rows_of(copy: Copy, size: int, block: int, label: int, following: int | None = None) -> int | None:
    """How many rows a copy makes in a size; None where its words do not say.

    The number of the row that follows tells whether "5 times" takes the first time in, and how often rows are worked
    that only a length ends.
    """
    amount = copy.amount.at(size) if copy.amount is not None else None
    gap = following - label - 1 if following is not None else 0
    if copy.mode == "unsaid" and amount is not None and gap == block * (amount - 1) > 0:
        return gap
    if copy.mode == "unknown" and gap > 0:
        return min(gap, MOST_ROWS)
    if copy.mode in ("more", "unsaid"):
        return min(block * amount, MOST_ROWS) if amount is not None else None
    if copy.mode == "rows":
        return amount
    if copy.mode == "until":
        return max(0, min(amount, MOST_ROWS) - label) if amount is not None else None
    if copy.mode == "unknown":
        return None
    return block


def range_finding(
    line: RowLine, copy: Copy, lengths: list[int], blocks: list[int], sizes: tuple[str, ...]
) -> Finding | None:
    """`row-range-differs`: the rows of the label against the rows that the words repeat."""
    wrong: list[int] = []
    asked: list[int] = []
    # Two rows by turns may end with either; that is worth a look, and no more.
    by_turns = copy.mode == "once"
    for size, length in enumerate(lengths):
        block = blocks[size]
        if not length or not block:
            continue
        amount = copy.amount.at(size) if copy.amount is not None else None
        if copy.mode in ("more", "unsaid") and amount is not None:
            if length != block * amount and not (copy.mode == "unsaid" and length == block * (amount - 1)):
                wrong.append(size)
                asked.append(block * amount)
        elif copy.mode == "once" and length % block and not copy.ends:
            by_turns = by_turns and block == 2
            wrong.append(size)
            asked.append(length - length % block)
    if not wrong:
        return None
    size = wrong[0]
    length, block = lengths[size], blocks[size]
    amount = copy.amount.at(size) if copy.amount is not None else None
    if amount is not None:
        headline = f"{length} rows in the label, {asked[0]} in the words"
        because = f"{say_count(block, 'row')} worked {say_count(amount, 'time')} are {asked[0]} rows"
        fits = length // block if length % block == 0 else None
        way = (
            f"{fits} times would make the {length} rows of the label"
            if fits is not None
            else f"a label of {asked[0]} rows would fit, or {length // block} or {length // block + 1} times"
        )
    else:
        headline = f"{length} rows are no whole number of {block}"
        because = f"the label holds {length // block} times {block} rows and {length % block} over"
        way = f"a label of {length - length % block} or {length - length % block + block} rows would fit"
    span = line.label.span
    last = line.label.last
    if last is not None:
        span = Span(line.label.span.start, last.span.end)
    see = (Mark(copy.times_span, f"{asked[0]} rows"),) if copy.times_span is not None else ()
    return Finding(
        "row-range-differs",
        "warning" if by_turns else "error",
        headline,
        span,
        tuple(sizes[at] for at in wrong),
        because=because,
        help=way,
        see=see,
        facts={"label_rows": length, "block": block, "times": amount, "asked": asked[0]},
    )
