"""Files and folders appear whole or not at all, and nothing that is not ours is ever lost."""

import os
import stat
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from roundhand.workshop import UseError
from roundhand.workshop import writing as subject
from roundhand.workshop.writing import MARKER, check_folder, write_file, write_folder

FILES = {"index.html": b"<p>one", "pattern.txt": b"one"}
NOBODY = 65534  # The user without rights on Linux and the BSDs; any other without them would do.
NEWER = {"index.html": b"<p>two", "chart.svg": b"<svg/>"}


def held(folder: Path) -> dict[str, bytes]:
    """What a folder holds, without the marker."""
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.name != MARKER}


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


@pytest.fixture(params=["exchange", "two steps"])
def _way(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Both ways of replacing a folder: in one step, and in two where the system has no such step."""
    if request.param == "two steps":
        monkeypatch.setattr(subject, "_exchanged", lambda one, other: False)


@pytest.mark.usefixtures("_way")
def test_a_folder_is_written_and_replaced_whole(tmp_path: Path) -> None:
    assert write_folder(tmp_path / "out", FILES) is False
    assert held(tmp_path / "out") == FILES
    assert write_folder(tmp_path / "out", NEWER) is True
    assert held(tmp_path / "out") == NEWER
    assert names(tmp_path) == ["out"]


def test_an_empty_folder_is_taken(tmp_path: Path) -> None:
    (tmp_path / "out").mkdir()
    write_folder(tmp_path / "out", FILES)
    assert held(tmp_path / "out") == FILES


@pytest.mark.skipif(os.name == "nt", reason="this system keeps no modes of owner, group and others")
def test_a_folder_is_as_open_as_any_other_that_is_made(tmp_path: Path) -> None:
    (tmp_path / "plain").mkdir()
    (tmp_path / "plain.txt").touch()
    write_folder(tmp_path / "out", FILES)
    write_file(tmp_path / "out.txt", b"one")
    for made, plain in (("out", "plain"), ("out.txt", "plain.txt")):
        assert stat.S_IMODE((tmp_path / made).stat().st_mode) == stat.S_IMODE((tmp_path / plain).stat().st_mode)


def test_what_roundhand_has_not_put_there_is_left_alone(tmp_path: Path) -> None:
    out = tmp_path / "out"
    out.mkdir()
    (out / "photo.jpg").write_bytes(b"mine")
    for call in (lambda: check_folder(out), lambda: write_folder(out, FILES)):
        with pytest.raises(UseError, match="a folder that roundhand has not made, so nothing was written"):
            call()
    assert held(out) == {"photo.jpg": b"mine"}
    assert names(tmp_path) == ["out"]


def test_a_photo_laid_beside_the_page_is_not_lost(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_folder(out, FILES)
    (out / "photo {name}.jpg").write_bytes(b"mine")
    with pytest.raises(UseError, match=r"also holds “photo \{name\}.jpg”"):
        write_folder(out, NEWER)
    assert held(out) == {**FILES, "photo {name}.jpg": b"mine"}


def test_a_page_that_was_changed_by_hand_is_not_lost(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_folder(out, FILES)
    (out / "index.html").write_bytes(b"<p>mine")
    with pytest.raises(UseError, match=r"“index\.html” in .* has been changed since"):
        write_folder(out, NEWER)
    assert held(out)["index.html"] == b"<p>mine"
    (out / "index.html").unlink()
    (out / "index.html").mkdir()
    with pytest.raises(UseError, match="has been changed"):
        write_folder(out, NEWER)


@pytest.mark.parametrize("marker", [b"", b"something else\n", b"\xff\xfe", b"roundhand.publish/2\n"])
def test_a_marker_that_is_none_protects_its_folder(marker: bytes, tmp_path: Path) -> None:
    out = tmp_path / "out"
    out.mkdir()
    (out / MARKER).write_bytes(marker)
    with pytest.raises(UseError, match="has not made"):
        write_folder(out, FILES)


def test_a_file_and_a_lost_place_are_one_sentence(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"mine")
    with pytest.raises(UseError, match="is a file and no folder, so nothing was written"):
        write_folder(tmp_path / "file", FILES)
    with pytest.raises(UseError, match="There is no folder for"):
        write_folder(tmp_path / "no" / "where", FILES)
    with pytest.raises(UseError, match="There is no folder for"):
        write_folder(tmp_path / "file" / "out", FILES)
    with pytest.raises(UseError, match="could not be written"):
        write_folder(tmp_path / ("x" * 300), FILES)
    assert (tmp_path / "file").read_bytes() == b"mine"
    assert names(tmp_path) == ["file"]


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
def test_a_place_that_is_closed_is_one_sentence() -> None:
    # Folders of pytest are open to their owner alone; this one is closed by nothing but its own mode.
    with tempfile.TemporaryDirectory() as made:
        place = Path(made)
        place.chmod(0o555)
        try:
            for call in (lambda: check_folder(place / "out"), lambda: write_file(place / "out.svg", b"")):
                with nobody_in_particular(), pytest.raises(UseError, match="may not be written there"):
                    call()
            assert names(place) == []
        finally:
            place.chmod(0o755)


def test_a_link_is_followed_and_stays(tmp_path: Path) -> None:
    write_folder(tmp_path / "real", FILES)
    try:
        (tmp_path / "link").symlink_to("real")
    except OSError:
        pytest.skip("this system makes no links")
    write_folder(tmp_path / "link", NEWER)
    assert (tmp_path / "link").is_symlink()
    assert held(tmp_path / "real") == NEWER


class Broken(BaseException):
    """Stands for whatever ends a program in the middle of its work."""


@pytest.mark.usefixtures("_way")
@pytest.mark.parametrize("step", range(12))
def test_work_cut_short_at_any_step_leaves_the_old_folder_or_the_new_one(
    step: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "out"
    write_folder(out, FILES)
    taken = 0

    def counting(real: Callable[..., None]) -> Callable[..., None]:
        def call(*words: object) -> None:
            nonlocal taken
            taken += 1
            if taken == step:
                raise Broken
            real(*words)

        return call

    monkeypatch.setattr(os, "fsync", counting(os.fsync))
    monkeypatch.setattr(os, "rename", counting(os.rename))
    try:
        write_folder(out, NEWER)
    except Broken:
        assert held(out) in (FILES, NEWER)
    else:
        assert held(out) == NEWER
    assert names(tmp_path) == ["out"]


def test_a_full_disk_is_one_sentence_and_leaves_what_was_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write_folder(tmp_path / "out", FILES)

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(UseError, match=r"The disk is full, so “.*” was not written; make some room\."):
        write_folder(tmp_path / "out", NEWER)
    with pytest.raises(UseError, match="The disk is full"):
        write_file(tmp_path / "a.svg", b"<svg/>")
    assert held(tmp_path / "out") == FILES
    assert names(tmp_path) == ["out"]


def test_a_file_is_replaced_whole_and_keeps_its_mode(tmp_path: Path) -> None:
    path = tmp_path / "a.svg"
    assert write_file(path, b"one") is False
    path.chmod(0o640)
    assert write_file(path, b"two") is True
    assert path.read_bytes() == b"two"
    assert os.name == "nt" or stat.S_IMODE(path.stat().st_mode) == 0o640
    assert names(tmp_path) == ["a.svg"]
    with pytest.raises(UseError, match="is a folder; name a file in it"):
        write_file(tmp_path, b"")
