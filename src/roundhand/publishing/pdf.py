"""The printed leaflet: A4 and Letter from one source, tagged for readers that speak, made to last."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cache
from importlib import resources
from itertools import groupby
from typing import Any, Literal

from roundhand.findings import Finding, Mark, Source, Span
from roundhand.press import (
    LackingError,
    PressError,
    finish_pdf,
    lacking,
    marker,
    picture_fits,
    picture_with_marks,
    picture_words,
    plain,
    set_pdf,
    set_pictures,
)
from roundhand.press.page import FAMILIES
from roundhand.publishing.figures import typeset
from roundhand.publishing.leaflet import Block, Chart, Entry, Leaflet, Section
from roundhand.publishing.tables import TableRow, measured_table, stated_table, yarn_table
from roundhand.publishing.words import Words, said
from roundhand.terms import side

Paper = Literal["a4", "us-letter"]

_LANGUAGES = {"US": ("en", "US"), "UK": ("en", "GB")}
# So many columns of sizes stand side by side on a page; more sizes go into a further table.
_MOST_COLUMNS = 7
# Large print is half as large again, which makes the text of rows 16 points; common practice is 16 to 18.
_LARGE = 1.5
# A line longer than this may run over the end of a page; it is never on two pages otherwise.
_LONG = 1500
_LONG_WORD = re.compile(r"[^\s\u200b]{40}(?=[^\s\u200b]{20})")
# A finding names so many further places of a sign; more would bury it.
_MOST_PLACES = 20


def pdf(leaflet: Leaflet, paper: Paper, root: str) -> bytes:
    """The leaflet as PDF, the same bytes for the same leaflet. `root` is the path of an empty folder.

    Signs that the fonts lack are shown as a replacement mark; `lacking_signs` tells where they stand. A drawing too
    large to be set is left out, and the leaflet says so. Raises `PressError` where the page cannot be set.
    """
    texts = list(_texts(_data(leaflet, paper, lambda text: text, _pictures(leaflet))))
    texts += [text for _, svg in _pictures(leaflet).values() for text in map(plain, picture_words(svg))]
    signs = lacking(texts, root)
    for _ in range(3):
        try:
            return finish_pdf(_set(leaflet, paper, root, signs))
        except LackingError as problem:  # A sign that only its neighbours make impossible.
            signs |= problem.signs
    raise PressError("The fonts lack signs of this leaflet in a way that could not be mended.")


def pages(leaflet: Leaflet, paper: Paper, root: str, large: bool = False) -> tuple[bytes, ...]:
    """The pages of the printed leaflet as they will look, each as SVG, in ordinary or in large print.

    `root` is the path of an empty folder. Raises `PressError` where a page cannot be set.
    """
    texts = list(_texts(_data(leaflet, paper, lambda text: text, _pictures(leaflet))))
    texts += [text for _, svg in _pictures(leaflet).values() for text in map(plain, picture_words(svg))]
    return set_pictures(*_to_set(leaflet, paper, root, lacking(texts, root), large))


def lacking_signs(leaflet: Leaflet, source: Source, root: str) -> tuple[Finding, ...]:
    """The finding `glyph-missing` for every sign of the leaflet that the fonts of the PDF lack, at its first place in
    the text. `root` is the path of an empty folder. Raises `PressError` where the fonts cannot be asked."""
    texts = list(_texts(_data(leaflet, "a4", lambda text: text, {})))
    found = []
    for sign in sorted(lacking(texts, root)):
        places = list(_occurrences(source.text, sign))
        if not places:
            continue
        more = tuple(Mark(place, "here too") for place in places[1 : 1 + _MOST_PLACES])
        found.append(
            Finding(
                "glyph-missing",
                "warning",
                f"the fonts of the printed leaflet have no “{sign}”",
                places[0],
                because="the leaflet shows � in its place; the page and the plain text show the sign itself",
                help="write it another way if the leaflet is to be printed",
                facts={"sign": sign, "code": " ".join(f"U+{ord(one):04X}" for one in sign), "times": len(places)},
                see=more,
                label="no such sign in the fonts",
            )
        )
    return tuple(sorted(found, key=lambda one: one.span))


def _occurrences(text: str, sign: str) -> Iterator[Span]:
    at = text.find(sign)
    while at >= 0:
        yield Span(at, at + len(sign))
        at = text.find(sign, at + len(sign))


def _set(leaflet: Leaflet, paper: Paper, root: str, signs: frozenset[str]) -> bytes:
    return set_pdf(*_to_set(leaflet, paper, root, signs))


def _to_set(
    leaflet: Leaflet, paper: Paper, root: str, signs: frozenset[str], large: bool = False
) -> tuple[dict[str, bytes], str, dict[str, Any]]:
    """What the press is given: the sources, the empty folder, and the data."""
    pictures = _pictures(leaflet)
    sources = {"main.typ": _source()}
    sources |= {name: picture_with_marks(svg, signs) for name, svg in pictures.values()}
    marked = marker(signs)
    data = _data(leaflet, paper, lambda text: _breakable(marked(text)), pictures)
    return sources, root, data | {"scale": _LARGE if large else 1}


def _breakable(text: str) -> str:
    """A word longer than a line with places at which it may be broken, so that it does not run off the page."""
    return _LONG_WORD.sub(lambda word: word[0] + "\u200b", text)


def _pictures(leaflet: Leaflet) -> dict[int, tuple[str, bytes]]:
    """The drawings that can be set, by the place of their chart, with the names of their files."""
    return {at: (f"chart-{at}.svg", chart.svg) for at, chart in enumerate(leaflet.charts) if picture_fits(chart.svg)}


def _data(
    leaflet: Leaflet, paper: Paper, marked: Callable[[str], str], pictures: dict[int, tuple[str, bytes]]
) -> dict[str, Any]:
    """All that the source shows, as plain values; every text goes through `marked`."""
    language, region = _LANGUAGES[side(leaflet.language)]
    tension = "Gauge" if side(leaflet.language) == "US" else "Tension"
    sizes = f" · {len(leaflet.sizes)} sizes" if len(leaflet.sizes) > 1 else ""

    def words_of(words: Words) -> list[tuple[str, bool]]:
        groups = groupby(words, key=lambda run: run.count)
        return [(marked(said(tuple(runs))), counted) for counted, runs in groups]

    def entries(lines: Iterable[Entry]) -> list[dict[str, Any]]:
        return [{"key": marked(line.key), "words": words_of(line.words)} for line in lines]

    def table(caption: str, rows: Sequence[TableRow]) -> list[dict[str, Any]]:
        return [{"caption": caption, "parts": list(_parts(leaflet, rows, marked))}] if rows else []

    def block(one: Block) -> dict[str, Any]:
        filled = [marked(said(found.words)) for found in one.filled]
        length = len(said(one.label)) + len(said(one.words)) + sum(map(len, filled))
        return {
            "kind": one.kind,
            "label": words_of(one.label),
            "numbers": marked(said(one.numbers)),
            "words": words_of(one.words),
            "filled": filled,
            "long": length > _LONG,
        }

    def section(one: Section) -> dict[str, Any]:
        return {"name": marked(one.name), "kind": one.kind, "care": one.care, "blocks": list(map(block, one.blocks))}

    def chart(at: int, one: Chart) -> dict[str, Any]:
        return {
            "file": pictures[at][0] if at in pictures else "",
            "title": marked(one.title),
            "description": marked(one.description),
            "alt": marked(f"{one.title}. {one.description}"),
            "words": list(map(marked, one.words)),
        }

    return {
        "paper": paper,
        "families": FAMILIES,
        "lang": language,
        "region": region,
        "title": marked(leaflet.title),
        "terms": f"{leaflet.language} terms{sizes}",
        "tension": tension,
        "intro": list(map(words_of, leaflet.intro)),
        "about": entries((*leaflet.about, *leaflet.version)),
        "sizes": [
            *table("Finished sizes", stated_table(leaflet)),
            *table(f"Worked out from the counts and the {tension.lower()}", measured_table(leaflet)),
        ],
        "size-notes": entries(leaflet.size_notes),
        "materials": entries(leaflet.materials),
        "yarn": table("Yarn for each size", yarn_table(leaflet)),
        "gauge": entries(leaflet.gauge),
        "listed": entries(leaflet.listed),
        "abbreviations": [
            {"short": marked(one.short), "meaning": marked(one.meaning)} for one in leaflet.abbreviations
        ],
        "special": entries(leaflet.special),
        "fills": leaflet.fills,
        "opening": list(map(section, leaflet.opening)),
        "sections": list(map(section, leaflet.sections)),
        "charts": [chart(at, one) for at, one in enumerate(leaflet.charts)],
        "closing": list(map(section, leaflet.closing)),
    }


def _parts(leaflet: Leaflet, rows: Sequence[TableRow], marked: Callable[[str], str]) -> Iterator[dict[str, Any]]:
    """A table cut into as many as the page has room for."""
    for start in range(0, len(leaflet.sizes), _MOST_COLUMNS):
        columns = slice(start, start + _MOST_COLUMNS)
        yield {
            "names": list(map(marked, leaflet.sizes[columns])),
            "rows": [
                {
                    "head": marked(row.head),
                    "cells": [
                        [marked(typeset(f"{part.number} {part.unit}".strip())) for part in cell]
                        for cell in row.cells[columns]
                    ],
                }
                for row in rows
            ],
        }


def _texts(data: Any) -> Iterator[str]:
    """Every text in some plain values."""
    if isinstance(data, str):
        yield data
    elif isinstance(data, dict):
        for value in data.values():
            yield from _texts(value)
    elif isinstance(data, list | tuple):
        for value in data:
            yield from _texts(value)


@cache
def _source() -> bytes:
    return (resources.files("roundhand.publishing") / "data" / "leaflet.typ").read_bytes()
