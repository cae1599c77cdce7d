"""A repeat that goes on to the end of the row does not come out: some stitches are left over.

Nobody can tell a maker what to do with them, and she will think that she has miscounted.

Bad:
    Rnd 1: 7 sc in a magic ring. (7)
    Rnd 2: *Sc in next st, inc; rep from * around.

Good:
    Rnd 1: 8 sc in a magic ring. (8)
    Rnd 2: *Sc in next st, inc; rep from * around.
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.mends import Mend, mends
from roundhand.checks.pencil import below_label, follows_text, groups, per_size, row_label, say_list, sizes_of, unit
from roundhand.checks.troubles import Trouble
from roundhand.findings import Finding, Span

GROUP = "counts"


def place(trouble: Trouble) -> Span:
    """The words of the repeat."""
    return trouble.left_over.node.span if trouble.left_over is not None else trouble.row.line.span


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every repeat to the end that leaves stitches over."""
    for span, members in groups(sheet.troubles, "repeat-left-over", place):
        first = members[0]
        over = per_size(members, lambda trouble: trouble.left_over.over if trouble.left_over is not None else None)
        below = per_size(members, lambda trouble: trouble.below)
        left = first.left_over
        assert left is not None
        group = left.group
        fits = _fits(first)
        found = mends(sheet, first)
        counts = (
            f"{below_label(first)} has {say_list(below)} sts"
            if len(members) > 1
            else f"{below_label(first)} has {unit(first, first.below)}"
        )
        yield Finding(
            "repeat-left-over",
            "error",
            f"{say_list(over)} of {say_list(below)} sts left over",
            span,
            sizes_of(members, sheet.pattern.sizes),
            row=row_label(first.row, first.size),
            because=(
                f"{counts}; each repeat uses {group}, {left.places // group} repeats use {left.places - left.over}"
                if group
                else counts
            ),
            help=_way_on(first, found) or (f"{fits[0]} or {fits[1]} sts in the row below would fit" if fits else ""),
            edits=tuple(mend.edit for mend in found),
            facts={"over": over, "below": below, "group": group, "fits": fits},
            label=f"{say_list(over)} left over",
            follows=follows_text(first, sheet.source, place, sheet.troubles),
        )


def _way_on(trouble: Trouble, found: tuple[Mend, ...]) -> str:
    """The number that would let the repeat come out, where the stated count bears it out."""
    if not found or trouble.stated is None:
        return ""
    words = ", or ".join(mend.words for mend in found)
    return f"{words} would use all {trouble.below} and make {trouble.stated}"


def _fits(trouble: Trouble) -> tuple[int, ...]:
    """The nearest counts of the row below with which the repeat comes out."""
    left = trouble.left_over
    if left is None or not left.group:
        return ()
    return trouble.below - left.over, trouble.below - left.over + left.group
