"""Page, PDF and text of one leaflet: the same content, safe whatever a text holds, the same bytes every time."""

from __future__ import annotations

import hashlib
import os
import re
import subprocess
import sys
from pathlib import Path

import msgspec
import pytest

from roundhand import notation, tally
from roundhand.findings import Source
from roundhand.press import PressError, lacking, marker, plain
from roundhand.publishing import Chart, Leaflet, lacking_signs, leaflet, outputs, page, pdf, plain_text
from roundhand.publishing.text import WIDTH, block_text
from roundhand.publishing.words import said
from tests.publishing.hostile import HOSTILE
from tests.publishing.making import SHIPPED, SVG, leaflet_of, shipped, shipped_text, squeezed
from tests.publishing.read_pdf import Element, Pdf
from tests.publishing.strict_html import Page

LEVELS = re.compile(r"h[1-6]")


@pytest.fixture
def root(tmp_path: Path) -> str:
    empty = tmp_path / "empty"
    empty.mkdir()
    return str(empty)


def hostile_leaflet(text: str) -> Leaflet:
    """A leaflet with a string everywhere that words can stand, by way of a pattern and of what is handed in."""
    made = leaflet_of(
        f"Cap {text} end\n\nA cap with {text} in it.\n\n"
        f"Sizes: S (M{squeezed(text)[:5]}x, L)\nLevel: {text}\nTerms: US\n\n"
        f"MATERIALS\nYarn A: worsted, {text}\nHook: 5 mm, {text}\n\nGAUGE\n14 sts = 4 in, {text}\n\n"
        f"SPECIAL STITCHES\nOdd st: {text}, yo.\n\nNOTES\nKeep {text} in mind.\n\n"
        f"CROWN\nRnd 1: 6 sc in a magic ring, {text}.\nRnd 2: Inc in each st around, {text}. (12)\nCut A {text}.\n\n"
        f"CARE\nAway with {text}.\n",
        charts=(Chart(text, SVG, text, f"It shows {text}.", (text,)),),
    )
    assert squeezed(plain(text)) in squeezed(made.title)
    return msgspec.structs.replace(made, sizes=(plain(text), *made.sizes[1:]))


@pytest.mark.parametrize("text", HOSTILE, ids=lambda text: ascii(text)[1:30])
def test_a_string_that_means_something_to_a_machine_is_plain_text_everywhere(text: str, root: str) -> None:
    made = hostile_leaflet(text)
    shown = squeezed(plain(text))
    assert shown

    read = Page(page(made).decode("utf-8"))
    assert not read.faults
    assert squeezed(read.text).count(shown) >= 12
    assert squeezed(read.title) == squeezed(made.title)
    assert any(shown in squeezed(str(image["alt"])) for image in read.all("img"))

    assert squeezed(plain_text(made)).count(shown) >= 12

    set_in_type = Pdf(pdf(made, "a4", root))
    marked = squeezed(marker(lacking([plain(text)], root))(plain(text)))
    found = squeezed(set_in_type.text).replace("\u200b", "")
    if not re.search(r"[\u0590-\u08ff]", marked):  # Letters from right to left are drawn in the order of the eye.
        assert found.count(marked.replace("\u200d", "").replace("\u00ad", "")) >= 12
    assert str(set_in_type.document.docinfo["/Title"]).startswith("Cap ")
    assert not os.listdir(root)


def test_a_pattern_of_the_worst_strings_is_read_to_the_same_leaflet_structure() -> None:
    usual = Page(page(hostile_leaflet("plain words")).decode("utf-8"))
    for text in HOSTILE:
        read = Page(page(hostile_leaflet(text)).decode("utf-8"))
        added = {tag for tag, _ in read.elements} - {tag for tag, _ in usual.elements}
        assert added <= {"abbr"}


@pytest.mark.parametrize("name", SHIPPED)
def test_outputs_are_the_same_bytes_in_every_process(name: str, root: str) -> None:
    first = outputs(shipped(name), root)
    assert outputs(shipped(name), root) == first
    code = (
        "import hashlib, sys; from tests.publishing.making import shipped; from roundhand.publishing import outputs; "
        "print(*(hashlib.sha256(data).hexdigest() for data in outputs(shipped(sys.argv[1]), sys.argv[2]).values()))"
    )
    for seed in ("1", "2"):
        done = subprocess.run(
            [sys.executable, "-c", code, name, root],
            capture_output=True,
            encoding="utf-8",
            check=True,
            cwd=Path(__file__).parents[2],
            env={**os.environ, "PYTHONHASHSEED": seed},
        )
        assert done.stdout.split() == [hashlib.sha256(data).hexdigest() for data in first.values()]


