"""The pictures of the desk for its guide, taken from the desk itself in a real browser.

python -m tests.docs.desk_pictures   puts them into the folder of pictures
"""

from __future__ import annotations

import tempfile
from pathlib import Path

from playwright.sync_api import Page

from roundhand.workshop import shipped_patterns
from tests.desk.browsing import Windows, browsing, edited, panel
from tests.desk.serving import serving

PICTURES = Path(__file__).resolve().parents[2] / "docs" / "pictures"
# Two slips for the pencil: a count that is not what the row makes, and a stitch that nobody knows.
SLIPS = (("(24 sts)", "(26 sts)"), ("*hdc in next 2 sts, 2 hdc", "*hdc in next 2 sts, 2 hcd"))


def cap() -> str:
    """The Saltmarsh cap with the slips in it.

    >>> [cap().count(wrong) for _, wrong in SLIPS]
    [1, 1]
    """
    text = (shipped_patterns() / "saltmarsh-cap.txt").read_text(encoding="utf-8")
    for right, wrong in SLIPS:
        text = text.replace(right, wrong, 1)
    return text


def main() -> None:
    """Takes all three."""
    with tempfile.TemporaryDirectory() as folder, browsing() as browser:
        (Path(folder) / "saltmarsh-cap.txt").write_text(cap(), encoding="utf-8")
        with serving(Path(folder)) as (_, visitor):
            windows = Windows(browser, visitor.address)
            page = _opened(windows, "light", 1280)
            page.keyboard.press("Alt+n")
            page.mouse.move(0, 0)
            page.wait_for_timeout(500)
            page.screenshot(path=PICTURES / "desk-day.png")
            page = _opened(windows, "dark", 1280)
            panel(page, "rows")
            page.locator(".figure").nth(12).click()
            page.locator(".why").wait_for()
            page.screenshot(path=PICTURES / "desk-lamp.png")
            page = _opened(windows, "light", 360)
            page.get_by_text("Rnd 1:").first.scroll_into_view_if_needed()
            page.screenshot(path=PICTURES / "desk-narrow.png")
            windows.close()


def _opened(windows: Windows, light: str, width: int) -> Page:
    page = windows(color_scheme=light, viewport={"width": width, "height": 800}, reduced_motion="reduce")
    page.get_by_role("button", name="saltmarsh-cap.txt").click()
    edited(page)
    return page


if __name__ == "__main__":
    main()
