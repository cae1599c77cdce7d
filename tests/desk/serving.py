"""A desk in a process of its own, and somebody who may speak to it over the wire."""

import http.client
import json
import re
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

ADDRESS = re.compile(r"http://127\.0\.0\.1:\d+/\?key=\S+")

LIMITED = """
import resource, signal, sys
most = int(sys.argv.pop(1))
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))
from roundhand.cli import main
sys.exit(main())
"""


class Visitor:
    """The desk's own page, as far as the server can tell."""

    def __init__(self, address: str) -> None:
        self.address = address
        parts = urlsplit(address)
        self.host = str(parts.hostname)
        self.port = int(parts.port or 0)
        self.key = parts.query.removeprefix("key=")

    def connection(self, patience: float = 60.0) -> http.client.HTTPConnection:
        """A new connection."""
        return http.client.HTTPConnection(self.host, self.port, timeout=patience)

    def headers(self) -> dict[str, str]:
        """What the page's browser sends along."""
        return {
            "cookie": f"roundhand-desk-{self.port}={self.key}",
            "origin": f"http://{self.host}:{self.port}",
            "content-type": "application/json",
        }

    def ask(self, method: str, path: str, body: Any = None, on: http.client.HTTPConnection | None = None) -> Any:
        """The status and the decoded answer; on a connection that is kept, if one is given."""
        connection = on or self.connection()
        try:
            data = None if body is None else json.dumps(body).encode()
            connection.request(method, path, data, self.headers())
            response = connection.getresponse()
            return response.status, json.loads(response.read())
        finally:
            if on is None:
                connection.close()


@contextmanager
def serving(folder: Path, *options: str, limit: int = 0) -> Iterator[tuple[subprocess.Popen[str], Visitor]]:
    """A desk that is open on a folder; killed at the end if it is still there. With a limit it can write no file of
    more bytes than that, as on a disk that is full."""
    start = (
        [sys.executable, "-P", "-m", "roundhand"] if not limit else [sys.executable, "-P", "-c", LIMITED, str(limit)]
    )
    desk = subprocess.Popen(
        [*start, "desk", str(folder), "--no-browser", *options],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        encoding="utf-8",
    )
    assert desk.stdout is not None and desk.stderr is not None
    try:
        said = ""
        while (line := desk.stdout.readline()) and not ADDRESS.search(said := said + line):
            continue
        found = ADDRESS.search(said)
        assert found is not None, said + desk.stderr.read()
        yield desk, Visitor(found[0])
    finally:
        desk.kill()
        desk.wait()
        desk.stdout.close()
        desk.stderr.close()
