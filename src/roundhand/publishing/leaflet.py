"""The leaflet: all that a maker is given of a pattern, as one value that page, PDF and plain text are made from.

Her words stand in it as runs that join to what she wrote. What she left to be counted is filled in and marked as such.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

import msgspec

from roundhand.measures import Length
from roundhand.publishing.abbreviations import Abbreviation
from roundhand.publishing.words import Words

Lengths = tuple[Length | None, ...]
Figure = int | float | Fraction | None


class MeasureLine(msgspec.Struct, frozen=True):
    """A measure with a length for every size, None where a size has none, and the same measure stretched if it is one
    that stretches."""

    what: str
    lengths: Lengths
    stretched: Lengths | None = None


class YarnLineNeed(msgspec.Struct, frozen=True):
    """What a yarn comes to in every size: metres, grams and balls used, and in words what to buy. A tuple is empty
    where that is not known."""

    label: str
    colour: str
    lengths_m: tuple[Figure, ...]
    mass_g: tuple[Figure, ...]
    balls: tuple[Figure, ...]
    buy: tuple[str, ...]


class Chart(msgspec.Struct, frozen=True):
    """A drawing of a piece: SVG, with what it is called, what it shows, and all it says in words, line by line."""

    piece: str
    svg: bytes
    title: str
    description: str
    words: tuple[str, ...] = ()
    png: bytes | None = None


class Entry(msgspec.Struct, frozen=True):
    """A line of the materials, gauge, stitches or head: its key, empty for a line without one, and its words.

    `role` is `yarn`, `hook`, `notions`, `gauge`, `swatch`, or empty."""

    key: str
    words: Words
    role: str = ""


class Colour(msgspec.Struct, frozen=True):
    """A yarn by its label and the designer's word for its colour."""

    label: str
    name: str


class Filled(msgspec.Struct, frozen=True):
    """Counts that the pattern leaves out, worked out from the row: a number for every size, None where it has no such
    row. `rows` names the rows of a line that they hold for, empty if for all of it. `unknown` are the positions of
    sizes in which the row could not be worked. `words` say it all, as they are printed."""

    counts: tuple[int | None, ...]
    rows: str = ""
    unknown: tuple[int, ...] = ()
    words: Words = ()


class Block(msgspec.Struct, frozen=True):
    """A line of a section.

    `kind` is `row`, `step`, `prose`, or `sizes` for a line that says which sizes the next ones are for. `label` is
    what stands in front of a row, as she wrote it, with its colon; `labels` is the same for each size, None where the
    size has no such row; `numbers` is filled in where she gave a row no number. `sizes` are the positions of the
    sizes that the line is for.
    """

    kind: Literal["row", "step", "prose", "sizes"]
    words: Words
    sizes: tuple[int, ...]
    label: Words = ()
    labels: tuple[str | None, ...] = ()
    numbers: Words = ()
    filled: tuple[Filled, ...] = ()


class Section(msgspec.Struct, frozen=True):
    """What a heading begins. `kind` is `work`, `finishing` for work without rows, or `notes`; `care` is true for notes
    on safety and care."""

    name: str
    kind: Literal["work", "finishing", "notes"]
    blocks: tuple[Block, ...]
    care: bool = False


class Leaflet(msgspec.Struct, frozen=True):
    """A leaflet. Every field is there for every pattern; what the pattern does not say is empty.

    `language` names the terms of its words: `US`, `UK`, or those of an older book. `opening` are the sections of notes
    before the first section of work, `closing` those after the last, `sections` all between. `stated` are the measures
    that she wrote, `measures` those worked out from counts and gauge. `version` holds her lines on version and errata,
    `about` the other lines of the head. `listed` is her own list of abbreviations, `abbreviations` what her words use
    besides.
    """

    title: str
    language: str
    sizes: tuple[str, ...]
    version: tuple[Entry, ...]
    about: tuple[Entry, ...]
    intro: tuple[Words, ...]
    stated: tuple[MeasureLine, ...]
    size_notes: tuple[Entry, ...]
    measures: tuple[MeasureLine, ...]
    materials: tuple[Entry, ...]
    colours: tuple[Colour, ...]
    needs: tuple[YarnLineNeed, ...]
    gauge: tuple[Entry, ...]
    listed: tuple[Entry, ...]
    abbreviations: tuple[Abbreviation, ...]
    special: tuple[Entry, ...]
    opening: tuple[Section, ...]
    sections: tuple[Section, ...]
    closing: tuple[Section, ...]
    charts: tuple[Chart, ...]

    @property
    def fills(self) -> bool:
        """Whether any count or number was filled in, so that the leaflet has to say how these are marked."""
        sections = (*self.opening, *self.sections, *self.closing)
        return any(block.filled or block.numbers for section in sections for block in section.blocks)
