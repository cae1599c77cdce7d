"""Everybody can use the desk: every view by the rules for access, in light and dark, on a phone and enlarged; all of it
by keys, and nothing ever lies on the words."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.desk.browsing import AXE, MESSY, RIGHT, Windows, another, edited, panel, paste, read, until

PANELS = ("rows", "chart", "measures", "leaflet", "publish", "history")
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
# Each has the text with slips; the second of a kind is enlarged to twice the size, as a window of half the width is.
VIEWS = [
    ("light", {"width": 1280, "height": 800}),
    ("dark", {"width": 1280, "height": 800}),
    ("light", {"width": 640, "height": 400}),
    ("dark", {"width": 360, "height": 720}),
]


class Look:
    """Looks at one view after the other, and says at the end what was wrong with which."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.slips: list[str] = []
        page.evaluate(AXE.read_text(encoding="utf-8"))

    def __call__(self, view: str) -> None:
        """Whether axe finds a fault in what is shown, or something is wider than the window."""
        found = self.page.evaluate(
            "rules => axe.run(document, {runOnly: rules})"
            ".then(r => r.violations.map(v => v.id + ': ' + v.nodes.map(n => n.html.slice(0, 160))"
            ".slice(0, 3).join(' | ')))",
            RULES,
        )
        self.slips += [f"{view}: {one}" for one in found]
        wide = self.page.evaluate(
            "() => [document.documentElement, ...document.querySelectorAll('.scroll, .panel, .sheet')]"
            ".filter(e => e.scrollWidth > e.clientWidth).map(e => `${e.className} by ${e.scrollWidth - e.clientWidth}`)"
        )
        self.slips += [f"{view} is wider than its window: {one}" for one in wide]

    def done(self) -> None:
        """Nothing was wrong."""
        assert not self.slips, "\n".join(self.slips)


@pytest.mark.parametrize(("light", "size"), VIEWS, ids=["light", "dark", "twice-the-size", "phone"])
def test_every_view_keeps_the_rules_for_access(light: str, size: dict[str, int], window: Windows) -> None:
    page = window(color_scheme=light, viewport=size, reduced_motion="reduce")
    look_at = Look(page)
    look_at("shelf")
    paste(page, MESSY)
    page.locator(".query").first.wait_for()
    look_at("page")
    page.keyboard.press("Alt+n")
    look_at("query")
    page.keyboard.press("Alt+f")
    page.locator(".cm-search").wait_for()
    look_at("find")
    page.keyboard.press("Escape")
    page.keyboard.press("Alt+k")
    page.locator(".keymap").wait_for()
    look_at("keys")
    for name in PANELS:
        panel(page, name)
        if name == "rows":
            page.locator(".figure").first.click()
            page.locator(".why").wait_for()
        if name == "history":
            page.locator(".revision-name").first.click()
            page.locator(".difference").wait_for()
        look_at(name)
    page.keyboard.press("Alt+s")
    page.locator(".shelf").wait_for()
    look_at("shelf with a pattern")
    look_at.done()


def test_text_of_twice_the_size_stays_in_its_window(window: Windows) -> None:
    """Where only the letters are enlarged, by the browser's own setting."""
    window.browser = another(window.browser, "--blink-settings=defaultFontSize=32")
    page = window(viewport={"width": 1280, "height": 800})
    paste(page, MESSY)
    assert page.evaluate("getComputedStyle(document.documentElement).fontSize") == "34px"
    look_at = Look(page)
    for name in PANELS:
        panel(page, name)
        look_at(name)
    look_at.done()


def test_all_of_it_can_be_done_by_keys(window: Windows, tmp_path: Path) -> None:
    """From the first screen to a mended pattern, with the keyboard alone; the map shows every key."""
    page = window()
    page.keyboard.press("Alt+k")
    keys = page.locator(".keymap kbd").all_inner_texts()
    assert len(keys) == len(set(keys)) >= 20
    expect(page.locator("#keymap-heading")).to_be_focused()
    page.keyboard.press("Alt+k")
    expect(page.locator(".keymap")).to_have_count(0)
    for _ in range(12):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.textContent") == "Paste my pattern":
            break
    page.keyboard.press("Enter")
    expect(page.get_by_label("Your pattern, as it is")).to_be_focused()
    page.keyboard.insert_text(RIGHT.replace("(24)", "(25)"))
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    edited(page)
    page.keyboard.press("Alt+]")
    expect(page.locator(".size-chosen")).to_have_text("M")
    page.keyboard.press("Alt+u")
    expect(page.get_by_role("button", name="centimetres")).to_be_visible()
    page.keyboard.press("Alt+n")
    expect(page.locator(".query-open")).to_be_focused()
    page.keyboard.press("Alt+m")
    until("the mend was not kept", lambda: read(tmp_path) == RIGHT)
    # The text is left by the same key that leaves everything else.
    page.keyboard.press("Alt+e")
    expect(page.locator(".cm-content")).to_be_focused()
    page.keyboard.press("Tab")
    expect(page.locator(".cm-content")).not_to_be_focused()
    assert read(tmp_path) == RIGHT


def test_what_has_the_focus_is_seen_and_nothing_lies_on_the_words(window: Windows) -> None:
    page = window(viewport={"width": 1000, "height": 600})
    paste(page, MESSY + "\n".join(f"Rnd {at}: Hdc in each st around. (48)" for at in range(10, 60)))
    page.keyboard.press("Alt+n")
    page.keyboard.press("Alt+m")
    expect(page.locator(".notice")).to_contain_text("Mended")
    page.keyboard.press("Alt+e")
    for key in ("Control+End", "Control+Home", *["PageDown"] * 3, *["ArrowUp"] * 12):
        page.keyboard.press(key)
        assert page.evaluate(
            """() => {
                const at = document.querySelector('.cm-cursor').getBoundingClientRect();
                const above = document.querySelector('.above').getBoundingClientRect();
                const foot = document.querySelector('.notice').getBoundingClientRect();
                return at.top >= above.bottom - 1 && at.bottom <= foot.top + 1;
            }"""
        ), key


def test_light_is_chosen_kept_and_there_before_anything_is_drawn(window: Windows) -> None:
    page = window(color_scheme="light")
    paper = "getComputedStyle(document.body.parentElement).backgroundColor"
    day = page.evaluate(paper)
    page.keyboard.press("Alt+d")
    page.keyboard.press("Alt+d")
    lamp = page.evaluate(paper)
    assert lamp != day
    page.reload(wait_until="commit")
    assert page.evaluate("document.documentElement.dataset.light") == "dark"
    page.get_by_role("heading", name=re.compile("Paste")).wait_for()
    assert page.evaluate(paper) == lamp
    assert page.evaluate("matchMedia('(prefers-reduced-motion: reduce)').matches") is False
