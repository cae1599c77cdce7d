"""Who may speak to the desk: nobody but the page that it has opened itself, on this computer.

Four things are looked at. The host asked for must be this computer by its number or as `localhost`, with the port, so
that no name of somebody else's can be bent to it. What a browser says of where a request comes from must be the desk
itself. A key is needed, which the desk puts into the address that it opens and keeps in a cookie from then on. And the
page may load and run nothing but what the desk gives it.
"""

from __future__ import annotations

import hmac
import secrets
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qs

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import HTMLResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from roundhand.desk.answers import Problem
from roundhand.desk.problems import answered

_READING = ("GET", "HEAD")
_POLICY = (
    "default-src 'none'; script-src 'self' 'nonce-{nonce}'; style-src 'self' 'nonce-{nonce}'; "
    "img-src 'self' data: blob:; font-src 'self'; connect-src 'self'; frame-ancestors 'none'; base-uri 'none'; "
    "form-action 'none'"
)
_HEADERS = {
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "cache-control": "no-store",
}
_NO_KEY = """\
<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>The desk</title>
<h1>This page has no key to the desk</h1>
<p>Open the desk again from the terminal; it shows the whole address.</p>
</html>
"""


class Guard:
    """Stands before the app. `port` is the one that the desk listens on, `key` the secret that opens it."""

    def __init__(self, app: ASGIApp, port: int, key: str) -> None:
        self.app = app
        self.key = key
        # Cookies know no ports, so two desks on one computer need two names.
        self.cookie = f"roundhand-desk-{port}"
        self.hosts = (f"127.0.0.1:{port}", f"localhost:{port}")

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answers what may not pass, and hands on what may."""
        if scope["type"] != "http":
            if scope["type"] == "websocket":
                await send({"type": "websocket.close", "code": 1008})
                return
            await self.app(scope, receive, send)
            return
        nonce = secrets.token_urlsafe(16)
        scope["nonce"] = nonce

        async def guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                headers.setdefault("content-security-policy", _POLICY.format(nonce=nonce))
                for name, value in _HEADERS.items():
                    headers.setdefault(name, value)
            await send(message)

        refused = self._refused(scope)
        await (refused or self.app)(scope, receive, guarded)

    def _refused(self, scope: Scope) -> Response | None:
        """The answer to a request that may not pass; None for one that may."""
        headers = Headers(scope=scope)
        path, method = str(scope["path"]), str(scope["method"])
        host = headers.get("host", "")
        if host not in self.hosts:
            return _stranger("The desk answers only to the address that it has opened.")
        if not self._from_here(headers, host, path, method):
            return _stranger("This request comes from another page, so it was not answered.")
        if path == "/" and method in _READING:
            given = parse_qs(scope["query_string"].decode("latin-1")).get("key", [])
            if given and self._is_key(given[0]):
                response: Response = RedirectResponse("/", 303)
                response.set_cookie(self.cookie, self.key, httponly=True, samesite="strict", path="/")
                return response
        if self._is_key(self._given(headers)):
            return None
        if path.startswith("/api/") or path == "/openapi.json":
            return answered(Problem("Open the desk again from the terminal.", "no-key"))
        return HTMLResponse(_NO_KEY, 403)

    def _from_here(self, headers: Headers, host: str, path: str, method: str) -> bool:
        """Whether a request comes from the desk's own page, by all that the browser says of that.

        A page may be opened from anywhere, by an address typed or clicked; the key is asked for all the same. What
        writes must say where it comes from.
        """
        origin, site = headers.get("origin"), headers.get("sec-fetch-site")
        if origin is not None and origin != f"http://{host}":
            return False
        if site is not None and site != "same-origin":
            opened = path == "/" and method in _READING and headers.get("sec-fetch-mode", "navigate") == "navigate"
            typed = site == "none" and method in _READING
            return opened or typed
        return method in _READING or origin is not None or site is not None

    def _given(self, headers: Headers) -> str:
        """The key that a request's cookies hold; empty for none."""
        try:
            found = SimpleCookie(headers.get("cookie", "")).get(self.cookie)
        except CookieError:
            return ""
        return found.value if found is not None else ""

    def _is_key(self, given: str) -> bool:
        return hmac.compare_digest(given.encode("utf-8", "replace"), self.key.encode())


def _stranger(sentence: str) -> Response:
    return answered(Problem(sentence, "stranger"))
