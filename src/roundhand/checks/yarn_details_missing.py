"""The yarn is named without its thickness, or nothing says how much of it to buy.

A maker who cannot get your yarn needs its weight to find another, and everybody needs to know how many balls.

Bad:
    Finished size: 18 in around
    Terms: US
    MATERIALS
    Yarn: Saltmarsh Wool, slate
    Hook: 5 mm
    Notions: yarn needle
    GAUGE
    16 sts and 18 rnds = 4 in in single crochet
    CAP
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
    Rnd 3: *Sc in next st, 2 sc in next st; rep from * around. (18)
    Fasten off. Weave in ends.

Good:
    Finished size: 18 in around
    Terms: US
    MATERIALS
    Yarn: Saltmarsh Wool, worsted, 100 g = 200 m, slate; 1 ball
    Hook: 5 mm
    Notions: yarn needle
    GAUGE
    16 sts and 18 rnds = 4 in in single crochet
    CAP
    Rnd 1: 6 sc in a magic ring. (6)
    Rnd 2: 2 sc in each st around. (12)
    Rnd 3: *Sc in next st, 2 sc in next st; rep from * around. (18)
    Fasten off. Weave in ends.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from roundhand.checks.edit import Sheet
from roundhand.checks.tools import named_at, tools
from roundhand.findings import Finding, Span
from roundhand.notation.page import Line

GROUP = "yarn"

_YARN_LINE = re.compile(
    r"\b(?:yarns?|wool|cotton|acrylic|thread|skeins?|balls?|hanks?|colou?rs?)\b|^(?:MC|CC\d?|[A-Z])\b", re.IGNORECASE
)
_NO_YARN = re.compile(r"\byarn (?:needle|scraps?|bowl)\b|\b(?:scrap|waste) yarn\b|\bhooks?\b", re.IGNORECASE)
_THICK = re.compile(
    r"\b(?:lace|cobweb|fingering|sock|baby|sport|dk|double knit\w*|light|worsted|aran|afghan|medium|chunky|bulky"
    r"|roving|jumbo|super ?fine|fine|craft|thread|\d+[- ]?ply|(?:any|held|scraps?)|wpi|weight:? ?\(?#?[0-7])\b"
    r"|[#(][0-7]\)?",
    re.IGNORECASE,
)
_MUCH = re.compile(
    r"\d\s*(?:[(\[][^)\]\n]*[)\]]\s*)?(?:x\s*)?(?:g|gr|grams?|oz|ounces?|m|metres?|meters?|yds?|yards?|balls?|skeins?|hanks?|cones?)\b"
    r"|\b(?:one|two|three|four|five|six|half a|an?|each) (?:[a-z]+ )?(?:balls?|skeins?|hanks?|cones?)\b"
    r"|\b(?:scraps?|oddments?|left-?overs?|small amounts?|stash)\b|\byardage\b",
    re.IGNORECASE,
)


def check(sheet: Sheet) -> Iterator[Finding]:
    """One finding where a whole pattern names its yarn and not how thick it is, or not how much of it is used."""
    page = sheet.paper
    small = any(named_at(tool, page) is not None for tool in tools())
    if not page.whole or not small or "yarn" not in page.parts:
        # Only a list that names even the needle means to be whole.
        return
    lines = [line for line in page.listed if _is_yarn(page.words(line))]
    if not lines:
        return
    said = "\n".join(page.words(line) for line in lines)
    facts = "\n".join(f"{fact.key} {fact.text}" for fact in sheet.pattern.facts if _is_yarn(fact.key))
    thick = _THICK.search(said) is not None
    much = _MUCH.search(f"{said}\n{facts}") is not None
    if thick and much:
        return
    yield _finding(lines[0], thick, much)


def _is_yarn(words: str) -> bool:
    return _YARN_LINE.search(words) is not None and _NO_YARN.search(words) is None


def _finding(line: Line, thick: bool, much: bool) -> Finding:
    yarn = "it" if not thick else "the yarn"
    wanting = ", or ".join(
        words for words, there in (("how thick the yarn is", thick), (f"how much of {yarn} to buy", much)) if not there
    )
    ways = ", and ".join(
        words
        for words, there in (("its weight, such as worsted or DK", thick), ("its length and how many balls", much))
        if not there
    )
    return Finding(
        "yarn-details-missing",
        "advice",
        f"nothing says {wanting}",
        Span(line.whole.start, line.whole.end),
        because="makers often use another yarn, and look for it by these",
        help=f"add {ways}",
        facts={"weight": thick, "amount": much},
        label="which yarn is like it?" if not thick else "how much?",
    )
