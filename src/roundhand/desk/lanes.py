"""Lanes: each is one worker process with the questions that wait for it. Questions about older texts are dropped."""

from __future__ import annotations

import asyncio
import contextlib
import subprocess
import sys
from collections import OrderedDict
from collections.abc import Callable
from pathlib import Path

from roundhand.desk.problems import ProblemError
from roundhand.desk.worker import ANSWERED, ASKED, READY, STEP

# So many windows are remembered; a desk has rarely more than two.
_MOST_WINDOWS = 64
# So many seconds a worker may take to load what it works with.
_COMING_UP = 120.0


class Lane:
    """One worker. It is started when it is first needed, and again after it has ended or taken too long.

    `limit` is how many seconds an answer may take.
    """

    def __init__(self, folder: Path, limit: float = 30.0) -> None:
        self.folder = folder
        self.limit = limit
        self._worker: asyncio.subprocess.Process | None = None
        self._turn = asyncio.Lock()
        self._newest: OrderedDict[tuple[str, str], int] = OrderedDict()

    async def warm(self) -> None:
        """Starts the worker before it is needed."""
        async with self._turn:
            try:
                await self._ready()
            except (TimeoutError, asyncio.IncompleteReadError):
                await self.close()

    async def ask(
        self, task: str, body: bytes, window: str = "", number: int = 0, step: Callable[[bytes], object] | None = None
    ) -> tuple[int, bytes]:
        """The status and body of an answer. With a window, a question that is not its newest of this task when its
        turn comes is not asked any more. `step` is called with every step on the way.

        Raises `ProblemError`: `older` for such a question, `too-long` where no answer came in time, `broken` where the
        worker ended.
        """
        key = (window, task)
        if window:
            self._newest[key] = max(number, self._newest.get(key, 0))
            self._newest.move_to_end(key)
            while len(self._newest) > _MOST_WINDOWS:
                self._newest.popitem(last=False)
        async with self._turn:
            try:
                worker = await self._ready()
                if window and number < self._newest.get(key, 0):
                    raise ProblemError("A newer text of this window is being read.", "older")
                return await asyncio.wait_for(_asked(worker, task, body, step), self.limit)
            except TimeoutError:
                await self.close()
                raise ProblemError("That took too long and was given up; the text is kept.", "too-long") from None
            except (asyncio.IncompleteReadError, ConnectionError):
                await self.close()
                raise ProblemError("The worker ended before it had answered; ask again.", "broken") from None
            except asyncio.CancelledError:
                # The answer to a question that nobody waits for would be taken for the next one's.
                await self.close()
                raise

    async def close(self) -> None:
        """Ends the worker."""
        worker, self._worker = self._worker, None
        if worker is not None and worker.returncode is None:
            with contextlib.suppress(ProcessLookupError):
                worker.kill()
            await worker.wait()

    async def _ready(self) -> asyncio.subprocess.Process:
        if self._worker is None or self._worker.returncode is not None:
            self._worker = await asyncio.create_subprocess_exec(
                sys.executable,
                "-P",
                "-c",
                "from roundhand.desk.worker import main; main()",
                str(self.folder),
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
            )
            assert self._worker.stdout is not None
            # A machine that has much to do may take long to load it all; that is no question that takes too long.
            await asyncio.wait_for(self._worker.stdout.readexactly(len(READY)), _COMING_UP)
        return self._worker


async def _asked(
    worker: asyncio.subprocess.Process, task: str, body: bytes, step: Callable[[bytes], object] | None
) -> tuple[int, bytes]:
    assert worker.stdin is not None and worker.stdout is not None
    name = task.encode()
    worker.stdin.write(ASKED.pack(len(name), len(body)) + name + body)
    await worker.stdin.drain()
    while True:
        status, length = ANSWERED.unpack(await worker.stdout.readexactly(ANSWERED.size))
        said = await worker.stdout.readexactly(length)
        if status != STEP:
            return status, said
        if step is not None:
            step(said)
