"""The folder through the desk: open, save, conflict, copy an example, have an earlier text back."""

from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from roundhand.desk import Desk

CAP = "Cap\n\nRnd 1: 6 sc in a magic ring. (6)\n"


def saved(client: TestClient, text: str, base: str | None, name: str = "cap.txt", window: str = "one") -> Any:
    found = client.put(f"/api/patterns/{name}", json={"text": text, "base": base, "window": window})
    return found.status_code, found.json()


def test_an_evening_at_the_desk(client: TestClient, tmp_path: Path) -> None:
    assert client.get("/api/desk").json()["patterns"] == []
    example = client.get("/api/desk").json()["examples"][0]
    opened = client.get(f"/api/patterns/{example['name']}").json()
    assert opened["example"] and "Rnd 1" in opened["text"]
    copied = client.post("/api/patterns", json={"title": example["title"], "text": opened["text"]})
    assert copied.status_code == 201
    name, base = copied.json()["name"], copied.json()["version"]
    status, first = saved(client, opened["text"] + "One.\n", base, name)
    assert status == 200
    status, second = saved(client, opened["text"] + "One.\nTwo.\n", first["version"], name)
    assert (tmp_path / name).read_text(encoding="utf-8") == opened["text"] + "One.\nTwo.\n"
    listed = client.get("/api/desk").json()
    assert [(one["name"], one["title"], one["sizes"]) for one in listed["patterns"]] == [(name, example["title"], 5)]
    assert listed["writable"] and listed["folder"] == tmp_path.name
    history = client.get(f"/api/patterns/{name}/revisions").json()
    assert [(one["words"], one["by"]) for one in history] == [
        ("1 line added", "one"), ("1 line added", "one"), ("first kept", "copy"),
    ]  # fmt: skip
    back = client.get(f"/api/patterns/{name}/revisions/{history[1]['id']}").json()
    assert back["text"].endswith("One.\n") and back["difference"][-1] == {"kind": "out", "text": "Two."}
    assert saved(client, back["text"], second["version"], name)[0] == 200
    assert (tmp_path / name).read_text(encoding="utf-8") == opened["text"] + "One.\n"


def test_two_windows_are_offered_both_texts(client: TestClient, tmp_path: Path) -> None:
    _, first = saved(client, CAP, None)
    assert saved(client, CAP + "theirs\n", first["version"], window="two")[0] == 200
    status, problem = saved(client, CAP + "mine\n", first["version"])
    assert (status, problem["kind"]) == (409, "changed-elsewhere")
    assert problem["theirs"]["text"] == CAP + "theirs\n"
    assert (tmp_path / "cap.txt").read_text(encoding="utf-8") == CAP + "theirs\n"
    assert saved(client, CAP + "mine\n", problem["theirs"]["version"])[0] == 200
    (tmp_path / "cap.txt").unlink()
    status, problem = saved(client, CAP, first["version"])
    assert (status, problem["theirs"]) == (409, None)


def test_names_with_folders_and_spaces_come_through(client: TestClient, tmp_path: Path) -> None:
    (tmp_path / "for winter").mkdir()
    assert saved(client, CAP, None, "for%20winter%2Fmy%20cap%20%C2%BD.txt")[0] == 200
    assert (tmp_path / "for winter" / "my cap ½.txt").read_text(encoding="utf-8") == CAP
    assert client.get("/api/patterns/for%20winter/my%20cap%20%C2%BD.txt").json()["text"] == CAP
    assert client.get("/api/desk").json()["patterns"][0]["name"] == "for winter/my cap ½.txt"
    assert len(client.get("/api/patterns/for%20winter%2Fmy%20cap%20%C2%BD.txt/revisions").json()) == 1


@pytest.mark.parametrize(
    ("method", "path", "body", "status", "kind"),
    [
        ("GET", "/api/patterns/none.txt", None, 404, "not-there"),
        ("GET", "/api/patterns/..%2F..%2Fcap.txt", None, 422, "wrong-name"),
        ("GET", "/api/patterns/example:none.txt", None, 404, "not-there"),
        ("GET", "/api/patterns/cap.txt/revisions/7", None, 404, "not-there"),
        ("PUT", "/api/patterns/cap.pdf", b'{"text": "", "base": null, "window": "one"}', 422, "wrong-name"),
        ("PUT", "/api/patterns/example:saltmarsh-cap.txt", b'{"text":"","base":null,"window":"o"}', 403, "read-only"),
        ("PUT", "/api/patterns/cap.txt", b'{"text": "", "base": "x", "window": "one"}', 409, "changed-elsewhere"),
        ("PUT", "/api/patterns/cap.txt", b'{"text": 5, "base": null, "window": "one"}', 422, "wrong-shape"),
        ("PUT", "/api/patterns/cap.txt", b'{"text": "", "base": null, "window": "<b>"}', 422, "wrong-shape"),
        ("PUT", "/api/patterns/cap.txt", b"{", 400, "no-json"),
        ("POST", "/api/patterns", b"\xff", 400, "no-json"),
        ("POST", "/api/patterns", b"{" + b'"a":{' * 100_000, 400, "no-json"),
        ("DELETE", "/api/patterns/cap.txt", None, 405, "not-so"),
        ("GET", "/api/none", None, 404, "not-there"),
    ],
)  # fmt: skip
def test_what_stands_in_the_way_is_one_sentence_and_one_word(
    method: str, path: str, body: bytes | None, status: int, kind: str, client: TestClient, tmp_path: Path
) -> None:
    found = client.request(method, path, content=body)
    assert (found.status_code, found.json()["kind"]) == (status, kind)
    assert found.headers["content-type"] == "application/problem+json"
    assert found.json()["title"].endswith(".")
    assert [one for one in tmp_path.iterdir() if not one.name.startswith(".")] == []


def test_a_slip_of_our_own_is_told_without_what_is_inside(client: TestClient, desk: Desk) -> None:
    def broken() -> None:
        raise RuntimeError("a secret of ours")

    desk.shelf.patterns = broken  # type: ignore[assignment, method-assign]
    found = client.get("/api/desk")
    assert (found.status_code, found.json()["kind"]) == (500, "broken")
    assert "RuntimeError" in found.json()["title"] and "secret" not in found.text


def test_too_much_is_refused_before_it_is_all_taken(client: TestClient) -> None:
    found = client.post("/api/read", content=(b" " * 1_000_000 for _ in range(50)))
    assert (found.status_code, found.json()["kind"]) == (413, "too-large")
