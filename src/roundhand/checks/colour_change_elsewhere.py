"""A change of colour is told in one line and said to be in a row that stands in another.

A maker reads the rows in front of her; a change that belongs to none of them is made in the wrong one or forgotten.

Bad:
    MATERIALS
    Yarn A: worsted, slate
    Yarn B: worsted, samphire
    CAP
    Rnd 1: With A, 6 sc in a magic ring. (6)
    Rnds 2-4: Sc in each st around. (6) Change to B in last st of Rnd 5.
    Cut A.
    Rnd 5: With B, sc in each st around. (6)
    Fasten off.

Good:
    MATERIALS
    Yarn A: worsted, slate
    Yarn B: worsted, samphire
    CAP
    Rnd 1: With A, 6 sc in a magic ring. (6)
    Rnds 2-4: Sc in each st around. (6) Change to B in last st of Rnd 4.
    Cut A.
    Rnd 5: With B, sc in each st around. (6)
    Fasten off.
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding
from roundhand.notation.tree import RowLine, Yarn

GROUP = "colours"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every change whose row is not among those of its line, in some size."""
    own: dict[int, list[set[int]]] = {}
    lines: dict[int, RowLine] = {}
    for row in sheet.tally.rows():
        lines[id(row.line)] = row.line
        labels = own.setdefault(id(row.line), [set() for _ in sheet.pattern.sizes])
        for size, label in enumerate(row.labels):
            if label is not None:
                labels[size].add(label)
    for key, line in lines.items():
        for node in line.nodes:
            if not isinstance(node, Yarn) or node.act != "change" or node.at is None:
                continue
            wrong = [size for size, labels in enumerate(own[key]) if labels and (node.at.at(size) or 0) not in labels]
            if wrong:
                yield _finding(sheet, line, node, tuple(wrong), own[key][wrong[0]])


def _finding(sheet: Sheet, line: RowLine, node: Yarn, sizes: tuple[int, ...], labels: set[int]) -> Finding:
    assert node.at is not None
    word = "Rnd" if line.label.kind == "round" else "Row"
    said = node.at.at(sizes[0])
    held = f"{word} {min(labels)}" if len(labels) == 1 else f"{word}s {min(labels)} to {max(labels)}"
    return Finding(
        "colour-change-elsewhere",
        "warning",
        f"the change to {node.colour} is said of {word} {said}, this line holds {held}",
        node.at.words_of(sizes),
        tuple(sheet.pattern.sizes[size] for size in sizes),
        because=f"{word} {said} is not among the rows of this line; the change was made after its last row",
        help=f"{word} {max(labels)} is the last row here; or tell the change in the line of {word} {said}",
        facts={"colour": node.colour, "said": said, "last": max(labels)},
        label="not in this line",
    )
