"""What a worker does with a text: a small function for each question of the page, from what is asked to the answer."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple
from urllib.parse import quote

import msgspec

from roundhand.desk import answers, asked
from roundhand.desk.problems import ProblemError
from roundhand.workshop import (
    OpenPage,
    Reading,
    RefusedError,
    UseError,
    beside,
    chart,
    measures,
    picture,
    reckon,
    understood,
    why,
)
from roundhand.workshop.charting import drawable
from roundhand.workshop.file_names import file_stem, inside, place_in
from roundhand.workshop.leaflets import preview
from roundhand.workshop.margins import line_counts, look_at, own_unit, table_rows
from roundhand.workshop.meanings import meanings
from roundhand.workshop.measure_rows import measure_figures, measure_grounds, measure_lacks
from roundhand.workshop.publishing import publish_by_steps
from roundhand.workshop.queries import page_queries
from roundhand.workshop.shelf import EXAMPLE
from roundhand.workshop.telling import accounts, heading
from roundhand.workshop.tidying import tidied, tidy_answer
from roundhand.workshop.yarn_rows import YARN_MARGIN, yarn_figures, yarn_lacks, yarn_sureness

# A page cannot show more queries than this in any useful way.
_MOST_QUERIES = 400
# The page as it was at the last keystroke: of the next text only what has changed is read and worked.
_PAGE = OpenPage()
# Readings of the latest texts are kept, since panels ask about a text that was just read.
_KEPT = 6


class Task(NamedTuple):
    """A question: what is asked, what is answered, and who answers it, given the folder of the desk. An answer that
    comes by and by is given in steps, its values one after the other."""

    asks: type[msgspec.Struct]
    gives: type[msgspec.Struct]
    answer: Callable[[Any, Path], msgspec.Struct | Iterator[msgspec.Struct]]


def read(one: asked.ReadAsked, _folder: Path) -> answers.Read:
    """A text read and counted."""
    reading = _counted(one.text)
    size = _size(reading, one.size) or 0
    return answers.Read(
        one.number,
        reading.pattern.title,
        reading.sizes,
        size,
        reading.pattern.language,
        "in" if own_unit(reading) == "in" else "cm",
        understood(reading).sentence(),
        look_at(reading),
        line_counts(reading, size),
        table_rows(reading),
        meanings(reading),
    )


def queries(one: asked.ReadAsked, _folder: Path) -> answers.Queries:
    """The whole edit of a text."""
    reading = _understood(one.text)
    found = page_queries(reading, _size(reading, one.size))
    return answers.Queries(one.number, found[:_MOST_QUERIES], len(found[_MOST_QUERIES:]))


def reasons(one: asked.WhyAsked, _folder: Path) -> answers.WhyAnswer:
    """The reasons behind a row, in the words of `counts --why`."""
    reading = _counted(one.text)
    where = f"{one.label}{f' of {one.part}' if one.part else ''}{f', line {one.line}' if one.line else ''}"
    found = why(reading, where, _size(reading, one.size))
    lines = [heading(found)]
    told = accounts(found)
    for sizes, sentences in told:
        if len(told) > 1:
            lines.append(f"{', '.join(sizes)}:")
        lines += sentences
    return answers.WhyAnswer(tuple(lines))


def tidy(one: asked.TextAsked, _folder: Path) -> answers.TextChanged:
    """A text in house style."""
    found = tidied(_counted(one.text))
    return answers.TextChanged(found.after, len(tidy_answer(found).changes))


def shift(one: asked.ShiftAsked, _folder: Path) -> answers.TextChanged:
    """A text in other terms, its layout as it stands."""
    from roundhand.notation.shifting import shift as shifted

    after = shifted(one.text, one.to)
    before = one.text.splitlines()
    changed = sum(old != new for old, new in zip(before, after.splitlines(), strict=False))
    return answers.TextChanged(after, changed + abs(len(after.splitlines()) - len(before)))


def measures_and_yarn(one: asked.MeasuresAsked, folder: Path) -> answers.MeasuresAnswer:
    """The finished measurements and the yarn of all sizes."""
    reading = _with_beside(one.text, one.name, folder)
    sizes = range(len(reading.sizes))
    found, need = measures(reading), reckon(reading)
    sure = yarn_sureness(need)
    tables = yarn_figures(reading, need, sizes)
    said = [*measure_grounds(found), measure_lacks(found), *((YARN_MARGIN,) if tables else ())]
    if tables:
        said += yarn_lacks(reading, need)
    return answers.MeasuresAnswer(
        reading.sizes,
        measure_figures(found, sizes),
        tuple(answers.YarnFigures(table.name, table.rows, sure) for table in tables),
        tuple(sentence for sentence in (*said, *reading.said) if sentence),
    )


def drawn(one: asked.ChartAsked, _folder: Path) -> answers.ChartAnswer:
    """The chart of a piece."""
    reading = _understood(one.text)
    size = _size(reading, one.size)
    try:
        found = chart(reading, size, one.part)
        svg = picture(found, "svg").decode("utf-8")
    except UseError as slip:
        raise ProblemError(str(slip), "no-chart") from None
    words = (found.chart.description, *found.chart.key, *found.chart.lines)
    return answers.ChartAnswer(found.chart.title, found.piece, found.size, svg, words, drawable(reading, size))


def leaflet(one: asked.LeafletAsked, _folder: Path) -> answers.LeafletAnswer:
    """The printed leaflet as it will look."""
    made = preview(_understood(one.text), "a4" if one.paper == "A4" else "us-letter", one.large)
    return answers.LeafletAnswer(made.title, tuple(page.decode("utf-8") for page in made.pages), made.words)


def published(one: asked.PublishAsked, folder: Path) -> Iterator[msgspec.Struct]:
    """Publishes a pattern into a folder of the desk's own, and says how far it is."""
    stem = one.name.removeprefix(EXAMPLE).rsplit("/", 1)[-1].rsplit(".", 1)[0]
    name = one.into or f"{file_stem(stem)}-published"
    place = place_in(folder, name)
    if place is None:
        raise ProblemError(f"“{name}” is no name for a folder here.", "wrong-name")
    try:
        done = yield from publish_by_steps(_with_beside(one.text, one.name, folder), place, one.anyway)
    except RefusedError as slip:
        # The sentence of the command line names an option that a page does not have.
        raise ProblemError(f"{str(slip).partition(';')[0]}.", "refused") from None
    except UseError as slip:
        raise ProblemError(str(slip).replace(" with --out", ""), "no-answer") from None
    files = (answers.PublishedFile(one, f"/api/published/{quote(f'{name}/{one}')}") for one in done.files)
    yield answers.PublishedAnswer(name, tuple(files))


