"""What is kept beside a pattern: both files, in the forms that spreadsheets write, and every way they can be wrong."""

import os
from pathlib import Path

import pytest

from roundhand.workshop import Beside, Reading, beside, open_pattern, understand

CAP = """Cap

Terms: US
Gauge: 16 sts and 20 rnds = 4 in in sc

MATERIALS
Yarn A: worsted, 100 g = 200 m, slate
Yarn B: worsted, 50 g = 150 m, kelp
{swatch}
SPECIAL STITCHES
Gull stitch: insert hook in st 2 rnds below, draw up a loop, yo, pull through 2 loops.

CAP
With A, ch 20, join with sl st in first ch to form a ring.
Rnd 1: Ch 1, sc in each ch around, join with sl st in first sc. (20)
Fasten off.
"""
HEAD = "kind,place,length,unit\n"
SWATCHES = "yarn,stitch,stitches,rows,width,height,unit,grams\n"


def lengths(text: str, pattern: str = CAP.format(swatch="")) -> Reading:
    return understand(pattern, measured=Beside(lengths=text))


def swatches(text: str, swatch: str = "") -> Reading:
    return understand(CAP.format(swatch=swatch), measured=Beside(swatches=text))


@pytest.mark.parametrize(
    "text",
    [
        HEAD + "single,,1.6,in\n",
        HEAD + "sc,,1.6,in\n",
        HEAD + "Single Crochet,,1 3/5,inches\n",
        HEAD + "single,,4.064,cm\n",
        "kind;place;length;unit\r\nsingle;;4,064;cm\r\n",
        (HEAD + "single,,40.64,mm\n").replace("\n", "\r"),
        "unit,length,kind,place\nin,1.6,single,\n",
        HEAD + "\n" + '"single","","1.6","in"\n',
    ],
)
def test_lengths_as_spreadsheets_write_them(text: str) -> None:
    reading = lengths(text)
    assert [(one.kind, float(one.length.mm)) for one in reading.lengths] == [("single", 40.64)]
    assert reading.said == ()


def test_terms_are_the_pattern_s_own() -> None:
    reading = lengths(HEAD + "dc,,1.6,in\n", CAP.format(swatch="").replace("Terms: US", "Terms: UK"))
    assert [one.kind for one in reading.lengths] == ["single"]


def test_a_stitch_may_have_the_name_that_the_pattern_gives_it() -> None:
    reading = lengths(HEAD + "gull stitch,,3,in\n")
    [definition] = {one.stitch.id for one in reading.pattern.definitions.values() if one.stitch is not None}
    assert [one.kind for one in reading.lengths] == [definition]


def test_a_line_that_makes_no_sense_is_told_and_the_others_stand() -> None:
    reading = lengths(HEAD + "single,,1.6,in\nbouclette,,2,in\ndouble,,-1,in\n,,2,in\ntreble,,2,furlong\nchain,,1,in\n")
    assert [one.kind for one in reading.lengths] == ["single", "chain"]
    assert reading.said == (
        "“stitch_lengths.csv”: in line 4: a kind, a length above nothing and a unit are needed, "
        "so that line was passed over.",
        "“stitch_lengths.csv”: in line 5: a kind, a length above nothing and a unit are needed, "
        "so that line was passed over.",
        "“stitch_lengths.csv”: in line 6: a kind, a length above nothing and a unit are needed, "
        "so that line was passed over.",
        "“stitch_lengths.csv”: 1 more line was passed over.",
    )


@pytest.mark.parametrize("text", ["Dear diary,\nto-day I bought yarn.\n", "\n\n", HEAD, "a,b\n1,2\n", '"open\n' * 5])
def test_another_kind_of_file_does_no_harm(text: str) -> None:
    for reading in (lengths(text), swatches(text)):
        assert (reading.lengths, reading.swatches) == ((), ())
        assert len(reading.said) <= 4
        assert not [finding for finding in reading.findings if finding.severity == "error"]


def test_a_field_beyond_all_bounds_is_told() -> None:
    reading = lengths(HEAD + f'single,,"{"1" * 200_000}",in\n')
    assert reading.lengths == () and len(reading.said) == 1


def test_a_weighed_swatch_of_a_yarn_of_the_pattern_counts() -> None:
    reading = swatches(SWATCHES + "B,sc,16,20,4,4,in,6.5\n")
    [one] = reading.swatches
    assert (one.stitch, one.stitches, one.rows, one.width_mm, one.grams) == ("single", 16, 20, 101.6, 6.5)
    assert one.metres_per_100_g == 300


def test_a_swatch_in_a_yarn_that_the_pattern_has_not_belongs_to_another() -> None:
    reading = swatches(SWATCHES + "Z,sc,16,20,4,4,in,6.5\nslate,sc,16,20,4,4,in,6.5\n")
    assert len(reading.swatches) == 1
    assert reading.said == ()


def test_the_pattern_s_own_swatch_line_wins() -> None:
    own = "Swatch: A, sc, 16 sts x 20 rows, 4 x 4 in, 9 g\n"
    reading = swatches(SWATCHES + "A,sc,16,20,4,4,in,6.5\nA,hdc,14,10,10,10,cm,7\nB,sc,16,20,4,4,in,6.5\n", own)
    assert [(one.stitch, one.grams) for one in reading.swatches] == [("half_double", 7.0), ("single", 6.5)]


@pytest.mark.parametrize(
    "line",
    ["A,,16,20,4,4,in,6", "A,sc,0,20,4,4,in,6", "A,sc,16,20,4,4,ell,6", "A,sc,16,20,4,4,in,", "A,sc,1.5,20,4,4,in,6"],
)
def test_a_swatch_that_makes_no_sense_is_told(line: str) -> None:
    reading = swatches(f"{SWATCHES}{line}\nB,sc,16,20,4,4,in,6.5\n")
    assert len(reading.swatches) == 1
    [said] = reading.said
    assert said.startswith("“swatches.csv”: in line 2: ")


def test_files_are_read_from_the_pattern_s_folder(tmp_path: Path) -> None:
    (tmp_path / "cap.txt").write_text(CAP.format(swatch=""))
    (tmp_path / "stitch_lengths.csv").write_bytes("\ufeffkind,place,length,unit\r\nsc,,1.6,in\r\n".encode())
    (tmp_path / "swatches.csv").write_text(SWATCHES + "A,sc,16,20,4,4,in,6.5\n")
    reading = open_pattern(tmp_path / "cap.txt")
    assert (len(reading.lengths), len(reading.swatches), reading.said) == (1, 1, ())


def test_a_file_that_cannot_be_read_does_not_keep_the_pattern(tmp_path: Path) -> None:
    (tmp_path / "cap.txt").write_text(CAP.format(swatch=""))
    (tmp_path / "stitch_lengths.csv").write_bytes(b"PK\x03\x04\0\0")
    os.mkdir(tmp_path / "swatches.csv")
    reading = open_pattern(tmp_path / "cap.txt")
    assert reading.sizes == ("One size",)
    first, second = reading.said
    assert "packed document" in first and first.endswith("The answer does without it.")
    assert "is a folder" in second


def test_no_file_is_no_file(tmp_path: Path) -> None:
    assert beside(tmp_path / "cap.txt") == Beside()
    assert beside(Path("/dev/stdin")).said == ()
