"""A desk that is killed at any moment loses at most what it had not yet answered, and leaves nothing half done.

Ten kills ordinarily, a hundred with `--long`.
"""

import http.client
import json
import random
import sqlite3
import threading
import time
from pathlib import Path

from roundhand.workshop.revisions import STORE
from roundhand.workshop.shelf import Shelf
from tests.desk.serving import Visitor, serving

HEAD = "Cap\n\nRnd 1: 6 sc in a magic ring. (6)\n"


def typed(number: int) -> str:
    """The text after so many keystrokes: whole only if its last line says the number that its first lines say."""
    rows = "".join(f"Rnd {at}: sc in each st around, keystroke {number}. (6)\n" for at in range(2, 40))
    return f"{HEAD}Note: keystroke {number}.\n{rows}End of keystroke {number}.\n"


class Typist(threading.Thread):
    """Somebody who types as fast as the desk answers, and remembers what was answered."""

    def __init__(self, visitor: Visitor, base: str, first: int) -> None:
        super().__init__()
        self.visitor = visitor
        self.base = base
        self.sent = self.kept = first
        self.answered: list[tuple[int, float]] = []

    def run(self) -> None:
        connection = self.visitor.connection()
        try:
            while True:
                self.sent += 1
                body = {"text": typed(self.sent), "base": self.base, "window": "one"}
                connection.request("PUT", "/api/patterns/cap.txt", json.dumps(body), self.visitor.headers())
                response = connection.getresponse()
                said = json.loads(response.read())
                assert response.status == 200, said
                self.base, self.kept = said["version"], self.sent
                self.answered.append((self.sent, time.monotonic()))
        except (OSError, http.client.HTTPException):
            return
        finally:
            connection.close()


def test_a_desk_that_is_killed_loses_nothing_that_it_has_answered(tmp_path: Path, long_run: bool) -> None:
    chance = random.Random(None if long_run else 26)
    version = Shelf(tmp_path).save("cap.txt", typed(0), None, "one").version
    last = 0
    answered = [0]
    for _ in range(100 if long_run else 10):
        with serving(tmp_path) as (desk, visitor):
            typist = Typist(visitor, version, last)
            typist.start()
            while not typist.answered and typist.is_alive():
                time.sleep(0.001)
            time.sleep(chance.uniform(0.0, 0.25))
            desk.kill()
            desk.wait()
            typist.join(60)
        assert typist.answered, "nothing was typed, so nothing was tried"
        answered += [number for number, _ in typist.answered]
        # The file is whole: the last text that was answered, or the one that was on its way.
        found = (tmp_path / "cap.txt").read_text(encoding="utf-8")
        numbers = [number for number in (typist.kept, typist.sent) if found == typed(number)]
        assert numbers, f"neither {typist.kept} nor {typist.sent}: {found[:200]!r} … {found[-60:]!r}"
        last = typist.sent
        # The store is whole, and holds every text that was answered.
        store = sqlite3.connect(tmp_path / STORE)
        assert store.execute("pragma integrity_check").fetchone() == ("ok",)
        store.close()
        shelf = Shelf(tmp_path)
        version = shelf.open("cap.txt").version
        kept = {shelf.revision("cap.txt", one.id)[0] for one in shelf.history("cap.txt")[: len(typist.answered) + 3]}
        lost = [number for number, _ in typist.answered if typed(number) not in kept]
        assert not lost
        assert found in kept
        shelf.revisions.close()
    # And so do all of them together, from the first to the last kill.
    shelf = Shelf(tmp_path)
    kept = {shelf.revision("cap.txt", one.id)[0] for one in shelf.history("cap.txt")}
    assert not [number for number in answered if typed(number) not in kept]
    shelf.revisions.close()
    # What was begun and not finished may lie there hidden, and nothing else.
    assert {path.name for path in tmp_path.iterdir() if not path.name.startswith(".")} == {"cap.txt"}
