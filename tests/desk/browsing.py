"""A desk in a real browser: what its journeys share.

They need Chromium, the built page and what it is tested with. The last two they bring themselves; `.ci/run` installs
Chromium and sets `ROUNDHAND_BROWSER=required`, so that nothing is left out there. On a machine without a browser the
journeys are left out and say so.
"""

from __future__ import annotations

import contextlib
import faulthandler
import os
import re
import shutil
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, NoReturn

import build_page
import pytest
from playwright.sync_api import Browser, Page, expect, sync_playwright

REQUIRED = os.environ.get("ROUNDHAND_BROWSER") == "required"
CHROMIUM = next(
    (found for name in ("chromium", "chromium-browser", "google-chrome") if (found := shutil.which(name))), None
)
AXE = build_page.WEB / "node_modules" / "axe-core" / "axe.min.js"
FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
PATIENCE = 120_000
expect.set_options(timeout=PATIENCE)

# How long the driver of the browser may take to answer.
_START_SECONDS = 120
# Tells of every style that the policy refuses, but for those within the text itself: what is typed over a text marked
# whole, the browser would dress as that text was, and is kept from it.
_REFUSED = """
document.addEventListener("securitypolicyviolation", refused => {
  const within = refused.target instanceof Element && refused.target.closest(".cm-content");
  const what = `${refused.violatedDirective} at ${refused.target.nodeName}`;
  if (!within) console.error(`Content Security Policy refused ${what}`);
});
"""

# Seven slips: five have a mend, two are put right by hand.
MESSY = """\
Dune Beanie

Sizes: S (M, L)
Terms: US
Yarn A: worsted, 100 g = 210 m, oat; 1 ball
Hook: 5 mm
Gauge: 14 sts and 10 rnds = 4 in in hdc

CROWN
With A, make a magic ring.
Rnd 1: 8 hdc in ring. (9)
Rnd 2: 2 hdc in each st around. (16)
Rnd 3: *hdc in next st, 2 hdc in next st; rep from * around. (25)
Rnd 4: *hdc in next 2 sts, 2 hdcc in next st; rep from * around. (32)
Rnd 5: (hdc in next 3 sts, 2 hdc in next st) 7 times. (40)
Rnd 7: *hdc in next 4 sts, 2 hdc in next st; rep from * around. (48)

SIDES
Rnd 8: Hdc in next 46 sts. (48)
Rnd 9: Htr in each st around. (48)
Fasten off.
"""
# The same cap as it ought to be.
RIGHT = (
    MESSY.replace("ring. (9)", "ring. (8)")
    .replace("(25)", "(24)")
    .replace("hdcc", "hdc")
    .replace("7 times", "8 times")
    .replace("Rnd 7:", "Rnd 6:")
    .replace("Rnd 8: Hdc in next 46", "Rnd 7: Hdc in next 48")
    .replace("Rnd 9: Htr", "Rnd 8: Hdc")
)


def left_out(reason: str) -> NoReturn:
    """Leaves a test out, or fails it where nothing may be left out."""
    if REQUIRED:
        pytest.fail(f"{reason}, and here nothing may be left out")
    pytest.skip(reason)


@contextlib.contextmanager
def _alone() -> Iterator[None]:
    """One worker at a time builds the page; the others wait for it."""
    with open(build_page.ROOT / ".venv.lock", "w", encoding="utf-8") as gate:
        if sys.platform != "win32":
            import fcntl

            fcntl.flock(gate, fcntl.LOCK_EX)
        yield


def page_at_hand() -> None:
    """Builds the page and brings what it is tested with, if they do not stand yet."""
    try:
        with _alone():
            build_page.build()
            build_page.bring_tools()
    except build_page.PageNotBuiltError as problem:
        left_out(str(problem))


@contextlib.contextmanager
def browsing() -> Iterator[Browser]:
    """A browser, closed at the end."""
    page_at_hand()
    if CHROMIUM is None:
        left_out("no Chromium was found")
    # A driver that never answers would hold up the whole run: the process is ended then, which fails its tests alone.
    faulthandler.dump_traceback_later(_START_SECONDS, exit=True, file=2)
    with sync_playwright() as playwright:
        one = playwright.chromium.launch(executable_path=CHROMIUM, args=list(FLAGS))
        faulthandler.cancel_dump_traceback_later()
        try:
            yield one
        finally:
            one.close()


