"""What the panels show: measurements, yarn, the chart, the leaflet, and a pattern published."""

import json
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import msgspec
import pytest
from starlette.testclient import TestClient

from roundhand.desk.worker import OK, STEP, answers
from roundhand.workshop import measure, open_pattern, shipped_patterns, understand, yarn
from roundhand.workshop.writing import MARKER

PATTERN = shipped_patterns() / "saltmarsh-cap.txt"
CAP = PATTERN.read_text(encoding="utf-8")
SLIPS = (shipped_patterns() / "_faulty" / "saltmarsh-cap-with-slips.txt").read_text(encoding="utf-8")


def asked(task: str, folder: Path, **what: Any) -> tuple[int, Any, list[Any]]:
    """The status, the answer and the steps on the way, without a process."""
    *steps, (status, body) = answers(task, msgspec.json.encode(what), folder)
    assert all(one == STEP for one, _ in steps)
    return status, msgspec.json.decode(body), [msgspec.json.decode(step) for _, step in steps]


def test_measures_and_yarn_say_what_the_commands_say() -> None:
    status, found, _ = asked("measures", shipped_patterns(), text=CAP, name="saltmarsh-cap.txt")
    assert status == OK and found["headings"] == ["Toddler", "Child", "Adult S", "Adult M", "Adult L"]
    reading = open_pattern(PATTERN)
    whole = measure(reading).pieces[-1]
    told = {row["what"]: row for table in found["pieces"] for row in table["rows"]}
    for one in whole.measures:
        if not one.what.startswith("length with"):
            inches = [None if value is None else f"{value / 2.54:.2f}" for value in one.cm]
            assert told[one.what]["unit"] == "in"
            assert [cell if cell != "-" else None for cell in told[one.what]["values"]] == inches
    needs = {one.label: one for one in yarn(reading).yarns}
    assert [one["label"].partition(",")[0] for one in found["yarn"]] == list(needs)
    for one in found["yarn"]:
        metres = next(row for row in one["rows"] if row["unit"] == "m")
        own = needs[one["label"].partition(",")[0]]
        assert metres["values"] == [f"{size.length_m:.2f}" for size in own.sizes]
        assert "weighed" in one["sure"] or "give or take" in one["sure"]
    assert any("three makers two" in sentence for sentence in found["said"])


def test_what_was_weighed_beside_the_pattern_is_reckoned_with(tmp_path: Path) -> None:
    text = CAP.replace("Swatch: ", "Trial: ")
    (tmp_path / "cap.txt").write_text(text, encoding="utf-8")
    (tmp_path / "stitch_lengths.csv").write_text(
        "kind,place,length,unit\nhalf_double,,3.1,cm\nsingle,,2.4,cm\n", encoding="utf-8"
    )
    _, alone, _ = asked("measures", tmp_path, text=text)
    _, beside, _ = asked("measures", tmp_path, text=text, name="cap.txt")
    assert alone["yarn"] != beside["yarn"]


def test_without_a_gauge_it_says_how_to_give_one(tmp_path: Path) -> None:
    status, found, _ = asked("measures", tmp_path, text="Cap\n\nRnd 1: 6 sc in a magic ring. (6)")
    assert status == OK and found["pieces"] == []
    assert any("gauge" in sentence for sentence in found["said"])
    status, found, _ = asked("measures", tmp_path, text="")
    assert (status, found["yarn"]) == (OK, [])


def test_a_chart_is_a_picture_with_all_its_words(tmp_path: Path) -> None:
    status, found, _ = asked("chart", tmp_path, text=CAP, size=1)
    assert status == OK and found["size"] == "Child" and found["piece"] in found["pieces"]
    assert ElementTree.fromstring(found["svg"]).tag.endswith("svg")
    assert len(found["words"]) > 10 and any(line.startswith("Rnd ") for line in found["words"])
    assert asked("chart", tmp_path, text=CAP, size=1, part=found["pieces"][0])[1] == found
    status, problem, _ = asked("chart", tmp_path, text=CAP, part="Sleeve")
    assert (status, problem["kind"]) == (422, "no-chart") and "Sleeve" in problem["title"]
    assert asked("chart", tmp_path, text="Dear diary")[1]["kind"] == "no-chart"


def test_each_piece_has_its_chart(tmp_path: Path) -> None:
    row = "Row 1: sc in 2nd ch from hook and in each ch across."
    text = f"Set\n\nBODY\nCh 9.\n{row} (8)\n\nSTRAP\nCh 5.\n{row} (4)\n"
    charts = [asked("chart", tmp_path, text=text, part=part)[1] for part in ("Body", "Strap")]
    assert [one["piece"] for one in charts] == ["Body", "Strap"]
    assert charts[0]["pieces"] == ["Body", "Strap"] and charts[0]["svg"] != charts[1]["svg"]


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_leaflet_is_shown_as_it_will_print(paper: str, tmp_path: Path) -> None:
    status, found, _ = asked("leaflet", tmp_path, text=CAP, paper=paper)
    assert status == OK and found["title"] == "Saltmarsh Cap" and len(found["pages"]) >= 2
    sizes = {ElementTree.fromstring(page).attrib["width"] for page in found["pages"]}
    assert sizes == {"595.275590551pt" if paper == "A4" else "612pt"}
    assert "Rnd 1: " in found["words"]
    large = asked("leaflet", tmp_path, text=CAP, paper=paper, large=True)[1]
    assert len(large["pages"]) > len(found["pages"]) and large["words"] == found["words"]


