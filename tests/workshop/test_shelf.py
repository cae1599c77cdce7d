"""A folder to work in: nothing is overwritten unseen, nothing outside is touched, nothing is half written."""

import errno
import os
import subprocess
import sys
import tempfile
import textwrap
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from roundhand.workshop import UseError, writing
from roundhand.workshop import shelf as subject
from roundhand.workshop.pattern_files import (
    ChangedElsewhereError,
    DiskFullError,
    NotThereError,
    ReadOnlyError,
    WrongNameError,
)
from roundhand.workshop.revisions import STORE
from roundhand.workshop.shelf import Shelf

CAP = "Cap\n\nRnd 1: 6 sc in a magic ring. (6)\n"
NOBODY = 65534


def texts(folder: Path) -> dict[str, bytes]:
    """The files of a folder that anybody sees."""
    return {path.name: path.read_bytes() for path in folder.iterdir() if not path.name.startswith(".")}


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    return Shelf(tmp_path)


def test_a_text_is_saved_opened_and_had_back(shelf: Shelf, tmp_path: Path) -> None:
    first = shelf.save("cap.txt", CAP, None, "one")
    second = shelf.save("cap.txt", CAP + "Rnd 2: inc around. (12)\n", first.version, "one")
    assert texts(tmp_path) == {"cap.txt": (CAP + "Rnd 2: inc around. (12)\n").encode()}
    assert shelf.open("cap.txt").version == second.version
    newest, oldest = shelf.history("cap.txt")
    assert (newest.id, oldest.id) == (second.revision, first.revision)
    text, changes = shelf.revision("cap.txt", oldest.id)
    assert text == CAP and [(one.kind, one.text) for one in changes][-1] == ("out", "Rnd 2: inc around. (12)")
    with pytest.raises(NotThereError):
        shelf.revision("cap.txt", 99)


def test_nobody_overwrites_what_they_have_not_seen(shelf: Shelf, tmp_path: Path) -> None:
    first = shelf.save("cap.txt", CAP, None, "one")
    other = shelf.save("cap.txt", CAP + "theirs", first.version, "two")
    with pytest.raises(ChangedElsewhereError) as slip:
        shelf.save("cap.txt", CAP + "mine", first.version, "one")
    assert slip.value.theirs is not None
    assert (slip.value.theirs.text, slip.value.theirs.version) == (CAP + "theirs", other.version)
    with pytest.raises(ChangedElsewhereError):
        shelf.save("cap.txt", CAP, None, "one")
    assert texts(tmp_path) == {"cap.txt": (CAP + "theirs").encode()}
    assert shelf.save("cap.txt", CAP + "mine", other.version, "one").version != other.version


def test_a_file_that_went_away_is_told_and_not_made_again(shelf: Shelf, tmp_path: Path) -> None:
    first = shelf.save("cap.txt", CAP, None, "one")
    (tmp_path / "cap.txt").unlink()
    with pytest.raises(ChangedElsewhereError) as slip:
        shelf.save("cap.txt", CAP + "mine", first.version, "one")
    assert slip.value.theirs is None
    shelf.save("cap.txt", CAP + "mine", None, "one")
    assert texts(tmp_path) == {"cap.txt": (CAP + "mine").encode()}


