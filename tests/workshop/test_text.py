"""Files as people have them: every usual encoding, every line end, and what is no text at all."""

from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from roundhand.findings import Source
from roundhand.workshop import UseError, decode, read_text, understand

PAGE = "Möwenmütze\n\nTo fit head: 20½ in\nRnd 1: 6 sc in a magic ring. (6)\nRnd 2: 2 sc in each st – around. (12)\n"


@pytest.mark.parametrize(
    ("encoding", "mark", "said"),
    [
        ("utf-8", b"", "utf-8"),
        ("utf-8", b"\xef\xbb\xbf", "utf-8"),
        ("utf-16-le", b"\xff\xfe", "utf-16-le"),
        ("utf-16-be", b"\xfe\xff", "utf-16-be"),
        ("utf-16-le", b"", "utf-16-le"),
        ("utf-16-be", b"", "utf-16-be"),
    ],
)
def test_unicode_is_read_as_it_is(encoding: str, mark: bytes, said: str) -> None:
    found = decode(mark + PAGE.encode(encoding))
    assert (found.text, found.encoding, found.findings) == (PAGE, said, ())


def test_an_older_encoding_is_read_and_told() -> None:
    found = decode(PAGE.encode("windows-1252"))
    assert (found.text, found.encoding) == (PAGE, "windows-1252")
    [finding] = found.findings
    assert (finding.name, finding.severity) == ("text-not-decoded", "warning")
    assert finding.span.of(found.text) == "Möwenmütze"


def test_the_line_that_is_named_is_the_first_that_needs_a_look() -> None:
    found = decode(b"Cap\r\rRnd 1: 6 sc\rto fit 20\xbd in\rRnd 2: 5\xd75")
    [finding] = found.findings
    assert finding.span.of(found.text) == "to fit 20½ in"
    assert finding.facts["line"] == 4


def test_one_foreign_letter_does_not_spoil_a_text_in_utf_8() -> None:
    data = "½ ¼ ¾ é – “sc” ".encode() + b"caf\xe9"
    found = decode(data)
    assert found.text == "½ ¼ ¾ é – “sc” café"
    assert [finding.name for finding in found.findings] == ["text-not-decoded"]


def test_a_cut_off_utf_16_text_is_read_as_far_as_it_goes() -> None:
    found = decode(b"\xff\xfe" + "Rnd 1: 6 sc".encode("utf-16-le") + b"\x2e")
    assert found.text.startswith("Rnd 1: 6 sc")
    assert [finding.name for finding in found.findings] == ["text-not-decoded"]


def test_the_finding_reaches_the_edit(tmp_path: Path) -> None:
    path = tmp_path / "old.txt"
    path.write_bytes(PAGE.encode("windows-1252"))
    read = read_text(path)
    names = [finding.name for finding in understand(read.text, read.findings).findings]
    assert "text-not-decoded" in names


@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"], ids=["LF", "CRLF", "CR"])
def test_line_ends_stay_and_rows_are_found_on_their_lines(ending: str, tmp_path: Path) -> None:
    path = tmp_path / "cap.txt"
    path.write_bytes(PAGE.replace("\n", ending).encode())
    text = read_text(path).text
    assert text == PAGE.replace("\n", ending)
    reading = understand(text)
    rows = list(reading.tally.rows())
    assert [row.worked for row in rows] == [(6,), (12,)]
    assert [reading.source.place(row.line.label.span.start) for row in rows] == [(4, 1), (5, 1)]


@pytest.mark.parametrize(
    ("data", "word"),
    [
        (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\2\0", "is not text"),
        (b"PK\x03\x04\x14\0\x06\0\x08\0", "packed document"),
        (b"Rnd 1: 6 sc\0\0\0", "is not text"),
        (b"\xff\xfe\0\0S\0\0\0", "is not text"),
        (bytes(range(256)) * 8, "is not text"),
    ],
)
def test_what_is_no_text_is_refused_in_a_sentence(data: bytes, word: str, tmp_path: Path) -> None:
    path = tmp_path / "cap.bin"
    path.write_bytes(data)
    with pytest.raises(UseError, match=word) as told:
        read_text(path)
    assert str(path) in str(told.value)


def test_a_large_file_is_told_its_size_and_not_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "large.txt"
    with path.open("wb") as file:
        file.truncate(50_000_000)
    monkeypatch.setattr(Path, "open", lambda *_, **__: pytest.fail("the file was opened"))
    with pytest.raises(UseError, match=r"is 50\.0 MB, and a pattern may be 20 MB at most"):
        read_text(path)


def test_the_largest_file_that_may_be_is_read(tmp_path: Path) -> None:
    path = tmp_path / "long.txt"
    path.write_bytes(b"Rnd 1: 6 sc in a magic ring.\n".ljust(20_000_000, b" "))
    assert len(read_text(path).text) == 20_000_000
    path.write_bytes(b"Rnd 1: 6 sc in a magic ring.\n".ljust(20_000_001, b" "))
    with pytest.raises(UseError, match="20 MB at most"):
        read_text(path)


def test_a_missing_file_is_told_with_its_likely_neighbour(tmp_path: Path) -> None:
    (tmp_path / "curlew-cowl.txt").write_text("Rnd 1: 6 sc")
    with pytest.raises(UseError, match=r"perhaps “.*curlew-cowl\.txt” is meant"):
        read_text(tmp_path / "curlew-cowel.txt")
    with pytest.raises(UseError, match="check its name"):
        read_text(tmp_path / "zebra.txt")
    with pytest.raises(UseError, match="There is no file"):
        read_text(tmp_path / "nowhere" / "cap.txt")
    with pytest.raises(UseError, match="There is no file"):
        read_text(tmp_path / "curlew-cowl.txt" / "cap.txt")


def test_a_folder_is_no_file(tmp_path: Path) -> None:
    with pytest.raises(UseError, match="is a folder"):
        read_text(tmp_path)


def test_a_path_that_no_system_has_is_told(tmp_path: Path) -> None:
    with pytest.raises(UseError):
        read_text(tmp_path / "a\0b.txt")
    with pytest.raises(UseError):
        read_text(tmp_path / ("long" * 500))


def test_a_file_that_may_not_be_read_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "cap.txt"
    path.write_text("Rnd 1: 6 sc")

    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied", str(path))

    # A test that runs as the administrator may read everything, so the refusal is played.
    monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(UseError, match="may not be read"):
        read_text(path)


@given(st.binary(max_size=300))
@example(b"")
@example(b"\xef\xbb\xbf")
@example(b"\xff\xfe")
@example(b"\xff\xfe\x00\xd8")
@example(b"\xc3")
def test_any_bytes_are_text_or_refused(data: bytes) -> None:
    try:
        found = decode(data)
    except UseError:
        return
    assert "\0" not in found.text
    found.text.encode("utf-8")
    source = Source(found.text)
    for finding in found.findings:
        assert 0 <= finding.span.start <= finding.span.end <= len(source.text)


@given(st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0\ufeff"), max_size=200))
def test_what_was_written_in_unicode_is_what_is_read(text: str) -> None:
    assert decode(text.encode("utf-8")).text == text
    assert decode(b"\xff\xfe" + text.encode("utf-16-le")).text == text
    assert decode(b"\xfe\xff" + text.encode("utf-16-be")).text == text
