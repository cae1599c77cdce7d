"""A folder of patterns to work in: what is there, a pattern with the version it was read at, and texts saved so that
nobody's work is lost.

A text is saved only over the version that it was made from. Whoever saves over another is told what stands there now.
"""

from __future__ import annotations

import errno
import hashlib
import os
from datetime import UTC, datetime
from pathlib import Path

import msgspec

from roundhand.findings import Source
from roundhand.notation.page import cut_page, find_sizes
from roundhand.notation.sizes import read_size_names
from roundhand.workshop.file_names import file_stem, inside
from roundhand.workshop.folders import patterns_in, shipped_patterns
from roundhand.workshop.line_ends import with_ends_of
from roundhand.workshop.revisions import Change, Revision, Revisions, StoreError, difference, now
from roundhand.workshop.text import MOST_BYTES, decode, read_bytes, read_text
from roundhand.workshop.use import UseError, spoken
from roundhand.workshop.writing import is_open, put_file

EXAMPLE = "example:"
_MARK = b"\xef\xbb\xbf"


class Listed(msgspec.Struct, frozen=True):
    """A pattern of the folder: its name (the path from the folder, with slashes), its title, when its file was changed
    (ISO time, UTC), and how many sizes it names."""

    name: str
    title: str
    changed: str
    sizes: int


class Opened(msgspec.Struct, frozen=True):
    """A pattern with its text and the version it was read at; `example` is true for one that comes with roundhand and
    is never written."""

    name: str
    text: str
    version: str
    example: bool = False


class Saved(msgspec.Struct, frozen=True):
    """A text that was saved: the version it has now, and the number of its revision. `revision` is None where the
    text is in its file, but could not be kept among the revisions."""

    name: str
    version: str
    revision: int | None
    saved: str


class NotThereError(UseError):
    """There is no such pattern."""


class WrongNameError(UseError):
    """A name that no pattern in this folder can have."""


class ChangedElsewhereError(UseError):
    """The file is no longer the one that a text was made from; `theirs` is what stands there, None for nothing."""

    def __init__(self, sentence: str, theirs: Opened | None) -> None:
        super().__init__(sentence)
        self.theirs = theirs


class DiskFullError(UseError):
    """There is no room for a text; what was there is still there."""


class ReadOnlyError(UseError):
    """The folder or the file may not be written; what was there is still there."""


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
        self._listed: dict[Path, tuple[tuple[int, int], Listed]] = {}

    @property
    def writable(self) -> bool:
        """Whether files may be put into the folder."""
        return is_open(self.folder)

    def patterns(self) -> tuple[Listed, ...]:
        """The patterns in the folder and in those in it, by name, with all that were ever saved here and still exist.

        Raises `UseError` where the folder cannot be read.
        """
        try:
            found = set(patterns_in(self.folder))
        except UseError:
            if not os.access(self.folder, os.R_OK | os.X_OK):
                raise
            found = set()
        found |= {path for name in self._known() if (path := self._place(name)) is not None and path.is_file()}
        return tuple(one for path in sorted(found) if (one := self._about(path, self.folder)) is not None)

    def examples(self) -> tuple[Listed, ...]:
        """The patterns that come with roundhand, under names that begin with `example:`."""
        folder = shipped_patterns()
        found = [one for path in patterns_in(folder) if (one := self._about(path, folder)) is not None]
        return tuple(msgspec.structs.replace(one, name=EXAMPLE + one.name) for one in found)

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
        stem = file_stem(title or _title(text))
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
        text = _text(data)
        try:
            present = _text(path.read_bytes())
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
        data = _bytes(text, old)
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
            raise _told(problem, name) from None
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
            raise _told(problem, name) from None
        if base is None or version_of(data) != base:
            raise self._changed(path, name)
        return data

    def _changed(self, path: Path, name: str) -> ChangedElsewhereError:
        try:
            data = path.read_bytes()
            theirs = Opened(name, _text(data), version_of(data))
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

    def _about(self, path: Path, folder: Path) -> Listed | None:
        try:
            about = path.stat()
            stamp = (about.st_mtime_ns, about.st_size)
            known = self._listed.get(path)
            if known is not None and known[0] == stamp:
                return known[1]
            text = read_text(path).text
        except (OSError, UseError):
            return None
        name = path.relative_to(folder).as_posix()
        sizes = find_sizes(Source(text))
        changed = datetime.fromtimestamp(about.st_mtime, UTC).isoformat(timespec="milliseconds")
        found = Listed(
            name,
            _title(text) or path.stem,
            changed.replace("+00:00", "Z"),
            len(read_size_names(sizes[0]) if sizes is not None else ()) or 1,
        )
        self._listed[path] = (stamp, found)
        return found


def version_of(data: bytes) -> str:
    """The version of a file: the SHA-256 sum of its bytes."""
    return hashlib.sha256(data).hexdigest()


def _bytes(text: str, old: bytes | None) -> bytes:
    """A text as it is written: UTF-8, with the mark and the line ends of the file it replaces.

    Signs that would make the file unreadable, NUL and halves of letters, become the sign for what is lost.
    """
    lost = "\N{REPLACEMENT CHARACTER}"
    clean = text.replace("\0", lost).encode("utf-16", "surrogatepass").decode("utf-16", "replace")
    if old is None:
        return clean.encode("utf-8")
    mark = _MARK if old.startswith(_MARK) else b""
    return mark + with_ends_of(clean, _text(old)).encode("utf-8")


def _text(data: bytes) -> str:
    try:
        return decode(data).text
    except UseError:
        return data.decode("utf-8", "replace")


def _title(text: str) -> str:
    lines: list[str] = [
        line.name for line in cut_page(Source(text[:4000]), read_size_names("One size")) if line.kind == "title"
    ]
    return lines[0].strip()[:200] if lines else ""


def _told(problem: OSError, name: str) -> UseError:
    """What the disk says, in one sentence."""
    if problem.errno in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG):
        return DiskFullError(f"The disk is full, so “{spoken(name)}” was not saved; make some room.")
    if problem.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return ReadOnlyError(f"“{spoken(name)}” may not be written here; the folder or the file is read-only.")
    why = spoken(problem.strerror or type(problem).__name__)
    return UseError(f"“{spoken(name)}” could not be saved ({why}).")
