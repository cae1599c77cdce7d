"""What the first view of the desk weighs on its way, and the units of the page, which are tested in Node."""

from __future__ import annotations

import gzip
import re
import subprocess
from pathlib import Path

import build_page
import pytest

from roundhand.desk.page import built
from tests.desk.browsing import left_out, page_at_hand

KB = 1024


@pytest.fixture(scope="module")
def page() -> Path:
    """The folder of the built page."""
    page_at_hand()
    return built()


def test_script_and_style_of_the_first_view_keep_within_200_kb(page: Path) -> None:
    index = (page / "index.html").read_text(encoding="utf-8")
    names = re.findall(r'(?:src|href)="/(assets/[^"]+\.(?:js|css))"', index)
    assert {Path(name).suffix for name in names} == {".js", ".css"}
    assert sum(len(gzip.compress((page / name).read_bytes(), 6)) for name in names) <= 200 * KB


def test_fonts_keep_within_100_kb(page: Path) -> None:
    fonts = list((page / "assets").glob("*.woff2"))
    assert fonts and sum(one.stat().st_size for one in fonts) <= 100 * KB
    assert any("LICENSE" in one.name for one in (page / "assets").iterdir())


def test_nothing_is_fetched_from_elsewhere(page: Path) -> None:
    for path in (page / "assets").glob("*.css"):
        assert not re.search(r"url\(\s*[\"']?(?:https?:)?//", path.read_text(encoding="utf-8"))


def test_the_units_of_the_page_hold(page: Path) -> None:
    command = build_page.npm()
    if command is None:
        left_out("there is no Node here that is new enough")
    done = subprocess.run(
        [*command, "run", "test"],
        cwd=build_page.WEB,
        env=build_page.environment(command),
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    assert done.returncode == 0, done.stdout[-3000:] + done.stderr[-1000:]
    assert re.search(r"Tests\D*[1-9]\d* passed", re.sub(r"\x1b\[[0-9;]*m", "", done.stdout))
