"""A whole pattern does not say whether its terms are US or UK.

Double crochet and treble are other stitches on the other side of the ocean. A maker who guesses wrong finds out when
the piece comes out half as tall.

Bad:
    Finished size: 5 in wide
    MATERIALS
    Yarn: worsted, 100 g = 200 m; 1 ball
    Hook: 5 mm
    Notions: yarn needle
    GAUGE
    15 sts and 8 rows = 4 in in pattern
    MAT
    Ch 22.
    Row 1: Dc in 4th ch from hook and in each ch across, turn.
    Row 2: Ch 3, skip first st, dc in each st across, turn.
    Row 3: Ch 3, skip first st, dc in each st across.
    Fasten off. Weave in ends.

Good:
    Finished size: 5 in wide
    Terms: US
    MATERIALS
    Yarn: worsted, 100 g = 200 m; 1 ball
    Hook: 5 mm
    Notions: yarn needle
    GAUGE
    15 sts and 8 rows = 4 in in pattern
    MAT
    Ch 22.
    Row 1: Dc in 4th ch from hook and in each ch across, turn.
    Row 2: Ch 3, skip first st, dc in each st across, turn.
    Row 3: Ch 3, skip first st, dc in each st across.
    Fasten off. Weave in ends.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.spoken import spoken
from roundhand.findings import Finding
from roundhand.terms import languages, vocabulary

GROUP = "structure"

_SAID = re.compile(
    r"\b(?:US|U\.S\.|USA|UK|U\.K\.|American|British|Australian)\b[^.\n]{0,25}\b(?:terms?|terminology|abbreviations?"
    r"|notation|crochet|stitches|english)\b|\b(?:terms?|terminology|abbreviations?)\b[^.\n]{0,25}\b(?:US|UK|American|British)\b",
    re.IGNORECASE,
)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding for a whole pattern that does not say in which terms it is written."""
    page = sheet.paper
    language = sheet.pattern.language
    if not page.whole or sheet.pattern.language_said or language not in languages() or _SAID.search(page.text):
        return
    if sheet.pattern.defined or any(line.section == "terms" for line in page.lines):
        # A list that says how its stitches are worked, or what they are called, has said it.
        return
    us, uk = vocabulary("US"), vocabulary("UK")
    words = list(spoken(page))
    apart = [word for word in words if us.short(word.stitch) != uk.short(word.stitch)]
    if not apart:
        return
    proofs = vocabulary(language).proofs
    proved = next((word for word in apart if word.form in proofs), None)
    first = proved or apart[0]
    said = f"\u201c{first.span.of(sheet.text).lower()}\u201d"
    yield Finding(
        "terms-missing",
        "advice" if proved else "warning",
        f"only {said} shows that these are {language} terms"
        if proved
        else "nothing says whether these are US or UK terms",
        first.span,
        because=f"{said} is a word of {language} patterns alone; a maker from elsewhere may not know it"
        if proved
        else f"{said} is one stitch in US terms and another in UK terms",
        help=f"add a line \u201cTerms: {language}\u201d below the title",
        facts={"language": language, "proved": proved is not None},
        label="US or UK?",
    )
