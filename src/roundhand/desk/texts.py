"""Operations on a text: reading, queries, reasons and what else a worker answers."""

from __future__ import annotations

import re

from starlette.requests import Request
from starlette.responses import Response

from roundhand.desk.desk import Desk
from roundhand.desk.operation import JSON, WINDOW, Call, Operation, Parameter, body_of, decoded, given
from roundhand.desk.problems import PROBLEM, ProblemError
from roundhand.desk.work import TASKS
from roundhand.desk.worker import OK
from roundhand.terms import languages
from roundhand.workshop.wording import Wording, wording

_WINDOW = re.compile(r"[A-Za-z0-9-]{0,64}")


def asking(task: str, lane: str, newest: bool = False) -> Call:
    """A call that hands a question to a worker; with `newest` older ones of the same window are dropped."""

    async def call(desk: Desk, request: Request) -> Response:
        body = await body_of(request)
        # What has the wrong shape is answered here, so that no worker is kept busy with it.
        asked = decoded(body, TASKS[task].asks)
        window = request.headers.get("x-window", "") if newest else ""
        if not _WINDOW.fullmatch(window):
            raise ProblemError("The name of a window has letters, digits and hyphens, 64 at the most.", "wrong-shape")
        status, said = await desk.lanes[lane].ask(task, body, window, getattr(asked, "number", 0))
        return Response(said, status, media_type=JSON if status == OK else PROBLEM)

    return call


async def words(_desk: Desk, request: Request) -> Response:
    """The words to offer while somebody types."""
    return given(wording(request.query_params.get("terms", "US")))


def _operation(task: str, lane: str, says: str, newest: bool = False, kinds: tuple[str, ...] = ()) -> Operation:
    return Operation(
        "POST",
        f"/api/{task}",
        task,
        says,
        asking(task, lane, newest),
        TASKS[task].gives,
        TASKS[task].asks,
        kinds=(*(("older",) if newest else ()), "too-large", "too-long", *kinds),
        parameters=(WINDOW,) if newest else (),
    )


OPERATIONS: tuple[Operation, ...] = (
    _operation("read", "counts", "Reads and counts a text: what stands in the left margin.", newest=True),
    _operation("queries", "edit", "The whole edit of a text: what stands in the right margin.", newest=True),
    _operation("why", "counts", "The reasons behind a row.", kinds=("no-answer",)),
    _operation("tidy", "edit", "A text in house style, her sentences as they stand."),
    _operation("shift", "edit", "A text in other terms."),
    _operation("measures", "press", "Finished measurements and yarn of all sizes."),
    _operation("chart", "press", "The chart of a piece, drawn and in words.", kinds=("no-chart",)),
    _operation("leaflet", "press", "The pages of the printed leaflet as they will look.", kinds=("no-answer",)),
    Operation(
        "GET",
        "/api/words",
        "words",
        "The words to offer while somebody types.",
        words,
        Wording,
        kinds=("no-answer",),
        parameters=(
            Parameter(
                "terms", "query", "The terms, US or UK.", {"type": "string", "enum": list(languages())}, required=False
            ),
        ),
    ),
)
