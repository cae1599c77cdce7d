"""Every saved text of the patterns in a folder, kept in one small file beside them, so that each can be had back.

The file is a SQLite database. Texts are kept as the bytes that stood in the pattern's file, compressed; one that
differs little from an earlier one is compressed against it, so that a text saved every second stays small.
"""

from __future__ import annotations

import difflib
import os
import sqlite3
import threading
import time
import zlib
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import Literal

import msgspec

from roundhand.measures import say_count

STORE = ".roundhand-revisions.sqlite"
_SCHEMA = """
create table if not exists revision (
    id integer primary key autoincrement,
    name text not null, saved text not null, who text not null, words text not null, version text not null,
    whole integer, body blob not null
);
create index if not exists revisions_of on revision (name, id);
"""
# A compressor looks back so far and no further.
_WINDOW = 32_000
# Another program that writes to the store is waited for so many seconds.
_PATIENCE = 15.0
_A_MOMENT = 0.02
# A list of changed lines is reckoned on no more lines than this; beyond it they are only counted.
_MOST_COMPARED = 2_000


class Revision(msgspec.Struct, frozen=True):
    """A text that was saved: when (ISO time, UTC), what changed in words, and by whom: a window, `disk` for another
    program, `copy` for a text that was pasted or copied."""

    id: int
    saved: str
    words: str
    by: str


class Change(msgspec.Struct, frozen=True):
    """Lines of a text that are the `same` as in another, stand only in the other (`out`), or only in it (`in`)."""

    kind: Literal["same", "out", "in"]
    text: str


class StoreError(Exception):
    """The store cannot be read or written now; the patterns are not touched by that."""


class Revisions:
    """The revisions of one folder. The file is made when the first text is kept.

    Any number of threads may use it, and several programs at a time.
    """

    def __init__(self, folder: Path) -> None:
        self._path = folder / STORE
        self._gate = threading.RLock()
        self._open: sqlite3.Connection | None = None
        # The file opened to be read alone, in a folder that may not be written.
        self._looked_at: sqlite3.Connection | None = None

    def close(self) -> None:
        """Closes the file; it is opened again where it is needed."""
        with self._gate:
            for store in (self._open, self._looked_at):
                if store is not None:
                    store.close()
            self._open = self._looked_at = None

    @contextmanager
    def alone(self) -> Iterator[None]:
        """Lets nobody else write meanwhile, in this program or another. What is kept inside is kept together.

        Raises `StoreError` where the store cannot be written.
        """
        with self._gate:
            store = self._writable()
            with _spoken():
                store.execute("begin immediate")
            try:
                yield
            except BaseException:
                # A store that has given up by itself has nothing left to take back.
                with suppress(sqlite3.Error):
                    store.execute("rollback")
                raise
            with _spoken():
                store.execute("commit")

    def keep(self, name: str, data: bytes, version: str, by: str) -> int:
        """Keeps the bytes of a pattern and gives their number; what is the newest already is not kept again.

        Raises `StoreError` where the store cannot be written.
        """
        with self._gate:
            store = self._writable()
            with _spoken():
                newest = store.execute(
                    "select id, version from revision where name = ? order by id desc limit 1", (name,)
                ).fetchone()
                if newest is not None and newest[1] == version:
                    return int(newest[0])
                before = self._bytes(store, newest[0]) if newest is not None else None
                whole, body = self._packed(store, name, data)
                done = store.execute(
                    "insert into revision (name, saved, who, words, version, whole, body) values (?, ?, ?, ?, ?, ?, ?)",
                    (name, now(), by, _changed(before, data), version, whole, body),
                )
                return int(done.lastrowid or 0)

    def of(self, name: str) -> tuple[Revision, ...]:
        """The revisions of a pattern, the newest first; none where none was ever kept."""
        with self._gate, _spoken():
            store = self._readable()
            if store is None:
                return ()
            rows = store.execute("select id, saved, words, who from revision where name = ? order by id desc", (name,))
            return tuple(Revision(*row) for row in rows)

    def names(self) -> frozenset[str]:
        """The names of all patterns that have a revision."""
        with self._gate, _spoken():
            store = self._readable()
            if store is None:
                return frozenset()
            return frozenset(row[0] for row in store.execute("select distinct name from revision"))

    def by(self, name: str, version: str) -> str | None:
        """By whom a text of a pattern was last saved; None where it is not among its revisions."""
        with self._gate, _spoken():
            store = self._readable()
            if store is None:
                return None
            found = store.execute(
                "select who from revision where name = ? and version = ? order by id desc limit 1", (name, version)
            ).fetchone()
            return str(found[0]) if found is not None else None

    def data(self, name: str, number: int) -> bytes | None:
        """The bytes of a revision; None where the pattern has none of that number."""
        with self._gate, _spoken():
            store = self._readable()
            if store is None or abs(number) >= 2**63:
                return None
            found = store.execute("select 1 from revision where id = ? and name = ?", (number, name)).fetchone()
            return self._bytes(store, number) if found is not None else None

    def _writable(self) -> sqlite3.Connection:
        if self._open is not None and self._path.exists():
            return self._open
        self.close()
        with _spoken():
            try:
                self._open = self._opened()
            except sqlite3.DatabaseError as problem:
                if _code(problem) not in (sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_CORRUPT):
                    raise
                # What is no store, or a damaged one, is laid aside and never thrown away.
                self._path.rename(_free(self._path))
                self._open = self._opened()
        return self._open

    def _opened(self) -> sqlite3.Connection:
        store = sqlite3.connect(self._path, timeout=_PATIENCE, isolation_level=None, check_same_thread=False)
        try:
            _made_patient(store)
            # A text that was told to be kept is on the disk, even where the power fails.
            store.execute("pragma synchronous = full")
            store.executescript(_SCHEMA)
        except BaseException:
            store.close()
            raise
        return store

    def _readable(self) -> sqlite3.Connection | None:
        """The store to read from; None where there is none."""
        if not self._path.exists():
            return None
        try:
            return self._writable()
        except StoreError:
            if self._looked_at is None:
                self._looked_at = _looked_at(self._path)
            return self._looked_at

    def _bytes(self, store: sqlite3.Connection, number: int) -> bytes:
        whole, body = store.execute("select whole, body from revision where id = ?", (number,)).fetchone()
        if whole is None:
            return zlib.decompress(body)
        return zlib.decompressobj(zdict=self._bytes(store, whole)[:_WINDOW]).decompress(body)

    def _packed(self, store: sqlite3.Connection, name: str, data: bytes) -> tuple[int | None, bytes]:
        """The bytes compressed, and the number of the revision they are compressed against; None for none."""
        alone = zlib.compress(data, 6)
        found = store.execute(
            "select id from revision where name = ? and whole is null order by id desc limit 1", (name,)
        ).fetchone()
        if found is None:
            return None, alone
        packer = zlib.compressobj(6, zdict=self._bytes(store, found[0])[:_WINDOW])
        against = packer.compress(data) + packer.flush()
        return (found[0], against) if len(against) * 2 < len(alone) else (None, alone)


