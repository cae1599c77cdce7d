"""Nothing is lost at the desk and nothing in a pattern acts: two windows, other programs, a desk that is killed, a
browser that is killed, a folder that cannot be written, and a hostile pattern."""

from __future__ import annotations

import contextlib
import random
import re
import time
from pathlib import Path
from urllib.parse import urlsplit

from playwright.sync_api import Browser, Error, Page, expect

from tests.desk.browsing import (
    RIGHT,
    Windows,
    another,
    edited,
    kept,
    only_file,
    panel,
    paste,
    read,
    until,
    words_of,
    write_at_end,
)
from tests.desk.serving import serving

HOSTILE = """\
Cap <img src=x onerror="document.title='taken'"><script>document.title='taken'</script>

Sizes: <b>S</b> (javascript:alert(1))
Yarn A: <svg onload="document.title='taken'">, 100 g = 210 m
Gauge: 16 sts and 18 rnds = 4 in

Rnd 1: 6 sc in a magic ring <b onmouseover=alert(1)>. (7)
Rnd 2: \u202e2 sc in each st around. (12) ![x](http://example.org/x.png) <link rel=stylesheet href=//example.org/x>
Rnd 3: With <iframe src=//example.org>, sc in each st around. ({{6*7}})
"""


def test_a_change_by_another_program_is_followed_and_can_be_undone(window: Windows, tmp_path: Path) -> None:
    page = window()
    paste(page, RIGHT)
    kept(page)
    only_file(tmp_path).write_text(RIGHT.replace("Fasten off", "Cut the yarn"), encoding="utf-8")
    expect(page.locator(".cm-content")).to_contain_text("Cut the yarn")
    page.keyboard.press("Alt+z")
    until("her own words did not come back", lambda: read(tmp_path) == RIGHT)


def test_two_windows_never_write_over_each_other(window: Windows, tmp_path: Path) -> None:
    """The second window does not hear of the first one's change, and has typed too: it is shown that there are two
    texts, chooses its own, and the other stands in the history."""
    first = window()
    paste(first, RIGHT)
    kept(first)
    second = window(deaf=True)
    second.get_by_role("button", name=re.compile("Dune Beanie")).click()
    edited(second)
    write_at_end(first, "Written first.")
    until("the first was not written", lambda: "Written first." in read(tmp_path))
    write_at_end(second, "Written second.")
    band = second.get_by_role("alert")
    expect(band).to_contain_text("which shall stand")
    assert "Written second." not in read(tmp_path)
    band.get_by_role("button", name="Mine").click()
    until("hers was not written", lambda: "Written second." in read(tmp_path))
    expect(band).to_have_count(0)
    panel(second, "history")
    second.locator(".revision-name").nth(1).click()
    expect(second.locator(".difference")).to_contain_text("Written first.")


def test_two_windows_that_hear_of_each_other_show_the_same(window: Windows, tmp_path: Path) -> None:
    first = window()
    paste(first, RIGHT)
    kept(first)
    second = window()
    second.get_by_role("button", name=re.compile("Dune Beanie")).click()
    edited(second)
    write_at_end(first, "Written first.")
    expect(second.locator(".cm-content")).to_contain_text("Written first.")
    write_at_end(second, " And then second.")
    expect(first.locator(".cm-content")).to_contain_text("Written first. And then second.")
    until("both were not written", lambda: read(tmp_path).endswith("Written first. And then second."))


def test_words_stay_in_the_window_while_the_desk_is_away(browser: Browser, tmp_path: Path) -> None:
    """The server is killed; the page says so and keeps her words; opened again, they reach the disk."""
    with serving(tmp_path) as (desk, visitor):
        port = str(urlsplit(visitor.address).port)
        windows = Windows(browser, visitor.address)
        page = windows()
        paste(page, RIGHT)
        kept(page)
        desk.kill()
        desk.wait()
        write_at_end(page, "Written alone.")
        expect(page.locator(".kept")).to_have_text("Not kept yet")
        expect(page.locator(".band-fix")).to_contain_text("Your words are in this window")
    assert "Written alone." not in read(tmp_path)
    with serving(tmp_path, "--port", port) as (_, visitor):
        # The page that is left here still has its words, and says them as it goes.
        page.goto(visitor.address)
        until("they did not reach the disk", lambda: read(tmp_path).endswith("Written alone."))
        windows.close()


