"""What an operation of the desk is, and how bodies are read and answers sent."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from typing import Any, NamedTuple, TypeVar

import msgspec
from starlette.requests import Request
from starlette.responses import Response

from roundhand.desk.desk import Desk
from roundhand.desk.problems import ProblemError, answered, problem_of
from roundhand.workshop.text import MOST_BYTES

Asked = TypeVar("Asked", bound=msgspec.Struct)
Call = Callable[[Desk, Request], Awaitable[Response]]
# A text in JSON takes more room than by itself, at the most six bytes for one; nobody writes such a pattern.
MOST_BODY = 2 * MOST_BYTES
JSON = "application/json"


class Parameter(NamedTuple):
    """A part of the address, or a header: `place` is `path`, `query` or `header`."""

    name: str
    place: str
    says: str
    schema: dict[str, Any]
    required: bool = True


class Operation(NamedTuple):
    """One thing that can be asked of the desk. `kinds` are the problems that may be its answer besides those of all;
    `events` are the values that a stream of events may bring."""

    method: str
    path: str
    name: str
    says: str
    call: Call
    gives: Any
    asks: type[msgspec.Struct] | None = None
    status: int = 200
    kinds: tuple[str, ...] = ()
    parameters: tuple[Parameter, ...] = ()
    media: str = JSON
    events: tuple[type[msgspec.Struct], ...] = ()


NAME = Parameter(
    "name",
    "path",
    "The name of a pattern: its path from the folder, or `example:` and the name of an example.",
    {"type": "string", "pattern": r"\.([tT][xX][tT]|[mM][dD])$"},
)
WINDOW = Parameter(
    "x-window",
    "header",
    "The window that asks; of its questions only the newest is answered.",
    {"type": "string", "maxLength": 64, "pattern": "^[A-Za-z0-9-]*$"},
    required=False,
)


async def body_of(request: Request) -> bytes:
    """The body of a request; raises `ProblemError` for one that is too large."""
    taken = bytearray()
    async for piece in request.stream():
        taken += piece
        if len(taken) > MOST_BODY:
            raise ProblemError("That is more than a pattern can hold.", "too-large")
    return bytes(taken)


def decoded(body: bytes, asks: type[Asked]) -> Asked:
    """A body as a value; raises `ProblemError` for what is no JSON, or of another shape."""
    try:
        return msgspec.json.decode(body, type=asks)
    except msgspec.ValidationError as slip:
        raise ProblemError(f"The question has another shape: {slip}.", "wrong-shape") from None
    except (msgspec.DecodeError, UnicodeError, RecursionError):
        raise ProblemError("The question is no JSON.", "no-json") from None


def given(answer: Any, status: int = 200) -> Response:
    """A value as an answer."""
    return Response(msgspec.json.encode(answer), status, media_type=JSON)


async def told(call: Call, desk: Desk, request: Request) -> Response:
    """The answer of a call; what stands in its way becomes a problem."""
    try:
        return await call(desk, request)
    except Exception as slip:
        return answered(problem_of(slip))
