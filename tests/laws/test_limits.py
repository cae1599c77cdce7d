"""The limits of DESIGN: each gives its remark exactly where it is passed, and work grows no faster than the text.

Nothing here is timed. Work is counted in steps (`steps.py`), so a busy machine makes no test fail.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from roundhand import workshop
from roundhand.findings import Finding
from roundhand.notation import LIMITS, read
from roundhand.tally import count
from roundhand.tally.copies import MOST_ROWS
from roundhand.tally.stitching import MOST_STITCHES
from roundhand.workshop.text import MOST_BYTES
from tests.laws.steps import steps

HEAD = "Cap\n\nYarn A: worsted, slate\nYarn B: worsted, samphire\n\n"
START = f"{HEAD}Rnd 1: 6 sc in a magic ring. (6)\n"


def reached(text: str) -> list[Finding]:
    """The remarks on limits; each lies in the text."""
    pattern, findings = read(text)
    _, more = count(pattern)
    found = [one for one in (*findings, *more) if one.name == "limit-reached"]
    assert all(0 <= one.span.start <= one.span.end <= len(text) and one.help for one in found)
    return found


def test_the_limits_are_those_of_the_design() -> None:
    """The size of a file is told in `tests/workshop/test_text.py`."""
    assert LIMITS == {"row characters": 20_000, "tokens": 200_000, "rows": 10_000, "sizes": 30, "nesting": 32}
    assert (MOST_ROWS, MOST_STITCHES, MOST_BYTES) == (10_000, 5_000_000, 20_000_000)


@pytest.mark.parametrize("pair", ["()", "[]", "{}"])
@pytest.mark.parametrize("stitch", ["sc", "hdc"])
def test_brackets_are_read_32_deep(pair: str, stitch: str) -> None:
    """One more is told, once for a row, however many more there are."""
    for depth, said in ((31, 0), (32, 0), (33, 1), (200, 1)):
        row = f"Rnd 2: {pair[0] * depth}{stitch} in next st{f'{pair[1]} x 1' * depth}, {stitch} in next 5 sts."
        found = reached(f"{START}{row}\n")
        assert len(found) == said, depth
        assert all("32 deep" in one.headline for one in found)
    rows = "".join(f"Rnd {at}: {pair[0] * 40}sc{f'{pair[1]} x 2' * 40}\n" for at in (2, 3))
    assert len([one for one in reached(f"{START}{rows}") if "deep" in one.headline]) == 2


def test_a_bracket_beyond_the_limit_does_not_lose_the_row() -> None:
    """32 deep a row comes out; what is repeated once each time is made once."""
    text = f"{START}Rnd 2: {'(' * 32}sc in next st{') x 1' * 32}, sc in next 5 sts. (6)\n"
    reading = workshop.understand(text)
    assert [row.worked for row in reading.tally.rows()] == [(6,), (6,)]
    assert not reading.findings


def row_of(length: int) -> str:
    """A row of so many characters, its label among them."""
    row = "Rnd 2: " + "sc in next st, " * (length // 15)
    return row[:length].ljust(length, ".")


def test_a_row_is_read_up_to_20_000_characters() -> None:
    """The place told is the beginning of the row."""
    assert not reached(f"{START}{row_of(20_000)}\n")
    (found,) = reached(f"{START}{row_of(20_001)}\n")
    assert "20,001 characters is read up to 20,000" in found.headline
    assert found.span.start == len(START)


def test_a_text_is_read_up_to_200_000_words(monkeypatch: pytest.MonkeyPatch) -> None:
    """Told once, where the limit lies and not where it is only met; what stands before it is still worked."""
    row = "Rnd {}: (sc in next 2 sts, inc) x 2, (3)\n"
    text = START + "".join(row.format(at) for at in range(2, 12))
    whole = LIMITS["tokens"]
    for allowed in range(170, 260):
        monkeypatch.setitem(LIMITS, "tokens", allowed)
        if not reached(text):
            break
    # The smallest number of words with which nothing is said is the number of words that there are.
    for lacking in (1, 2, 15):
        monkeypatch.setitem(LIMITS, "tokens", allowed - lacking)
        (found,) = reached(text)
        assert f"up to {allowed - lacking:,} words" in found.headline
        pattern, _ = read(text)
        assert len(pattern.parts[0].lines) >= 10
    assert whole == 200_000


def test_10_000_lines_of_rows_are_read(monkeypatch: pytest.MonkeyPatch) -> None:
    """The next one is told, and none after it."""
    for most in (3, 20):
        monkeypatch.setitem(LIMITS, "rows", most)
        rows = [f"Rnd {at}: sc in each st around. (6)\n" for at in range(2, most + 4)]
        assert not reached(START + "".join(rows[: most - 1]))
        text = START + "".join(rows)
        (found,) = reached(text)
        assert f"more than {most} lines of rows" in found.headline
        assert text[found.span.start :].startswith(f"Rnd {most + 1}:")
        pattern, _ = read(text)
        assert len(pattern.parts[0].lines) == most


@pytest.mark.parametrize("row", ["sc in each st around.", "(hdc in next 2 sts) x 3."])
def test_10_000_rows_are_worked(row: str) -> None:
    """Ranges count row by row, and so do rows that are repeated."""
    assert not reached(f"{START}Rnds 2-10000: {row}\n")
    (found,) = reached(f"{START}Rnds 2-10001: {row}\n")
    assert "more than 10,000 rows" in found.headline
    (found,) = reached(f"{START}Rnd 2: {row}\nRep Rnd 2 99999 more times.\n")
    assert "more than 10,000 rows" in found.headline


def test_30_sizes_are_worked() -> None:
    """Any more are told with their number; the first thirty are worked."""
    for number, said in ((30, 0), (31, 1), (400, 1)):
        text = f"Cap\n\nSizes: {', '.join(f'S{at}' for at in range(number))}\n\nRnd 1: 6 sc in a magic ring.\n"
        found = reached(text)
        assert len(found) == said
        assert all(f"{number} sizes are named" in one.headline for one in found)
        assert len(read(text)[0].sizes) == 30


@pytest.mark.parametrize("stitch", ["sc", "dc"])
def test_5_000_000_stitches_are_worked(stitch: str) -> None:
    """In one row or in several; rows of any number of stitches take as many steps as rows of few."""
    assert not reached(f"{HEAD}Rnd 1: 5000000 {stitch} in a magic ring.\n")
    (found,) = reached(f"{HEAD}Rnd 1: 5000001 {stitch} in a magic ring.\n")
    assert "a row of more than 5,000,000 stitches" in found.headline
    half = f"{HEAD}Rnd 1: 2500000 {stitch} in a magic ring.\nRnd 2: {stitch} in each st around.\n"
    assert not reached(half)
    (found,) = reached(f"{half}Rnd 3: {stitch} in each st around.\n")
    assert "more than 5,000,000 stitches; the rest" in found.headline
    few, many = (
        steps(lambda text=text: count(read(text)[0]))  # type: ignore[misc]
        for text in (half.replace("2500000", "25"), half)
    )
    assert many <= few * 1.1


# What grows with the text. Each takes a number of repetitions.
GROWING: dict[str, Callable[[int], str]] = {
    "stitches": lambda k: f"{START}Rnd 2: {'sc in next st, ' * k}\n",
    "bare words": lambda k: f"{START}Rnd 2: {'sc, ' * k}\n",
    "brackets": lambda k: f"{START}Rnd 2: {'(sc, inc) x 2, ' * k}\n",
    "brackets in brackets": lambda k: f"{START}Rnd 2: {'((sc) x 2, (inc) x 2) x 2, ' * k}\n",
    "nesting": lambda k: f"{START}Rnd 2: {'(' * k}sc{') x 3' * k}\n",
    "open brackets": lambda k: f"{START}Rnd 2: {'(' * k}\n",
    "stars": lambda k: f"{START}Rnd 2: {'*sc 2, inc; rep from * around, ' * k}\n",
    "stars without a star": lambda k: f"{START}Rnd 2: {'rep from * ' * k}\n",
    "unknown words": lambda k: f"{START}Rnd 2: {'foo bar, ' * k}\n",
    "places": lambda k: f"{START}Rnd 2: {'skip next ch-2 sp, (dc, ch 2, dc) in next st, ' * k}\n",
    "colours": lambda k: f"{START}Rnd 2: {'with A, sc in next st, with B, sc in next st, ' * k}\n",
    "rows": lambda k: START + "".join(f"Rnd {at}: sc in each st around. (6)\n" for at in range(2, k)),
    "rows that go wrong": lambda k: START + "".join(f"Rnd {at}: sc in next 5 sts. (7)\n" for at in range(2, k)),
    "rows in two ways": lambda k: (
        START + "".join(f"Rnd {at}: Ch 2, *sc 2, inc; rep from * 2 times.\n" for at in range(2, k))
    ),
    "a range": lambda k: f"{START}Rnds 2-{k}: sc in each st around.\n",
    "parts": lambda k: HEAD + "".join(f"\nPART {at}\nRnd 1: 6 sc in a magic ring.\n" for at in range(k)),
    "steps": lambda k: START + "Weave in ends.\n" * k,
    "prose": lambda k: START + "\nThe cap is warm and pleasant to wear.\n" * k,
    "yarns": lambda k: "Cap\n\n" + "".join(f"Yarn A{at}: worsted, slate\n" for at in range(k)) + START,
    "sizes": lambda k: f"Cap\n\nSizes: {', '.join(f'S{at}' for at in range(k))}\n\nRnd 1: 6 sc in a magic ring.\n",
}


# Undecided rows look ahead until a count decides, over a bounded number of rows; these texts must be longer than that.
FIRST = {"rows in two ways": 80}


@pytest.mark.parametrize("kind", GROWING)
def test_work_grows_no_faster_than_the_text(kind: str) -> None:
    """Twice as much more text takes twice as many more steps; work that grew with the square would take four times."""
    first = FIRST.get(kind, 30)
    texts = [GROWING[kind](first * times) for times in (1, 2, 4)]
    one, two, four = (steps(lambda text=text: count(read(text)[0])) for text in texts)  # type: ignore[misc]
    assert four - two <= 2.6 * (two - one) + 500, (one, two, four)
