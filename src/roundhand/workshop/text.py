"""A file read to text: whichever of the usual encodings it is in, with its line ends left as they are."""

from __future__ import annotations

import codecs
import difflib
import re
from pathlib import Path

import msgspec

from roundhand.findings import Finding, Source
from roundhand.workshop.use import UseError, spoken

# The limit of DESIGN for a file. A pattern is some ten thousand bytes; what is larger than this is something else.
MOST_BYTES = 20_000_000

# Signs that no writing has in it; a line or page end and a tab are not among them.
_CONTROL = re.compile(r"[\x00-\x08\x0e-\x1a\x1c-\x1f]")
_LOST = "\N{REPLACEMENT CHARACTER}"
_MARKS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
_NAMES = {"utf-8": "UTF-8", "utf-16-le": "UTF-16", "utf-16-be": "UTF-16", "windows-1252": "Windows-1252"}


class Text(msgspec.Struct, frozen=True):
    """A decoded text. `encoding` is what it was read as; `findings` say where that was a guess."""

    text: str
    encoding: str
    findings: tuple[Finding, ...] = ()


def read_text(path: Path) -> Text:
    """The text of a file.

    Raises `UseError` as `read_bytes` does, and where the file holds no text.
    """
    return decode(read_bytes(path), spoken(path))


def read_bytes(path: Path) -> bytes:
    """What stands in a file.

    Raises `UseError` where there is no such file, where it is a folder or larger than 20 MB, and where it may not be
    read.
    """
    name = spoken(path)
    try:
        if path.is_dir():
            raise UseError(f"“{name}” is a folder; name a pattern file in it.")
        size = path.stat().st_size
        if size > MOST_BYTES:
            raise _too_large(name, f"is {size / 1_000_000:,.1f} MB")
        with path.open("rb") as file:
            # A pipe has no size to ask for, so it is read no further than the limit either.
            data = file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise UseError(f"There is no file “{name}”; {_instead(path)}.") from None
    except NotADirectoryError:
        raise UseError(f"There is no file “{name}”, since a part of its path is no folder; check the path.") from None
    except PermissionError:
        raise UseError(f"“{name}” may not be read; ask for permission, or copy it to a folder of your own.") from None
    except (OSError, ValueError) as problem:
        why = problem.strerror if isinstance(problem, OSError) and problem.strerror else str(problem)
        raise UseError(f"“{name}” could not be read ({spoken(why)}); check the path.") from None
    if len(data) > MOST_BYTES:
        raise _too_large(name, f"is more than {MOST_BYTES // 1_000_000} MB")
    return data


def decode(data: bytes, name: str = "This text") -> Text:
    """Bytes to text: UTF-8, UTF-16, or else Windows-1252 with the finding `text-not-decoded`.

    A byte-order mark is taken off. Raises `UseError` for bytes that are no text.

    >>> decode(b"Rnd 1: 6 sc").encoding, decode("2½ in".encode("utf-16")).text
    ('utf-8', '2½ in')
    >>> old = decode("Rnd 1: 6 sc\\nto fit 20½ in".encode("windows-1252"))
    >>> old.text.splitlines()[1], old.findings[0].name
    ('to fit 20½ in', 'text-not-decoded')
    """
    for mark, encoding in _MARKS:
        if data.startswith(mark):
            return _marked(data[len(mark) :], encoding, name)
    if b"\0" in data:
        wide = _wide_without_mark(data)
        if wide is None:
            raise _binary(data, name)
        return wide
    try:
        return Text(data.decode("utf-8"), "utf-8")
    except UnicodeDecodeError:
        return _eight_bits(data)


def _marked(data: bytes, encoding: str, name: str) -> Text:
    """A text that says by a byte-order mark how it is written; what is broken in it becomes a sign that shows."""
    text = data.decode(encoding, errors="replace")
    if "\0" in text:
        raise _binary(data, name)
    try:
        data.decode(encoding)
    except UnicodeDecodeError:
        return Text(text, encoding, (_unsure(text, text.index(_LOST), encoding, "some letters are damaged"),))
    return Text(text, encoding)


def _wide_without_mark(data: bytes) -> Text | None:
    """UTF-16 without a mark: of every two bytes of a Latin text nearly every other one is zero."""
    pairs = len(data) // 2
    first, second = data[0::2].count(0), data[1::2].count(0)
    few, many = sorted((first, second))
    if len(data) % 2 or few * 50 > pairs or many * 5 < pairs * 2:
        return None
    encoding = "utf-16-le" if second == many else "utf-16-be"
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError:
        return None
    return None if _CONTROL.search(text) else Text(text, encoding)


def _eight_bits(data: bytes) -> Text:
    """Text of an older program, or UTF-8 with a few foreign bytes in it, as happens when texts are pasted together."""
    strays: list[int] = []

    def one_byte(problem: UnicodeError) -> tuple[str, int]:
        assert isinstance(problem, UnicodeDecodeError)
        strays.append(problem.start)
        byte = problem.object[problem.start : problem.start + 1]
        return byte.decode("windows-1252", errors="replace"), problem.start + 1

    codecs.register_error("roundhand.one-byte", one_byte)
    mixed = data.decode("utf-8", errors="roundhand.one-byte")
    beyond = sum(letter > "\x7f" for letter in mixed) - len(strays)
    text = mixed if beyond > len(strays) else data.decode("windows-1252", errors="replace")
    if text is mixed:
        offset = len(data[: strays[0]].decode("utf-8"))
        return Text(text, "utf-8", (_unsure(text, offset, "utf-8", "some letters are in an older encoding"),))
    offset = next(at for at, letter in enumerate(text) if letter > "\x7f")
    return Text(text, "windows-1252", (_unsure(text, offset, "windows-1252", "the text is not in UTF-8"),))


def _unsure(text: str, offset: int, encoding: str, what: str) -> Finding:
    source = Source(text)
    line, _ = source.place(offset)
    return Finding(
        "text-not-decoded",
        "warning",
        f"{what}; it was read as {_NAMES[encoding]}",
        source.line_span(line),
        because=f"line {line} is the first with a letter that this concerns",
        help="see that ½, ’, × and é came through right, and save the file as UTF-8",
        facts={"encoding": encoding, "line": line},
        label="the first such letter is in this line",
    )


def _too_large(name: str, size: str) -> UseError:
    most = MOST_BYTES // 1_000_000
    return UseError(f"“{name}” {size}, and a pattern may be {most} MB at most; take the pattern alone into a file.")


def _binary(data: bytes, name: str) -> UseError:
    if data.startswith(b"PK\x03\x04"):
        return UseError(f"“{name}” is a packed document, not plain text; save the pattern as plain text (.txt) first.")
    return UseError(f"“{name}” is not text (it holds NUL bytes); save the pattern as plain text (.txt) first.")


def _instead(path: Path) -> str:
    """A way on from a file that is not there: one of nearly that name, if its folder has one."""
    folder = path.parent
    try:
        names = [entry.name for entry in folder.iterdir()] if folder.is_dir() else []
    except OSError:
        names = []
    near = difflib.get_close_matches(path.name, names, n=1, cutoff=0.75)
    if near:
        return f"perhaps “{spoken(folder / near[0])}” is meant"
    return "check its name and the folder you are in"
