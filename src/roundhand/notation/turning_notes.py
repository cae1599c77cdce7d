"""Notes that the work is turned after every round, said once for the whole pattern."""

from __future__ import annotations

import re
from collections.abc import Iterable

from roundhand.notation.lines import Line

_ROUND = r"(?:rnds?|rounds?)"
_TURNED = re.compile(
    rf"(?P<not>\b(?:do|does|are|is|not)\s+not\s+(?:be\s+)?)?(?:"
    rf"\bturn(?:ed|ing)?\b[^.;:]{{0,30}}\b(?:at\s+the\s+end\s+of|after|between)\s+(?:each|every|all|the)\s+{_ROUND}\b"
    rf"|\bat\s+the\s+end\s+of\s+(?:each|every)\s+{_ROUND},?\s+(?:join\s+and\s+)?turn\b"
    rf"|\b(?:joined\s*(?:,|and|&)?\s*)?turned\s+{_ROUND}\b"
    rf"|\b(?:joined\s+)?{_ROUND}\b[^.;:]{{0,30}}\b(?:that\s+are|which\s+are|are)\s+(?:joined\s+and\s+)?turned\b"
    rf"|\bturn(?:ed|ing)?\s+(?:each|every)\s+{_ROUND}\b)",
    re.IGNORECASE,
)


def turns_rounds(text: str, lines: Iterable[Line]) -> bool:
    """Whether prose or a key of the page says that every round is turned."""
    for line in lines:
        if line.kind in ("prose", "key") or (line.kind == "step" and line.section != "work"):
            found = _TURNED.search(text, line.whole.start, line.whole.end)
            if found is not None and not found["not"]:
                return True
    return False
