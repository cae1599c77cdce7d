"""The desk as an application: its addresses, with the guard before them."""

from __future__ import annotations

import asyncio
import contextlib
from collections.abc import AsyncIterator, Mapping, Sequence
from contextlib import asynccontextmanager

from starlette.applications import Starlette
from starlette.convertors import PathConvertor, register_url_convertor
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route
from starlette.types import ASGIApp

from roundhand.desk import page, patterns, publish, texts
from roundhand.desk.answers import Problem
from roundhand.desk.desk import Desk
from roundhand.desk.guard import Guard
from roundhand.desk.openapi import described
from roundhand.desk.operation import Operation, given, told
from roundhand.desk.problems import answered

OPERATIONS: tuple[Operation, ...] = (*patterns.OPERATIONS, *texts.OPERATIONS, *publish.OPERATIONS)


class _NameConvertor(PathConvertor):
    """The name of a pattern in an address: a path that does not end as the address of its revisions does."""

    regex = r"(?:(?!/revisions(?:/\d+)?$).)*"


register_url_convertor("pattern", _NameConvertor())


def make_app(desk: Desk) -> ASGIApp:
    """The application of an open desk; it ends the desk's workers when it ends."""

    @asynccontextmanager
    async def while_open(_app: Starlette) -> AsyncIterator[None]:
        watch = asyncio.create_task(desk.changes.watch())
        try:
            yield
        finally:
            desk.part()
            watch.cancel()
            with contextlib.suppress(asyncio.CancelledError):
                await watch
            await desk.close()

    async def index(request: Request) -> Response:
        # Whoever opens the page is going to type; the workers come up while it loads.
        warming.append(asyncio.create_task(desk.warm()))
        del warming[:-1]
        return await page.index(request)

    warming: list[asyncio.Task[None]] = []
    app = Starlette(
        routes=[
            *_routes(desk, OPERATIONS),
            Route("/openapi.json", _description),
            Route("/assets/{path:path}", page.asset),
            Route("/", index),
        ],
        lifespan=while_open,
        exception_handlers={404: _astray, 405: _astray},
    )
    return Guard(app, desk.port, desk.key)


def _routes(desk: Desk, operations: Sequence[Operation]) -> list[Route]:
    """A route for each address, so that what can be asked there is said whole."""
    paths: dict[str, dict[str, Operation]] = {}
    for operation in operations:
        paths.setdefault(operation.path, {})[operation.method] = operation
    return [_route(desk, path, own) for path, own in paths.items()]


def _route(desk: Desk, path: str, own: Mapping[str, Operation]) -> Route:
    async def answer(request: Request) -> Response:
        method = "GET" if request.method == "HEAD" else request.method
        return await told(own[method].call, desk, request)

    return Route(path, answer, methods=list(own))


async def _description(_request: Request) -> Response:
    return given(described(OPERATIONS))


async def _astray(_request: Request, slip: Exception) -> Response:
    assert isinstance(slip, HTTPException)
    if slip.status_code == 405:
        response = answered(Problem("That cannot be done here.", "not-so"))
        response.headers.update(slip.headers or {})
        return response
    return answered(Problem("There is nothing at this address.", "not-there"))
