"""Pages are set from what is handed in and from nothing else."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from roundhand.press import (
    LackingError,
    PressError,
    finish_pdf,
    lacking,
    marker,
    picture_fits,
    picture_with_marks,
    picture_words,
    set_pdf,
)
from tests.publishing.read_pdf import Pdf

PLAIN = b'#set document(title: "t")\n#set text(font: "Libertinus Serif")\n'


@pytest.fixture
def root(tmp_path: Path) -> str:
    empty = tmp_path / "empty"
    empty.mkdir()
    return str(empty)


def test_data_are_shown_and_never_evaluated(root: str) -> None:
    text = '#eval("1") $x$ @ref \\ [b] *c*'
    made = set_pdf({"main.typ": PLAIN + b'#json("data.json").t'}, root, {"t": text})
    assert Pdf(made).pages == [text]


def test_a_page_is_the_same_bytes_every_time(root: str) -> None:
    source = {"main.typ": PLAIN + b"A page."}
    first = finish_pdf(set_pdf(source, root))
    assert first == finish_pdf(set_pdf(source, root))
    read = Pdf(first)
    assert str(read.document.docinfo["/CreationDate"]) == "D:20000101120000Z"


@pytest.mark.parametrize("name", ["secret.txt", "../secret.txt", "/etc/hostname", "https://example.org/x.txt"])
def test_nothing_outside_the_sources_is_read(root: str, tmp_path: Path, name: str) -> None:
    (tmp_path / "secret.txt").write_text("secret", encoding="utf-8")
    with pytest.raises(PressError):
        set_pdf({"main.typ": PLAIN + f'#read("{name}")'.encode()}, root)


def test_nothing_of_the_folder_that_one_works_in_is_read(
    root: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "here.txt").write_text("secret", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    with pytest.raises(PressError):
        set_pdf({"main.typ": PLAIN + b'#read("here.txt")'}, root)


def test_a_warning_is_a_fault(root: str) -> None:
    with pytest.raises(PressError, match="warning"):
        set_pdf({"main.typ": b'#set document(title: "t")\n#set text(font: "No Such Family")\nx'}, root)


def test_a_fault_of_the_source_is_told_in_a_sentence(root: str) -> None:
    with pytest.raises(PressError, match=r"^The page could not be set: .+\.$"):
        set_pdf({"main.typ": PLAIN + b"#panic("}, root)


def test_a_page_that_breaks_the_standard_is_not_made(root: str) -> None:
    drawing = b'<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>'
    with pytest.raises(PressError, match="alt"):
        set_pdf({"main.typ": PLAIN + b'#image("a.svg")', "a.svg": drawing}, root)


@pytest.mark.parametrize(("sources", "folder"), [({"main.typ": PLAIN}, ""), ({"other.typ": PLAIN}, "x")])
def test_a_caller_is_told_what_is_missing(sources: dict[str, bytes], folder: str) -> None:
    with pytest.raises(ValueError, match="and"):
        set_pdf(sources, folder)


def test_signs_without_shapes_are_found_before_and_while_setting(root: str) -> None:
    text = "kelp 海藻 \U0001f469\u200d\U0001f680 und Grün ½ שלום"
    found = lacking([text], root)
    assert {"海", "藻"} <= found
    assert not found & set("Grün½שלום ")
    with pytest.raises(LackingError) as raised:
        set_pdf({"main.typ": PLAIN + b'#json("data.json").t'}, root, {"t": text})
    assert "海" in raised.value.signs
    shown = marker(found)(text)
    assert shown.startswith("kelp ��") and shown.endswith("und Grün ½ שלום")
    assert not lacking([shown], root)
    assert lacking(["plain words"], root) == frozenset()


def test_many_lacking_signs_are_found_at_once(root: str) -> None:
    signs = {chr(0x4E00 + at) for at in range(3000)}
    assert lacking(signs, root) == signs


def test_a_drawing_gets_marks_in_its_texts_and_nowhere_else() -> None:
    drawing = '<svg xmlns="http://www.w3.org/2000/svg"><title>海</title><text id="海">a海b</text>海</svg>'.encode()
    marked = picture_with_marks(drawing, frozenset("海"))
    assert picture_words(marked) == ("�", "a�b", "�")
    assert 'id="海"' in marked.decode()
    assert picture_with_marks(drawing, frozenset()) == drawing


@pytest.mark.parametrize(
    "drawing",
    [
        b"",
        b"<svg",
        b'<!DOCTYPE svg [<!ENTITY a "b">]><svg xmlns="http://www.w3.org/2000/svg">&a;</svg>',
        b"<svg xmlns='http://www.w3.org/2000/svg'>" + b"<g/>" * 70_000 + b"</svg>",
        b"<svg>" + b" " * 9_000_000 + b"</svg>",
    ],
    ids=["empty", "broken", "entities", "too many marks", "too long"],
)
def test_what_is_no_small_sound_drawing_does_not_fit(drawing: bytes) -> None:
    assert not picture_fits(drawing)


def test_a_pdf_without_structure_is_refused() -> None:
    import io

    import pikepdf

    bare = pikepdf.new()
    bare.add_blank_page()
    out = io.BytesIO()
    bare.save(out)
    with pytest.raises(ValueError, match="structure"):
        finish_pdf(out.getvalue())


def test_the_engines_are_not_loaded_before_they_are_needed() -> None:
    code = "import sys, roundhand.publishing, roundhand.press; print(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, encoding="utf-8", check=True)
    assert not {"typst", "pikepdf", "jinja2", "lxml", "PIL"} & set(done.stdout.split())
