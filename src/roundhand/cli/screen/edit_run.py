"""A whole run of `check`: the files that are named and found, their answers as they come, and what is said at the end.

Somebody who interrupts has what was answered until then: whole lines of data, a whole report, and the exit status 130.
"""

from __future__ import annotations

import os
import signal
import sys
import threading
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from types import FrameType

import msgspec

from roundhand.checks import Choice
from roundhand.cli.screen.edited import Asked, Edited, edited
from roundhand.cli.screen.line import BLANK, Line, line
from roundhand.cli.screen.queries import said_in_all
from roundhand.cli.screen.report import Part, whole
from roundhand.cli.screen.terminal import is_terminal, page_width, say, say_json, say_text, say_wrong
from roundhand.measures import say_count
from roundhand.workshop import UseError, spoken
from roundhand.workshop.answers import Summary
from roundhand.workshop.crew import Done, Failed, look_at_all
from roundhand.workshop.folders import REPORT_MARK, no_pattern_in, texts_in

# Nobody needs a bar for what is done before it can be read.
_PATIENCE_S = 0.5


class Wanted(msgspec.Struct, frozen=True):
    """What a command line asks for, beside the files."""

    choice: Choice = Choice()
    size: str | None = None
    anew: bool = False
    letting_stand: bool = False
    as_json: bool = False
    report: str | None = None
    jobs: int | None = None


class _Files(msgspec.Struct, frozen=True):
    """The files to look at, those of them that nobody named, by their folder; and slips in what was named."""

    files: tuple[Path, ...]
    found: dict[Path, Path]
    folders: tuple[Path, ...]
    slips: tuple[UseError, ...]
    many: bool


def answered(paths: Sequence[str], wanted: Wanted) -> int:
    """Shows the edit of all patterns that are named, or of the folders they are in, and gives the exit status."""
    if wanted.report not in (None, "-"):
        _free_for_a_report(Path(wanted.report or ""))
    there = _files(paths)
    asked = Asked(
        wanted.choice,
        wanted.size,
        frozenset(there.found),
        there.many,
        wanted.anew,
        wanted.letting_stand,
        page=not wanted.as_json and wanted.report is None,
        data=wanted.as_json,
        report=wanted.report is not None,
        cells=page_width(),
    )
    run = _Run(wanted, there)
    stopped = False
    try:
        for done in _with_progress(look_at_all(partial(edited, asked), there.files, wanted.jobs), len(there.files)):
            with _said_whole():
                run.take(done)
    except KeyboardInterrupt:
        if len(there.files) == 1:
            raise
        stopped = True
    with _said_whole():
        return run.end(stopped)


