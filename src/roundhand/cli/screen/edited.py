"""The edit of one file as `check` shows it: its page, its data and its part of a report, made in whichever process."""

from __future__ import annotations

from pathlib import Path

import msgspec

from roundhand.checks import Choice
from roundhand.cli.screen.line import Line
from roundhand.cli.screen.queries import edit_page
from roundhand.cli.screen.report import Part, part_of
from roundhand.measures import say_count
from roundhand.workshop import Reading, UseError, check, encode, size_of, spoken
from roundhand.workshop.answers import Summary
from roundhand.workshop.folders import is_pattern
from roundhand.workshop.reading import understand_file
from roundhand.workshop.standing import let_stand
from roundhand.workshop.text import read_text


class Asked(msgspec.Struct, frozen=True):
    """What is asked of every file. `found` are files that nobody named, which are looked at only if they are patterns.
    `many` is true where an answer must tell files apart. `cells` are those of a line of the page."""

    choice: Choice = Choice()
    size: str | None = None
    found: frozenset[Path] = frozenset()
    many: bool = False
    anew: bool = False
    letting_stand: bool = False
    page: bool = True
    data: bool = False
    report: bool = False
    cells: int = 100


class Edited(msgspec.Struct, frozen=True):
    """What came of one file. `passed` is true of a found file that is no pattern, and `no_text` of one that is no text
    at all. `said` are sentences beside the answer, `slip` is what stood in the way of one, and `stands` is told of a
    file whose queries stand from now on."""

    summary: Summary = Summary()
    page: tuple[Line, ...] = ()
    data: bytes = b""
    report: Part | None = None
    said: tuple[str, ...] = ()
    slip: str = ""
    passed: bool = False
    no_text: bool = False
    stands: str = ""


def edited(asked: Asked, path: Path) -> Edited:
    """The edit of one file. Never raises for anything that a file holds."""
    try:
        text = read_text(path)
    except UseError as slip:
        unreadable = isinstance(slip.__cause__ or slip.__context__, OSError)
        if path in asked.found and not unreadable:
            return Edited(passed=True, no_text=True)
        return Edited(slip=str(slip))
    if path in asked.found and not is_pattern(text.text):
        return Edited(passed=True)
    stands = ""
    try:
        reading = understand_file(path, text, asked.choice, asked.anew or asked.letting_stand)
        size = size_of(reading, asked.size) if asked.size is not None else None
        if asked.letting_stand:
            stands = _let_stand(path, reading, asked.choice)
            reading = understand_file(path, text, asked.choice)
    except UseError as slip:
        return Edited(slip=f"{spoken(path)}: {slip}" if asked.many else str(slip))
    name = spoken(path) if asked.many else None
    answer = check(reading, size, name)
    return Edited(
        answer.summary,
        tuple(edit_page(reading, size, asked.cells)) if asked.page else (),
        encode(answer) if asked.data else b"",
        part_of(reading, size, spoken(path), asked.choice) if asked.report else None,
        reading.said,
        stands=stands,
    )


def _let_stand(path: Path, reading: Reading, choice: Choice) -> str:
    number, place = let_stand(path, reading.findings, reading.source, reading.pattern, choice)
    if not number:
        return f"{spoken(path)}: there is no query to let stand."
    stand = say_count(number, "query stands", "queries stand")
    return f"{spoken(path)}: {stand} until the row changes; “{spoken(place)}” lists {'it' if number == 1 else 'them'}."
