"""The desk answers what its description says, whatever is asked of it: cases made by schemathesis."""

import asyncio
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, settings
from schemathesis import Case
from schemathesis.specs.openapi.checks import positive_data_acceptance
from starlette.testclient import TestClient

from roundhand.desk import Desk, make_app
from roundhand.desk.app import OPERATIONS
from roundhand.desk.openapi import described
from roundhand.desk.worker import STEP, answers
from roundhand.workshop import shipped_patterns
from roundhand.workshop.shelf import Shelf
from tests.desk.conftest import HOME, PORT

# A stream of changes ends when the desk does; it has a test of its own.
ENDLESS = "/api/changes"
# The key is looked at in tests of its own; the page of these always has it.
SCHEMA = schemathesis.openapi.from_dict({**described(OPERATIONS), "security": []})
# For each of the operations, of which there are two dozen.
assert settings.default is not None
EXAMPLES = 150 if settings.default.max_examples > 1000 else 10


class AtHand:
    """Answers as a lane does, in this process, so that a thousand cases take no time."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    async def warm(self) -> None:
        """Needs nothing."""

    async def close(self) -> None:
        """Holds nothing."""

    async def ask(
        self, task: str, body: bytes, window: str = "", number: int = 0, step: Callable[[bytes], object] | None = None
    ) -> tuple[int, bytes]:
        """The answer."""
        await asyncio.sleep(0)
        for status, said in answers(task, body, self.folder):
            if status != STEP:
                return status, said
            if step is not None:
                step(said)
        raise AssertionError("an answer ends a question")


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """The desk's page, on a folder with a pattern in it."""
    folder = tmp_path_factory.mktemp("desk")
    shelf = Shelf(folder)
    shelf.add("Cap", (shipped_patterns() / "saltmarsh-cap.txt").read_text(encoding="utf-8"))
    desk = Desk(shelf, PORT)
    desk.lanes = {name: AtHand(folder) for name in desk.lanes}  # type: ignore[misc]
    with TestClient(make_app(desk), HOME, follow_redirects=False) as one:
        one.cookies.set(f"roundhand-desk-{PORT}", desk.key)
        one.headers["origin"] = HOME
        yield one


@SCHEMA.exclude(path=ENDLESS).parametrize()
@settings(max_examples=EXAMPLES, suppress_health_check=list(HealthCheck))
def test_every_answer_is_as_described(case: Case[Any], page: TestClient) -> None:
    wire = case.as_transport_kwargs(base_url=HOME)
    response = page.request(
        wire["method"],
        wire["url"],
        params=wire.get("params"),
        headers=[(name, value.encode("latin-1")) for name, value in (wire.get("headers") or {}).items()],
        json=wire.get("json"),
        content=wire.get("data"),
    )
    # No shape can say which names a folder may hold, which rows a text has, or that a piece is there.
    case.validate_response(response, excluded_checks=[positive_data_acceptance])


def test_all_operations_are_described() -> None:
    paths = described(OPERATIONS)["paths"]
    assert sum(len(one) for one in paths.values()) == len(OPERATIONS) == len({one.name for one in OPERATIONS})
    assert ENDLESS in paths
