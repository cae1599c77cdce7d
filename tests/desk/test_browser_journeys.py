"""Journeys at the desk in a real browser that end in files on disk: pasting and mending, publishing, having back."""

from __future__ import annotations

import re
from pathlib import Path

import pikepdf
import pytest
from playwright.sync_api import Page, expect

from roundhand.workshop import check, understand
from tests.desk.browsing import (
    MESSY,
    RIGHT,
    Windows,
    edited,
    kept,
    only_file,
    panel,
    paste,
    read,
    until,
    write_at_end,
)


def by_hand(page: Page, words: str, others: str) -> None:
    """Words found and written over, with the keys of the bar for finding."""
    page.keyboard.press("Alt+f")
    page.locator(".cm-search [name=search]").fill(words)
    page.locator(".cm-search [name=replace]").first.fill(others)
    page.get_by_role("button", name="Put everywhere").click()
    page.keyboard.press("Escape")
    edited(page)


@pytest.mark.parametrize("exchanged", [("hdc", "hdc"), ("hdc", "dc")])
def test_a_messy_paste_is_mended_to_the_last_slip(exchanged: tuple[str, str], window: Windows, tmp_path: Path) -> None:
    """Seven slips: each with a mend goes with one key, the others by hand; what stands on disk then has none."""
    messy, right = (text.replace(*exchanged).replace("Hdc", exchanged[1].capitalize()) for text in (MESSY, RIGHT))
    messy = messy.replace("Htr", "Htr" if exchanged[1] == "hdc" else "Dtr")
    page = window()
    paste(page, messy)
    expect(page.locator(".summary-words")).to_contain_text("Three sizes")
    expect(page.locator(".count-off").first).to_contain_text("98")
    fixes = page.locator(".query-fix")
    expect(fixes).to_have_count(5)
    for left in (4, 3, 2, 1, 0):
        while True:
            page.keyboard.press("Alt+n")
            expect(page.locator(".query-open")).to_have_count(1)
            if page.locator(".query-open.query-fix").count():
                break
        page.keyboard.press("Alt+m")
        expect(fixes).to_have_count(left)
        edited(page)
    expect(page.locator(".query")).not_to_have_count(0)
    by_hand(page, "Rnd 7:", "Rnd 6:")
    by_hand(page, "Rnd 8: ", "Rnd 7: ")
    by_hand(page, "Rnd 9: Htr" if exchanged[1] == "hdc" else "Rnd 9: Dtr", f"Rnd 8: {exchanged[1].capitalize()}")
    until("the mends did not reach the disk", lambda: read(tmp_path) == right)
    assert [one for one in check(understand(read(tmp_path))).findings if one.severity != "advice"] == []
    expect(page.locator(".count-off")).to_have_count(0)
    # One undo takes one step back, and that is kept as well.
    page.keyboard.press("Alt+z")
    until("undo did not reach the disk", lambda: "Rnd 9: " in read(tmp_path))


def test_a_query_can_be_left_with_a_word(window: Windows, tmp_path: Path) -> None:
    page = window()
    paste(page, RIGHT.replace("(48)\nFasten", "(47)\nFasten"))
    expect(page.locator(".query-fix")).to_have_count(1)
    page.keyboard.press("Alt+n")
    page.keyboard.press("Alt+l")
    page.keyboard.type("the last is worked with the seam")
    expect(page.locator(".query-fix")).to_have_count(0)
    until("the word is not on disk", lambda: "because the last is worked with the seam" in read(tmp_path))
    assert re.search(r"^Editor: leave count-differs in Rnd 8", read(tmp_path), re.M)