def test_the_folder_has_a_file_for_every_reader(root: str) -> None:
    files = outputs(shipped("kittiwake-cap"), root)
    assert list(files) == [
        "index.html",
        "leaflet-a4.pdf",
        "leaflet-letter.pdf",
        "pattern.txt",
        "chart-body.svg",
        "chart-body.png",
    ]
    assert files["chart-body.svg"] == SVG
    assert not os.listdir(root)


# The page


@pytest.mark.parametrize("name", SHIPPED)
def test_a_page_is_whole_and_has_its_landmarks(name: str) -> None:
    made = shipped(name)
    read = Page(page(made).decode("utf-8"))
    assert not read.faults
    assert read.all("html") == [{"lang": "en-US"}]
    assert read.title == made.title
    for landmark in ("header", "nav", "main"):
        assert len(read.all(landmark)) == 1, landmark
    levels = [int(tag[1]) for tag, _ in read.elements if LEVELS.fullmatch(tag)]
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in zip([0, *levels], levels, strict=False))
    assert read.all("table")
    sections = [attributes["id"] for attributes in read.all("section")]
    assert [place["href"] for place in read.all("a")] == ["#pattern", *(f"#{section}" for section in sections)]


def test_the_language_follows_the_terms() -> None:
    made = leaflet_of("Hat\nTerms: UK\nRnd 1: 6 dc in a magic ring.")
    read = Page(page(made).decode("utf-8"))
    assert read.all("html") == [{"lang": "en-GB"}]
    assert "UK terms" in read.text


@pytest.mark.parametrize("name", SHIPPED)
def test_a_page_needs_nothing_else_and_runs_nothing(name: str) -> None:
    html = page(shipped(name)).decode("utf-8")
    read = Page(html)
    policy = next(one["content"] for one in read.all("meta") if one.get("http-equiv") == "Content-Security-Policy")
    assert policy is not None
    assert policy.startswith("default-src 'none'; img-src data:; style-src 'sha256-")
    style = html.partition("<style>")[2].partition("</style>")[0]
    assert "url(" not in style and "@import" not in style
    assert not re.search(r"\bhttps?:", html.replace("data:image/svg+xml;base64,", ""))
    # The digest of the policy is the digest of the style, or a browser would show the page bare.
    import base64

    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    assert f"'sha256-{digest}'" in policy


def test_a_reader_can_mark_any_size_and_none_where_there_is_one() -> None:
    read = Page(page(shipped("kittiwake-cap")).decode("utf-8"))
    assert [one["id"] for one in read.all("input")] == ["size-all", *(f"size-{at}" for at in range(5))]
    html = page(shipped("saltmarsh-cap")).decode("utf-8")
    assert "body:has(#size-4:checked) .v4 {" in html
    assert "body:has(#size-4:checked) .some:not(.in4) { display: none; }" in html
    assert '<li class="row some in2">' in html
    assert not Page(page(leaflet_of("Hat\nRnd 1: 6 sc in a magic ring.")).decode("utf-8")).all("input")


def luminance(colour: str) -> float:
    """The relative luminance of a colour: WCAG 2.2, definitions (w3.org/TR/WCAG22)."""
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """The contrast ratio of two colours: WCAG 2.2, definitions."""
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def test_the_contrast_is_reckoned_right() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("light", ["by day", "by lamplight"])
def test_every_text_stands_out_from_what_it_stands_on(light: str) -> None:
    # WCAG 2.2, success criterion 1.4.3: 4.5 to 1 for text of this size; 1.4.11: 3 to 1 for the edge of a control.
    html = page(shipped("kittiwake-cap")).decode("utf-8")
    roots = re.findall(r":root \{(.*?)\}", html, re.DOTALL)
    found = [dict(re.findall(r"--(\w+): (#[0-9a-f]{6});", root)) for root in roots]
    colours = found[0] if light == "by day" else {**found[0], **found[1]}
    for text in ("ink", "soft", "madder", "woad", "walnut"):
        for ground in ("paper", "sheet"):
            assert contrast(colours[text], colours[ground]) >= 4.5, (text, ground)
    for text in ("ink", "soft", "woad", "walnut"):
        assert contrast(colours[text], colours["mark"]) >= 4.5, text


# The PDF


