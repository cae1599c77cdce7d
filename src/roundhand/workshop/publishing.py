"""A pattern published: a folder with its page, leaflets, charts and plain text."""

from __future__ import annotations

import tempfile
from collections.abc import Generator
from pathlib import Path
from typing import Literal, TypeVar, cast

import msgspec

from roundhand.findings import Finding
from roundhand.press import PressError
from roundhand.workshop.answers import summary
from roundhand.workshop.leaflets import compose, keeps_her_own
from roundhand.workshop.reading import Reading
from roundhand.workshop.use import UseError, spoken
from roundhand.workshop.writing import check_folder, write_folder


class RefusedError(UseError):
    """A pattern that is not published, since a maker would go wrong on it. The message is one plain sentence."""


class Published(msgspec.Struct, frozen=True):
    """What was written: the folder, its files by name, whether an earlier one was replaced, and what was found while
    pages were set. `own_amounts` is true where the leaflet shows the designer's yarn amounts alone."""

    folder: Path
    files: tuple[str, ...]
    replaced: bool
    findings: tuple[Finding, ...]
    own_amounts: bool


class PublishAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """The answer of `publish`: the folder, and the names of the files in it."""

    schema: Literal["roundhand.publish/1"] = "roundhand.publish/1"
    folder: str
    files: tuple[str, ...]


class Step(msgspec.Struct, frozen=True):
    """How far publishing is: so many steps done of so many, and what is being done now."""

    done: int
    of: int
    what: str


def outputs(reading: Reading) -> tuple[dict[str, bytes], tuple[Finding, ...]]:
    """The files of a pattern's folder by name, and what was found while they were made; nothing is written.

    The same bytes for the same pattern. Raises `UseError` where a page cannot be set.
    """
    return _drained(_outputs(reading, 2))


def publish(reading: Reading, folder: Path, anyway: bool = False) -> Published:
    """Writes the folder of a pattern, whole or not at all, and says what is in it.

    A folder that was published before is replaced; any other is left alone. Raises `RefusedError` where the pattern
    has errors and `anyway` is false, and `UseError` where the folder cannot be written.
    """
    return _drained(publish_by_steps(reading, folder, anyway))


def publish_by_steps(reading: Reading, folder: Path, anyway: bool = False) -> Generator[Step, None, Published]:
    """Publishes as `publish` does and says at every step how far it is; the last value is what was published."""
    errors = summary(reading.findings).errors
    if errors and not anyway:
        queries = "one query is" if errors == 1 else f"{errors} queries are"
        raise RefusedError(f"Nothing was published, since {queries} still to fix; --anyway publishes all the same.")
    check_folder(folder)
    files, found = yield from _outputs(reading, 2)
    yield Step(len(files) + 2, len(files) + 3, "putting the folder in its place")
    replaced = write_folder(folder, files)
    return Published(folder, tuple(sorted(files)), replaced, found, keeps_her_own(reading))


def _outputs(reading: Reading, more: int) -> Generator[Step, None, tuple[dict[str, bytes], tuple[Finding, ...]]]:
    """The files, with a step for each; `more` steps follow."""
    from roundhand import publishing

    yield Step(0, 5 + more, "measuring and drawing")
    made = compose(reading)
    with tempfile.TemporaryDirectory() as root:
        try:
            makers = publishing.makers(made, root)
            files = {}
            for at, (name, make) in enumerate(makers.items(), 1):
                yield Step(at, len(makers) + 1 + more, name)
                files[name] = make()
            yield Step(len(makers) + 1, len(makers) + 1 + more, "looking at the signs")
            return files, publishing.lacking_signs(made, reading.source, root)
        except PressError as problem:
            raise UseError(f"{problem} Nothing was written.") from None


Made = TypeVar("Made")


def _drained(steps: Generator[Step, None, Made]) -> Made:
    while True:
        try:
            next(steps)
        except StopIteration as end:
            return cast(Made, end.value)


def publish_answer(found: Published) -> PublishAnswer:
    """What was published as data."""
    return PublishAnswer(folder=spoken(found.folder), files=found.files)
