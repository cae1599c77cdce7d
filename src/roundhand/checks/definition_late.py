"""A stitch is used before the page says what it is.

A maker reads from the top and stops at a word that nothing has explained.

Bad:
    CAP
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: Shell in each st around. (30)

    SPECIAL STITCHES
    Shell: 5 dc in same st.

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
from roundhand.checks.mentions import in_rows
from roundhand.findings import Finding, Mark

GROUP = "words"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One remark on the first such use; a list of stitches at the end of a page is one cause."""
    late = []
    for definition in sheet.pattern.defined:
        if definition.where == "notes":
            continue
        first = next(in_rows(sheet, definition), None)
        if first is not None and first.start < definition.span.start:
            late.append((first, definition))
    if not late:
        return
    first, definition = min(late, key=lambda one: one[0].start)
    names = list(dict.fromkeys(one.name for _, one in late))
    line = sheet.source.place(definition.span.start)[0]
    yield Finding(
        "definition-late",
        "advice",
        f"{definition.name} is used before it is defined",
        first,
        because=f"it is defined in line {line}"
        + (f", and so are {' and '.join(names[1:])} after their first use" if len(names) > 1 else ""),
        help="move the definition in front of the rows",
        facts={"stitches": tuple(names), "line": line},
        see=(Mark(definition.span, "defined here"),),
        label="not defined yet",
    )
