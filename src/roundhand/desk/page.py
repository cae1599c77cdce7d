"""The page itself and what it loads, as it was built; a plain page where it has not been."""

from __future__ import annotations

import html
from importlib import resources
from pathlib import Path

from starlette.requests import Request
from starlette.responses import FileResponse, HTMLResponse, Response

from roundhand.desk.answers import Problem
from roundhand.desk.problems import answered

# Where the page's own file wants the word that its styles and scripts are known by.
NONCE = "__NONCE__"
_NOT_BUILT = """\
<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>The desk</title>
<h1>The desk is open, but its page has not been built</h1>
<p>From a copy of the repository <code>python3 run.py desk</code> builds it; a page that was installed has it.</p>
</html>
"""
_TYPES = {
    ".js": "text/javascript",
    ".css": "text/css",
    ".woff2": "font/woff2",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".json": "application/json",
    ".txt": "text/plain",
    ".map": "application/json",
}


def built() -> Path:
    """The folder of the built page, which need not be there."""
    return Path(str(resources.files("roundhand"))) / "_web"


async def index(request: Request) -> Response:
    """The page, with the word of this answer in place of the sign for it."""
    path = built() / "index.html"
    if not path.is_file():
        return HTMLResponse(_NOT_BUILT)
    text = path.read_text(encoding="utf-8").replace(NONCE, html.escape(str(request.scope.get("nonce", ""))))
    return HTMLResponse(text)


async def asset(request: Request) -> Response:
    """A file that the page loads. Their names change with what is in them, so they may be kept."""
    folder = (built() / "assets").resolve()
    try:
        path = (folder / request.path_params["path"]).resolve()
        there = path.is_relative_to(folder) and path.is_file()
    except (OSError, ValueError):
        there = False
    if not there:
        return answered(Problem("There is no such file.", "not-there"))
    media = _TYPES.get(path.suffix, "application/octet-stream")
    return FileResponse(path, media_type=media, headers={"cache-control": "private, max-age=31536000, immutable"})
