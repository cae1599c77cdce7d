"""A row with a fixed number of stitches ends early, and nothing says that some are left unworked.

The edge steps in, or the round gapes, and the maker cannot tell whether that is meant.

Bad:
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: Inc in each st around. (12)
    Rnd 3: (Sc in next st, inc) 5 times. (15)

Good:
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: Inc in each st around. (12)
    Rnd 3: (Sc in next st, inc) 6 times. (18)
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.mends import Mend, mends
from roundhand.checks.pencil import below_label, follows_text, groups, per_size, row_label, say_list, sizes_of, unit
from roundhand.checks.troubles import Trouble
from roundhand.findings import Finding, Span
from roundhand.notation.tree import Times, Work

GROUP = "counts"


def place(trouble: Trouble) -> Span:
    """The last phrase that works into the row below."""
    for segment in reversed(trouble.result.segments):
        if isinstance(segment.node, Times | Work) and segment.uses:
            return segment.span
    return trouble.row.line.span


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every row that stops short of the row below without a word."""
    for span, members in groups(sheet.troubles, "stitches-unworked", place):
        first = members[0]
        left = per_size(members, lambda trouble: max(trouble.result.left, trouble.result.jumped))
        said = per_size(members, lambda trouble: trouble.result.said_left)
        if first.result.said_left is not None:
            yield Finding(
                "stitches-unworked",
                "warning",
                f"{say_list(left)} sts left, {say_list(said)} written",
                span,
                sizes_of(members, sheet.pattern.sizes),
                row=row_label(first.row, first.size),
                because=(
                    f"{below_label(first)} has {unit(first, first.below)}"
                    f" and this row works into {first.result.used} of them"
                ),
                help="let the number left and the number worked come to the stitches of the row below",
                facts={"left": left, "said": said, "below": first.below, "used": first.result.used},
                label=f"{say_list(left)} left",
                follows=follows_text(first, sheet.source, place, sheet.troubles),
            )
            continue
        found = mends(sheet, first)
        below = per_size(members, lambda trouble: trouble.below)
        yield Finding(
            "stitches-unworked",
            "warning",
            f"{say_list(left)} of {say_list(below)} {_places(first)} not worked into",
            span,
            sizes_of(members, sheet.pattern.sizes),
            row=row_label(first.row, first.size),
            because=(
                f"{below_label(first)} has {unit(first, first.below)}"
                f" and this row works into {first.result.used} of them"
            ),
            help=_way_on(first, found),
            facts={"left": left, "below": first.below, "used": first.result.used},
            edits=tuple(mend.edit for mend in found),
            label=f"{say_list(left)} left",
            follows=follows_text(first, sheet.source, place, sheet.troubles),
        )


def _way_on(trouble: Trouble, found: tuple[Mend, ...]) -> str:
    """The number that would use all stitches, if there is one."""
    if not found:
        return "say that the rest is left unworked, or work into all of them"
    words = ", or ".join(mend.words for mend in found)
    return f"{words} would use all {trouble.below}; else say that the rest is left unworked"


def _places(trouble: Trouble) -> str:
    offer = trouble.row.below[trouble.size]
    return "ch" if offer is not None and offer.kind == "chain" else "sts"
