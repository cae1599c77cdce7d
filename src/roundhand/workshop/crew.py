"""Many files looked at by several processes at once, with the answers in the order of the files.

A file that goes wrong stops no other.
"""

from __future__ import annotations

import os
import signal
import traceback
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from itertools import count
from multiprocessing import get_context
from pathlib import Path
from typing import Generic, TypeVar

import msgspec

Answer = TypeVar("Answer")

# A process has to load the rooms before its first answer, which does not pay for a handful of files.
_FEW = 12


class Failed(msgspec.Struct, frozen=True):
    """A file that could not be looked at, through a slip of ours: the kind of exception, and where it happened."""

    kind: str
    where: str = ""


class Done(msgspec.Struct, Generic[Answer], frozen=True):
    """A file and its answer."""

    path: Path
    answer: Answer | Failed


def cores() -> int:
    """How many processes this one may have work at the same time."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def look_at_all(
    work: Callable[[Path], Answer],
    paths: Sequence[Path],
    hands: int | None = None,
) -> Iterator[Done[Answer]]:
    """Each file with what `work` makes of it, in the order of the files, by `hands` processes: by default as many as
    there are cores, and this one alone where the files are few.

    `work` and its answer must be such as one process can give to another. An exception becomes a `Failed`, and so does
    a process that dies over a file. An interrupt goes through to whoever asked.

    >>> [done.answer for done in look_at_all(str.upper, ["a.txt", "b.txt"])]
    ['A.TXT', 'B.TXT']
    """
    hands = hands or (cores() if len(paths) >= _FEW else 1)
    if hands > 1 and len(paths) > 1:
        yield from _by_several(work, paths, min(hands, len(paths)))
        return
    for path in paths:
        yield Done(path, _answered(work, path))


def _by_several(work: Callable[[Path], Answer], paths: Sequence[Path], hands: int) -> Iterator[Done[Answer]]:
    """The work of several processes. After one has died, which leaves its pool of no use, the next file is looked at by
    a process of its own, so that it is known which file it died over."""
    at, alone = 0, False
    while at < len(paths):
        todo = paths[at : at + 1] if alone else paths[at:]
        # Started afresh and not split off from this one, which works alike on every system.
        pool = ProcessPoolExecutor(min(hands, len(todo)), mp_context=get_context("spawn"), initializer=_undisturbed)
        died = False
        try:
            # A few are handed out ahead of those that are waited for, and no more than that: who stops waits for few.
            waiting = {
                number: pool.submit(_answered, work, todo[number]) for number in range(min(len(todo), hands * 4))
            }
            for number in count():
                if number >= len(todo):
                    break
                answer = _waited_for(waiting.pop(number))
                died = isinstance(answer, Failed) and answer.kind == BrokenProcessPool.__name__
                if died and not alone:
                    break
                yield Done(todo[number], answer)
                at += 1
                ahead = number + hands * 4
                if ahead < len(todo) and not died:
                    waiting[ahead] = pool.submit(_answered, work, todo[ahead])
        finally:
            pool.shutdown(wait=False, cancel_futures=True)
        alone = died and not alone


def _waited_for(future: Future[Answer | Failed]) -> Answer | Failed:
    try:
        return future.result()
    except BrokenProcessPool:
        return Failed(BrokenProcessPool.__name__)


def _answered(work: Callable[[Path], Answer], path: Path) -> Answer | Failed:
    try:
        return work(path)
    except Exception as problem:
        return Failed(type(problem).__name__, traceback.format_exc())


def _undisturbed() -> None:
    """Leaves it to the first process to stop all, so that each says whole what it has to say."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
