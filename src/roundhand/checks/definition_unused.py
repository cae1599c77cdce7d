"""A special stitch is defined and no row works it.

A maker who learns a stitch looks for it in the rows. Perhaps it was left over from an earlier version, or the rows
call it by another name.

Bad:
    SPECIAL STITCHES
    Shell: 5 dc in same st.
    CAP
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)

Good:
    SPECIAL STITCHES
    Shell: 5 dc in same st.
    CAP
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: Shell in each st around. (30)
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.mentions import mentions
from roundhand.findings import Finding
from roundhand.notation.tree import Definition
from roundhand.tally import distinct

GROUP = "words"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One remark for every special stitch that nothing else on the page names and no row makes."""
    if not any(result is not None for row in sheet.tally.rows() for result in row.results):
        return
    made: set[str] | None = None
    for definition in sheet.pattern.defined:
        if definition.where != "special" or not _is_special(definition) or any(mentions(sheet, definition)):
            continue
        if made is None:
            made = _made(sheet)
        if definition.stitch is not None and definition.stitch.id in made:
            continue
        yield Finding(
            "definition-unused",
            "advice",
            f"{definition.name} is defined and not used",
            definition.span,
            because="no row and no other definition names it",
            help="leave it out, or use its name where the rows work it",
            facts={"stitch": definition.name},
            label="not used",
        )


def _is_special(definition: Definition) -> bool:
    """Whether it is more than an abbreviation of a plain stitch."""
    stitch = definition.stitch
    return bool(definition.group or definition.body) or (stitch is not None and stitch.id != stitch.family)


def _made(sheet: Sheet) -> set[str]:
    """The ids of all stitches that the rows make."""
    return {
        run.stitch
        for row in sheet.tally.rows()
        for result in row.results
        if result is not None
        for run in distinct(result.made)
    }
