"""Every text that was saved can be had back, whatever happens to the store meanwhile."""

import random
import sqlite3
import threading
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roundhand.workshop.pattern_files import version_of
from roundhand.workshop.revisions import STORE, Revisions, StoreError, difference


def kept(revisions: Revisions, name: str, data: bytes, by: str = "one") -> int:
    return revisions.keep(name, data, version_of(data), by)


def test_every_text_comes_back_byte_for_byte(tmp_path: Path) -> None:
    revisions = Revisions(tmp_path)
    chance = random.Random(7)
    lines = [f"Rnd {at}: {at * 6} sc around. ({at * 6})" for at in range(1, 200)]
    texts = []
    for _ in range(60):
        lines[chance.randrange(len(lines))] += chance.choice([" x", "½", "\r", "\x00"])
        texts.append("\n".join(lines).encode())
    numbers = [kept(revisions, "cap.txt", text) for text in texts]
    assert [revisions.data("cap.txt", number) for number in numbers] == texts
    assert [one.id for one in revisions.of("cap.txt")] == numbers[::-1]
    revisions.close()
    assert [Revisions(tmp_path).data("cap.txt", number) for number in numbers] == texts
    # Sixty texts that hardly differ take little more room than a few of them.
    assert (tmp_path / STORE).stat().st_size < 12 * len(texts[0])


def test_the_newest_text_is_not_kept_twice_and_an_older_one_is(tmp_path: Path) -> None:
    revisions = Revisions(tmp_path)
    first = kept(revisions, "cap.txt", b"one")
    assert kept(revisions, "cap.txt", b"one") == first
    kept(revisions, "cap.txt", b"two")
    assert kept(revisions, "cap.txt", b"one") > first
    assert len(revisions.of("cap.txt")) == 3
    assert revisions.by("cap.txt", version_of(b"two")) == "one"
    assert revisions.by("cap.txt", version_of(b"three")) is None


def test_a_revision_belongs_to_its_pattern(tmp_path: Path) -> None:
    revisions = Revisions(tmp_path)
    assert revisions.of("cap.txt") == () and revisions.names() == frozenset() and not (tmp_path / STORE).exists()
    number = kept(revisions, "cap.txt", b"one")
    assert revisions.data("mitten.txt", number) is None
    assert revisions.data("cap.txt", 10**30) is None
    assert revisions.names() == {"cap.txt"}


@pytest.mark.parametrize(
    ("before", "after", "words"),
    [
        ("a\nb", "a\nc", "1 line changed"),
        ("a\nb", "a\nb\nc\nd", "2 lines added"),
        ("a\nb\nc", "a", "2 lines taken out"),
        ("a\nb\nc", "x\nb\ny\nz", "4 lines changed"),
        ("a\nb", "a\r\nb", "line ends changed"),
    ],
)
def test_what_a_revision_changes_is_said_in_words(before: str, after: str, words: str, tmp_path: Path) -> None:
    revisions = Revisions(tmp_path)
    kept(revisions, "cap.txt", before.encode())
    kept(revisions, "cap.txt", after.encode(), "other")
    newest, oldest = revisions.of("cap.txt")
    assert (newest.words, newest.by, oldest.words, oldest.by) == (words, "other", "first kept", "one")


@given(
    st.lists(st.sampled_from(["Rnd 1", "Rnd 2", "Rnd 3", ""]), max_size=9),
    st.lists(st.sampled_from(["Rnd 1", "Rnd 2", "Rnd 4", ""]), max_size=9),
)
def test_a_difference_holds_both_texts(old: list[str], new: list[str]) -> None:
    before, after = "\n".join(old), "\n".join(new)
    found = difference(before, after)

    def lines(*kinds: str) -> list[str]:
        return [line for one in found if one.kind in kinds for line in one.text.split("\n")]

    assert lines("same", "out") == before.splitlines()
    assert lines("same", "in") == after.splitlines()


def test_a_damaged_store_is_laid_aside_and_not_thrown_away(tmp_path: Path) -> None:
    (tmp_path / STORE).write_bytes(b"this is no database at all" * 200)
    revisions = Revisions(tmp_path)
    number = kept(revisions, "cap.txt", b"one")
    assert revisions.data("cap.txt", number) == b"one"
    aside = [path for path in tmp_path.iterdir() if "laid-aside" in path.name]
    assert len(aside) == 1 and aside[0].read_bytes().startswith(b"this is no database")


def test_a_store_that_cannot_be_opened_says_so(tmp_path: Path) -> None:
    (tmp_path / STORE).mkdir()
    with pytest.raises(StoreError):
        kept(Revisions(tmp_path), "cap.txt", b"one")


def test_what_was_begun_alone_is_kept_together_or_not_at_all(tmp_path: Path) -> None:
    revisions = Revisions(tmp_path)
    kept(revisions, "cap.txt", b"one")

    def cut_short() -> None:
        with revisions.alone():
            kept(revisions, "cap.txt", b"two")
            raise RuntimeError

    with pytest.raises(RuntimeError):
        cut_short()
    assert len(revisions.of("cap.txt")) == 1
    with revisions.alone():
        kept(revisions, "cap.txt", b"two")
    assert len(Revisions(tmp_path).of("cap.txt")) == 2


def test_two_programs_and_many_threads_keep_everything(tmp_path: Path) -> None:
    both = (Revisions(tmp_path), Revisions(tmp_path))

    def work(mine: int) -> None:
        for at in range(12):
            with both[mine % 2].alone():
                kept(both[mine % 2], f"cap-{mine}.txt", f"text {mine} {at}".encode())

    threads = [threading.Thread(target=work, args=(mine,)) for mine in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert [len(both[0].of(f"cap-{mine}.txt")) for mine in range(4)] == [12] * 4
    assert sqlite3.connect(tmp_path / STORE).execute("pragma integrity_check").fetchone() == ("ok",)
