"""Who is told when the file of a pattern changes, whoever changes it."""

from __future__ import annotations

import asyncio
import contextlib
from collections.abc import AsyncIterator, Iterable
from pathlib import Path

import msgspec
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response, StreamingResponse
from watchfiles import Change, awatch

from roundhand.workshop.shelf import Shelf

EVENTS = "text/event-stream"
# A connection that is silent for longer may be taken for a broken one.
_HEARTBEAT = 15.0
# Whoever reads more slowly than this many changes is told only of the latest.
_MOST_WAITING = 100


class Changed(msgspec.Struct, frozen=True):
    """The file of a pattern is another now. `version` is null where it is away; `by` is a window of the desk, `copy`
    for a new pattern, or `disk` for another program."""

    name: str
    version: str | None
    by: str


class Changes:
    """The listeners of one desk, and the watch over its folder."""

    def __init__(self, shelf: Shelf) -> None:
        self._shelf = shelf
        self._told: dict[str, str | None] = {}
        self._listeners: set[asyncio.Queue[Changed | None]] = set()
        self._loop: asyncio.AbstractEventLoop | None = None
        self._parting = asyncio.Event()

    def tell(self, change: Changed) -> None:
        """Tells all listeners of a change, once for each version."""
        if change.name in self._told and self._told[change.name] == change.version:
            return
        self._told[change.name] = change.version
        for queue in self._listeners:
            if queue.qsize() >= _MOST_WAITING:
                queue.get_nowait()
            queue.put_nowait(change)

    async def listen(self) -> AsyncIterator[Changed | None]:
        """The changes from now on, None where there was none for a while; ends when the desk is closed."""
        queue: asyncio.Queue[Changed | None] = asyncio.Queue()
        self._listeners.add(queue)
        try:
            while not self._parting.is_set():
                try:
                    change = await asyncio.wait_for(queue.get(), _HEARTBEAT)
                except TimeoutError:
                    change = None
                if not self._parting.is_set():
                    yield change
        finally:
            self._listeners.discard(queue)

    async def watch(self) -> None:
        """Looks after the folder until the desk is closed."""
        self._loop = asyncio.get_running_loop()
        for polling in (False, True):
            # Where the system has no more watches to give away the folder is looked through again and again.
            with contextlib.suppress(OSError):
                await self._watched(polling)
                return

    def part(self) -> None:
        """Lets all listeners go; may be called from a signal."""
        if self._loop is not None and not self._loop.is_closed():
            self._loop.call_soon_threadsafe(self._let_go)

    def _let_go(self) -> None:
        self._parting.set()
        for queue in self._listeners:
            queue.put_nowait(None)

    async def _watched(self, polling: bool) -> None:
        # Of a very large folder only those folders are looked after that patterns lie in.
        places, deep = await run_in_threadpool(self._shelf.watched)
        async for changes in awatch(
            *places,
            watch_filter=self._is_patterns,
            recursive=deep,
            debounce=200,
            step=30,
            stop_event=self._parting,
            force_polling=polling or None,
            ignore_permission_denied=True,
        ):
            await self._noticed({Path(path) for _, path in changes})

    def _is_patterns(self, _change: Change, path: str) -> bool:
        return self._shelf.name_of(Path(path)) is not None

    async def _noticed(self, paths: Iterable[Path]) -> None:
        for path in sorted(paths):
            name = self._shelf.name_of(path)
            if name is not None:
                version, by = await run_in_threadpool(self._shelf.noticed, name)
                self.tell(Changed(name, version, by))


async def changes_told(changes: Changes, _request: Request) -> Response:
    """The changes as a stream of events."""

    async def events() -> AsyncIterator[bytes]:
        yield b"retry: 1000\n\n"
        async for change in changes.listen():
            yield b": still here\n\n" if change is None else b"data: " + msgspec.json.encode(change) + b"\n\n"

    return StreamingResponse(events(), media_type=EVENTS)