def difference(before: str, after: str) -> tuple[Change, ...]:
    """Two texts line by line: what is the same in both, what stands in the first alone, what in the second.

    >>> [(one.kind, one.text) for one in difference("Cap\\nRnd 1\\nRnd 2", "Cap\\nRnd 1.\\nRnd 2")]
    [('same', 'Cap'), ('out', 'Rnd 1'), ('in', 'Rnd 1.'), ('same', 'Rnd 2')]
    """
    old, new = before.splitlines(), after.splitlines()
    lead, trail = _alike(old, new)
    found: list[Change] = []

    def add(kind: Literal["same", "out", "in"], lines: list[str]) -> None:
        if lines:
            found.append(Change(kind, "\n".join(lines)))

    add("same", old[:lead])
    inner_old, inner_new = old[lead : len(old) - trail], new[lead : len(new) - trail]
    if max(len(inner_old), len(inner_new)) > _MOST_COMPARED:
        add("out", inner_old)
        add("in", inner_new)
    else:
        matcher = difflib.SequenceMatcher(None, inner_old, inner_new, autojunk=False)
        for tag, first, last, start, end in matcher.get_opcodes():
            if tag == "equal":
                add("same", inner_old[first:last])
                continue
            add("out", inner_old[first:last])
            add("in", inner_new[start:end])
    add("same", old[len(old) - trail :])
    return tuple(found)


def now() -> str:
    """The time as it is kept: ISO, in UTC, to the thousandth of a second."""
    return datetime.now(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def _alike(old: list[str], new: list[str]) -> tuple[int, int]:
    """How many lines are the same at the beginning and at the end of both."""
    most = min(len(old), len(new))
    lead = next((at for at in range(most) if old[at] != new[at]), most)
    trail = next((at for at in range(most - lead) if old[-1 - at] != new[-1 - at]), most - lead)
    return lead, trail


def _changed(before: bytes | None, after: bytes) -> str:
    """What a revision changes, in words."""
    if before is None:
        return "first kept"
    old, new = (data.decode("utf-8", "replace").splitlines() for data in (before, after))
    lead, trail = _alike(old, new)
    out, put = len(old) - lead - trail, len(new) - lead - trail
    if not out and not put:
        return "line ends changed" if old else "nothing changed"
    if not out:
        return f"{say_count(put, 'line')} added"
    if not put:
        return f"{say_count(out, 'line')} taken out"
    return f"{say_count(max(out, put), 'line')} changed"


def _looked_at(path: Path) -> sqlite3.Connection:
    """A store opened to be read alone; where even that needs files beside it, as it lies there."""
    for how in ("mode=ro", "immutable=1"):
        store = sqlite3.connect(f"{path.resolve().as_uri()}?{how}", uri=True, check_same_thread=False)
        try:
            store.execute("select count(*) from revision").fetchone()
        except sqlite3.Error:
            store.close()
            if how != "mode=ro":
                raise
        else:
            return store
    raise AssertionError("either way ends above")


def _free(path: Path) -> Path:
    """A name beside a file that nothing has yet."""
    at = 1
    while os.path.lexists(beside := path.with_suffix(f".laid-aside-{at}.sqlite")):
        at += 1
    return beside


def _code(problem: sqlite3.Error) -> int:
    return getattr(problem, "sqlite_errorcode", 0) & 0xFF


def _made_patient(store: sqlite3.Connection) -> None:
    """Makes the store one that is read while it is written; SQLite itself does not wait for somebody else who is just
    doing the same."""
    end = time.monotonic() + _PATIENCE
    while True:
        try:
            store.execute("pragma journal_mode = wal")
        except sqlite3.OperationalError as problem:
            if _code(problem) != sqlite3.SQLITE_BUSY or time.monotonic() > end:
                raise
            time.sleep(_A_MOMENT)
        else:
            return


@contextmanager
def _spoken() -> Iterator[None]:
    """Turns what the store says into `StoreError`."""
    try:
        yield
    except (sqlite3.Error, OSError, zlib.error) as problem:
        raise StoreError(str(problem)) from problem
