"""Files and folders written whole or not at all: beside their place first, then put there in one step."""

from __future__ import annotations

import ctypes
import errno
import hashlib
import os
import secrets
import shutil
import sys
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from roundhand.workshop.use import UseError, spoken

# Stands in a folder that roundhand has made and lists what it has put there, so that nothing else is ever replaced.
MARKER = ".roundhand"
_FIRST_LINE = "roundhand.publish/1"
_EXCHANGE = 2  # RENAME_EXCHANGE of renameat2(2): two names change places in one step.
_HERE = -100  # AT_FDCWD of openat(2): names are meant from the folder that one is in.


def write_file(path: Path, data: bytes) -> bool:
    """Writes a file whole, in place of one that was there, and says whether there was one.

    Raises `UseError` with a sentence where that cannot be done; then whatever was there is still there.
    """
    place = Path(os.path.realpath(path))
    with _told(path):
        if place.is_dir():
            raise UseError(f"“{spoken(path)}” is a folder; name a file in it.")
        there = place.exists()
        if there and not place.is_file():
            raise UseError(f"“{spoken(path)}” is no file that could be replaced; name another.")
        beside = _beside(place, path)
        try:
            _fill(beside, data)
            if there:
                beside.chmod(place.stat().st_mode & 0o777)
            os.replace(beside, place)
        except BaseException:
            beside.unlink(missing_ok=True)
            raise
        _settle(place.parent)
    return there


def put_file(path: Path, data: bytes, before: Callable[[], object], new: bool) -> None:
    """Writes a file whole; `before` is called at the last moment and keeps it from being put there by raising.

    A `new` file is never put over another. Raises `OSError` as the disk does, `FileExistsError` where a new file is
    there already; then whatever was there is still there.
    """
    # A link stays a link, and what it leads to is written.
    place = Path(os.path.realpath(path))
    beside = place.parent / f".{place.name[:40]}-{secrets.token_hex(4)}"
    try:
        _fill(beside, data)
        if not new:
            beside.chmod(place.stat().st_mode & 0o777)
        before()
        if new:
            _put_new(beside, place)
        else:
            os.replace(beside, place)
    finally:
        beside.unlink(missing_ok=True)
    _settle(place.parent)


def _put_new(beside: Path, place: Path) -> None:
    """Gives a file its name, if nothing has that name yet."""
    try:
        os.link(beside, place)
    except FileExistsError:
        raise
    except OSError:
        # Some disks know no second names; there the name is taken first, empty.
        with open(place, "xb"):
            pass
        os.replace(beside, place)


def check_folder(folder: Path) -> None:
    """Raises `UseError` with a sentence if a folder may not be written: if something is there that roundhand has not
    put there, or the place for it cannot be written."""
    place = Path(os.path.realpath(folder))
    name = spoken(folder)
    with _told(folder):
        if not os.path.lexists(place):
            if not is_open(_parent(place, folder)):
                raise PermissionError(errno.EACCES, "Permission denied")
            return
        if not place.is_dir():
            raise UseError(f"“{name}” is a file and no folder, so nothing was written; name another place with --out.")
        stranger = _stranger(place)
        if stranger:
            raise UseError(f"{stranger.format(name=name)}, so nothing was written; name another place with --out.")
        if not is_open(place.parent):
            raise PermissionError(errno.EACCES, "Permission denied")


def made_here(path: Path) -> bool:
    """Whether a file is one that roundhand has put into its folder and that nobody has changed since."""
    listed = _listed(path.parent / MARKER)
    if listed is None or path.name not in listed or path.is_symlink() or not path.is_file():
        return False
    return hashlib.sha256(path.read_bytes()).hexdigest() == listed[path.name]


def write_folder(folder: Path, files: Mapping[str, bytes]) -> bool:
    """Writes a folder of files whole, in place of one that roundhand has written there before, and says whether
    there was one.

    Whoever looks sees the old folder or the new one, never half of one; only where a system cannot exchange two
    folders in one step is there a moment between them. Raises `UseError` as `check_folder` does.
    """
    check_folder(folder)
    place = Path(os.path.realpath(folder))
    with _told(folder):
        there = place.exists()
        beside = _beside(place, folder)
        beside.mkdir()
        try:
            if there:
                beside.chmod(place.stat().st_mode & 0o777)
            for name, data in {**files, MARKER: _listing(files)}.items():
                _fill(beside / name, data)
            _settle(beside)
            _put(beside, place)
        finally:
            # Here stands the folder that was replaced, or the new one that could not be put in its place.
            shutil.rmtree(beside, ignore_errors=True)
        _settle(place.parent)
    return there


