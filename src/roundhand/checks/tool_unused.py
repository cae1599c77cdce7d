"""The materials name something that the instructions never use.

A maker buys it, and then looks for the step that she must have missed. Perhaps there is one.

Bad:
    MATERIALS
    Yarn: worsted
    Hook: 5 mm
    Notions: 3 buttons
    CAP
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
    Fasten off.

Good:
    MATERIALS
    Yarn: worsted
    Hook: 5 mm
    Notions: 3 buttons
    CAP
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
    Fasten off. Sew the buttons to the side.
"""

from __future__ import annotations

from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.tools import tools
from roundhand.findings import Finding, Span

GROUP = "materials"


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for every thing of the list that nothing else on the page speaks of."""
    page = sheet.paper
    own = {line.whole for line in page.listed}
    for tool in tools():
        if tool.bought is None or tool.spoken is None:
            continue
        found = next(filter(None, (tool.bought.search(sheet.text, *_ends(line.whole)) for line in page.listed)), None)
        if found is None or any(tool.spoken.search(page.words(line)) for line in page.lines if line.whole not in own):
            continue
        word = found[0].lower()
        yield Finding(
            "tool-unused",
            "advice",
            f"nothing says what the {word} {'are' if word.endswith('s') else 'is'} for",
            Span(found.start(), found.end()),
            because=f"no row, step or note speaks of {word}",
            help="add the step that uses it, or leave it out of the materials",
            facts={"tool": word},
            label="for what?",
        )


def _ends(span: Span) -> tuple[int, int]:
    return span.start, span.end
