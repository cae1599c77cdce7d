"""Stitch files: good ones are put together, bad ones are told in plain words with file and line."""

import re
import tomllib
from importlib.resources import files
from pathlib import Path

import pytest

from roundhand.stitches import Stitch, StitchDataError, dictionary, read_stitches

CASES = (Path(__file__).parent / "bad_files.md").read_text(encoding="utf-8")
GOOD = "".join(line[4:] + "\n" for line in CASES.split("\n\n")[2].splitlines())
PACKAGED = {file.name: file.read_text("utf-8") for file in (files("roundhand.stitches") / "data").iterdir()}


def bad_files() -> list[tuple[str, str, str]]:
    """Each bad file of the case book, by what it changes, and what is to be said of it."""
    found = []
    for edit, remark in re.findall(r"^    (.+)\n(line .+)$", CASES, re.MULTILINE):
        # `recipe -> parts = ...` puts a line in place of another one.
        replaced, arrow, wanted = edit.partition(" -> ")
        key, _, fact = edit.removeprefix("without ").partition(" = ")
        edit, key = (wanted, replaced) if arrow else (edit, key)
        lines = [edit if line.startswith(f"{key} = ") else line for line in GOOD.splitlines()]
        if not fact:
            lines.remove(edit)
        elif edit not in lines:
            lines.append(edit)
        found.append((edit, "\n".join(lines) + "\n", remark))
    return found


BAD = bad_files()


@pytest.mark.parametrize(("text", "remark"), [case[1:] for case in BAD], ids=[case[0] for case in BAD])
def test_a_bad_file_is_told_with_its_line(text: str, remark: str) -> None:
    with pytest.raises(StitchDataError) as error:
        read_stitches({"half_double.toml": text})
    assert str(error.value) == f"half_double.toml, {remark}"
    assert (error.value.file, error.value.line) == ("half_double.toml", int(remark.split()[1].rstrip(":")))


def test_every_line_of_the_case_book_is_tried() -> None:
    assert len(BAD) == CASES.count("\nline ") > 30


def test_the_good_file_is_good() -> None:
    stitches = read_stitches({"half_double.toml": GOOD})
    assert [*stitches] == ["half_double"]
    assert stitches["half_double"].turning_chain_counts is None


# Two stitches in a file: what stands above the tables holds for both, and a table has the last word.
PAIR = (
    GOOD.partition("symbol = ")[0]
    .replace('recipe = "yo, insert, draw up, pull through 3"\n', "")
    .replace("uses = 1\n", "")
    + """
[half_double]
recipe = "yo, insert, draw up, pull through 3"
uses = 1

[half_double_2_together]
recipe = "(yo, insert, draw up) x 2, pull through 5"
uses = 2
evidence = "memory"
"""
)


def test_a_family_shares_what_stands_above_its_tables() -> None:
    stitches = read_stitches({"halves.toml": PAIR})
    assert [(stitch.id, stitch.uses, stitch.evidence) for stitch in stitches.values()] == [
        ("half_double", 1, "ours"),
        ("half_double_2_together", 2, "memory"),
    ]


@pytest.mark.parametrize(
    ("edits", "remark"),
    [
        (
            ("pull through 5", "pull through 4"),
            "line 17: the recipe ends with 2 loops on the hook; pull through 5 would",
        ),
        (("uses = 2", "uses = 2.5"), 'line 18: "uses" should be a whole number'),
        (("uses = 2\n", ""), 'line 16: "half_double_2_together" has no "uses"'),
        (("place = ", "plaice = "), 'line 4: "plaice" is not a fact of a stitch'),
        (("[half_double_2_together]", "[hdc2tog]"), 'line 16: "hdc2tog" is not an id'),
        (("[half_double_2_together]", "[Half_Double]"), 'line 16: "Half_Double" is not an id'),
        (
            ('family = "half_double"', 'family = "half_double_2_together"'),
            'line 2: the family "half_double_2_together"',
        ),
    ],
)
def test_a_slip_in_a_family_is_told_where_it_stands(edits: tuple[str, str], remark: str) -> None:
    text = PAIR.replace(*edits)
    assert text != PAIR
    if "family" in edits[0]:
        text = text.replace("[half_double_2_together]\n", '[half_double_2_together]\nfamily = "half_double"\n')
    with pytest.raises(StitchDataError, match=re.escape(f"halves.toml, {remark}")):
        read_stitches({"halves.toml": text})


def test_an_id_in_two_files_is_told() -> None:
    with pytest.raises(StitchDataError, match=r'halves\.toml, line 12: "half_double" stands in half_double\.toml too'):
        read_stitches({"half_double.toml": GOOD, "halves.toml": PAIR})


def test_every_packaged_id_stands_in_exactly_one_file() -> None:
    homes: dict[str, list[str]] = {}
    for name, text in PACKAGED.items():
        facts = tomllib.loads(text)
        tables = [key for key, fact in facts.items() if isinstance(fact, dict)]
        for id in tables or [name.removesuffix(".toml")]:
            homes.setdefault(id, []).append(name)
    assert {id: names for id, names in homes.items() if len(names) > 1} == {}
    assert [*dictionary()] == sorted(homes)


def test_the_dictionary_is_read_once_and_cannot_be_changed() -> None:
    stitches = dictionary()
    assert dictionary() is stitches
    with pytest.raises(TypeError):
        stitches["single"] = stitches["double"]  # type: ignore[index]
    with pytest.raises(AttributeError):
        stitches["single"].uses = 2  # type: ignore[misc]


@pytest.mark.parametrize("stitch", dictionary().values(), ids=dictionary())
def test_a_source_says_how_well_the_facts_are_known(stitch: Stitch) -> None:
    published = re.search(r"\w\.\w", stitch.source) is not None
    recalled = re.search(r"recalled|from memory", stitch.source) is not None
    if stitch.evidence == "found":
        assert published, f"{stitch.id} is said to be found, and no address is given"
        assert not recalled, f"{stitch.id} is said to be found and is recalled"
    elif stitch.evidence == "memory":
        assert recalled, f"{stitch.id} is from memory, and its source does not say so"
    elif stitch.evidence == "ours":
        assert "ours" in stitch.source, f"{stitch.id}: the source does not say what is ours"
    else:
        assert not published, f"{stitch.id} is common practice, which has no published source"