def another(browser: Browser, *flags: str) -> Browser:
    """A second browser beside the first, for whoever wants to end one, or wants it set otherwise."""
    return browser.browser_type.launch(executable_path=CHROMIUM, args=[*FLAGS, *flags])


class Windows:
    """Windows on one desk. Whatever a page throws, or its policy refuses, fails the journey at its end."""

    def __init__(self, browser: Browser, address: str) -> None:
        self.browser = browser
        self.address = address
        self.slips: list[str] = []

    def __call__(self, deaf: bool = False, **how: Any) -> Page:
        """A new window in a browser of its own; a deaf one hears of no change that others make."""
        page = self.browser.new_context(**how).new_page()
        if deaf:
            page.route("**/api/changes", lambda route: route.abort())
        page.set_default_timeout(PATIENCE)
        page.add_init_script(_REFUSED)
        page.on("pageerror", lambda error: self.slips.append(f"the page threw: {error}"))
        page.on("console", lambda said: self._heard(said.text))
        page.on("response", lambda answer: self._heard(f"{answer.status} {answer.url}"))
        page.goto(self.address)
        page.get_by_role("heading", name="Paste my pattern").wait_for()
        return page

    def close(self) -> None:
        """Closes them all, and says what was wrong with them."""
        for context in self.browser.contexts:
            context.close()
        assert not self.slips, self.slips

    def _heard(self, said: str) -> None:
        # The page's own styles are told with their place by what listens in the page.
        dressed = said.startswith("Applying inline style violates")
        if said.startswith(("403 ", "500 ")) or ("Content Security Policy" in said and not dressed):
            self.slips.append(said)


def paste(page: Page, text: str) -> None:
    """A pattern pasted on the first screen, and read."""
    page.get_by_role("button", name="Paste my pattern").click()
    page.get_by_label("Your pattern, as it is").fill(text)
    page.get_by_role("button", name="Read it").click()
    edited(page)


def edited(page: Page) -> None:
    """Waits until counts and queries have answered for the text as it stands."""
    page.locator(".summary-tally .weight").first.wait_for()
    expect(page.locator(".queries-older")).to_have_count(0)


def kept(page: Page) -> None:
    """Waits until the page says that the words are kept."""
    expect(page.locator(".kept")).to_have_text("Kept")


def write_at_end(page: Page, words: str) -> None:
    """Types below the text."""
    page.locator(".cm-content").focus()
    page.keyboard.press("Control+End")
    page.keyboard.type(words)


def panel(page: Page, name: str) -> None:
    """Opens a panel by its key, and waits until it is filled."""
    page.keyboard.press(f"Alt+{('rows', 'chart', 'measures', 'leaflet', 'publish', 'history').index(name) + 1}")
    inside = page.locator(".panel-body")
    filled = {
        "rows": ".figures td",
        "chart": ".chart img, .band-look",
        "measures": ".figures td, p:has-text('gauge')",
        "leaflet": ".leaves img, .band-look",
        "publish": ".strong",
        "history": ".revision-name",
    }[name]
    inside.locator(filled).first.wait_for()


def until(what: str, holds: Callable[[], bool], seconds: float = 120) -> None:
    """Waits for something on the disk; `what` is said where it does not come."""
    end = time.monotonic() + seconds
    while not holds():
        assert time.monotonic() < end, what
        time.sleep(0.05)


def only_file(folder: Path) -> Path:
    """The one pattern of a folder."""
    found = [path for path in folder.glob("*.txt") if not path.name.startswith(".")]
    assert len(found) == 1, found
    return found[0]


def read(folder: Path) -> str:
    """What stands in it."""
    return only_file(folder).read_text(encoding="utf-8")


def words_of(page: Page) -> str:
    """The text as the editor holds it, line by line."""
    lines: list[str] = page.locator(".cm-line").all_inner_texts()
    return "\n".join(re.sub(r"\s*\n$", "", line) for line in lines)
