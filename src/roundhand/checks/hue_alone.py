"""Something on the page is told apart by its hue alone: "the red line", "shown in blue".

Not everybody sees hues apart, and a leaflet is often printed in black. A letter, a shape or a name beside the hue is
seen by everybody.

Bad:
    NOTES
    The increases are marked in red.
    MAT
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)

Good:
    NOTES
    The increases are marked with a star.
    MAT
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.findings import Finding, Span

GROUP = "reading"

_HUE = (
    r"(?:(?:light|dark|bright|pale)[- ]?)?(?:red|blue|green|yellow|orange|purple|violet|pink|brown|gr[ea]y|turquoise"
    r"|teal|magenta|cyan|gold|lilac)"
)
_TOLD_APART = re.compile(
    rf"\b(?:shown|marked|printed|highlighted|drawn|written|indicated|given|set|outlined|shaded|colou?red)\s+in\s+{_HUE}\b"
    rf"|\b(?:the\s+)?{_HUE}\s+(?:lines?|arrows?|cells?|text|type|print|symbols?|letters?|numbers?|figures?|highlights?|ink"
    rf"|bo?x(?:es)?|circled|markings?|brackets?)\b(?!\s+of\s+(?:sc|hdc|dc|yarn))",
    re.IGNORECASE,
)
_BESIDE = re.compile(
    r"\b(?:and|with|by|,)?\s*(?:an?\s+)?(?:bold|italics?|underlined|dashed|dotted|star|asterisk|letter|symbol|circle[sd]?|arrow)\b",
    re.IGNORECASE,
)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding, at its first place, for what the page tells apart by hue."""
    for line in sheet.paper.lines:
        found = _TOLD_APART.search(sheet.text, line.whole.start, line.whole.end)
        if found is None or _BESIDE.match(sheet.text, found.end()):
            continue
        yield Finding(
            "hue-alone",
            "advice",
            f"\u201c{found[0]}\u201d can be told by its hue alone",
            Span(found.start(), found.end()),
            because="not everybody sees hues apart, and many print in black",
            help="say it by a letter, a shape or a name as well",
            facts={"words": found[0]},
            label="by hue alone",
        )
        return
