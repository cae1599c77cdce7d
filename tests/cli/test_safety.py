"""Whatever a file holds, a command ends with an answer or a sentence, and the terminal is left as it was."""

import json
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.cli.conftest import Call

FRAGMENTS = (
    "Sizes: S (M, L)\n", "Rnd 1: ", "Row 2 (3, 4): ", "Rnds 3-7 (9): ", "Next 3 rnds: ", "6 sc in a magic ring",
    "ch 7 (8, 9)",
    "*", "rep from * around", "rep from * 5 more times", "(", ")", "[", "] x 6", "inc", "dec", "hdc in each st around",
    "sc2tog", "ch 2", "skip next st", " (12 (14, 16) sts)", "(6)", "\n", "\r", ", ", ". ", "join", "turn", "BODY\n",
    "With A, ", "changing to B in last st", "Rep Rnds 1-3", "MATERIALS\nYarn A: worsted\n", "Gauge: 14 sts = 4 in\n",
    "Finished length: 9\n", "Gauge: 0 sts and 9 rnds = 4\n", "Swatch: A, sc, 0 sts x 9 rows, 4 x 4 in, 5 g\n",
    "99999999999999999999", "0", "-", "\x1b[2J", "\u202e", "\u2028", "編み物", "🧶", "e\u0301\u0301",
)  # fmt: skip
PAGES = st.lists(st.sampled_from(FRAGMENTS) | st.text(max_size=8), max_size=30).map("".join)


@given(page=PAGES)
def test_no_page_brings_a_command_down(page: str, roundhand: Call, tmp_path_factory: pytest.TempPathFactory) -> None:
    path = tmp_path_factory.getbasetemp() / "page.txt"
    path.write_bytes(page.encode("utf-8", "replace"))
    for words in (
        ["check"],
        ["counts"],
        ["counts", "--why", "1"],
        ["check", "--json"],
        ["counts", "--json", "--size", "1"],
        ["measure"],
        ["measure", "--json"],
        ["yarn"],
        ["yarn", "--breakdown", "--size", "1"],
        ["yarn", "--json"],
        ["chart"],
    ):
        said = roundhand(*words, path)
        assert said.status in ((0, 1) if words[0] == "check" else (0, 2)) or "NUL" in said.err
        assert "Traceback" not in said.err
        assert "inside roundhand" not in said.err
        assert said.err.count("\n") == (1 if said.status == 2 else 0)
        if "--json" in words and said.status != 2:
            json.loads(said.out)
        elif "--json" not in words:
            assert not re.search("[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\u2028\u2029]", said.out)


@given(data=st.binary(max_size=200))
def test_no_bytes_bring_a_command_down(data: bytes, roundhand: Call, tmp_path_factory: pytest.TempPathFactory) -> None:
    path = tmp_path_factory.getbasetemp() / "bytes.txt"
    path.write_bytes(data)
    said = roundhand("check", path)
    assert said.status in (0, 1, 2)
    assert "Traceback" not in said.err
    assert "inside roundhand" not in said.err


EVIL = (
    "Cap \x1b]0;owned\x07\n\nSizes: S\x1b[31m (M\u202eL)\nMATERIALS\nYarn A\x1b[2J: worsted\n\nBODY \x9b31m\n"
    "Rnd 1: 6 sc in a \x1b[1Amagic ring \u2066join\u2069. (7)\r"
    "\x1b[2KRnd 2: Inc in each [red]st[/red] around\u202e. (12)\n"
)


@pytest.mark.parametrize(
    "words",
    [
        ["check"],
        ["counts"],
        ["counts", "--why", "Rnd 1"],
        ["counts", "--size", "9"],
        ["measure"],
        ["yarn"],
    ],
)
def test_signs_that_a_terminal_obeys_are_shown_and_not_sent(words: list[str], tmp_path: Path, roundhand: Call) -> None:
    path = tmp_path / "evil\x1b[2J.txt"
    path.write_bytes(EVIL.encode())
    said = roundhand(*words, path)
    assert not re.search("[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]", said.out + said.err)
    said = roundhand(*words, path, path.with_name("other\x1b[2J.txt"))
    assert not re.search("[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]", said.out + said.err)