def test_another_program_is_noticed_to_the_last_moment(
    shelf: Shelf, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = shelf.save("cap.txt", CAP, None, "one")
    fill = writing._fill

    def meanwhile(path: Path, data: bytes) -> None:
        fill(path, data)
        (tmp_path / "cap.txt").write_bytes(b"theirs")

    monkeypatch.setattr(writing, "_fill", meanwhile)
    with pytest.raises(ChangedElsewhereError, match="changed elsewhere"):
        shelf.save("cap.txt", CAP + "mine", first.version, "one")
    assert texts(tmp_path) == {"cap.txt": b"theirs"}
    # What the other program wrote can be had back as well.
    assert [one.by for one in shelf.history("cap.txt")] == ["disk", "one"]


def test_what_another_program_wrote_is_kept_before_it_is_written_over(shelf: Shelf, tmp_path: Path) -> None:
    (tmp_path / "cap.txt").write_bytes("20½ in\nRnd 1: 6 sc in ring".encode("windows-1252"))
    opened = shelf.open("cap.txt")
    assert opened.text.startswith("20½ in")
    shelf.save("cap.txt", opened.text + "\n", opened.version, "one")
    assert texts(tmp_path)["cap.txt"].decode("utf-8") == opened.text + "\n"
    oldest = shelf.history("cap.txt")[-1]
    assert oldest.by == "disk"
    assert shelf.revisions.data("cap.txt", oldest.id) == opened.text.encode("windows-1252")
    assert shelf.revision("cap.txt", oldest.id)[0] == opened.text


@pytest.mark.parametrize(
    ("old", "typed", "new"),
    [
        (b"Cap\r\nRnd 1\r\n", "Cap\nRnd 1.\nRnd 2\n", b"Cap\r\nRnd 1.\r\nRnd 2\r\n"),
        (b"\xef\xbb\xbfCap\n", "Cap!\n", b"\xef\xbb\xbfCap!\n"),
        (b"Cap\rRnd 1\r", "Cap\nRnd 2\n", b"Cap\rRnd 2\r"),
        (b"Cap\r\nRnd 1\nRnd 2\r\n", "Cap\nRnd 1\nRnd 2\nRnd 3", b"Cap\r\nRnd 1\nRnd 2\r\nRnd 3"),
        (b"Cap\r\nRnd 1\r\n", "Cap\r\nRnd 1\n", b"Cap\r\nRnd 1\n"),
        (b"Cap\n", "Cap\x00 \ud83e\n", "Cap\N{REPLACEMENT CHARACTER} \N{REPLACEMENT CHARACTER}\n".encode()),
    ],
)
def test_a_file_keeps_its_line_ends_and_its_mark(
    old: bytes, typed: str, new: bytes, shelf: Shelf, tmp_path: Path
) -> None:
    (tmp_path / "cap.txt").write_bytes(old)
    shelf.save("cap.txt", typed, shelf.open("cap.txt").version, "one")
    assert (tmp_path / "cap.txt").read_bytes() == new


@pytest.mark.parametrize(
    "name",
    [
        "", ".", "..", "../cap.txt", "sub/../../cap.txt", "/etc/cap.txt", "sub//cap.txt", ".cap.txt", "_cap.txt",
        "sub/.hidden/cap.txt", "cap.pdf", "cap", "README.txt", "readme.md", "con.txt", "nul.md", "c:cap.txt",
        "sub\\cap.txt", "cap\x00.txt", "cap\n.txt", " cap.txt", "cap.txt ", "cap?.txt", "x" * 300 + ".txt",
        ".roundhand-revisions.sqlite",
    ],
)  # fmt: skip
def test_no_name_leads_out_of_the_folder_or_to_what_is_no_pattern(name: str, tmp_path: Path) -> None:
    inner = tmp_path / "inner"
    inner.mkdir()
    (tmp_path / "cap.txt").write_text(CAP, encoding="utf-8")
    shelf = Shelf(inner)
    with pytest.raises(WrongNameError):
        shelf.open(name)
    with pytest.raises(WrongNameError):
        shelf.save(name, "mine", None, "one")
    assert texts(inner) == {}
    assert (tmp_path / "cap.txt").read_text(encoding="utf-8") == CAP


@pytest.mark.skipif(os.name == "nt", reason="links need rights there that nobody has by default")
def test_a_link_that_leads_out_of_the_folder_is_no_pattern(tmp_path: Path) -> None:
    inner = tmp_path / "inner"
    inner.mkdir()
    (tmp_path / "outside.txt").write_text(CAP, encoding="utf-8")
    (inner / "link.txt").symlink_to(tmp_path / "outside.txt")
    with pytest.raises(WrongNameError):
        Shelf(inner).open("link.txt")
    (inner / "cap.txt").write_text(CAP, encoding="utf-8")
    (inner / "own.txt").symlink_to(inner / "cap.txt")
    shelf = Shelf(inner)
    shelf.save("own.txt", CAP + "more", shelf.open("own.txt").version, "one")
    assert (inner / "own.txt").is_symlink() and (inner / "cap.txt").read_text(encoding="utf-8") == CAP + "more"


def test_examples_are_read_and_never_written(shelf: Shelf) -> None:
    name = shelf.examples()[0].name
    opened = shelf.open(name)
    assert name.startswith("example:") and opened.example and "Rnd 1" in opened.text
    with pytest.raises(ReadOnlyError, match="copy it"):
        shelf.save(name, "mine", opened.version, "one")
    with pytest.raises(NotThereError):
        shelf.open("example:../../pyproject.txt")
    assert shelf.open(name) == opened


def test_a_new_pattern_is_named_after_its_title_and_never_written_over_another(shelf: Shelf, tmp_path: Path) -> None:
    names = [shelf.add(title, f"{title}\n").name for title in ("Saltmarsh Cap", "Saltmarsh  cap!", "README", "", "袖")]
    assert names == ["saltmarsh-cap.txt", "saltmarsh-cap-2.txt", "pattern-readme.txt", "pattern.txt", "袖.txt"]
    assert shelf.add("", "Tern Cuff\n\nRnd 1: 6 sc in ring").name == "tern-cuff.txt"
    assert (tmp_path / "saltmarsh-cap.txt").read_text(encoding="utf-8") == "Saltmarsh Cap\n"


def test_the_folder_is_listed_with_all_that_was_saved_in_it(shelf: Shelf, tmp_path: Path) -> None:
    assert shelf.patterns() == ()
    (tmp_path / "sub").mkdir()
    (tmp_path / "sub" / "cap.md").write_text("# Cap\nSizes: S (M, L)\nRnd 1: 6 sc in ring", encoding="utf-8")
    (tmp_path / "diary.txt").write_text("Dear diary", encoding="utf-8")
    saved = shelf.add("Ideas", "nothing yet")
    found = {one.name: (one.title, one.sizes) for one in shelf.patterns()}
    assert found == {"sub/cap.md": ("Cap", 3), "ideas.txt": ("nothing yet", 1)}
    shelf.save("ideas.txt", "", saved.version, "one")
    assert {one.name for one in shelf.patterns()} == {"sub/cap.md", "ideas.txt"}
    assert all(one.changed.endswith("Z") for one in shelf.patterns())


@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EROFS, errno.EACCES, errno.EIO])
@pytest.mark.parametrize("where", ["write", "fsync", "replace"])
def test_whatever_the_disk_says_the_old_text_stays(
    code: int, where: str, shelf: Shelf, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = shelf.save("cap.txt", CAP, None, "one")

    def failing(*_: object) -> None:
        raise OSError(code, os.strerror(code))

    if where == "write":
        monkeypatch.setattr(writing, "_fill", failing)
    else:
        monkeypatch.setattr(os, where, failing)
    kind: type[UseError] = UseError
    if code in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG):
        kind = DiskFullError
    elif code in (errno.EROFS, errno.EACCES):
        kind = ReadOnlyError
    with pytest.raises(kind) as slip:
        shelf.save("cap.txt", CAP + "mine", first.version, "one")
    assert str(slip.value).endswith(".") and "cap.txt" in str(slip.value)
    monkeypatch.undo()
    assert texts(tmp_path) == {"cap.txt": CAP.encode()}
    assert [path.name for path in tmp_path.iterdir() if path.name.startswith(".cap")] == []
    assert shelf.save("cap.txt", CAP + "mine", first.version, "one").revision is not None


