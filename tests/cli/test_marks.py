"""Marks stand under the words they speak of, whatever the words are written with and however narrow the page is."""

from hypothesis import assume, example, given
from hypothesis import strategies as st

from roundhand.cli.screen.letters import cut, filled, plain, shown, width, wrapped
from roundhand.cli.screen.line import bare
from roundhand.cli.screen.marks import excerpt
from roundhand.findings import Finding, Mark, Source, Span

SIGNS = st.characters(exclude_characters="\r\n^-", exclude_categories=["Cs"]) | st.sampled_from(
    "編み物ｗ🧶\t\u0301\u202e\x1b ab"
)
LINES = st.text(SIGNS, min_size=1, max_size=60)


def cells_of(line: str) -> list[str]:
    """The sign in every cell of a printed line: a wide one fills two, what has no width adds to the one before."""
    cells: list[str] = []
    for sign in line:
        filling = shown(sign)[1]
        if not filling:
            cells = [*cells[:-1], cells[-1] + sign] if cells else cells
        cells += [sign] * filling
    return cells


def marked(text: str, start: int, end: int, room: int, label: str = "") -> list[str]:
    """The excerpt for one caret mark, as it is printed."""
    finding = Finding("count-differs", "error", "", Span(start, end), label=label)
    return [bare(pieces) for pieces in excerpt(Source(text), finding, room)]


@given(line=LINES, data=st.data())
@example(line="編み物 sc", data=None)
def test_carets_stand_under_the_words(line: str, data: st.DataObject | None) -> None:
    start = data.draw(st.integers(0, len(line) - 1)) if data else 4
    end = data.draw(st.integers(start + 1, len(line))) if data else 6
    assume(width(line[start:end]) > 0)
    words, marks = marked(line, start, end, 1000)
    assert plain(line).rstrip() == words
    carets = [at for at, sign in enumerate(marks) if sign == "^"]
    assert carets == list(range(width(line[:start]), width(line[:end])))


@given(line=LINES, room=st.integers(12, 40), data=st.data())
def test_a_narrow_page_shows_the_words_around_the_marks(line: str, room: int, data: st.DataObject) -> None:
    start = data.draw(st.integers(0, len(line) - 1))
    end = data.draw(st.integers(start + 1, len(line)))
    assume(0 < width(line[start:end]) <= room - 12)
    words, marks = marked(line, start, end, room)
    assert width(words) <= room
    assert width(marks) <= room
    carets = [at for at, sign in enumerate(marks) if sign == "^"]
    assert len(carets) == width(line[start:end])
    under = cells_of(words)[carets[0] : carets[-1] + 1]
    # A sign without width that follows stands in the last cell as well.
    meant = cells_of(plain(line))[width(line[:start]) : width(line[:end])]
    assert "".join(dict.fromkeys(under)).strip() == "".join(dict.fromkeys(meant)).strip()


def test_a_long_line_is_cut_on_both_sides() -> None:
    line = "Rnd 1: " + "sc in next st, " * 20 + "INC here, " + "sc in next st, " * 20
    at = line.index("INC")
    assert marked(line, at, at + 3, 40, "an increase") == [
        "…, sc in next st, INC here, sc in next …",
        "                  ^^^ an increase",
    ]


def test_words_longer_than_the_page_show_their_beginning() -> None:
    line = "Rnd 1: *" + "sc in next st, " * 20 + "rep from * around"
    words, marks = marked(line, 7, len(line), 40)
    assert words.startswith(("…", "Rnd 1"))
    assert words.endswith("…")
    assert "*sc in next st" in words
    assert marks.strip("^ ") == ""
    assert width(marks) <= 40


def test_an_empty_place_gets_one_caret() -> None:
    assert marked("Rnd 1: 6 sc", 11, 11, 40, "a count belongs here") == [
        "Rnd 1: 6 sc",
        "           ^ a count belongs here",
    ]
    assert marked("", 0, 0, 40) == ["", "^"]


def test_words_on_two_lines_are_marked_on_both() -> None:
    text = "Rnd 1: *sc in next st,\n\n  inc; rep from * around."
    assert marked(text, 7, len(text), 60, "2 left over") == [
        "Rnd 1: *sc in next st,",
        "       ^^^^^^^^^^^^^^^",
        "  inc; rep from * around.",
        "^^^^^^^^^^^^^^^^^^^^^^^^^ 2 left over",
    ]


def test_words_on_many_lines_are_marked_at_both_ends() -> None:
    text = "first\nsecond\nthird\nfourth\nfifth"
    assert marked(text, 0, len(text), 60) == ["first", "^^^^^", "fifth", "^^^^^"]


def test_a_word_to_the_marks_goes_below_where_the_next_mark_is_near() -> None:
    page = "Rnd 4: (sc in next 2 sts, inc) 5 times (24)"
    found = Finding(
        "count-differs", "error", "", Span(40, 42), label="24 written", see=(Mark(Span(7, 38), "5 x 4 = 20"),)
    )
    assert [bare(pieces) for pieces in excerpt(Source(page), found, 60)] == [
        page,
        "       -------------------------------  ^^ 24 written",
        "       5 x 4 = 20",
    ]


def test_places_on_other_lines_are_shown_with_their_lines() -> None:
    page = "Rnd 3: 18 sc (18)\nRnd 4: sc around (24)"
    found = Finding("count-differs", "error", "", Span(36, 38), label="24 written", see=(Mark(Span(14, 16), "18"),))
    assert [bare(pieces) for pieces in excerpt(Source(page), found, 60)] == [
        "Rnd 3: 18 sc (18)",
        "              -- 18",
        "Rnd 4: sc around (24)",
        "                  ^^ 24 written",
    ]


@given(st.text(SIGNS, max_size=40), st.integers(4, 60))
def test_lines_keep_to_their_room(text: str, room: int) -> None:
    assert width(cut(text, room)) <= room
    assert width(filled(text, room)) == max(room, width(text))
    assert [word for line in wrapped(text, room) for word in line.split()] == text.split()
    assert all(width(line) <= room or len(line.split()) == 1 for line in wrapped(text, room))


@given(st.text())
def test_what_is_shown_has_the_width_that_is_told(text: str) -> None:
    assert width(plain(text)) == width(text)
