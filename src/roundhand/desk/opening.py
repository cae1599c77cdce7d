"""The desk opened: a free port of this computer, the server on it, and the browser before it."""

from __future__ import annotations

import errno
import os
import socket
import threading
import webbrowser
from collections.abc import Callable
from pathlib import Path
from types import FrameType

import uvicorn

from roundhand.desk.app import make_app
from roundhand.desk.desk import Desk
from roundhand.workshop import UseError
from roundhand.workshop.shelf import Shelf

_HOST = "127.0.0.1"
# Whoever is still listening when the desk is closed is waited for so many seconds.
_PARTING = 2


def open_desk(folder: Path, port: int | None, browser: bool, told: Callable[[str], None]) -> None:
    """Serves the desk on a folder until somebody stops it; `told` is given the address as soon as it answers.

    Raises `UseError` where there is no such folder or the port cannot be had.
    """
    shelf = Shelf(folder)
    with _listening(port) as listener:
        desk = Desk(shelf, listener.getsockname()[1])
        address = f"http://{_HOST}:{desk.port}/?key={desk.key}"

        def answering() -> None:
            told(address)
            if browser:
                # A browser may take its time to come up, and some wait to be closed again.
                threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()

        server = _Server(make_app(desk), answering, desk)
        server.run([listener])


class _Server(uvicorn.Server):
    """A server that says when it answers, and lets go of whoever listens when it is told to stop."""

    def __init__(self, app: object, answering: Callable[[], None], desk: Desk) -> None:
        super().__init__(
            uvicorn.Config(
                app,  # type: ignore[arg-type]
                log_level="warning",
                access_log=False,
                server_header=False,
                lifespan="on",
                ws="none",
                timeout_graceful_shutdown=_PARTING,
            )
        )
        self._answering = answering
        self._desk = desk

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets)
        if self.started:
            self._answering()

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        self._desk.part()
        super().handle_exit(sig, frame)


def _listening(port: int | None) -> socket.socket:
    """A socket that listens on this computer alone, on a free port or the one that is asked for."""
    listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        if os.name != "nt":
            # A desk that was just closed leaves its port in use for a while, which is no reason to refuse the next one.
            listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listener.bind((_HOST, port or 0))
        listener.listen(128)
    except OSError as problem:
        listener.close()
        if problem.errno == errno.EADDRINUSE:
            raise UseError(f"Port {port} is in use already; name another, or leave out --port.") from None
        if problem.errno == errno.EACCES:
            raise UseError(f"Port {port} may not be used; name one above 1023, or leave out --port.") from None
        raise UseError(f"The desk could not be opened ({problem.strerror}).") from None
    return listener
