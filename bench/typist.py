"""What somebody at the desk waits for: 500 keystrokes of a messy paste being mended, at the server and in the browser.

The server is asked what the page asks it: the counts of every keystroke, then the whole edit. In the browser the same
keys are pressed, and the page's own clock says how long a letter took to be painted, and how long the counts and the
queries of the text as it stood took to be there and painted.
"""

from __future__ import annotations

import http.client
import json
import re
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import urlsplit

from bench.table import Line, milliseconds
from bench.texts import hundred_rounds
from bench.yardstick import Timing, once, reference_loop

KEYSTROKES = 500
# A quick typist: so many milliseconds from key to key.
_PACE = 70
# What is wrong with the paste, and what each place becomes under the hand.
SLIPS = (
    ("hdc in each", "hdcc in each"),
    ("join", "jion"),
    ("next", "nxt"),
    ("around", "arround"),
    ("Rnd 9:", "Rnd 99:"),
)


def messy() -> str:
    """The page of five sizes and a hundred rounds as it was pasted: every kind of slip twice.

    >>> [messy().count(slip) for _, slip in SLIPS]
    [2, 2, 2, 2, 2]
    """
    text = hundred_rounds()
    for right, wrong in SLIPS:
        text = text.replace(right, wrong, 2)
    return text


def keys(text: str) -> Iterator[tuple[int, str]]:
    """What is pressed: places in the text, and there a letter or the backspace. Each slip is taken out letter by letter
    and written right, and then made again, so that there is always something to mend.

    >>> text = messy()
    >>> len(list(zip(keys(text), range(500))))
    500
    """
    while True:
        for right, wrong in SLIPS:
            for old, new in ((wrong, right), (right, wrong)):
                at = text.find(old)
                if at < 0:
                    continue
                for place in range(at + len(old), at, -1):
                    yield place, "Backspace"
                for place, letter in enumerate(new, at):
                    yield place, letter
                text = text[:at] + new + text[at + len(old) :]


def pressed(text: str, place: int, key: str) -> str:
    """The text after a key.

    >>> pressed("abc", 2, "Backspace"), pressed("abc", 2, "x")
    ('ac', 'abxc')
    """
    return text[: place - 1] + text[place:] if key == "Backspace" else text[:place] + key + text[place:]


def typist(_rounds: int) -> Iterator[Line]:
    """All of it; without a browser only what the server takes."""
    loop = min(once(reference_loop) for _ in range(5))
    with _desk() as address:
        asked = _Asked(address)
        counts, edits = asked.replay()
        yield line("500 keystrokes at the server: counts", counts, loop, "50 ms")
        yield line("500 keystrokes at the server: the whole edit", edits, loop, "500 ms")
        browser = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
        if browser is None:
            yield Line("500 keystrokes to paint", None, "no Chromium was found")
            return
        letters, painted, pencilled = _painted(address, browser)
        yield line("500 keystrokes to paint: the letter", letters, loop, "50 ms")
        yield line("500 keystrokes to paint: the counts", painted, loop)
        yield line("500 keystrokes to paint: the queries, after a rest", pencilled, loop, "500 ms")


def line(what: str, times: Sequence[float], loop: float, promised: str = "") -> Line:
    """A line of the table: the time that 95 of 100 keep within, and beside it the median, 99 of 100 and the worst.

    >>> line("letters", [0.001 * at for at in range(1, 101)], 0.01).comes_to
    'half in 50.0 ms, 99 % in 99.0 ms, all in 100 ms; 100 of them'
    """
    ordered = sorted(times) or [0.0]

    def within(share: float) -> float:
        return ordered[max(0, round(share * len(ordered)) - 1)]

    told = (
        f"half in {milliseconds(within(0.5))}, 99 % in {milliseconds(within(0.99))}, all in {milliseconds(ordered[-1])}"
    )
    return Line(what, Timing(within(0.95), loop), f"{told}; {len(times)} of them", promised)


@contextmanager
def _desk() -> Iterator[str]:
    """A desk on a folder that holds the paste, as a process of its own; gives its address."""
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "paste.txt").write_text(messy(), encoding="utf-8")
        command = [sys.executable, "-P", "-m", "roundhand", "desk", folder, "--no-browser"]
        with subprocess.Popen(command, stdout=subprocess.PIPE, encoding="utf-8") as desk:
            assert desk.stdout is not None
            found = None
            while found is None:
                found = re.search(r"http://\S+", desk.stdout.readline())
            try:
                yield found[0]
            finally:
                desk.kill()


