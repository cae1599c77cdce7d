"""The file of a pattern on a shelf: a text with the version it was read at, its bytes as they are written, and what
stands in the way of writing them, each in one sentence.
"""

from __future__ import annotations

import errno
import hashlib

import msgspec

from roundhand.workshop.line_ends import with_ends_of
from roundhand.workshop.text import decode
from roundhand.workshop.use import UseError, spoken

_MARK = b"\xef\xbb\xbf"


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


def version_of(data: bytes) -> str:
    """The version of a file: the SHA-256 sum of its bytes."""
    return hashlib.sha256(data).hexdigest()


def bytes_of(text: str, old: bytes | None) -> bytes:
    """A text as it is written: UTF-8, with the mark and the line ends of the file it replaces.

    Signs that would make the file unreadable, NUL and halves of letters, become the sign for what is lost.
    """
    lost = "\N{REPLACEMENT CHARACTER}"
    clean = text.replace("\0", lost).encode("utf-16", "surrogatepass").decode("utf-16", "replace")
    if old is None:
        return clean.encode("utf-8")
    mark = _MARK if old.startswith(_MARK) else b""
    return mark + with_ends_of(clean, text_of(old)).encode("utf-8")


def text_of(data: bytes) -> str:
    """The text of a file, whatever it holds."""
    try:
        return decode(data).text
    except UseError:
        return data.decode("utf-8", "replace")


def told(problem: OSError, name: str) -> UseError:
    """What the disk says, in one sentence."""
    if problem.errno in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG):
        return DiskFullError(f"The disk is full, so “{spoken(name)}” was not saved; make some room.")
    if problem.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return ReadOnlyError(f"“{spoken(name)}” may not be written here; the folder or the file is read-only.")
    why = spoken(problem.strerror or type(problem).__name__)
    return UseError(f"“{spoken(name)}” could not be saved ({why}).")
