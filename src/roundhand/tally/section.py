"""Parts written out: one instance a row, with a label and the words of every size."""

from __future__ import annotations

import msgspec

from roundhand.notation.tree import Node, Part, RowLine, Stated, Step

Body = tuple[Node, ...]


class Instance(msgspec.Struct, frozen=True):
    """One row of the working order. `labels` and `bodies` are per size, None where the size has no such row.

    A row worked as another one in mirror image has the words of that one in `straight`."""

    part: str
    kind: str
    line: RowLine
    index: int
    labels: tuple[int | None, ...]
    bodies: tuple[Body | None, ...]
    stated: Stated | None
    last: tuple[bool, ...]
    copied: bool = False
    firm: bool = True
    straight: tuple[Body | None, ...] = ()


class Section(msgspec.Struct, frozen=True):
    """A part written out: its rows, and its steps with the number of rows that stand before each."""

    part: Part
    rows: tuple[Instance, ...]
    steps: tuple[tuple[int, Step], ...]
