"""A worker: a process that answers one question after the other, so that the desk itself is never busy.

It reads frames from standard input and writes frames to standard output, and ends when the desk does. A frame that
asks is the length of the task's name and of the body, four bytes each, then both; a frame that answers is the status,
two bytes, and the length of the body, four bytes, then the body; steps on the way come before it.
"""

from __future__ import annotations

import os
import signal
import struct
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO

import msgspec

from roundhand.desk.problems import STATUS, problem_of
from roundhand.desk.work import TASKS

ASKED = struct.Struct(">II")
ANSWERED = struct.Struct(">HI")
OK = 200
# A step on the way to an answer.
STEP = 100
# What a worker writes before anything else, when it can be asked.
READY = b"ready\n"
_FIRST = "Cap\nTerms: US\nGauge: 16 sts and 20 rnds = 4 in\n\nRnd 1: 6 sc in a magic ring. (6)\nRnd 2: inc around. (13)"


def answers(task: str, body: bytes, folder: Path) -> Iterator[tuple[int, bytes]]:
    """The frames that answer one question: any number of steps, then the answer; whatever goes wrong is an answer as
    well."""
    found = TASKS[task]
    try:
        said = found.answer(msgspec.json.decode(body, type=found.asks), folder)
        steps = iter((said,)) if isinstance(said, msgspec.Struct) else said
        last = next(steps)
        for one in steps:
            yield STEP, msgspec.json.encode(last)
            last = one
        yield OK, msgspec.json.encode(last)
    except Exception as slip:
        if os.environ.get("ROUNDHAND_DEBUG") == "1":
            import traceback

            traceback.print_exception(slip)
        problem = problem_of(slip)
        yield STATUS[problem.kind], msgspec.json.encode(problem)


def serve(source: BinaryIO, target: BinaryIO, folder: Path) -> None:
    """Answers until there is nothing more to read."""
    while len(head := source.read(ASKED.size)) == ASKED.size:
        name_length, length = ASKED.unpack(head)
        name, body = source.read(name_length), source.read(length)
        if len(body) < length:
            return
        for status, said in answers(name.decode(), body, folder):
            target.write(ANSWERED.pack(status, len(said)) + said)
            target.flush()


def main() -> None:
    """Serves standard input and output; what anything else prints goes to standard error."""
    # Somebody who stops the desk by Ctrl-C stops the workers too, which then have nothing more to read.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    out = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)
    # What is loaded at the first reading is loaded now, so that nobody waits for it.
    folder = Path(sys.argv[1])
    for _ in answers("queries", msgspec.json.encode({"text": _FIRST}), folder):
        pass
    out.write(READY)
    out.flush()
    serve(sys.stdin.buffer, out, folder)


if __name__ == "__main__":
    main()