def is_open(path: Path, how: int = os.W_OK | os.X_OK) -> bool:
    """Whether files may be put into a folder, or else what `how` says, by the rights that this program works with."""
    return os.access(path, how, effective_ids=os.access in os.supports_effective_ids)


def _stranger(place: Path) -> str:
    """What keeps a folder from being replaced, `{name}` for its name; empty if roundhand made all that is in it."""
    entries = sorted(entry.name for entry in os.scandir(place))
    if not entries:
        return ""
    listed = _listed(place / MARKER)
    if listed is None:
        return "“{name}” is a folder that roundhand has not made"
    for name in entries:
        if name == MARKER:
            continue
        shown = spoken(name).replace("{", "{{").replace("}", "}}")
        if name not in listed:
            return f"“{{name}}” also holds “{shown}”, which roundhand has not put there"
        path = place / name
        if path.is_symlink() or not path.is_file() or hashlib.sha256(path.read_bytes()).hexdigest() != listed[name]:
            return f"“{shown}” in “{{name}}” has been changed since roundhand wrote it"
    return ""


def _listing(files: Mapping[str, bytes]) -> bytes:
    lines = [f"{hashlib.sha256(data).hexdigest()}  {name}\n" for name, data in sorted(files.items())]
    return f"{_FIRST_LINE}\n{''.join(lines)}".encode()


def _listed(marker: Path) -> dict[str, str] | None:
    """The names and sums that a marker lists; None for what is no marker."""
    try:
        first, *lines = marker.read_text(encoding="utf-8").splitlines()
    except (OSError, ValueError):
        return None
    if first != _FIRST_LINE:
        return None
    pairs = (line.partition("  ") for line in lines)
    return {name: total for total, _, name in pairs}


def _put(beside: Path, place: Path) -> None:
    """Puts a folder in its place; what was there stands in the other's place afterwards, or is away."""
    if not place.exists():
        os.rename(beside, place)
        return
    if _exchanged(beside, place):
        return
    old = _beside(place, place)
    os.rename(place, old)
    try:
        os.rename(beside, place)
    except BaseException:
        os.rename(old, place)
        raise
    shutil.rmtree(old, ignore_errors=True)


def _exchanged(one: Path, other: Path) -> bool:
    """Lets two folders change places in one step; False where the system or the disk cannot."""
    if not sys.platform.startswith("linux"):
        return False
    try:
        exchange = ctypes.CDLL(None, use_errno=True).renameat2
    except (OSError, AttributeError):
        return False
    return bool(exchange(_HERE, os.fsencode(one), _HERE, os.fsencode(other), _EXCHANGE) == 0)


def _beside(place: Path, asked: Path) -> Path:
    """A name that nothing has yet, in the folder where a place is."""
    return _parent(place, asked) / f".{place.name[:40]}-{secrets.token_hex(4)}"


def _fill(path: Path, data: bytes) -> None:
    """Writes a new file and waits until it is on the disk."""
    with open(path, "xb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def _parent(place: Path, asked: Path) -> Path:
    if not place.parent.is_dir():
        raise UseError(f"There is no folder for “{spoken(asked)}” to stand in; make it first, or name another place.")
    return place.parent


def _settle(folder: Path) -> None:
    """Has the system keep what stands in a folder, where it can be asked to."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    except OSError:
        # Some disks cannot be asked for a folder; its files are safe by themselves.
        pass
    finally:
        os.close(handle)


@contextmanager
def _told(path: Path) -> Iterator[None]:
    """Turns what the disk says into one sentence."""
    name = spoken(path)
    try:
        yield
    except PermissionError:
        raise UseError(f"“{name}” may not be written there; name another place with --out.") from None
    except OSError as problem:
        if problem.errno in (errno.ENOSPC, errno.EDQUOT):
            raise UseError(f"The disk is full, so “{name}” was not written; make some room.") from None
        why = spoken(problem.strerror or type(problem).__name__)
        raise UseError(f"“{name}” could not be written ({why}); name another place with --out.") from None