class _Asked:
    """The page, as far as the server can tell."""

    def __init__(self, address: str) -> None:
        parts = urlsplit(address)
        self._home = f"http://{parts.hostname}:{parts.port}"
        self._connection = http.client.HTTPConnection(str(parts.hostname), int(parts.port or 0), timeout=60)
        self._headers = {
            "cookie": f"roundhand-desk-{parts.port}={parts.query.removeprefix('key=')}",
            "origin": self._home,
            "content-type": "application/json",
            "x-window": "bench",
        }

    def replay(self) -> tuple[list[float], list[float]]:
        """The seconds from question to answer, for the counts of every keystroke and for the edit."""
        text = messy()
        counts: list[float] = []
        edits: list[float] = []
        for number, (place, key) in zip(range(-1, KEYSTROKES), keys(text), strict=False):
            text = pressed(text, place, key)
            taken = [self._ask(path, text, number + 1) for path in ("/api/read", "/api/queries")]
            if number >= 0:
                counts.append(taken[0])
                edits.append(taken[1])
        return counts, edits

    def _ask(self, path: str, text: str, number: int) -> float:
        body = json.dumps({"text": text, "size": 0, "number": number})
        begin = time.perf_counter()
        self._connection.request("POST", path, body, self._headers)
        answer = self._connection.getresponse()
        answer.read()
        assert answer.status == 200, answer.status
        return time.perf_counter() - begin


# Notes, in the page, when a key goes down, and how long after it what it changes has been painted.
_WATCH = """\
() => {
  const noted = { letters: [], counts: [], queries: [] };
  let last = 0;
  const painted = (then, to) => requestAnimationFrame(() => {
    const channel = new MessageChannel();
    channel.port1.onmessage = () => to.push(performance.now() - then);
    channel.port2.postMessage(0);
  });
  document.addEventListener("keydown", (event) => {
    if (event.key.length > 1 && event.key !== "Backspace") return;
    last = performance.now();
    painted(last, noted.letters);
  }, true);
  const fetched = window.fetch;
  window.fetch = async (path, how) => {
    const to = path === "/api/read" ? noted.counts : path === "/api/queries" ? noted.queries : null;
    const then = last;
    const answer = await fetched(path, how);
    // What is answered to an older text is dropped by the page, and nobody has waited for it.
    if (to && then) setTimeout(() => then === last && painted(then, to), 0);
    return answer;
  };
  window.noted = noted;
}
"""


def _painted(address: str, browser: str) -> tuple[list[float], list[float], list[float]]:
    """The seconds from key to paint: letters, counts, and queries after a rest."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        one = playwright.chromium.launch(executable_path=browser, args=["--no-sandbox", "--disable-gpu"])
        page = one.new_page(viewport={"width": 1280, "height": 900})
        page.goto(address)
        page.locator(".pattern").first.click()
        page.locator(".summary-tally .weight").first.wait_for(timeout=120_000)
        page.evaluate(_WATCH)
        page.locator(".cm-content").focus()
        text = messy()
        cursor = -1
        for number, (place, key) in zip(range(KEYSTROKES), keys(text), strict=False):
            if place != cursor:
                page.evaluate(_GO, place)
            page.keyboard.press(key)
            text = pressed(text, place, key)
            cursor = place - 1 if key == "Backspace" else place + len(key)
            # She types by the word, and rests to look after every twenty letters.
            page.wait_for_timeout(1500 if number % 20 == 19 else _PACE)
        noted: dict[str, list[float]] = page.evaluate("noted")
        one.close()
    return tuple([at / 1000 for at in noted[what]] for what in ("letters", "counts", "queries"))  # type: ignore[return-value]


# Puts the cursor at a place without a key, as a click of the mouse would.
_GO = """\
(place) => {
  const held = document.querySelector(".cm-content");
  const view = held.cmTile?.view ?? held.cmTile?.root?.view ?? held.cmView?.rootView?.view;
  view.dispatch({ selection: { anchor: place }, scrollIntoView: true });
}
"""
