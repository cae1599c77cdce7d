"""What stands in the way, as an answer: one plain sentence, a word for programs, and the status of the protocol."""

from __future__ import annotations

import msgspec
from starlette.responses import Response

from roundhand.desk.answers import Problem
from roundhand.workshop import UseError
from roundhand.workshop.pattern_files import (
    ChangedElsewhereError,
    DiskFullError,
    NotThereError,
    ReadOnlyError,
    WrongNameError,
)

PROBLEM = "application/problem+json"
# Every kind with its status; the page knows them by these words.
STATUS = {
    "no-json": 400,
    "no-key": 403,
    "stranger": 403,
    "read-only": 403,
    "not-there": 404,
    "not-so": 405,
    "changed-elsewhere": 409,
    "older": 409,
    "too-large": 413,
    "wrong-shape": 422,
    "wrong-name": 422,
    "no-answer": 422,
    "no-chart": 422,
    "refused": 422,
    "broken": 500,
    "too-long": 503,
    "disk-full": 507,
}
_KINDS: tuple[tuple[type[UseError], str], ...] = (
    (ChangedElsewhereError, "changed-elsewhere"),
    (DiskFullError, "disk-full"),
    (ReadOnlyError, "read-only"),
    (NotThereError, "not-there"),
    (WrongNameError, "wrong-name"),
)


class ProblemError(Exception):
    """An answer that is a problem."""

    def __init__(self, title: str, kind: str) -> None:
        super().__init__(title)
        self.problem = Problem(title, kind)


def problem_of(slip: Exception) -> Problem:
    """The problem that an exception is; a slip of our own names its kind alone, since its text is not for readers.

    >>> problem_of(NotThereError("There is no pattern “cap.txt”."))
    Problem(title='There is no pattern “cap.txt”.', kind='not-there', theirs=UNSET)
    """
    if isinstance(slip, ProblemError):
        return slip.problem
    if isinstance(slip, ChangedElsewhereError):
        return Problem(str(slip), "changed-elsewhere", slip.theirs)
    if isinstance(slip, UseError):
        return Problem(str(slip), next((kind for own, kind in _KINDS if isinstance(slip, own)), "no-answer"))
    return Problem(
        f"Something went wrong inside roundhand ({type(slip).__name__}), which is our fault and not your pattern's.",
        "broken",
    )


def answered(problem: Problem) -> Response:
    """A problem as a response."""
    return Response(msgspec.json.encode(problem), STATUS[problem.kind], media_type=PROBLEM)
