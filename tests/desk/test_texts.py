"""A text through the desk: what stands in both margins, the reasons, and what happens to older questions."""

import asyncio
from typing import Any

import msgspec
import pytest
from starlette.testclient import TestClient

from roundhand.desk.lanes import Lane
from roundhand.desk.problems import ProblemError
from roundhand.desk.work import TASKS
from roundhand.desk.worker import OK, answers
from roundhand.workshop import check, counts, shipped_patterns, understand

SLIPS = (shipped_patterns() / "_faulty" / "saltmarsh-cap-with-slips.txt").read_text(encoding="utf-8")
CAP = (shipped_patterns() / "saltmarsh-cap.txt").read_text(encoding="utf-8")


def asked(task: str, **what: Any) -> Any:
    """The answer of a worker, without one."""
    *_, (status, body) = answers(task, msgspec.json.encode(what), shipped_patterns())
    assert status == OK, body
    return msgspec.json.decode(body)


@pytest.mark.parametrize("size", range(5))
def test_the_left_margin_says_what_counts_says(size: int) -> None:
    read = asked("read", text=SLIPS, size=size, number=7)
    rows = [row for piece in counts(understand(SLIPS)).pieces for row in piece.rows]
    assert (read["number"], read["size"]) == (7, size)
    assert [(row["label"], row["line"], row["worked"], row["stated"]) for row in read["rows"]] == [
        (row.label, row.line, list(row.worked), list(row.stated)) for row in rows
    ]
    # The last row of every line that the size has.
    last = {row.line: row.worked[size] for row in rows if row.labels[size] is not None}
    assert {one["line"]: one["worked"] for one in read["lines"]} == last
    for one in read["lines"]:
        own = [row for row in rows if row.line == one["line"] and row.labels[size] is not None]
        told = [row.worked[size] == row.stated[size] for row in own if row.stated[size] is not None]
        assert one["agrees"] == (all(told) if told else None)
        assert SLIPS.splitlines()[one["line"] - 1].lstrip("*").split()[0] in ("Rnd", "Rnds", "Adult", "Child")


def test_the_page_is_told_what_was_understood() -> None:
    read = asked("read", text=CAP, size=None, number=0)
    assert read["title"] == "Saltmarsh Cap" and read["terms"] == "US" and read["units"] == "in"
    assert read["summary"].startswith("Five sizes, ") and read["look"] == []
    wrong = asked("read", text=SLIPS, size=None, number=0)
    assert wrong["look"] and set(wrong["look"][0]) == {"label", "line", "size"}


def test_the_right_margin_says_what_check_says_the_weightiest_first() -> None:
    found = asked("queries", text=SLIPS, size=None, number=1)["queries"]
    said = check(understand(SLIPS)).findings
    assert sorted((one["name"], one["start"], one["end"]) for one in found) == sorted(
        (one.name, offset(one.line, one.column), offset(one.end_line, one.end_column)) for one in said
    )
    weights = [one["weight"] for one in found if not one["follows"]]
    assert weights == sorted(weights, key=["Fix", "Look", "Consider"].index)
    for one in found:
        for edit in one["edits"]:
            text = SLIPS[: edit["start"]] + edit["text"] + SLIPS[edit["end"] :]
            assert edit["before"] in SLIPS and edit["after"] in text and edit["before"] != edit["after"]
        assert one["leave"].startswith(f"Editor: leave {one['name']}")


def offset(line: int, column: int) -> int:
    """The offset of a place in the page with slips."""
    return sum(len(one) + 1 for one in SLIPS.split("\n")[: line - 1]) + column - 1


def test_a_size_that_the_text_has_lost_is_the_last_one() -> None:
    assert asked("read", text=CAP, size=9, number=0)["size"] == 4
    assert asked("read", text="Cap\n\nRnd 1: 6 sc in ring", size=3, number=0)["size"] == 0


@pytest.mark.parametrize("text", ["", "\x00", "Dear diary", "Rnd 1:", "🧶" * 50, "Sizes: ", "Rnd 1: \ufeff6 sc\r\n\r"])
@pytest.mark.parametrize("task", ["read", "queries"])
def test_any_text_is_answered(task: str, text: str) -> None:
    read = asked(task, text=text, size=None, number=0)
    for mark in read.get("marks", []):
        assert 0 <= mark["start"] < mark["end"] <= len(text)


def test_marks_are_in_order_and_do_not_overlap() -> None:
    at = 0
    for mark in asked("read", text=SLIPS, size=None, number=0)["marks"]:
        assert at <= mark["start"] < mark["end"]
        assert SLIPS[mark["start"] : mark["end"]].strip() == SLIPS[mark["start"] : mark["end"]]
        at = mark["end"]


