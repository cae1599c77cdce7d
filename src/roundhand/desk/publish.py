"""Operations that publish a pattern, and show what was made."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from pathlib import Path

import msgspec
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import FileResponse, Response, StreamingResponse

from roundhand.desk import answers, asked
from roundhand.desk.changes import EVENTS
from roundhand.desk.desk import Desk
from roundhand.desk.operation import Operation, Parameter, body_of, decoded
from roundhand.desk.problems import ProblemError, problem_of
from roundhand.workshop.file_names import place_in
from roundhand.workshop.publishing import Step
from roundhand.workshop.writing import made_here

# A page that was made runs nothing and is nobody: it may show what it holds, and no more.
_SANDBOX = "sandbox; default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; base-uri 'none'"
_TYPES = {
    ".html": "text/html; charset=utf-8",
    ".txt": "text/plain; charset=utf-8",
    ".svg": "image/svg+xml",
    ".png": "image/png",
}
# Publishing goes on where the window that asked for it is closed.
_under_way: set[asyncio.Task[None]] = set()


async def published(desk: Desk, request: Request) -> Response:
    """Publishes a pattern, and says how far it is."""
    body = await body_of(request)
    decoded(body, asked.PublishAsked)
    steps: asyncio.Queue[bytes | None] = asyncio.Queue()

    async def work() -> None:
        try:
            _, said = await desk.lanes["press"].ask("publish", body, step=steps.put_nowait)
        except Exception as slip:
            said = msgspec.json.encode(problem_of(slip))
        steps.put_nowait(said)
        steps.put_nowait(None)

    task = asyncio.create_task(work())
    _under_way.add(task)
    task.add_done_callback(_under_way.discard)

    async def events() -> AsyncIterator[bytes]:
        while (said := await steps.get()) is not None:
            yield b"data: " + said + b"\n\n"

    return StreamingResponse(events(), media_type=EVENTS)


async def shown(desk: Desk, request: Request) -> Response:
    """A file that was published."""
    path = place_in(desk.shelf.folder, request.path_params["path"])
    if path is None or not await run_in_threadpool(_is_made, path):
        raise ProblemError("There is no such file that was published here.", "not-there")
    media = _TYPES.get(path.suffix)
    return FileResponse(
        path,
        media_type=media or "application/octet-stream",
        filename=path.name,
        content_disposition_type="inline" if media else "attachment",
        headers={"content-security-policy": _SANDBOX},
    )


def _is_made(path: Path) -> bool:
    try:
        return made_here(path)
    except OSError:
        return False


_PATH = Parameter("path", "path", "The folder and the name of the file.", {"type": "string", "minLength": 1})

OPERATIONS: tuple[Operation, ...] = (
    Operation(
        "POST",
        "/api/publish",
        "publish",
        "Publishes a pattern: events with `done`, `of` and `what`, at last the folder and its files, or a problem.",
        published,
        None,
        asked.PublishAsked,
        kinds=("too-large",),
        media=EVENTS,
        events=(Step, answers.PublishedAnswer, answers.Problem),
    ),
    Operation(
        "GET",
        "/api/published/{path:path}",
        "published",
        "A file that was published.",
        shown,
        None,
        kinds=("not-there",),
        parameters=(_PATH,),
        media="*/*",
    ),
)
