"""The desk opened from the command line: where it listens, what it says, and how it ends."""

import http.client
import os
import signal
import socket
import threading
import time
from pathlib import Path

import pytest

from roundhand.cli import run
from roundhand.workshop import shipped_patterns
from tests.desk.serving import serving

CAP = (shipped_patterns() / "saltmarsh-cap.txt").read_text(encoding="utf-8")


def workers_of(pid: int) -> list[int]:
    """The processes that a process has started, as far as this system tells."""
    found = []
    for path in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = path.read_text(encoding="utf-8").rpartition(")")[2].split()
        except OSError:
            continue
        if int(fields[1]) == pid and fields[0] != "Z":
            found.append(int(path.parent.name))
    return found


def answers_at(host: str, port: int) -> bool:
    """Whether anybody listens there."""
    try:
        socket.create_connection((host, port), timeout=2).close()
    except OSError:
        return False
    return True


def test_the_desk_answers_on_this_computer_alone_and_ends_when_it_is_told(tmp_path: Path) -> None:
    (tmp_path / "cap.txt").write_text(CAP, encoding="utf-8")
    with serving(tmp_path) as (desk, visitor):
        status, found = visitor.ask("GET", "/api/desk")
        assert status == 200 and [one["name"] for one in found["patterns"]] == ["cap.txt"]
        status, read = visitor.ask("POST", "/api/read", {"text": CAP, "size": 0, "number": 4})
        assert status == 200 and read["number"] == 4
        for host in {socket.gethostbyname(socket.gethostname()), "::1"} - {"127.0.0.1", "127.0.1.1"}:
            assert not answers_at(host, visitor.port)
        # Somebody is listening for changes, and is let go.
        listening = visitor.connection()
        listening.request("GET", "/api/changes", headers=visitor.headers())
        response = listening.getresponse()
        assert response.readline() == b"retry: 1000\n"
        workers = workers_of(desk.pid)
        desk.send_signal(signal.SIGINT)
        assert desk.wait(30) in (0, 130)
        response.close()
        listening.close()
        assert desk.stderr is not None and "Traceback" not in desk.stderr.read()
        assert not [pid for pid in workers if Path(f"/proc/{pid}").exists()]


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="this system does not show its processes so")
def test_workers_do_not_stay_behind_when_the_desk_is_killed(tmp_path: Path) -> None:
    with serving(tmp_path) as (desk, visitor):
        visitor.ask("POST", "/api/read", {"text": CAP, "size": 0, "number": 4})
        workers = workers_of(desk.pid)
        assert workers
        os.kill(desk.pid, signal.SIGKILL)
        desk.wait()
        end = time.monotonic() + 30
        while (left := [pid for pid in workers if Path(f"/proc/{pid}").exists()]) and time.monotonic() < end:
            time.sleep(0.05)
        assert not left


def test_what_changes_is_told_to_everybody_who_listens(tmp_path: Path) -> None:
    with serving(tmp_path) as (_, visitor):
        listening = visitor.connection()
        listening.request("GET", "/api/changes", headers=visitor.headers())
        response = listening.getresponse()
        assert response.getheader("content-type", "").startswith("text/event-stream")
        heard: list[bytes] = []

        def listen() -> None:
            try:
                while line := response.readline():
                    if line.startswith(b"data: "):
                        heard.append(line)
            except (OSError, http.client.HTTPException, ValueError):
                return

        thread = threading.Thread(target=listen, daemon=True)
        thread.start()

        def hears(*words: bytes) -> None:
            end = time.monotonic() + 30
            while not any(all(word in line for word in words) for line in heard):
                assert time.monotonic() < end, f"nobody heard {words}: {heard}"
                time.sleep(0.02)

        _, added = visitor.ask("POST", "/api/patterns", {"title": "Cap", "text": CAP})
        hears(b'"name":"cap.txt"', b'"by":"copy"', added["version"].encode())
        _, saved = visitor.ask(
            "PUT", "/api/patterns/cap.txt", {"text": CAP + "x", "base": added["version"], "window": "two"}
        )
        hears(b'"by":"two"', saved["version"].encode())
        # The watch over the folder may come up a little later than the desk does.
        for at in range(100):
            (tmp_path / "other.txt").write_text(f"{CAP}{at}", encoding="utf-8")
            time.sleep(0.1)
            if any(b"other.txt" in line for line in heard):
                break
        hears(b'"name":"other.txt"', b'"by":"disk"')
        (tmp_path / "cap.txt").write_text("from another program", encoding="utf-8")
        hears(b'"name":"cap.txt"', b'"by":"disk"')
        (tmp_path / "cap.txt").unlink()
        hears(b'"name":"cap.txt"', b'"version":null')
        assert len([line for line in heard if saved["version"].encode() in line]) == 1
        history = visitor.ask("GET", "/api/patterns/cap.txt/revisions")[1]
        assert [one["by"] for one in history] == ["disk", "two", "copy"]
    thread.join(30)
    response.close()
    listening.close()


def test_a_port_that_is_taken_is_one_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        status = run(["desk", str(tmp_path), "--no-browser", "--port", str(port)])
    out, said = capsys.readouterr()
    assert (status, out) == (2, "") and said.startswith(f"Port {port} is in use already") and said.count("\n") == 1


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["nowhere"], "is not there; check the name"),
        ([__file__], "is a file; name the folder"),
        (["--port", "99999999"], "--port"),
        (["--port", "x"], "--port"),
        (["--paint"], "has no option"),
    ],
)
def test_a_slip_of_the_caller_is_one_sentence(
    words: list[str], sentence: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["desk", *words, "--no-browser"]) == 2
    said = capsys.readouterr().err
    assert sentence in said and said.count("\n") == 1