def test_words_that_only_the_browser_still_holds_come_back(window: Windows, tmp_path: Path) -> None:
    """As after a power cut: the browser's own store has words that the disk never got."""
    page = window()
    paste(page, RIGHT)
    kept(page)
    page.keyboard.press("Alt+s")
    page.evaluate(
        """async text => {
            const { version } = await (await fetch("/api/patterns/dune-beanie.txt")).json();
            localStorage.setItem("roundhand:draft:dune-beanie.txt", JSON.stringify({ text, version }));
        }""",
        RIGHT + "Held by the browser.",
    )
    page.get_by_role("button", name=re.compile("Dune Beanie")).click()
    expect(page.locator(".notice")).to_contain_text("had not reached the disk")
    until("they did not reach the disk", lambda: read(tmp_path).endswith("Held by the browser."))


def test_a_browser_that_is_killed_loses_at_most_the_last_second(
    browser: Browser, tmp_path: Path, long_run: bool
) -> None:
    chance = random.Random(None if long_run else 26)
    with serving(tmp_path) as (_, visitor):
        for turn in range(25 if long_run else 2):
            one = another(browser)
            page = Windows(one, visitor.address)()
            if turn == 0:
                paste(page, RIGHT)
            else:
                page.get_by_role("button", name=re.compile("Dune Beanie")).click()
                edited(page)
            before = _typed_until(page, chance.uniform(0.5, 2.0), turn)
            _kill(one)
            time.sleep(0.3)
            assert before in read(tmp_path), f"turn {turn}: {read(tmp_path)[-80:]!r}"


def _typed_until(page: Page, seconds: float, turn: int) -> str:
    """Types numbers for a while; gives what was typed until a second before the end."""
    page.locator(".cm-content").focus()
    page.keyboard.press("Control+End")
    typed = ""
    stamps: list[tuple[float, int]] = []
    end = time.monotonic() + 1.0 + seconds
    while (now := time.monotonic()) < end:
        mark = f"t{turn}n{len(stamps)} "
        page.keyboard.type(mark)
        typed += mark
        stamps.append((now, len(typed)))
    last = time.monotonic()
    return typed[: max((length for at, length in stamps if at < last - 1.0), default=0)]


def _kill(browser: Browser) -> None:
    """Ends the browser at once, without a word to its pages."""
    with contextlib.suppress(Error):
        browser.new_browser_cdp_session().send("Browser.crash")
    assert not browser.is_connected()


def test_a_full_disk_is_told_and_the_text_stays(browser: Browser, tmp_path: Path) -> None:
    """The desk can write no file of more bytes than there are: it says so, and nothing is lost."""
    (tmp_path / "cap.txt").write_text(RIGHT, encoding="utf-8")
    with serving(tmp_path, limit=len(RIGHT.encode())) as (_, visitor):
        windows = Windows(browser, visitor.address)
        page = windows()
        page.get_by_role("button", name=re.compile("Dune Beanie")).click()
        edited(page)
        write_at_end(page, "And here there is no more room on the disk.")
        expect(page.locator(".band-fix")).to_contain_text("The disk is full")
        assert words_of(page).rstrip().endswith("no more room on the disk.")
        assert read(tmp_path) == RIGHT
        windows.close()


def test_a_pattern_is_text_and_never_acts(window: Windows, tmp_path: Path) -> None:
    page = window()
    wanted: list[str] = []
    page.on("request", lambda request: wanted.append(request.url))
    paste(page, HOSTILE)
    page.locator(".query").first.wait_for()
    for name in ("rows", "chart", "measures", "leaflet", "publish", "history"):
        panel(page, name)
        if name == "rows":
            page.locator(".figure").first.click()
            page.locator(".why pre").wait_for()
        if name == "publish":
            page.locator(".panel .buttons button").last.click()
            page.get_by_role("link", name="The page").wait_for()
        if name == "history":
            page.locator(".revision-name").first.click()
            page.locator(".difference").wait_for()
        assert page.locator(".panel :is(script, iframe, link, svg, b, object)").count() == 0
    assert page.title() != "taken"
    assert page.locator(".cm-content :is(img:not(.cm-widgetBuffer), script, iframe, svg, b)").count() == 0
    assert page.locator(":is(.query, .summary, .head-title) :is(img, script, iframe, b)").count() == 0
    assert all(url.startswith(("http://127.0.0.1:", "data:", "blob:")) for url in wanted), wanted
    # A sign that turns the order of letters around is shown as a sign, and the pattern has it as it was pasted.
    assert "\u202e" in read(tmp_path)
    page.keyboard.press("Alt+s")
    page.get_by_role("button", name=re.compile("onerror")).wait_for()
    assert only_file(tmp_path).name.startswith("cap-")
    assert page.locator(".shelf :is(img, script, b)").count() == 0 and page.title() != "taken"