def inside(elements: list[Element], at: int) -> list[Element]:
    """The elements below the one at a place."""
    below = []
    for one in elements[at + 1 :]:
        if one.depth <= elements[at].depth:
            break
        below.append(one)
    return below


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
@pytest.mark.parametrize("name", SHIPPED)
def test_a_pdf_is_tagged_for_every_reader(name: str, paper: str, root: str) -> None:
    made = shipped(name)
    read = Pdf(pdf(made, paper, root))  # type: ignore[arg-type]
    catalogue = read.document.Root
    assert str(catalogue.Lang) == "en-US"
    assert bool(catalogue.ViewerPreferences.DisplayDocTitle)
    assert bool(catalogue.MarkInfo.Marked)
    assert all(str(one.obj.Tabs) == "/S" for one in read.document.pages)
    with read.document.open_metadata() as marks:
        assert marks["pdfuaid:part"] == "1"
        assert (marks["pdfaid:part"], marks["pdfaid:conformance"]) == ("2", "A")
        assert marks["dc:title"] == made.title
    widths = {(round(float(box[2])), round(float(box[3]))) for box in (one.mediabox for one in read.document.pages)}
    assert widths == {(595, 842) if paper == "a4" else (612, 792)}

    elements = read.elements
    assert [one.text for one in elements if one.role == "Title"] == [made.title]
    headings = [one for one in elements if re.fullmatch(r"H\d?", one.role)]
    assert {one.role for one in headings} == {"H1"}
    names = [one.text for one in headings]
    assert names[:2] == ["Sizes", "Materials"]
    assert names[-1] == "Chart"
    assert [section.name for section in made.closing] == [name for name in names if name == "Care"]
    figures = [one for one in elements if one.role == "Figure"]
    assert [one.alternative for one in figures] == ["Colours of the body. Two stitches, A and B."]
    tables = [at for at, one in enumerate(elements) if one.role == "Table"]
    assert len(tables) == 3
    for at in tables:
        cells = [one for one in inside(elements, at) if one.role in ("TH", "TD", "TR")]
        rows: list[list[Element]] = []
        for cell in cells:
            if cell.role == "TR":
                rows.append([])
            else:
                rows[-1].append(cell)
        assert [str(cell.attributes["/Table/Scope"]) for cell in rows[0]] == ["/Column"] * 6
        for row in rows[1:]:
            assert [cell.role for cell in row] == ["TH"] + ["TD"] * 5
            assert str(row[0].attributes["/Table/Scope"]) == "/Row"
            # A list of headers would take the place of the scopes, and the row's header would go unheard.
            assert not any("/Table/Headers" in cell.attributes for cell in row)


@pytest.mark.parametrize("name", SHIPPED)
def test_every_output_has_every_word_of_every_row(name: str, root: str) -> None:
    made = shipped(name)
    everywhere = {
        "page": squeezed(Page(page(made).decode("utf-8")).text).replace("filledin:", ""),
        "pdf": squeezed(Pdf(pdf(made, "a4", root)).text),
        "text": squeezed(plain_text(made)),
    }
    sections = (*made.opening, *made.sections, *made.closing)
    lines = [block_text(block) for section in sections for block in section.blocks]
    lines += [f"{one.key}:{said(one.words)}" for one in (*made.materials, *made.special) if one.key]
    lines += [said(words) for words in made.intro]
    assert len(lines) > 20
    for line in lines:
        for output, text in everywhere.items():
            assert squeezed(line) in text, output


def long_pattern(rows: int) -> str:
    """A scarf of so many rows, long and short ones, with and without a count."""
    first = "Row 1: Sc in 2nd ch from hook and in each ch across. (20 sc)"
    lines = ["Scarf", "Terms: US", "", "SCARF", "Ch 21.", first]
    for row in range(2, rows + 2):
        work = "sc in each st to last 2 sts, sc in next st, sc in last st" if row % 4 else "sc in each st across"
        lines.append(f"Row {row}: Turn, ch 1, {work}." + (" (20 sc)" if row % 2 else ""))
    return "\n".join(lines)


def test_no_row_is_parted_from_its_count(root: str) -> None:
    made = leaflet_of(long_pattern(150))
    read = Pdf(pdf(made, "us-letter", root))
    assert len(read.pages) > 4
    pages = [squeezed(text) for text in read.pages]
    for block in made.sections[0].blocks:
        line = squeezed(block_text(block))
        assert sum(line in text for text in pages) == 1, line
    for at, text in enumerate(pages, 1):
        assert text.endswith(f"{at}of{len(pages)}")


def test_more_sizes_than_a_page_is_wide_go_into_further_tables(root: str) -> None:
    sizes = ", ".join(f"Size{at}" for at in range(2, 20))
    heads = ", ".join(str(40 + at) for at in range(2, 20))
    made = leaflet_of(f"Hat\nSizes: Size1 ({sizes})\nTo fit head: 41 ({heads}) cm\nRnd 1: 6 sc in a magic ring.")
    read = Pdf(pdf(made, "a4", root))
    headers = [one.text for one in read.elements if one.role == "TH"]
    assert headers == [
        part
        for start in (1, 8, 15)
        for part in ("Size", *(f"Size{at}" for at in range(start, min(start + 7, 20))), "To fit head")
    ]
    cells = [one.text for one in read.elements if one.role == "TD"]
    assert len(cells) == 19
    assert cells[0].startswith("41 cm")