def test_a_row_has_its_reasons(client: TestClient) -> None:
    asking = {"text": SLIPS, "size": 1, "part": "Sides", "label": "Rnd 20"}
    lines = client.post("/api/why", json=asking).json()["lines"]
    assert lines[0].startswith("Rnd 20 of Sides, line ") and any("worked" in line for line in lines)
    found = client.post("/api/why", json={**asking, "label": "Rnd 99"})
    assert (found.status_code, found.json()["kind"]) == (422, "no-answer")


def test_every_row_of_the_table_has_its_reasons_by_section_and_line() -> None:
    for row in asked("read", text=SLIPS, size=None, number=0)["rows"]:
        where = {"part": row["part"], "label": row["label"], "line": row["line"]}
        size = next(at for at, label in enumerate(row["labels"]) if label)
        assert asked("why", text=SLIPS, size=size, **where)["lines"]


def test_house_style_and_other_terms_give_a_text_and_how_much_changed() -> None:
    rough = "Cap\n\nRND 1.  6 single crochet in a magic ring\nRnd 2: inc in each st around\n"
    assert asked("tidy", text=rough) == {
        "text": "Cap\n\nRnd 1: 6 sc in a magic ring.\nRnd 2: Inc in each st around.\n", "changes": 1,
    }  # fmt: skip
    shifted = asked("shift", text="Cap\nTerms: US\n\nRnd 1: 6 sc in a magic ring. (6)", to="UK")
    assert shifted == {"text": "Cap\nTerms: UK\n\nRnd 1: 6 dc in a magic ring. (6)", "changes": 2}


def test_words_to_offer(client: TestClient) -> None:
    us, uk = (client.get("/api/words", params={"terms": terms}).json() for terms in ("US", "UK"))
    assert {"sc", "hdc", "fpdc", "sc2tog"} <= {one["word"] for one in us["stitches"]}
    assert "dc" in {one["word"] for one in uk["stitches"]} and "sc" not in {one["word"] for one in uk["stitches"]}
    single = next(one for one in us["stitches"] if one["word"] == "sc")
    assert single["name"] == "single crochet" and single["says"].startswith("Insert the hook")
    assert "Gauge" in us["keys"] and "Tension" in uk["keys"]
    assert client.get("/api/words", params={"terms": "French"}).json()["kind"] == "no-answer"


def test_questions_are_answered_by_workers(client: TestClient) -> None:
    read = client.post("/api/read", json={"text": CAP, "size": 1, "number": 3}, headers={"x-window": "one"})
    assert read.status_code == 200 and read.json() == asked("read", text=CAP, size=1, number=3)
    queries = client.post("/api/queries", json={"text": CAP, "size": 1, "number": 3})
    assert queries.json() == asked("queries", text=CAP, size=1, number=3)


def test_older_questions_of_a_window_are_dropped() -> None:
    async def typed() -> list[str]:
        lane = Lane(shipped_patterns())

        async def one(number: int, window: str) -> str:
            body = msgspec.json.encode({"text": SLIPS + f"\nNote {number}", "size": None, "number": number})
            try:
                status, said = await lane.ask("read", body, window, number)
            except ProblemError as slip:
                return slip.problem.kind
            return str(msgspec.json.decode(said)["number"]) if status == OK else "wrong"

        try:
            return list(await asyncio.gather(*(one(at, "one") for at in range(6)), one(1, "two")))
        finally:
            await lane.close()

    assert asyncio.run(typed()) == ["older", "older", "older", "older", "older", "5", "1"]


def test_a_worker_that_ends_or_takes_too_long_is_replaced(monkeypatch: pytest.MonkeyPatch) -> None:
    async def troubled() -> list[object]:
        lane = Lane(shipped_patterns())
        body = msgspec.json.encode({"text": CAP})
        found: list[object] = [(await lane.ask("tidy", body))[0]]
        worker = lane._worker
        assert worker is not None
        waiting = asyncio.create_task(lane.ask("queries", body))
        await asyncio.sleep(0)
        worker.kill()
        with pytest.raises(ProblemError) as slip:
            await waiting
        found.append(slip.value.problem.kind)
        lane.limit = 0.0
        with pytest.raises(ProblemError) as slip:
            await lane.ask("tidy", body)
        found.append(slip.value.problem.kind)
        lane.limit = 60.0
        found.append((await lane.ask("tidy", body))[0])
        await lane.close()
        assert lane._worker is None
        return found

    assert asyncio.run(troubled()) == [OK, "broken", "too-long", OK]


def test_every_task_has_an_address(client: TestClient) -> None:
    paths = client.get("/openapi.json").json()["paths"]
    assert {f"/api/{task}" for task in TASKS} <= set(paths)
    assert not [path for path in paths if not path.startswith("/api/")]


@pytest.mark.parametrize("window", ["x" * 65, "a b", "ü", "<b>"])
def test_a_window_has_a_plain_name(window: str, client: TestClient) -> None:
    found = client.post("/api/read", json={"text": ""}, headers=[(b"x-window", window.encode())])
    assert (found.status_code, found.json()["kind"]) == (422, "wrong-shape")
