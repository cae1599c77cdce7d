"""Which number of a stated count is at fault, where it tells several kinds of stitches or groups apart."""

from __future__ import annotations

from typing import NamedTuple

from roundhand.checks.edit import Sheet
from roundhand.checks.pencil import per_size
from roundhand.checks.troubles import Trouble
from roundhand.notation.tree import Stated
from roundhand.tally.stating import parts_of


def whole_at(stated: Stated) -> int:
    """The position of the number of all stitches in a count, of the first number where none is said to be that."""
    return next((at for at, (_, kind) in enumerate(stated.counts) if kind == "stitch"), 0)


class Fault(NamedTuple):
    """Which number of a stated count is at fault: its position, its kind where it counts one of several or a group,
    and what is written and worked of that in every size."""

    at: int
    kind: str
    written: tuple[int | None, ...]
    worked: tuple[int | None, ...]


def kind_at_fault(sheet: Sheet, members: list[Trouble], first: Stated) -> Fault:
    """All stitches of the row; or, where a count tells kinds apart, `(8 dc, 7 sc)`, or counts groups, `(12 shells)`,
    the one kind that the row holds another number of."""
    definitions = dict(sheet.pattern.definitions)
    found: dict[int, tuple[int, str, int, int]] = {}
    for member in members:
        stated = member.row.stated_by
        parts = parts_of(stated, member.result, member.size, definitions) if stated is not None else ()
        wrong = [part for part in parts if part.differs and part.most]
        several = stated is not None and len(stated.counts) > 1
        if len(wrong) == 1 and (several or member.stated != wrong[0].said):
            found[member.size] = (wrong[0].at, wrong[0].kind, wrong[0].said, wrong[0].there)
    if len(found) == len({member.size for member in members}) and len({one[0] for one in found.values()}) == 1:
        at, kind, _, _ = next(iter(found.values()))
        written = per_size(members, lambda trouble: found[trouble.size][2])
        return Fault(at, kind, written, per_size(members, lambda trouble: found[trouble.size][3]))
    written = per_size(members, lambda trouble: trouble.stated)
    return Fault(whole_at(first), "", written, per_size(members, lambda trouble: trouble.result.count))
