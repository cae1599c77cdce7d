"""A line that holds a schedule: the words of the row it speaks of, the schedule, and what stands behind it."""

from __future__ import annotations

from roundhand.notation.clauses import read_clauses
from roundhand.notation.cursor import Cursor
from roundhand.notation.schedules import read_plan
from roundhand.notation.tree import Copy, Node, Note, Plan, Stated, Stripes, Turn, Yarn

# Words that a schedule cannot do without.
_TELLING = frozenset(
    ("until", "till", "til", "same", "increase", "decrease", "for", "bind_off", "set", "established", "est")
)
# Words of schedules that say no rows: "increase as set", "one more st between incs".
_GOING_ON = frozenset(
    ("continue", "cont", "continuing", "keep", "between", "set", "established", "manner", "continue in")
)
# More schedules on one line are none.
_MOST_PHASES = 8
_BREAKS = (",", ";", ".", ":")


def read_scheduled(cursor: Cursor, ranged: bool, number: int | None = None) -> tuple[list[Node], list[Stated]] | None:
    """The nodes of a line that holds a schedule and the counts that it states; None (nothing taken) for any other line.

    `ranged` is true where the label speaks of several rows: then the words before a schedule are what each of them is
    worked as. `number` is the label of a single row, which such words may name: "Rep Row 2 until …" in Row 2.
    """
    start, end = cursor.position, cursor.end
    if not may_hold(cursor):
        return None
    states, said = cursor.states, len(cursor.findings)
    plan = read_plan(cursor, False, ranged)
    own: list[Node] = []
    if plan is None:
        for at in _breaks(cursor, start):
            cursor.position = at
            plan = read_plan(cursor, True)
            itself = plan is not None and _names(plan.base, number)
            if plan is None or not (ranged or itself or plan.at_once or plan.beats):
                plan = None
                del cursor.findings[said:]
                continue
            behind = cursor.position
            cursor.position, cursor.end = start, at
            own, _ = read_clauses(cursor)
            cursor.position, cursor.end = behind, end
            break
    if plan is None:
        cursor.position = start
        del cursor.findings[said:]
        return None
    phases = [plan]
    while not ranged and len(phases) < _MOST_PHASES and (further := _further(cursor)) is not None:
        phases.append(further)
    cursor.states = True
    rest, stated = read_clauses(cursor, False)
    cursor.states = states
    kept = [node for node in rest if isinstance(node, Yarn | Stripes | Note | Turn)]
    nodes = [node for node in own if not isinstance(node, Stated)]
    return [*nodes, *phases, *(node for node in kept if not isinstance(node, Turn))], stated


def _further(cursor: Cursor) -> Plan | None:
    """A schedule that follows on another, `, then work even until …`; None (nothing taken) where none does."""
    start = cursor.position
    while cursor.mark(",", ";", "."):
        cursor.position += 1
    led = False
    while cursor.take_word("and") or cursor.take_name("then", "next", "now"):
        led = True
    plan = read_plan(cursor) if led else None
    if plan is None:
        cursor.position = start
    return plan


def _names(copy: Copy | None, number: int | None) -> bool:
    """Whether a reference names rows of which this is the last."""
    if copy is None or number is None:
        return False
    return bool(copy.last_rows) or (copy.last is not None and copy.last.values == (number,))


def may_hold(cursor: Cursor) -> bool:
    """Whether the words of a line can tell a schedule at all: most lines show at once that they do not."""
    if cursor.said.isdisjoint(_TELLING):
        return False
    values = {token.value for token in cursor.tokens[cursor.position : cursor.end]}
    if values & {"until", "till", "til", "same"}:
        return True
    rows = values & {"row", "round", "row_or_round", "row_end"}
    if values & {"increase", "decrease", "bind_off"} and (rows or "bind_off" in values):
        return True
    if not cursor.said.isdisjoint(_GOING_ON):
        return bool(values & {"increase", "decrease"}) or not cursor.said.isdisjoint(("set", "established", "est"))
    return "for" in values and bool(values & {"plain", "repeat"})


def _breaks(cursor: Cursor, start: int) -> list[int]:
    """Where a schedule may begin behind the words of a row: behind a mark, or at "at the same time"."""
    found = []
    depth = 0
    for at in range(start, cursor.end):
        token = cursor.tokens[at]
        if token.kind == "mark":
            depth += (token.text in "([{") - (token.text in ")]}")
        if depth:
            continue
        before = cursor.tokens[at - 1] if at > start else None
        behind = before is not None and before.kind == "mark" and before.text in _BREAKS
        lower = token.text.lower()
        led = token.value in ("until", "increase", "decrease", "repeat") or lower in (
            "at",
            "and",
            "ending",
            "till",
            "while",
        )
        if at > start and led and (behind or token.value == "until" or lower in ("at", "while")):
            found.append(at)
    return found