LIMITED = """\
    import resource, sys
    from pathlib import Path
    from roundhand.workshop.pattern_files import DiskFullError
    from roundhand.workshop.shelf import Shelf

    shelf = Shelf(Path(sys.argv[1]))
    first = shelf.save("cap.txt", "Cap", None, "one")
    resource.setrlimit(resource.RLIMIT_FSIZE, (200_000, 200_000))
    try:
        shelf.save("cap.txt", "x" * 300_000, first.version, "one")
    except DiskFullError as slip:
        print(slip)
    resource.setrlimit(resource.RLIMIT_FSIZE, (200_000, resource.RLIM_INFINITY))
"""


@pytest.mark.skipif(os.name == "nt", reason="this system sets a program no such limits")
def test_a_real_limit_of_the_system_is_met_like_a_full_disk(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-c", textwrap.dedent(LIMITED), str(tmp_path)],
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    assert "The disk is full, so “cap.txt” was not saved" in done.stdout, done.stderr
    assert texts(tmp_path) == {"cap.txt": b"Cap"}
    assert Shelf(tmp_path).history("cap.txt")[-1].words == "first kept"


@contextmanager
def nobody_in_particular() -> Iterator[None]:
    """For a while without the rights of an administrator, whom no mode of a folder stops."""
    if os.geteuid() != 0:
        yield
        return
    os.seteuid(NOBODY)
    try:
        yield
    finally:
        os.seteuid(0)


@pytest.mark.skipif(not hasattr(os, "geteuid"), reason="this system closes folders in another way")
@pytest.mark.parametrize("left_open", [False, True], ids=["closed", "as if killed"])
def test_a_read_only_folder_says_so_and_its_history_is_read_all_the_same(left_open: bool) -> None:
    # Folders of pytest are open to their owner alone; this one is closed by nothing but its own mode.
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        first = Shelf(folder)
        first.save("cap.txt", CAP, None, "one")
        if not left_open:
            first.revisions.close()
        for path in folder.iterdir():
            path.chmod(0o444)
        folder.chmod(0o555)
        try:
            with nobody_in_particular():
                shelf = Shelf(folder)
                opened = shelf.open("cap.txt")
                assert not shelf.writable
                assert [one.name for one in shelf.patterns()] == ["cap.txt"]
                for name, base in (("cap.txt", opened.version), ("new.txt", None)):
                    with pytest.raises(ReadOnlyError, match="read-only"):
                        shelf.save(name, "mine", base, "one")
                if not left_open:
                    assert [one.words for one in shelf.history("cap.txt")] == ["first kept"]
                shelf.revisions.close()
        finally:
            folder.chmod(0o755)
        assert texts(folder) == {"cap.txt": CAP.encode()}
        first.revisions.close()


@pytest.mark.skipif(not hasattr(os, "geteuid"), reason="this system closes files in another way")
def test_a_read_only_file_in_an_open_folder_is_not_replaced() -> None:
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        folder.chmod(0o777)
        (folder / "cap.txt").write_text(CAP, encoding="utf-8")
        (folder / "cap.txt").chmod(0o444)
        with nobody_in_particular():
            shelf = Shelf(folder)
            with pytest.raises(ReadOnlyError, match="read-only"):
                shelf.save("cap.txt", "mine", shelf.open("cap.txt").version, "one")
            shelf.revisions.close()
        assert texts(folder) == {"cap.txt": CAP.encode()}


def test_a_text_is_saved_even_where_its_history_cannot_be(shelf: Shelf, tmp_path: Path) -> None:
    (tmp_path / STORE).mkdir()
    saved = shelf.save("cap.txt", CAP, None, "one")
    assert saved.revision is None and texts(tmp_path) == {"cap.txt": CAP.encode()}
    with pytest.raises(ChangedElsewhereError):
        shelf.save("cap.txt", "mine", None, "one")
    with pytest.raises(UseError, match="not touched"):
        shelf.history("cap.txt")


def test_a_text_that_was_written_is_told_as_saved_where_the_history_fails_at_last(
    shelf: Shelf, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = shelf.save("cap.txt", CAP, None, "one")

    def put_and_fail(path: Path, data: bytes, before: Callable[[], object], new: bool) -> None:
        writing.put_file(path, data, before, new)
        shelf.revisions.close()

    monkeypatch.setattr(subject, "put_file", put_and_fail)
    saved = shelf.save("cap.txt", CAP + "mine", first.version, "one")
    assert saved.revision is None
    assert texts(tmp_path) == {"cap.txt": (CAP + "mine").encode()}
    monkeypatch.undo()
    assert shelf.save("cap.txt", CAP + "more", saved.version, "one").revision is not None


def test_a_folder_that_is_not_there_is_one_sentence(tmp_path: Path) -> None:
    (tmp_path / "file.txt").write_text(CAP, encoding="utf-8")
    for path, sentence in ((tmp_path / "none", "is not there"), (tmp_path / "file.txt", "is a file")):
        with pytest.raises(UseError, match=sentence):
            Shelf(path)
