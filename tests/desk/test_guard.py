"""Nobody but the desk's own page may speak to the desk, and the page may load nothing from elsewhere."""

import re

import pytest
from starlette.testclient import TestClient

from roundhand.desk import Desk
from tests.desk.conftest import HOME, PORT

WRITING = [("PUT", "/api/patterns/cap.txt"), ("POST", "/api/patterns"), ("POST", "/api/read")]
ASKING = [("GET", "/api/desk"), ("GET", "/api/patterns/cap.txt"), ("GET", "/openapi.json"), *WRITING]


def test_the_key_in_the_address_becomes_a_cookie_and_leaves_the_address(stranger: TestClient, desk: Desk) -> None:
    found = stranger.get(f"/?key={desk.key}", headers={"sec-fetch-site": "none", "sec-fetch-mode": "navigate"})
    assert (found.status_code, found.headers["location"]) == (303, "/")
    said = found.headers["set-cookie"].lower()
    assert "httponly" in said and "samesite=strict" in said and "path=/" in said and "domain" not in said
    assert stranger.get("/").status_code == 200
    assert stranger.get("/api/desk").status_code == 200


@pytest.mark.parametrize("key", ["", "x", "ключ", "\x00"])
def test_another_key_opens_nothing(key: str, stranger: TestClient) -> None:
    found = stranger.get("/", params={"key": key})
    assert found.status_code == 403 and "Open the desk again from the terminal" in found.text
    assert "set-cookie" not in found.headers


@pytest.mark.parametrize(("method", "path"), ASKING)
def test_without_a_key_nothing_is_answered(method: str, path: str, stranger: TestClient) -> None:
    for cookie in ("", f"roundhand-desk-{PORT}=wrong", "roundhand-desk-1=", "a=b; ;=\x7f"):
        found = stranger.request(method, path, headers={"origin": HOME, "cookie": cookie}, content=b"{}")
        assert found.status_code == 403 and found.json()["kind"] == "no-key"


@pytest.mark.parametrize(("method", "path"), [("GET", "/"), *ASKING])
@pytest.mark.parametrize(
    "host", ["evil.example", f"evil.example:{PORT}", "127.0.0.1", "127.0.0.1:80", f"127.0.0.1.evil.example:{PORT}", ""]
)
def test_another_host_is_refused_even_with_the_key(method: str, path: str, host: str, client: TestClient) -> None:
    found = client.request(method, path, headers={"host": host})
    assert found.status_code == 403 and found.json()["kind"] == "stranger"


@pytest.mark.parametrize(("method", "path"), ASKING)
@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://evil.example"},
        {"origin": "null"},
        {"origin": "http://127.0.0.1:1"},
        {"origin": f"https://127.0.0.1:{PORT}"},
        {"origin": f"http://localhost:{PORT}"},
        {"origin": HOME, "sec-fetch-site": "cross-site"},
        {"origin": HOME, "sec-fetch-site": "same-site"},
    ],
)
def test_another_page_is_refused_even_with_the_key(
    method: str, path: str, headers: dict[str, str], client: TestClient
) -> None:
    found = client.request(method, path, headers=headers, content=b"{}")
    assert found.status_code == 403 and found.json()["kind"] == "stranger"


@pytest.mark.parametrize(("method", "path"), WRITING)
def test_what_writes_must_say_where_it_comes_from(method: str, path: str, client: TestClient) -> None:
    del client.headers["origin"]
    assert client.request(method, path, content=b"{}").json()["kind"] == "stranger"
    assert client.request(method, path, content=b"{}", headers={"sec-fetch-site": "none"}).json()["kind"] == "stranger"
    own = client.request(method, path, content=b"{}", headers={"sec-fetch-site": "same-origin"})
    assert own.json()["kind"] == "wrong-shape"


def test_both_names_of_this_computer_are_good(client: TestClient) -> None:
    there = f"localhost:{PORT}"
    assert client.get("/api/desk", headers={"host": there, "origin": f"http://{there}"}).status_code == 200
    del client.headers["origin"]
    assert client.get("/api/desk").status_code == 200
    assert client.get("/api/desk", headers={"sec-fetch-site": "cross-site"}).status_code == 403


def test_every_answer_is_guarded_and_every_page_has_a_word_of_its_own(client: TestClient) -> None:
    nonces = set()
    for path in ("/", "/", "/api/desk", "/api/patterns/none.txt", "/nowhere", "/openapi.json"):
        headers = client.get(path).headers
        policy = headers["content-security-policy"]
        assert policy.startswith("default-src 'none'; script-src 'self' 'nonce-")
        assert "unsafe" not in policy and "*" not in policy and "frame-ancestors 'none'" in policy
        nonces.update(re.findall(r"'nonce-([^']+)'", policy))
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["referrer-policy"] == "no-referrer"
        assert headers["cache-control"] == "no-store"
    assert len(nonces) == 6


def test_nobody_gets_a_file_that_is_not_the_pages(client: TestClient) -> None:
    for path in ("..%2f..%2fpyproject.toml", "%2e%2e/__init__.py", "/etc/passwd", "%00"):
        assert client.get(f"/assets/{path}").status_code == 404
