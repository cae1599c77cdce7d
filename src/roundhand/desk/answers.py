"""What the page is answered, as values; whatever the workshop has a value for is that value."""

from __future__ import annotations

from typing import Literal

import msgspec
from msgspec import UNSET, UnsetType

from roundhand.workshop.listing import Listed
from roundhand.workshop.margins import LineCount, LookAt, TableRow
from roundhand.workshop.meanings import Meant
from roundhand.workshop.measure_rows import FigureRow, FigureTable
from roundhand.workshop.pattern_files import Opened
from roundhand.workshop.queries import PageQuery
from roundhand.workshop.revisions import Change


class Problem(msgspec.Struct, frozen=True):
    """What stands in the way, in one plain sentence, with a word for programs. `theirs` is what stands in a file that
    was changed elsewhere, null where the file is away."""

    title: str
    kind: str
    theirs: Opened | UnsetType | None = UNSET


class ExampleListed(msgspec.Struct, frozen=True):
    """A pattern that comes with roundhand."""

    name: str
    title: str


class DeskAnswer(msgspec.Struct, frozen=True):
    """The folder, by the name that is shown, and what can be done in it. `left_out` is what was not looked through, in
    one sentence; empty where everything was."""

    folder: str
    patterns: tuple[Listed, ...]
    left_out: str
    examples: tuple[ExampleListed, ...]
    version: str
    writable: bool
    publish: bool


class SavedAnswer(msgspec.Struct, frozen=True):
    """A text that was saved. `revision` is null where the text is in its file, but its history could not be written."""

    version: str
    revision: int | None
    saved: str


class Added(msgspec.Struct, frozen=True):
    """A new pattern."""

    name: str
    version: str


class Read(msgspec.Struct, frozen=True):
    """A text read and counted, as it looks in one size; `size` is its position among `sizes`."""

    number: int
    title: str
    sizes: tuple[str, ...]
    size: int
    terms: str
    units: Literal["in", "cm"]
    summary: str
    look: tuple[LookAt, ...]
    lines: tuple[LineCount, ...]
    rows: tuple[TableRow, ...]
    marks: tuple[Meant, ...]


class Queries(msgspec.Struct, frozen=True):
    """The whole edit. `more` is how many further queries there are that were left out."""

    number: int
    queries: tuple[PageQuery, ...]
    more: int


class WhyAnswer(msgspec.Struct, frozen=True):
    """The reasons behind a row, a sentence a line; what a phrase comes to is indented below it."""

    lines: tuple[str, ...]


class RevisionAnswer(msgspec.Struct, frozen=True):
    """The text of a revision, and how it differs from the pattern as it is now: `out` is what only the pattern has."""

    text: str
    difference: tuple[Change, ...]


class TextChanged(msgspec.Struct, frozen=True):
    """A text made from another, and how many lines of it changed."""

    text: str
    changes: int


class YarnFigures(msgspec.Struct, frozen=True):
    """What a yarn comes to in every size, and how sure that is, in a sentence."""

    label: str
    rows: tuple[FigureRow, ...]
    sure: str


class MeasuresAnswer(msgspec.Struct, frozen=True):
    """Measurements and yarn as tables, a column a size (`headings`), and what is to be said of them below."""

    headings: tuple[str, ...]
    pieces: tuple[FigureTable, ...]
    yarn: tuple[YarnFigures, ...]
    said: tuple[str, ...]


class ChartAnswer(msgspec.Struct, frozen=True):
    """A chart as SVG, with all that it says in words, and the names of the pieces that can be drawn."""

    title: str
    piece: str
    size: str
    svg: str
    words: tuple[str, ...]
    pieces: tuple[str, ...]


class LeafletAnswer(msgspec.Struct, frozen=True):
    """The pages of the printed leaflet as SVG, and all their words as plain text."""

    title: str
    pages: tuple[str, ...]
    words: str


class PublishedFile(msgspec.Struct, frozen=True):
    """A file that was made, and where the desk shows it."""

    name: str
    url: str


class PublishedAnswer(msgspec.Struct, frozen=True):
    """A folder that was published."""

    folder: str
    files: tuple[PublishedFile, ...]
