"""What the page asks, as values: the bodies of its requests."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from roundhand.workshop.text import MOST_BYTES

PatternText = Annotated[str, Meta(max_length=MOST_BYTES)]
SizeAt = Annotated[int, Meta(ge=0, le=999)]
Number = Annotated[int, Meta(ge=0, le=2**53 - 1)]
Window = Annotated[str, Meta(pattern="^[A-Za-z0-9-]+$", min_length=1, max_length=64)]
Words = Annotated[str, Meta(max_length=400)]


class SaveAsked(msgspec.Struct, frozen=True):
    """A text to save, the version it was made from (null: the pattern must not exist yet), and the window it is in."""

    text: PatternText
    base: Annotated[str, Meta(max_length=64)] | None
    window: Window


class AddAsked(msgspec.Struct, frozen=True):
    """A new pattern: a pasted text, or the copy of an example."""

    title: Words
    text: PatternText


class ReadAsked(msgspec.Struct, frozen=True):
    """A text to read, the position of the size to show (null: the first), and the number of this keystroke."""

    text: PatternText
    size: SizeAt | None = None
    number: Number = 0


class WhyAsked(msgspec.Struct, frozen=True):
    """A row asked for by its section and label, and by the line its label stands on where that is known; null for all
    its sizes."""

    text: PatternText
    label: Words
    part: Words = ""
    size: SizeAt | None = None
    line: Annotated[int, Meta(ge=1, le=2**31)] | None = None


class TextAsked(msgspec.Struct, frozen=True):
    """A text."""

    text: PatternText


class MeasuresAsked(msgspec.Struct, frozen=True):
    """A text to measure; with the name of its pattern what was measured and weighed beside it is reckoned with."""

    text: PatternText
    name: Words | None = None


class ChartAsked(msgspec.Struct, frozen=True):
    """A piece to draw in a size; null for the one that most wants a chart, and the first size that has it."""

    text: PatternText
    size: SizeAt | None = None
    part: Words | None = None


class LeafletAsked(msgspec.Struct, frozen=True):
    """A leaflet to see, on which paper, and whether in large print."""

    text: PatternText
    paper: Literal["A4", "Letter"] = "A4"
    large: bool = False


class ShiftAsked(msgspec.Struct, frozen=True):
    """A text to put into other terms."""

    text: PatternText
    to: Literal["US", "UK"]


class PublishAsked(msgspec.Struct, frozen=True):
    """A pattern to publish: the folder to make beside it (null: named after it), and whether errors may stay."""

    name: Words
    text: PatternText
    into: Words | None = None
    anyway: bool = False
