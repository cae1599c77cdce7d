"""A published folder: what is in it, when there is none, and the same bytes for the same pattern."""

import json
import re
import unicodedata
from html.parser import HTMLParser
from pathlib import Path

import pytest

from roundhand.workshop import RefusedError, UseError, encode, open_pattern, publish, publish_answer, understand
from roundhand.workshop.leaflets import compose
from roundhand.workshop.publishing import outputs
from tests.workshop.test_measure_faults import opened

ROOT = Path(__file__).resolve().parents[2]
KITTIWAKE = ROOT / "patterns/kittiwake-cap.txt"
SALTMARSH = ROOT / "patterns/saltmarsh-cap.txt"
NAMES = ("chart-body.png", "chart-body.svg", "index.html", "leaflet-a4.pdf", "leaflet-letter.pdf", "pattern.txt")
WRONG = "Mat\n\nMAT\nRnd 1: 6 sc in a magic ring. (6)\nRnd 2: Inc in each st around. (13)\n"


class Shown(HTMLParser):
    """The words and the elements of a page."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.words = ""
        self.elements: list[str] = []
        self.feed(page)

    def handle_data(self, data: str) -> None:
        self.words += data

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append(tag)


@pytest.fixture(scope="module")
def kittiwake(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("published") / "out"
    found = publish(open_pattern(KITTIWAKE), folder)
    assert found.files == NAMES
    assert (found.replaced, found.findings) == (False, ())
    return folder


def test_the_folder_holds_page_leaflets_chart_and_text(kittiwake: Path) -> None:
    assert sorted(path.name for path in kittiwake.iterdir()) == [".roundhand", *NAMES]
    assert (kittiwake / "index.html").read_bytes().lower().startswith(b"<!doctype html>")
    assert (kittiwake / "leaflet-a4.pdf").read_bytes().startswith(b"%PDF-")
    assert (kittiwake / "chart-body.png").read_bytes().startswith(b"\x89PNG")
    assert "Rnd 6" in (kittiwake / "pattern.txt").read_text(encoding="utf-8")


def test_page_and_text_hold_every_count_and_the_measurements(kittiwake: Path) -> None:
    page = Shown((kittiwake / "index.html").read_text(encoding="utf-8")).words
    text = (kittiwake / "pattern.txt").read_text(encoding="utf-8")
    for words in (page, " ".join(text.split())):
        assert "54 (60, 66, 72, 78)" in words
        assert "Band, length round" in words
        assert "Length with 1 repeat more" in words
        assert "Long sc" in words


def test_the_same_pattern_gives_the_same_bytes(kittiwake: Path, tmp_path: Path) -> None:
    publish(open_pattern(KITTIWAKE), tmp_path / "again")
    for path in kittiwake.iterdir():
        assert (tmp_path / "again" / path.name).read_bytes() == path.read_bytes(), path.name


def test_what_she_states_is_not_said_a_second_time() -> None:
    made = compose(open_pattern(SALTMARSH), pictures=False)
    stated = {line.what for line in made.stated}
    worked = [line.what for line in made.measures]
    assert {"Finished circumference", "Length, crown to edge"} <= stated
    assert "Round" not in worked and "Length" not in worked
    assert worked[:2] == ["Ease", "Worn depth"]


def test_the_leaflet_keeps_her_own_amounts_where_nothing_was_weighed(tmp_path: Path) -> None:
    own = open_pattern(KITTIWAKE)
    assert compose(own, pictures=False).needs == ()
    measured = compose(opened(KITTIWAKE.read_text(encoding="utf-8"), tmp_path), pictures=False)
    # By the maker's lengths what is to buy is what she states.
    assert [(need.label, need.buy) for need in measured.needs] == [
        ("A", ("65 yd", "75 yd", "95 yd", "110 yd", "120 yd")),
        ("B", ("40 yd", "40 yd", "55 yd", "60 yd", "65 yd")),
    ]


def test_yarn_that_was_only_reckoned_is_said_to_be_about_so_much() -> None:
    head = "Cap\n\nMATERIALS\nYarn A: worsted, 100 g = 200 m\n\nCAP\n"
    text = f"{head}With A, ch 9.\nRow 1: Sc in 2nd ch and in each ch. (8)"
    [need] = compose(understand(text), pictures=False).needs
    assert need.buy == ("about 5 m",)


def test_over_an_error_nothing_is_published(tmp_path: Path) -> None:
    with pytest.raises(RefusedError, match="Nothing was published, since one query is still to fix"):
        publish(understand(WRONG), tmp_path / "out")
    assert list(tmp_path.iterdir()) == []
    publish(understand(WRONG), tmp_path / "out", anyway=True)
    assert "(13)" in (tmp_path / "out" / "pattern.txt").read_text(encoding="utf-8")


def test_a_place_that_will_not_do_is_found_before_the_work(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "out").write_text("mine")
    monkeypatch.setattr("roundhand.workshop.publishing.outputs", lambda reading: pytest.fail("work for nothing"))
    with pytest.raises(UseError, match="is a file and no folder"):
        publish(open_pattern(KITTIWAKE), tmp_path / "out")


def test_the_answer_names_the_folder_and_its_files(tmp_path: Path) -> None:
    found = publish(open_pattern(KITTIWAKE), tmp_path / "out")
    answer = json.loads(encode(publish_answer(found)))
    assert answer == {"schema": "roundhand.publish/1", "folder": str(tmp_path / "out"), "files": list(NAMES)}


HOSTILE = [
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    "</style><b>",
    '" onload="x',
    "#eval(1+1) $x$ \\ @a <l> *b*",
    "{{ 7 * 7 }} {% x %}",
    "\x1b[2J\x00\x07",
    "\u202ereversed\u2066",
    "編み物 🧶 e\u0301",
    "%PDF-1.7 endobj",
]


@pytest.mark.parametrize("words", HOSTILE)
def test_words_of_a_pattern_are_words_in_all_that_is_published(words: str) -> None:
    text = (
        f"{words}\n\n{words}\n\nSizes: S {words} (M)\nFinished length: 3 in\nGauge: 16 sts and 18 rnds = 4 in {words}\n"
        f"\nMATERIALS\nYarn A: worsted, {words}\nYarn B: worsted, moss\n\nNOTES\n{words}\n\nMAT {words}\n"
        f"With A, make a magic ring.\nRnd 1: 6 sc in ring, join. (6) {words}\n"
        "Rnd 2: With B, 2 sc in each st around. (12)\n"
    )
    files, _ = outputs(understand(text))
    assert {"index.html", "leaflet-a4.pdf", "leaflet-letter.pdf", "pattern.txt"} <= set(files)
    page = Shown(files["index.html"].decode("utf-8"))
    assert "script" not in page.elements
    assert page.elements.count("style") == 1
    # All letters that can be seen come through.
    letters = re.sub(r"[\x00-\x20\u202a-\u202e\u2066-\u2069]", "", words)
    seen = re.sub(r"\s", "", page.words)
    assert unicodedata.normalize("NFC", letters) in unicodedata.normalize("NFC", seen)


def test_a_sign_that_the_fonts_lack_is_told_and_stands_in_the_page(tmp_path: Path) -> None:
    text = "Mat\n\nNOTES\nKnown as 海藻.\n\nMAT\nRnd 1: 6 sc in a magic ring. (6)\n"
    found = publish(understand(text), tmp_path / "out")
    assert {finding.name for finding in found.findings} == {"glyph-missing"}
    assert "海藻" in (tmp_path / "out" / "index.html").read_text(encoding="utf-8")
    assert "海藻" in (tmp_path / "out" / "pattern.txt").read_text(encoding="utf-8")
