"""The hook is sent to a place that is not there: rows below the first, loops that are taken, a ring nobody made.

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

from roundhand.checks.absent import place_of, words_on
from roundhand.checks.edit import Sheet
from roundhand.checks.pencil import follows_text, groups, row_label, sizes_of
from roundhand.checks.prepared import unprepared
from roundhand.checks.troubles import Trouble
from roundhand.checks.unfit import unfit
from roundhand.findings import Finding, Span

GROUP = "places"


def place(trouble: Trouble) -> Span:
    """The words that ask for the place."""
    return trouble.missing.span if trouble.missing is not None else trouble.row.line.span


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every place that is asked for and is not there."""
    for span, members in groups(sheet.troubles, "place-missing", place):
        first = members[0]
        missing = first.missing
        assert missing is not None
        said = words_on(first, missing, sheet.pattern.language)
        yield Finding(
            "place-missing",
            said.severity,
            said.headline,
            span,
            sizes_of(members, sheet.pattern.sizes),
            row=row_label(first.row, first.size),
            because=said.because,
            help=said.help,
            facts={"place": place_of(missing), "what": missing.what, "wanted": missing.wanted, "there": missing.there},
            label="not there",
            follows=follows_text(first, sheet.source, place, sheet.troubles),
        )
    yield from unprepared(sheet.tally, sheet.text)
    yield from unfit(sheet.tally, sheet.text)
