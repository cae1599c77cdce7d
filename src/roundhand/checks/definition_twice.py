"""A stitch is defined twice, and the two definitions do not agree.

A maker works by the one she finds first; here the rows are worked by the last.

Bad:
    SPECIAL STITCHES
    Shell: 5 dc in same st.
    Shell: 7 dc in same st.
    CAP
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: Shell in each st around. (42)

Good:
    SPECIAL STITCHES
    Small shell: 5 dc in same st.
    Large shell: 7 dc in same st.
    CAP
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: (Large shell in next st, small shell in next st) around. (36)
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Mark
from roundhand.notation.definitions import differing
from roundhand.notation.special import forms
from roundhand.notation.tree import Definition

GROUP = "words"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One remark for every definition that says otherwise than an earlier one of the same name."""
    known: dict[str, Definition] = {}
    for definition in sheet.pattern.defined:
        if definition.where == "row":
            continue
        earlier = next((known[form] for form in forms(definition.names) if form in known), None)
        known |= dict.fromkeys(forms(definition.names), definition)
        if earlier is None or not differing(earlier, definition):
            continue
        line = sheet.source.place(earlier.span.start)[0]
        yield Finding(
            "definition-twice",
            "warning",
            f"{definition.name} is defined again, and otherwise",
            definition.span,
            because=f"line {line} says another thing of {earlier.name}",
            help="keep one of them, or give each a name of its own",
            facts={"stitch": definition.name, "line": line},
            see=(Mark(earlier.span, "defined first"),),
            label="says otherwise",
        )