HOSTILE = (
    '<script>alert(1)</script> Cap "\'&\n\nNotes: <img src=x onerror=alert(1)> #eval("1") $x$ \u202eevil\u2066 海\n\n'
    "Rnd 1: 6 sc in a magic ring. (6)\n"
)


def test_a_hostile_page_is_text_in_every_picture(tmp_path: Path) -> None:
    svgs = [asked("chart", tmp_path, text=HOSTILE)[1]["svg"], *asked("leaflet", tmp_path, text=HOSTILE)[1]["pages"]]
    for svg in svgs:
        for element in ElementTree.fromstring(svg).iter():
            assert element.tag.rpartition("}")[2] not in ("script", "foreignObject", "iframe", "a", "style")
            for name, value in element.attrib.items():
                assert not name.lower().startswith("on"), name
                if name.endswith("href"):
                    assert value.startswith(("#", "data:image/"))


def test_a_pattern_is_published_step_by_step_and_its_files_are_shown(client: TestClient, tmp_path: Path) -> None:
    with client.stream("POST", "/api/publish", json={"name": "saltmarsh-cap.txt", "text": CAP}) as response:
        assert response.headers["content-type"].startswith("text/event-stream")
        told = [json.loads(line.removeprefix("data: ")) for line in response.iter_lines() if line]
    *steps, last = told
    assert [one["done"] for one in steps] == sorted({one["done"] for one in steps})
    assert all(one["done"] < one["of"] == steps[-1]["of"] for one in steps[1:]) and "leaflet-a4.pdf" in str(steps)
    assert last["folder"] == "saltmarsh-cap-published"
    made = {path.name for path in (tmp_path / last["folder"]).iterdir()} - {MARKER}
    assert {one["name"] for one in last["files"]} == made
    for one in last["files"]:
        shown = client.get(one["url"])
        assert shown.content == (tmp_path / last["folder"] / one["name"]).read_bytes()
        assert shown.headers["content-security-policy"].startswith("sandbox; default-src 'none'")
        inline = not one["name"].endswith(".pdf")
        assert shown.headers["content-disposition"].startswith("inline" if inline else "attachment")
    # What roundhand has not made is not shown, and neither is what somebody changed.
    (tmp_path / "cap.txt").write_text(CAP, encoding="utf-8")
    (tmp_path / last["folder"] / "pattern.txt").write_text("mine", encoding="utf-8")
    for path in (
        "cap.txt",
        f"{last['folder']}/pattern.txt",
        f"{last['folder']}/{MARKER}",
        "../x/index.html",
        last["folder"],
    ):
        assert client.get(f"/api/published/{path}").status_code in (404, 422)
        assert client.get(f"/api/published/{path.replace('/', '%2F')}").status_code in (404, 422)


def test_what_keeps_a_pattern_from_being_published_is_told(tmp_path: Path) -> None:
    status, problem, _ = asked("publish", tmp_path, name="cap.txt", text=SLIPS)
    assert (status, problem["kind"]) == (422, "refused")
    assert problem["title"].startswith("Nothing was published, since ") and "--" not in problem["title"]
    assert list(tmp_path.iterdir()) == []
    for into in ("../out", "/tmp/out", ".out", "a/../../out", "con"):
        status, problem, _ = asked("publish", tmp_path, name="cap.txt", text=CAP, into=into)
        assert (status, problem["kind"]) == (422, "wrong-name")
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos" / "me.jpg").write_bytes(b"mine")
    status, problem, _ = asked("publish", tmp_path, name="cap.txt", text=CAP, into="photos")
    assert status == 422 and "not made" in problem["title"] and "--out" not in problem["title"]
    assert [path.name for path in (tmp_path / "photos").iterdir()] == ["me.jpg"]
    status, found, _ = asked("publish", tmp_path, name="cap.txt", text=SLIPS, anyway=True, into="for testers")
    assert status == OK and found["folder"] == "for testers"
    assert found["files"][0]["url"].startswith("/api/published/for%20testers/")


def test_the_line_that_leaves_a_query_leaves_it() -> None:
    _, found, _ = asked("queries", shipped_patterns(), text=SLIPS, size=None, number=0)
    causes = [one for one in found["queries"] if not one["follows"]]
    assert causes
    for one in causes:
        left = understand(f"{SLIPS}\n{one['leave']}, meant so\n")
        names = [(finding.name, finding.span.start) for finding in left.findings]
        assert (one["name"], one["start"]) not in names, one["leave"]
        assert "editor-word-unused" not in [name for name, _ in names]
