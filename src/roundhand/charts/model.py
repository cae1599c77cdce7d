"""A finished chart: the drawing, and the same in words."""

from __future__ import annotations

import msgspec

from roundhand.drawing import Drawing


class Chart(msgspec.Struct, frozen=True):
    """A colour chart of one piece in one size.

    `lines` are its rows in words, from the first row up, rows that are not drawn among them; `key` says what the
    letters and marks mean. `first` and `last` are the labels of the lowest and the highest row drawn, empty where
    nothing is. `repeat` stitches are worked `times` times in a row. `to_gauge` is false where no gauge gives the
    cells their shape. `not_drawn` says in a sentence what stands in the words alone, empty where all is drawn.
    """

    title: str
    description: str
    drawing: Drawing
    lines: tuple[str, ...]
    key: tuple[str, ...]
    first: str = ""
    last: str = ""
    repeat: int = 0
    times: int = 0
    to_gauge: bool = True
    not_drawn: str = ""

    @property
    def text(self) -> str:
        """The chart in words alone: title, description, key and rows."""
        key = [f"- {line}" for line in self.key]
        return "\n".join([self.title, "", self.description, "", *key, "", *self.lines]) + "\n"