TASKS: Mapping[str, Task] = {
    "read": Task(asked.ReadAsked, answers.Read, read),
    "queries": Task(asked.ReadAsked, answers.Queries, queries),
    "why": Task(asked.WhyAsked, answers.WhyAnswer, reasons),
    "tidy": Task(asked.TextAsked, answers.TextChanged, tidy),
    "shift": Task(asked.ShiftAsked, answers.TextChanged, shift),
    "measures": Task(asked.MeasuresAsked, answers.MeasuresAnswer, measures_and_yarn),
    "chart": Task(asked.ChartAsked, answers.ChartAnswer, drawn),
    "leaflet": Task(asked.LeafletAsked, answers.LeafletAnswer, leaflet),
    "publish": Task(asked.PublishAsked, answers.PublishedAnswer, published),
}


@lru_cache(_KEPT)
def _counted(text: str) -> Reading:
    return _PAGE.counted(text)


@lru_cache(_KEPT)
def _understood(text: str) -> Reading:
    return _PAGE.understood(text)


def _with_beside(text: str, name: str | None, folder: Path) -> Reading:
    """A text with what was measured and weighed beside the file of its pattern."""
    path = inside(folder, name) if name else None
    if path is None or not path.is_file():
        return _understood(text)
    return _PAGE.understood(text, measured=beside(path))


def _size(reading: Reading, size: int | None) -> int | None:
    """A size that the text still has; while somebody types it may lose some."""
    return None if size is None else min(size, len(reading.sizes) - 1)
