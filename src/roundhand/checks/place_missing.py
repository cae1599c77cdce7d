"""The hook is sent to a place that is not there: rows below the first, a space in a row without one.

A maker pokes about in the ring and gives up.

Bad:
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: *Sc in next st, long sc in next st 3 rnds below; rep from * around. (6)

Good:
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: Sc in each st around. (6)
    Rnd 3: Sc in each st around. (6)
    Rnd 4: *Sc in next st, long sc in next st 3 rnds below; rep from * around. (6)
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.pencil import follows_text, groups, row_label, sizes_of
from roundhand.checks.troubles import Trouble
from roundhand.findings import Finding, Span
from roundhand.measures import say_count


def place(trouble: Trouble) -> Span:
    """The words that ask for the place."""
    return trouble.missing.span if trouble.missing is not None else trouble.row.line.span


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every place that is asked for and is not there."""
    for span, members in groups(sheet.troubles, "place-missing", place):
        first = members[0]
        missing = first.missing
        assert missing is not None
        label = row_label(first.row, first.size)
        if missing.what == "row":
            kind = "rnd" if first.row.kind == "round" else "row"
            headline = f"nothing {say_count(missing.wanted, kind)} below"
            because = f"there {'is' if missing.there == 1 else 'are'} {say_count(missing.there, kind)} below {label}"
            way = f"{kind.title()} {missing.wanted + 1} is the first that can hold it; or work it less deep"
        else:
            headline = "no chain space there"
            because = "the row below has no more chain spaces from here on"
            way = "make the space in the row below, or work into a stitch"
        yield Finding(
            "place-missing",
            "error",
            headline,
            span,
            sizes_of(members, sheet.pattern.sizes),
            row=label,
            because=because,
            help=way,
            facts={"what": missing.what, "wanted": missing.wanted, "there": missing.there},
            label="not there",
            follows=follows_text(first, sheet.source, place, sheet.troubles),
        )