def test_a_row_longer_than_a_page_runs_on(root: str) -> None:
    made = leaflet_of("Hat\nRnd 1: 6 sc in a magic ring.\nRnd 2: " + "sc in next st, " * 1200 + "join.")
    read = Pdf(pdf(made, "a4", root))
    assert len(read.pages) > 2
    said_in_order = "".join(element.text for element in read.elements)
    assert squeezed(said_in_order).count("scinnextst,") == 1200


def test_a_chart_too_large_to_set_is_left_to_its_file(root: str) -> None:
    huge = SVG.replace(b"</svg>", b"<g/>" * 70_000 + b"</svg>")
    chart = Chart("Hat", huge, "Chart", "All A.", ("Rnd 1: A",))
    made = leaflet_of("Hat\nRnd 1: 6 sc in a magic ring.", charts=(chart,))
    read = Pdf(pdf(made, "a4", root))
    assert not [one for one in read.elements if one.role == "Figure"]
    assert "it stands in a file of its own" in read.text
    assert "Rnd 1: A" in read.text


def test_a_chart_with_signs_that_the_fonts_lack_is_set_with_marks(root: str) -> None:
    foreign = SVG.replace(b">A<", ">海<".encode())
    made = leaflet_of("Hat\nRnd 1: 6 sc in a magic ring.", charts=(Chart("Hat", foreign, "海", "All 海.", ()),))
    read = Pdf(pdf(made, "a4", root))
    assert [one.alternative for one in read.elements if one.role == "Figure"] == ["�. All �."]
    assert "海" not in read.text


def test_a_root_is_needed() -> None:
    with pytest.raises(ValueError, match="empty folder"):
        pdf(leaflet_of("Hat\nRnd 1: 6 sc in a magic ring."), "a4", "")


# Signs that the fonts lack


def test_signs_without_shapes_are_told_with_their_places(root: str) -> None:
    text = "Cap\nYarn A: worsted, 海 green\nRnd 1: With A, 6 sc in a magic ring.\nRnd 2: Sc in each st, 海 \U0001f9f6."
    pattern, _ = notation.read(text)
    made = leaflet(Source(text), pattern, tally.count(pattern)[0])
    found = lacking_signs(made, Source(text), root)
    assert [(one.name, one.severity, one.span.of(text), one.facts["times"]) for one in found] == [
        ("glyph-missing", "warning", "海", 2),
        ("glyph-missing", "warning", "\U0001f9f6", 1),
    ]
    assert [mark.span.of(text) for mark in found[0].see] == ["海"]
    assert found[1].facts["code"] == "U+1F9F6"
    assert "海 green" in page(made).decode("utf-8")
    assert "海 green" in plain_text(made)
    shown = Pdf(pdf(made, "a4", root)).text
    assert "� green" in shown and "海" not in shown


@pytest.mark.parametrize("name", SHIPPED)
def test_our_own_patterns_have_a_shape_for_every_sign(name: str, root: str) -> None:
    assert lacking_signs(shipped(name), Source(shipped_text(name)), root) == ()


# The text


@pytest.mark.parametrize("name", SHIPPED)
def test_the_text_keeps_its_width_and_its_counts_together(name: str) -> None:
    made = shipped(name)
    lines = plain_text(made).split("\n")
    assert max(map(len, lines)) <= WIDTH
    assert lines[-1] == "" and lines[-2]
    for section in made.sections:
        for block in section.blocks:
            counts = [f"[{said(filled.words)}]" for filled in block.filled]
            counts += ["".join(run.text for run in block.words if run.count)]
            for count in filter(None, counts):
                assert any(count in line for line in lines), count


@pytest.mark.parametrize("name", SHIPPED)
def test_the_text_reads_back_to_the_same_counts(name: str) -> None:
    def rows(text: str) -> list[tuple[object, ...]]:
        counted, _ = tally.count(notation.read(text)[0])
        return [(row.kind, row.labels, row.worked) for row in counted.rows()]

    assert rows(plain_text(shipped(name))) == rows(shipped_text(name))


def test_what_cannot_be_set_is_told_in_a_sentence(root: str, monkeypatch: pytest.MonkeyPatch) -> None:
    # The function is called like its module, so the module is taken by its name.
    monkeypatch.setattr(sys.modules[pdf.__module__], "_source", lambda: b"#panic()")
    with pytest.raises(PressError, match=r"^The page could not be set: .+\.$"):
        pdf(leaflet_of("Hat\nRnd 1: 6 sc in a magic ring."), "a4", root)
