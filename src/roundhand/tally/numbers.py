"""The numbers that a label gives its rows in every size."""

from __future__ import annotations

from roundhand.findings import Finding
from roundhand.measures import say_count
from roundhand.notation.tree import Plain, RowLine
from roundhand.tally.copies import MOST_ROWS, History


def labels_of(line: RowLine, history: History) -> list[list[int]]:
    """The row numbers that the label gives in every size; empty where the size has no such row."""
    label = line.label
    found: list[list[int]] = []
    for size in range(history.sizes):
        if size not in line.sizes:
            found.append([])
            continue
        if label.next_rows is not None:
            count = label.next_rows.at(size) or 0
            start = history.label[size] + 1
            found.append(list(range(start, start + min(count, MOST_ROWS))))
            continue
        first = label.first.at(size) if label.first is not None else None
        last = label.last.at(size) if label.last is not None else first
        if first is None or last is None:
            found.append([])
            continue
        # A range that runs backwards is told; its first row is certain.
        found.append(list(range(first, min(max(first, last), first + MOST_ROWS) + 1)))
    return found


def backwards(line: RowLine, labels: list[list[int]], sizes: tuple[str, ...]) -> list[Finding]:
    """`row-range-differs` where a range ends before it begins."""
    first, last = line.label.first, line.label.last
    if first is None or last is None:
        return []
    wrong = []
    for size, numbers in enumerate(labels):
        begins, ends = first.at(size), last.at(size)
        if numbers and begins is not None and ends is not None and ends < begins:
            wrong.append((size, begins, ends))
    if not wrong:
        return []
    size, begins, ends = wrong[0]
    word = "Rnds" if line.label.kind == "round" else "Rows"
    at = tuple(found[0] for found in wrong)
    return [
        Finding(
            "row-range-differs",
            "error",
            f"{word} {begins}-{ends} run backwards",
            last.words_of(at) if len(last.spans) == len(last.values) else line.label.span,
            tuple(sizes[one] for one in at),
            row=f"{'Rnd' if word == 'Rnds' else 'Row'} {begins}",
            because=f"the range begins with {begins} and ends with {ends}",
            help="a digit of its last number is missing or wrong; only the first of these rows is worked",
            facts={"begins": begins, "ends": ends},
        )
    ]


def miscounted(line: RowLine, labels: list[list[int]], sizes: tuple[str, ...]) -> list[Finding]:
    """`row-range-differs` where a range does not hold as many rows as its label says, `Rnds 11-20 (9R)`."""
    said = line.label.rows
    if said is None:
        return []
    wrong = [size for size, numbers in enumerate(labels) if numbers and said.at(size) not in (None, len(numbers))]
    if not wrong:
        return []
    numbers, asked = labels[wrong[0]], said.at(wrong[0]) or 0
    word = "Rnd" if line.label.kind == "round" else "Row"
    return [
        Finding(
            "row-range-differs",
            "error",
            f"{len(numbers)} rows in the range, {asked} said beside it",
            line.label.span.to(said.span),
            tuple(sizes[size] for size in wrong),
            row=f"{word} {numbers[0]}",
            because=f"{word}s {numbers[0]}-{numbers[-1]} are {say_count(len(numbers), 'row')}",
            help=f"{len(numbers)} would agree with the range, or a range that ends with {numbers[0] + asked - 1}",
            facts={"label_rows": len(numbers), "said": asked},
        )
    ]


def plain_labels(line: RowLine, plain: Plain, labels: list[list[int]], history: History) -> list[list[int]]:
    """`Rnd 9: work 5 rnds even` makes as many rows as its words say where its label is a single number."""
    if line.label.ranged or line.label.next_rows is not None:
        return labels
    found = []
    for size, numbers in enumerate(labels):
        rows = plain.rows.at(size) or 0
        found.append(list(range(numbers[0], numbers[0] + min(rows, MOST_ROWS))) if numbers else [])
    return found