def test_a_pattern_is_published_and_what_was_made_can_be_looked_at(window: Windows, tmp_path: Path) -> None:
    page = window()
    paste(page, RIGHT)
    panel(page, "publish")
    page.get_by_label("Folder").fill("for-makers")
    page.locator(".panel .strong").click()
    expect(page.locator(".panel-body")).to_contain_text("It is in for-makers.")
    made = tmp_path / "for-makers"
    names = {path.name for path in made.iterdir() if not path.name.startswith(".")}
    assert {"index.html", "leaflet-a4.pdf", "leaflet-letter.pdf", "pattern.txt"} <= names
    with pikepdf.open(made / "leaflet-a4.pdf") as leaflet:
        assert str(leaflet.docinfo["/Title"]) == "Dune Beanie" and len(leaflet.pages) >= 1
    assert "2 hdc in each st around" in (made / "pattern.txt").read_text(encoding="utf-8")
    assert "<title>Dune Beanie" in (made / "index.html").read_text(encoding="utf-8")
    with page.context.expect_page() as shown:
        page.get_by_role("link", name="The page").click()
    shown.value.wait_for_load_state()
    expect(shown.value.get_by_role("heading", level=1)).to_have_text("Dune Beanie")


def test_faults_stand_in_the_way_of_publishing_until_she_says_so(window: Windows, tmp_path: Path) -> None:
    page = window()
    paste(page, RIGHT.replace("(24)", "(25)"))
    panel(page, "publish")
    expect(page.locator(".panel .strong")).to_be_disabled()
    page.get_by_role("button", name="Publish with its faults").click()
    expect(page.locator(".panel-body")).to_contain_text("It is in dune-beanie-published.")
    assert (tmp_path / "dune-beanie-published" / "leaflet-a4.pdf").read_bytes().startswith(b"%PDF")


def test_an_earlier_text_is_seen_as_a_difference_and_had_back(window: Windows, tmp_path: Path) -> None:
    page = window()
    paste(page, RIGHT)
    kept(page)
    page.locator(".cm-content").focus()
    page.keyboard.press("Control+a")
    page.keyboard.type("Gone")
    until("it was not written", lambda: read(tmp_path).strip() == "Gone")
    panel(page, "history")
    page.locator(".revision-name").last.click()
    expect(page.locator(".difference del")).to_have_text("Gone")
    expect(page.locator(".difference ins")).to_contain_text("Rnd 2: 2 hdc in each st around")
    page.get_by_role("button", name="Have this text back").click()
    until("it did not come back", lambda: read(tmp_path) == RIGHT)
    # Having back is a change like any other: the text before it stands in the history.
    expect(page.locator(".revision-name")).not_to_have_count(1)


def test_an_example_is_copied_and_never_written(window: Windows, tmp_path: Path) -> None:
    page = window()
    page.get_by_role("button", name="Saltmarsh Cap").click()
    edited(page)
    write_at_end(page, "A word of mine.")
    page.keyboard.press("Alt+c")
    expect(page.locator(".kept")).to_have_text("Kept")
    assert read(tmp_path).endswith("A word of mine.")
    assert only_file(tmp_path).name == "saltmarsh-cap.txt"
    page.keyboard.press("Alt+s")
    page.get_by_role("button", name="Saltmarsh Cap").first.click()
    edited(page)
    expect(page.locator(".cm-content")).not_to_contain_text("A word of mine.")


def test_what_is_offered_while_she_types_can_be_taken(window: Windows, tmp_path: Path) -> None:
    page = window()
    paste(page, RIGHT.replace("Fasten off.\n", ""))
    write_at_end(page, "Rn")
    offered = page.locator(".cm-tooltip-autocomplete")
    expect(offered.locator("[aria-selected]")).to_have_text("Rnd 9: ")
    take(page)
    page.keyboard.type("2 fpd")
    expect(offered.locator("[aria-selected]")).to_contain_text("fpdc")
    take(page)
    until("what was taken is not on disk", lambda: "\nRnd 9: 2 fpdc" in read(tmp_path))


def take(page: Page) -> None:
    """Takes what is offered; a key that is pressed just as the list opens is meant for the text."""
    page.wait_for_timeout(500)
    page.keyboard.press("Enter")
