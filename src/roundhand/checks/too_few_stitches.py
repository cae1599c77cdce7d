"""The row asks for more stitches than there are below it.

A maker runs out before the words do.

Bad:
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: Inc in each st around. (12)
    Rnd 3: (Sc in next st, inc) 7 times.

Good:
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: Inc in each st around. (12)
    Rnd 3: (Sc in next st, inc) 6 times.
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.mends import mends
from roundhand.checks.pencil import below_label, follows_text, groups, per_size, row_label, say_list, sizes_of, unit
from roundhand.checks.troubles import Trouble
from roundhand.findings import Finding, Span
from roundhand.notation.tree import Skip, Times, Work

GROUP = "counts"


def place(trouble: Trouble) -> Span:
    """The phrase in which the stitches run out."""
    used = 0
    for segment in trouble.result.segments:
        if isinstance(segment.node, Times | Work | Skip):
            used += segment.each_uses * segment.times if isinstance(segment.node, Times) else segment.uses
            if used >= trouble.below - 0 and (segment.uses or segment.each_uses):
                return segment.span
    return trouble.result.segments[-1].span if trouble.result.segments else trouble.row.line.span


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every row that needs more than the row below has."""
    for span, members in groups(sheet.troubles, "too-few-stitches", place):
        first = members[0]
        needs = per_size(members, lambda trouble: trouble.below + trouble.result.lacking)
        has = per_size(members, lambda trouble: trouble.below)
        found = mends(sheet, first)
        if found:
            words = ", or ".join(mend.words for mend in found)
            way = f"{words} would use all {first.below}"
            way += f" and make {first.stated}" if first.stated is not None else ""
        else:
            way = f"work into {say_list(has)} of them, or make more in the row below"
        yield Finding(
            "too-few-stitches",
            "error",
            f"needs {say_list(needs)} sts, {below_label(first)} has {say_list(has)}",
            span,
            sizes_of(members, sheet.pattern.sizes),
            row=row_label(first.row, first.size),
            because=(
                f"{below_label(first)} has {unit(first, first.below)}"
                f" and this row works into {first.below + first.result.lacking}"
            ),
            help=way,
            facts={"needs": needs, "has": has},
            edits=tuple(mend.edit for mend in found),
            label=f"needs {say_list(needs)}",
            follows=follows_text(first, sheet.source, place, sheet.troubles),
        )
