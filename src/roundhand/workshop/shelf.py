"""A folder of patterns to work in: what is there, a pattern with the version it was read at, and texts saved so that
nobody's work is lost.

A text is saved only over the version that it was made from. Whoever saves over another is told what stands there now.
"""

from __future__ import annotations

import os
from pathlib import Path

import msgspec

from roundhand.workshop.file_names import file_stem, inside
from roundhand.workshop.folders import MOST_DEEP, MOST_TEXTS, patterns_in, patterns_near, shipped_patterns
from roundhand.workshop.listing import Listed, Listing, title_of
from roundhand.workshop.pattern_files import (
    ChangedElsewhereError,
    NotThereError,
    Opened,
    ReadOnlyError,
    Saved,
    WrongNameError,
    bytes_of,
    text_of,
    told,
    version_of,
)
from roundhand.workshop.revisions import Change, Revision, Revisions, StoreError, difference, now
from roundhand.workshop.text import MOST_BYTES, decode, read_bytes
from roundhand.workshop.use import UseError, spoken
from roundhand.workshop.writing import is_open, put_file

EXAMPLE = "example:"


class Shelf:
    """A folder of patterns. Any number of threads may use it, and several programs at a time.

    Raises `UseError` where there is no such folder.
    """

    def __init__(self, folder: Path) -> None:
        if not folder.is_dir():
            what = "is a file; name the folder that it is in" if folder.exists() else "is not there; check the name"
            raise UseError(f"The folder “{spoken(folder)}” {what}.")
        self.folder = folder.resolve()
        self.revisions = Revisions(self.folder)
        self._own = Listing(self.folder)
        self._shipped = Listing(shipped_patterns())
        self._whole = True

    @property
    def writable(self) -> bool:
        """Whether files may be put into the folder."""
        return is_open(self.folder)

    @property
    def left_out(self) -> str:
        """What the last look at the folder has left out, in one sentence; empty where it saw everything."""
        if self._whole:
            return ""
        return (
            f"This folder is very large, so that not all of it was looked through: {MOST_DEEP} folders down and "
            f"{MOST_TEXTS:,} text files are the most. Open the desk in the folder of your patterns to see them all."
        )

    def patterns(self) -> tuple[Listed, ...]:
        """The patterns in the folder and in those in it, by name, with all that were ever saved here and still exist.

        A folder that is very large is not looked through to its end; `left_out` says so then. Raises `UseError` where
        the folder itself cannot be read.
        """
        found, self._whole = patterns_near(self.folder)
        known = {path for name in self._known() if (path := self._place(name)) is not None and path.is_file()}
        return self._own.of({*found, *known})

    def examples(self) -> tuple[Listed, ...]:
        """The patterns that come with roundhand, under names that begin with `example:`."""
        found = self._shipped.of(patterns_in(shipped_patterns()))
        return tuple(msgspec.structs.replace(one, name=EXAMPLE + one.name) for one in found)

    def watched(self) -> tuple[tuple[Path, ...], bool]:
        """The folders in which a pattern can change, and whether all that lies in them is meant too."""
        found, whole = patterns_near(self.folder)
        if whole:
            return (self.folder,), True
        return tuple(sorted({self.folder, *(path.parent for path in found)})), False

    def open(self, name: str) -> Opened:
        """A pattern by its name, or an example; raises `UseError` where it is not there or is no text."""
        path = self._found(name)
        example = name.startswith(EXAMPLE)
        if not path.is_file():
            raise NotThereError(f"There is no pattern “{spoken(name)}” in this folder.")
        data = read_bytes(path)
        if not example:
            self._remember(name, data, "disk")
        return Opened(name, decode(data, spoken(name)).text, version_of(data), example)

    def version(self, name: str) -> str | None:
        """The version that the file of a pattern has now; None where there is none."""
        try:
            return version_of(self._path(name).read_bytes())
        except (OSError, UseError):
            return None

    def save(self, name: str, text: str, base: str | None, by: str) -> Saved:
        """Saves a text made from the version `base`; without one the pattern must not exist yet.

        The file is written whole or not at all, in UTF-8 and with the line ends that it had. Raises
        `ChangedElsewhereError` where the file is another by now, `DiskFullError`, `ReadOnlyError`, `WrongNameError`,
        and `UseError` for whatever else the disk says; then the file is as it was.
        """
        path = self._path(name)
        saved: Saved | None = None
        try:
            with self.revisions.alone():
                saved = self._saved(path, name, text, base, by)
        except StoreError:
            # A text is saved even where its history cannot be: losing the history is the lesser loss.
            if saved is not None:
                return msgspec.structs.replace(saved, revision=None)
            return self._saved(path, name, text, base, by)
        except ChangedElsewhereError:
            self.noticed(name)
            raise
        return saved

    def add(self, title: str, text: str, by: str = "copy") -> Saved:
        """Saves a new pattern in a file named after its title, never over another; raises as `save` does."""
        stem = file_stem(title or title_of(text))
        at = 1
        while True:
            name = f"{stem}{f'-{at}' if at > 1 else ''}.txt"
            if not os.path.lexists(self.folder / name):
                try:
                    return self.save(name, text, None, by)
                except ChangedElsewhereError:
                    pass
            at += 1

    def history(self, name: str) -> tuple[Revision, ...]:
        """The revisions of a pattern, the newest first."""
        self._path(name)
        try:
            return self.revisions.of(name)
        except StoreError:
            raise UseError("The earlier texts cannot be read now; the pattern itself is not touched by that.") from None

    def revision(self, name: str, number: int) -> tuple[str, tuple[Change, ...]]:
        """The text of a revision, and how the pattern's file differs from it now; `out` is what only the file has."""
        path = self._path(name)
        try:
            data = self.revisions.data(name, number)
        except StoreError:
            raise UseError("The earlier texts cannot be read now; the pattern itself is not touched by that.") from None
        if data is None:
            raise NotThereError(f"“{spoken(name)}” has no earlier text of that number.")
        text = text_of(data)
        try:
            present = text_of(path.read_bytes())
        except OSError:
            present = ""
        return text, difference(present, text)

    def noticed(self, name: str) -> tuple[str | None, str]:
        """The version that a file has, None where it is away, and by whom it is: what no window has saved was written
        by another program (`disk`), and is kept."""
        try:
            data = self._path(name).read_bytes()
        except (OSError, UseError):
            return None, "disk"
        version = version_of(data)
        self._remember(name, data, "disk")
        try:
            return version, self.revisions.by(name, version) or "disk"
        except StoreError:
            return version, "disk"

    def name_of(self, path: Path) -> str | None:
        """The name of a file of this folder that can be a pattern; None for any other."""
        try:
            name = path.relative_to(self.folder).as_posix()
        except ValueError:
            return None
        return name if self._place(name) is not None else None

    def _saved(self, path: Path, name: str, text: str, base: str | None, by: str) -> Saved:
        old = self._checked(path, name, base)
        if old is not None and not is_open(path, os.W_OK):
            raise ReadOnlyError(f"The file “{spoken(name)}” is read-only, so it was not saved.")
        data = bytes_of(text, old)
        if old is not None:
            self._remember(name, old, "disk")
        if data == old:
            return Saved(name, version_of(data), self._keep(name, data, by), now())
        if len(data) > MOST_BYTES:
            raise UseError(f"The text is larger than {MOST_BYTES // 1_000_000} MB, which no pattern is.")
        number = self._keep(name, data, by)
        try:
            # The file is looked at once more at the last moment, for programs that know nothing of us.
            put_file(path, data, lambda: self._checked(path, name, base), new=base is None)
        except FileExistsError:
            raise self._changed(path, name) from None
        except OSError as problem:
            raise told(problem, name) from None
        return Saved(name, version_of(data), number, now())

    def _checked(self, path: Path, name: str, base: str | None) -> bytes | None:
        """The bytes that a file has, which must be those of the version `base`."""
        try:
            data = path.read_bytes()
        except (FileNotFoundError, NotADirectoryError):
            if base is not None:
                raise self._changed(path, name) from None
            return None
        except OSError as problem:
            raise told(problem, name) from None
        if base is None or version_of(data) != base:
            raise self._changed(path, name)
        return data

    def _changed(self, path: Path, name: str) -> ChangedElsewhereError:
        try:
            data = path.read_bytes()
            theirs = Opened(name, text_of(data), version_of(data))
        except (OSError, UseError):
            return ChangedElsewhereError(f"“{spoken(name)}” is no longer in the folder.", None)
        return ChangedElsewhereError(f"“{spoken(name)}” was changed elsewhere meanwhile.", theirs)

    def _keep(self, name: str, data: bytes, by: str) -> int | None:
        try:
            return self.revisions.keep(name, data, version_of(data), by)
        except StoreError:
            return None

    def _remember(self, name: str, data: bytes, by: str) -> None:
        """Keeps a text that somebody else has written, where that can be done."""
        if len(data) > MOST_BYTES or not self.writable:
            return
        try:
            if self.revisions.by(name, version_of(data)) is None:
                self.revisions.keep(name, data, version_of(data), by)
        except StoreError:
            return

    def _known(self) -> frozenset[str]:
        try:
            return self.revisions.names()
        except StoreError:
            return frozenset()

    def _found(self, name: str) -> Path:
        if not name.startswith(EXAMPLE):
            return self._path(name)
        place = inside(shipped_patterns().resolve(), name.removeprefix(EXAMPLE))
        if place is None:
            raise NotThereError(f"There is no example “{spoken(name.removeprefix(EXAMPLE))}”.")
        return place

    def _path(self, name: str) -> Path:
        place = self._place(name)
        if name.startswith(EXAMPLE):
            raise ReadOnlyError("An example stays as it is; copy it to make it yours.")
        if place is None:
            raise WrongNameError(
                f"“{spoken(name)}” is no name for a pattern in this folder; a good one is “my-cap.txt”."
            )
        return place

    def _place(self, name: str) -> Path | None:
        return inside(self.folder, name)
