"""Operations on the folder: which patterns are there, their texts, and every text that was saved."""

from __future__ import annotations

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

import roundhand
from roundhand.desk import answers, asked
from roundhand.desk.changes import EVENTS, Changed, changes_told
from roundhand.desk.desk import Desk
from roundhand.desk.operation import NAME, Operation, Parameter, body_of, decoded, given
from roundhand.workshop.pattern_files import Opened
from roundhand.workshop.revisions import Revision
from roundhand.workshop.shelf import Shelf

_SAVING = ("changed-elsewhere", "disk-full", "read-only", "wrong-name", "too-large", "no-answer")


async def desk_answer(desk: Desk, _request: Request) -> Response:
    """The folder and what is in it."""
    return given(await run_in_threadpool(_listed, desk.shelf))


async def opened(desk: Desk, request: Request) -> Response:
    """A pattern with its text."""
    return given(await run_in_threadpool(desk.shelf.open, request.path_params["name"]))


async def saved(desk: Desk, request: Request) -> Response:
    """Saves a text."""
    one = decoded(await body_of(request), asked.SaveAsked)
    name = request.path_params["name"]
    done = await run_in_threadpool(desk.shelf.save, name, one.text, one.base, one.window)
    desk.changes.tell(Changed(name, done.version, one.window))
    return given(answers.SavedAnswer(done.version, done.revision, done.saved))


async def added(desk: Desk, request: Request) -> Response:
    """Saves a new pattern."""
    one = decoded(await body_of(request), asked.AddAsked)
    done = await run_in_threadpool(desk.shelf.add, one.title, one.text)
    desk.changes.tell(Changed(done.name, done.version, "copy"))
    return given(answers.Added(done.name, done.version), 201)


async def changes(desk: Desk, request: Request) -> Response:
    """What changes in the folder from now on."""
    return await changes_told(desk.changes, request)


async def revisions(desk: Desk, request: Request) -> Response:
    """What was saved of a pattern."""
    return given(await run_in_threadpool(desk.shelf.history, request.path_params["name"]))


async def revision(desk: Desk, request: Request) -> Response:
    """One earlier text."""
    name, number = request.path_params["name"], request.path_params["number"]
    text, changes = await run_in_threadpool(desk.shelf.revision, name, number)
    return given(answers.RevisionAnswer(text, changes))


def _listed(shelf: Shelf) -> answers.DeskAnswer:
    patterns = shelf.patterns()
    return answers.DeskAnswer(
        shelf.folder.name or str(shelf.folder),
        patterns,
        shelf.left_out,
        tuple(answers.ExampleListed(one.name, one.title) for one in shelf.examples()),
        roundhand.__version__,
        shelf.writable,
        shelf.writable,
    )


_PATTERN = "/api/patterns/{name:pattern}"

OPERATIONS: tuple[Operation, ...] = (
    Operation("GET", "/api/desk", "desk", "The folder and what is in it.", desk_answer, answers.DeskAnswer,
              kinds=("no-answer",)),
    Operation("POST", "/api/patterns", "add", "Saves a new pattern in a file of its own.", added, answers.Added,
              asked.AddAsked, 201, ("disk-full", "read-only", "too-large", "no-answer")),
    Operation("GET", f"{_PATTERN}/revisions", "revisions", "All that was ever saved of a pattern, the newest first.",
              revisions, tuple[Revision, ...], kinds=("wrong-name", "read-only", "no-answer"), parameters=(NAME,)),
    Operation("GET", f"{_PATTERN}/revisions/{{number:int}}", "revision", "An earlier text, and how it differs.",
              revision, answers.RevisionAnswer, kinds=("not-there", "wrong-name", "read-only", "no-answer"),
              parameters=(NAME, Parameter("number", "path", "The number of the revision.",
                                          {"type": "integer", "minimum": 0}))),
    Operation("GET", _PATTERN, "open", "A pattern with its text.", opened, Opened,
              kinds=("not-there", "wrong-name", "no-answer"), parameters=(NAME,)),
    Operation("PUT", _PATTERN, "save", "Saves a text over the version it was made from.", saved, answers.SavedAnswer,
              asked.SaveAsked, kinds=_SAVING, parameters=(NAME,)),
    Operation("GET", "/api/changes", "changes", "What changes in the folder from now on, an event for each file.",
              changes, None, media=EVENTS, events=(Changed,)),
)  # fmt: skip