class _Run:
    """What a run has come to so far."""

    def __init__(self, wanted: Wanted, there: _Files) -> None:
        self.wanted = wanted
        self.there = there
        self.total = Summary()
        self.slips = [str(slip) for slip in there.slips]
        self.said: dict[str, None] = {}
        self.no_text: list[Path] = []
        self.parts: list[Part] = []
        self.with_pattern: set[Path] = set()
        self.looked_at = self.answers = 0
        self.held: list[Line] = []

    def take(self, done: Done[Edited]) -> None:
        """Takes in what came of a file, and shows it: at once where it goes into a file or a pipe, at the end where
        a bar stands on the terminal meanwhile."""
        self.looked_at += 1
        found = done.answer
        if isinstance(found, Failed):
            self.slips.append(_failed(done.path, found))
            return
        if found.passed:
            self.no_text += [done.path] if found.no_text else []
            return
        if done.path in self.there.found:
            self.with_pattern.add(self.there.found[done.path])
        if found.slip:
            self.slips.append(found.slip)
            return
        self.said.update(dict.fromkeys(found.said))
        self.said.update(dict.fromkeys([found.stands] if found.stands else []))
        self.total += found.summary
        self.parts += [found.report] if found.report is not None else []
        if self.wanted.as_json:
            say_json(found.data)
        elif found.page:
            head = [BLANK] if self.answers else []
            head += [line(f"== {done.path}", "faint")] if self.there.many else []
            self.held += [*(head if self.there.many else []), *found.page]
            if not is_terminal():
                self.show()
        self.answers += 1

    def show(self) -> None:
        """Prints what is still held back."""
        say(self.held)
        self.held = []

    def end(self, stopped: bool) -> int:
        """Says what is said at the end, writes the report, and gives the exit status."""
        self.show()
        if not stopped:
            empty = [folder for folder in self.there.folders if folder not in self.with_pattern]
            self.slips += [str(no_pattern_in(folder)) for folder in empty]
        if self.wanted.report is not None:
            self._report(stopped)
        elif self.there.many and self.answers > 1 and not self.wanted.as_json:
            say([BLANK, line(f"The {self.answers} patterns together: {said_in_all(self.total)}", "title")])
        if self.no_text:
            names = ", ".join(f"“{spoken(path)}”" for path in self.no_text[:3])
            more = f" and {len(self.no_text) - 3} more" if len(self.no_text) > 3 else ""
            say_wrong(f"Passed over, since there is no text in it: {names}{more}.")
        for sentence in [*self.said, *self.slips]:
            say_wrong(sentence)
        if stopped:
            say_wrong(f"Stopped after {self.looked_at} of {say_count(len(self.there.files), 'file')}.")
            return 130
        return 2 if self.slips else 1 if self.total.errors else 0

    def _report(self, stopped: bool) -> None:
        # Files that turned out to be no patterns are not missed in it.
        missing = len(self.there.files) - self.looked_at if stopped else 0
        text = whole(self.parts, len(self.parts) + missing, self.slips)
        if self.wanted.report == "-":
            say_text(text)
            return
        from roundhand.workshop.writing import write_file

        place = Path(self.wanted.report or "")
        try:
            write_file(place, text.encode("utf-8", "replace"))
        except UseError as slip:
            self.slips.append(str(slip))
            return
        if not self.wanted.as_json:
            patterns = say_count(len(self.parts), "pattern")
            say([line(f"{patterns}: {said_in_all(self.total)}"), line(f"The report stands in {spoken(place)}.")])


def _files(paths: Sequence[str]) -> _Files:
    files: dict[Path, None] = {}
    found: dict[Path, Path] = {}
    folders: list[Path] = []
    slips: list[UseError] = []
    for name in paths:
        path = Path(name)
        if path.is_dir():
            there, wrong = texts_in(path)
            folders += [path] if not wrong else []
            slips += wrong
            found.update({one: path for one in there if one not in files})
            files.update(dict.fromkeys(there))
        else:
            files[path] = None
            found.pop(path, None)
    return _Files(tuple(files), found, tuple(folders), tuple(slips), len(paths) > 1 or bool(folders or slips))


def _failed(path: Path, failed: Failed) -> str:
    """What is said of a file that could not be looked at through a slip of ours."""
    if failed.where and os.environ.get("ROUNDHAND_DEBUG") == "1":
        sys.stderr.write(failed.where)
    return (
        f"“{spoken(path)}” could not be looked at ({failed.kind}), which is our fault and not your pattern's; run it "
        "alone with ROUNDHAND_DEBUG=1 set and send us what it prints."
    )


def _free_for_a_report(place: Path) -> None:
    """Raises `UseError` where a report would go over something that is none."""
    if place.suffix.lower() != ".md":
        raise UseError("A report is written as a .md file, as in: --report edit.md")
    try:
        with place.open(encoding="utf-8", errors="replace") as file:
            begins = file.read(len(REPORT_MARK))
    except OSError:
        return
    if begins and begins != REPORT_MARK:
        raise UseError(f"“{spoken(place)}” is no report of roundhand, so nothing was written; name another file.")


def _with_progress(answers: Iterator[Done[Edited]], number: int) -> Iterator[Done[Edited]]:
    """The answers; where they take a while and somebody looks on, a bar shows how far it is."""
    began = time.monotonic()
    looking = sys.stderr is not None and sys.stderr.isatty()
    bar = None
    try:
        for at, done in enumerate(answers):
            yield done
            if looking and bar is None and number - at > 2 and time.monotonic() - began > _PATIENCE_S:
                from roundhand.cli.screen.rich_page import Bar

                bar = Bar(number)
            if bar is not None:
                bar.reach(at + 1, str(done.path))
    finally:
        if bar is not None:
            bar.close()


@contextmanager
def _said_whole() -> Iterator[None]:
    """What is said in here is said whole: an interrupt is held back until then."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    asked: list[int] = []

    def note(number: int, frame: FrameType | None) -> None:
        asked.append(number)

    before = signal.signal(signal.SIGINT, note)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)
    if asked:
        raise KeyboardInterrupt
