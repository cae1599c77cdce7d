"""A desk that is open on an empty folder, and somebody who may speak to it."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser
from starlette.testclient import TestClient

from roundhand.desk import Desk, make_app
from roundhand.workshop.shelf import Shelf
from tests.desk.browsing import Windows, browsing
from tests.desk.serving import serving

PORT = 8765
HOME = f"http://127.0.0.1:{PORT}"


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """A desk on an empty folder."""
    return Desk(Shelf(tmp_path), PORT)


@pytest.fixture
def client(desk: Desk) -> Iterator[TestClient]:
    """The desk's own page: it has the key and says where it comes from."""
    with TestClient(make_app(desk), HOME, follow_redirects=False) as one:
        one.cookies.set(f"roundhand-desk-{PORT}", desk.key)
        one.headers["origin"] = HOME
        yield one


@pytest.fixture
def stranger(desk: Desk) -> Iterator[TestClient]:
    """Somebody who has no key."""
    with TestClient(make_app(desk), HOME, follow_redirects=False) as one:
        yield one


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """One browser for the journeys of a module."""
    with browsing() as one:
        yield one


@pytest.fixture
def window(browser: Browser, tmp_path: Path) -> Iterator[Windows]:
    """Opens windows on a desk that is a process of its own, on an empty folder."""
    with serving(tmp_path) as (_, visitor):
        windows = Windows(browser, visitor.address)
        yield windows
        windows.close()
